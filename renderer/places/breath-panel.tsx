/** The breath plan of an exercise at a tempo: breaths come and go as the tempo moves. */
import type { ExerciseView } from '../../electron/services/views.js';
import { choices, Select } from '../parts/fields.js';
import { change, useWindow } from '../state.js';
import { T } from '../texts.js';

const X = T.exercise;

export function breatherChoices(
  people: readonly { readonly id: string; readonly name?: string | undefined; readonly longTone?: number | undefined }[],
) {
  const { adult, teen, child } = T.players.lungClasses;
  return [
    ...people.map((it) => ({
      value: it.id,
      label: `${it.name || T.players.personName}${it.longTone ? ` (${T.players.seconds(it.longTone.toFixed(1))})` : ''}`,
    })),
    { value: 'adult', label: adult },
    { value: 'teen', label: teen },
    { value: 'child', label: child },
  ];
}

export function BreathPanel({ exercise }: { readonly exercise: ExerciseView }) {
  const people = useWindow((s) => s.people);
  const breather = useWindow((s) => s.breather);
  const manner = useWindow((s) => s.manner);
  const bpm = useWindow((s) => s.bpm);
  const { breathing } = exercise;
  if (!breathing) return null;
  const at = bpm ?? breathing.bpm;
  const rungs = breathing.rungs;
  const from = Math.min(rungs[0]?.bpm ?? 40, 40);
  const to = Math.max(rungs.at(-1)?.bpm ?? 160, 160);
  const byReason = new Map<string, number>();
  for (const { reason } of breathing.breaths) byReason.set(reason, (byReason.get(reason) ?? 0) + 1);
  return (
    <section className="panel">
      <h2>{X.breath}</h2>
      <div className="fields">
        <Select
          label={X.breather}
          value={breather}
          options={breatherChoices(people)}
          hint={breathing.lungWords}
          onChange={(next) => change({ breather: next })}
        />
        <Select
          label={X.manner}
          value={manner}
          options={choices(X.manners)}
          onChange={(next) => change({ manner: next as typeof manner })}
        />
        <div className="field wide">
          <div className="field-head">
            <label htmlFor="tempo">{X.tempo}</label>
            <output htmlFor="tempo">
              {X.tempoAt(breathing.beat, at)} · {breathing.issue ? X.airRunsOut : X.breaths(breathing.breaths.length)}
            </output>
          </div>
          <input
            id="tempo"
            type="range"
            min={from}
            max={to}
            value={at}
            aria-valuetext={`${X.tempoAt(breathing.beat, at)}, ${breathing.issue ? X.airRunsOut : X.breaths(breathing.breaths.length)}`}
            onChange={(event) => change({ bpm: event.target.valueAsNumber })}
          />
          <ol className="rungs">
            {rungs.map((rung) => (
              <li key={rung.bpm}>
                <button type="button" className="quiet" aria-pressed={rung.bpm === at} onClick={() => change({ bpm: rung.bpm })}>
                  <b>{rung.bpm}</b>
                  <span>{rung.count === undefined ? '–' : rung.count}</span>
                </button>
              </li>
            ))}
          </ol>
        </div>
        <div className="wide" aria-live="polite">
          {breathing.issue ? (
            <p className="fault">{breathing.issue.message}</p>
          ) : (
            <p className="hint">
              {[...byReason].map(([reason, n]) => `${n} × ${X.reasons[reason as keyof typeof X.reasons]}`).join(' · ')}
              {byReason.size > 0 ? '. ' : ''}
              {X.duration(X.seconds(exercise.seconds))}
            </p>
          )}
        </div>
      </div>
    </section>
  );
}
