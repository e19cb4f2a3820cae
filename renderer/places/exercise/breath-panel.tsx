/** The breath plan of an exercise at a tempo: breaths come and go as the tempo moves. */
import { memo } from 'react';
import type { RosterSource } from '../../../core/people/schema.js';
import type { BreathingView, ExerciseView } from '../../../electron/services/contract/answers/exercise.js';
import { printBreaths } from '../../commands/print-breaths.js';
import { printedBreath, printsBreaths } from '../../edits/book.js';
import { breatherName, breathFacts, studentAt } from '../../edits/breather.js';
import { choices, Select } from '../../parts/fields.js';
import { change, OF_EDITION, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const X = T.exercise;

function breatherChoices(roster: RosterSource | undefined) {
  return [
    { value: OF_EDITION, label: X.ofEdition },
    ...(roster?.students ?? []).map((it, i) => ({
      value: breatherName(i),
      label: `${it.name}${it.breath?.longTone ? ` (${T.players.seconds(it.breath.longTone.toFixed(1))})` : ''}`,
    })),
    ...choices(T.players.lungClasses),
  ];
}

type BreathingProps = { readonly breathing: BreathingView };

/** Puts what the panel plans on paper. */
function PrintThese({ breathing: { lungSeconds, manner } }: BreathingProps) {
  const source = useWindow((s) => s.book?.source);
  const edition = useWindow((s) => s.edition);
  const roster = useWindow((s) => s.roster?.source);
  const breather = useWindow((s) => s.breather);
  if (!source) return null;
  const student = studentAt(roster, breather);
  const facts = breather === OF_EDITION ? printedBreath(source, edition).player : breathFacts(student, breather, lungSeconds);
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

function TempoSlider({ breathing }: BreathingProps) {
  const at = useWindow((s) => s.bpm) ?? breathing.bpm;
  const { rungs } = breathing;
  const tempo = X.tempoAt(breathing.beat, at);
  const breaths = breathing.issue ? X.airRunsOut : X.breaths(breathing.breaths.length);
  return (
    <div className="field wide">
      <div className="field-head">
        <label htmlFor="tempo">{X.tempo}</label>
        <output htmlFor="tempo">
          {tempo} · {breaths}
        </output>
      </div>
      <input
        id="tempo"
        type="range"
        min={Math.min(rungs[0]?.bpm ?? 40, 40)}
        max={Math.max(rungs.at(-1)?.bpm ?? 160, 160)}
        value={at}
        aria-valuetext={`${tempo}, ${breaths}`}
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
  );
}

/** How many breaths there are for which reason, or why there is no plan. */
function Reasons({ breathing: { breaths, issue }, seconds }: BreathingProps & { readonly seconds: number }) {
  const reasons = [...new Set(breaths.map(({ reason }) => reason))];
  const words = reasons.map((it) => `${breaths.filter(({ reason }) => reason === it).length} × ${X.reasons[it]}`);
  return (
    <div className="wide" aria-live="polite">
      {issue ? (
        <p className="fault">{issue.message}</p>
      ) : (
        <p className="hint">
          {words.join(' · ')}
          {words.length > 0 ? '. ' : ''}
          {X.duration(X.seconds(seconds))}
        </p>
      )}
    </div>
  );
}

export const BreathPanel = memo(function BreathPanel({ exercise: { breathing, seconds } }: { readonly exercise: ExerciseView }) {
  const roster = useWindow((s) => s.roster?.source);
  const breather = useWindow((s) => s.breather);
  if (!breathing) return null;
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
        <Select label={X.manner} value={breathing.manner} options={choices(X.manners)} onChange={(next) => change({ manner: next })} />
        <TempoSlider breathing={breathing} />
        <PrintThese breathing={breathing} />
        <Reasons breathing={breathing} seconds={seconds} />
      </div>
    </section>
  );
});
