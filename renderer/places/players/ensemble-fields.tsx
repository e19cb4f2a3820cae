/** What holds for the whole ensemble: its level, its keys, its breathing, its score and its exercises. */
import type { EnsembleSource } from '../../../core/ensemble/schema.js';
import { withFields } from '../../edits/list.js';
import { bind, TEMPO } from '../../parts/bound.js';
import { CompanionHead } from '../../parts/companion-head.js';
import { Check, choices, Issues, NumberField, OpenSelect, Select, TextField } from '../../parts/fields.js';
import type { IssuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

const N = T.ensemble;

type Props = { readonly source: EnsembleSource; readonly at: IssuesAt };

const set = (part: Partial<EnsembleSource>, label: string) =>
  edit('ensemble', { name: CHANGE.field(label), together: Object.keys(part).join(' ') }, (it) => withFields(it, part, ['name']));

function CommonFields({ source, at }: Props) {
  const field = bind(source, at, set);
  return (
    <>
      <TextField {...field('name', N.name)} />
      <Select {...field('level', N.level)} standard="intermediate" options={choices(T.players.levels)} />
      <Select {...field('misfit', N.misfit)} standard="as written" options={choices(N.misfits)} />
      <TextField {...field('start', N.start)} hint={N.startHint} />
    </>
  );
}

function BreathingFields({ source: { breathing = {} }, at }: Props) {
  const below: IssuesAt = (...path) => at('breathing', ...path);
  const field = bind(breathing, below, (part, label) => set({ breathing: withFields(breathing, part) }, label));
  return (
    <>
      <Select {...field('plan', N.plan)} standard="none" options={choices(N.plans)} />
      {(breathing.plan ?? 'none') !== 'none' && <NumberField {...field('tempo', N.tempo)} {...TEMPO} placeholder={N.byExercise} />}
    </>
  );
}

function ScoreFields({ source, at }: Props) {
  const { score = {} } = source;
  const below: IssuesAt = (name) => (name === 'staff' ? at('score', name) : []);
  const { page, staff } = T.book.houseFields;
  const field = bind(score, below, (part, label) =>
    set({ score: withFields(score, part) }, 'page' in part ? N.score : 'staff' in part ? staff : label),
  );
  return (
    <details className="within">
      <summary>{N.scoreAndRemark}</summary>
      <div className="fields">
        <Select {...field('order', N.order)} standard="band" options={choices(N.orders)} />
        <Select {...field('pitch', N.pitch)} standard="concert" options={choices(N.pitches)} />
        <OpenSelect {...field('page', `${N.score}: ${page.toLowerCase()}`)} none={T.exercise.inherited} names={T.book.pages} />
        <NumberField {...field('staff', `${N.score}: ${staff.toLowerCase()}`)} min={2} max={9} step={0.5} placeholder={N.asLarge} />
        <TextField {...bind(source, at, set)('remark', N.remark)} />
      </div>
    </details>
  );
}

function ChosenExercises({ source: { exercises: chosen }, at }: Props) {
  const exercises = useWindow((s) => s.ensembleView?.exercises) ?? [];
  const ids = exercises.map(({ id }) => id);
  const toggle = (id: string, on: boolean) => {
    const next = ids.filter((it) => (it === id ? on : chosen?.includes(it)));
    // With none chosen nothing could be printed.
    if (next.length > 0) set({ exercises: next }, N.exercises);
  };
  return (
    <details className="within">
      <summary>
        {N.exercises}: {chosen ? `${chosen.length}` : N.all.toLowerCase()}
      </summary>
      <Issues issues={at('exercises')} />
      <div className="checks two">
        <Check
          label={N.all}
          checked={chosen === undefined}
          disabled={exercises.length === 0}
          onChange={(all) => set({ exercises: all ? undefined : ids }, N.exercises)}
        />
        {chosen &&
          exercises.map(({ id, number, title }) => (
            <Check key={id} label={`${number}. ${title}`} checked={chosen.includes(id)} onChange={(on) => toggle(id, on)} />
          ))}
      </div>
    </details>
  );
}

export function EnsembleFields(props: Props) {
  const { at } = props;
  return (
    <section className="panel">
      <CompanionHead of="ensemble" />
      <Issues issues={[...at('format'), ...at('version'), ...at('keep').filter(({ path }) => path.length === 1)]} />
      <div className="fields">
        <CommonFields {...props} />
        <BreathingFields {...props} />
      </div>
      <ScoreFields {...props} />
      <ChosenExercises {...props} />
    </section>
  );
}
