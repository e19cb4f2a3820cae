/** The breath plan of an exercise at a tempo: breaths come and go as the tempo moves. */
import { memo } from 'react';
import type { RosterSource } from '../../../core/people/schema.js';
import type { ExerciseView } from '../../../electron/services/views.js';
import { printBreaths } from '../../commands/work.js';
import { printsBreaths } from '../../edits/book.js';
import { breatherName, breathFacts, studentAt } from '../../edits/people.js';
import { choices, Select } from '../../parts/fields.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const X = T.exercise;

export function breatherChoices(roster: RosterSource | undefined) {
  const { adult, teen, child } = T.players.lungClasses;
  return [
    ...(roster?.students ?? []).map((it, i) => ({
      value: breatherName(i),
      label: `${it.name}${it.breath?.longTone ? ` (${T.players.seconds(it.breath.longTone.toFixed(1))})` : ''}`,
    })),
    { value: 'adult', label: adult },
    { value: 'teen', label: teen },
    { value: 'child', label: child },
  ];
}

/** Puts what the panel plans on paper. */
function PrintThese({ lungSeconds }: { readonly lungSeconds: number }) {
  const source = useWindow((s) => s.book?.source);
  const edition = useWindow((s) => s.edition);
  const roster = useWindow((s) => s.roster?.source);
  const breather = useWindow((s) => s.breather);
  const manner = useWindow((s) => s.manner);
  if (!source) return null;
  const student = studentAt(roster, breather);
  const facts = breathFacts(student, breather, lungSeconds);
  const printed = printsBreaths(source, edition, facts, manner);
  return (
    <div className="row wide">
      <button type="button" onClick={printBreaths} disabled={printed}>
        {X.printBreaths}
      </button>
      <span className="hint">{printed ? X.breathsPrinted : student ? X.printStudentHint : X.printBreathsHint}</span>
    </div>
  );
}

export const BreathPanel = memo(function BreathPanel({ exercise }: { readonly exercise: ExerciseView }) {
  const roster = useWindow((s) => s.roster?.source);
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
          options={breatherChoices(roster)}
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
          <p className="hint">{X.rungsHint}</p>
        </div>
        <PrintThese lungSeconds={breathing.lungSeconds} />
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
});
