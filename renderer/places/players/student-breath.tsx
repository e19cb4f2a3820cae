/** How long the breath of a student lasts: measured, stated, or estimated from what is known. */
import { useState } from 'react';
import { breatherName } from '../../edits/breather.js';
import { withFields } from '../../edits/list.js';
import { bind, SECONDS } from '../../parts/bound.js';
import { Issues, NumberField, OpenSelect } from '../../parts/fields.js';
import { Stopwatch } from '../../parts/stopwatch.js';
import { change, OF_EDITION, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import type { BreathFacts } from './reader-form.js';
import type { StudentForm } from './student-form.js';

const S = T.students;
const P = T.players;

type FactsProps = { readonly form: StudentForm; readonly set: (part: Partial<BreathFacts>) => void };

function FactFields({ form: { student, at }, set }: FactsProps) {
  const fact = bind<BreathFacts>(student.breath ?? {}, (...path) => at('breath', ...path), set);
  return (
    <div className="fields">
      <NumberField {...fact('longTone', P.longToneSeconds)} {...SECONDS} />
      <NumberField {...fact('lungTime', S.lungTime)} {...SECONDS} hint={S.lungTimeHint} />
      <OpenSelect {...fact('lungs', P.lungs)} none={S.notSaid} names={P.lungClasses} />
      <NumberField {...fact('age', S.age)} min={4} max={110} />
      <NumberField {...fact('height', S.height)} min={80} max={230} />
      <OpenSelect {...fact('sex', S.sex)} none={S.notSaid} names={S.sexes} />
    </div>
  );
}

export function StudentBreath({ form }: { readonly form: StudentForm }) {
  const { index, at } = form;
  const breather = useWindow((s) => s.breather);
  const lung = useWindow((s) => s.rosterView?.students[index]?.lung);
  const [measuring, setMeasuring] = useState(false);
  const set = (part: Partial<BreathFacts>) => form.set({ breath: withFields(form.student.breath ?? {}, part) });
  const chosen = breather === breatherName(index);
  return (
    <fieldset className="wide group">
      <legend>{S.breath}</legend>
      <FactFields form={form} set={set} />
      <Issues issues={at('breath').filter(({ path }) => path.length === 3)} />
      {lung && <p className="hint">{S.lasts(lung)}</p>}
      <div className="row">
        <button type="button" aria-expanded={measuring} onClick={() => setMeasuring(!measuring)}>
          {P.measure}
        </button>
        <button
          type="button"
          className="toggle"
          aria-pressed={chosen}
          onClick={() => change({ breather: chosen ? OF_EDITION : breatherName(index) })}
        >
          {S.showBreaths}
        </button>
      </div>
      {measuring && <Stopwatch onKeep={(longTone) => set({ longTone })} />}
    </fieldset>
  );
}
