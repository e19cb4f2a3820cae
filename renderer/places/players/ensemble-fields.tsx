/** What holds for the whole ensemble: its level, its keys, its breathing, its score and its exercises. */
import type { EnsembleSource } from '../../../core/ensemble/schema.js';
import { withFields } from '../../edits/list.js';
import { CompanionHead } from '../../parts/companion-head.js';
import { Check, choices, Issues, NumberField, OpenSelect, Select, TextField } from '../../parts/fields.js';
import type { IssuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

const N = T.ensemble;

type Props = { readonly source: EnsembleSource; readonly at: IssuesAt };

const set = (label: string, part: Partial<EnsembleSource>) =>
  edit('ensemble', { name: CHANGE.roster(label), together: Object.keys(part).join(' ') }, (it) => withFields(it, part, ['name']));

function CommonFields({ source, at }: Props) {
  return (
    <>
      <TextField label={N.name} value={source.name} issues={at('name')} onChange={(name) => set(N.name, { name })} />
      <Select
        label={N.level}
        value={source.level ?? 'intermediate'}
        options={choices(T.players.levels)}
        issues={at('level')}
        onChange={(level) => set(N.level, { level })}
      />
      <Select
        label={N.misfit}
        value={source.misfit ?? 'as written'}
        options={choices(N.misfits)}
        issues={at('misfit')}
        onChange={(misfit) => set(N.misfit, { misfit })}
      />
      <TextField
        label={N.start}
        hint={N.startHint}
        value={source.start ?? ''}
        issues={at('start')}
        onChange={(start) => set(N.start, { start })}
      />
    </>
  );
}

function BreathingFields({ source: { breathing = {} }, at }: Props) {
  const plan = breathing.plan ?? 'none';
  return (
    <>
      <Select
        label={N.plan}
        value={plan}
        options={choices(N.plans)}
        issues={at('breathing', 'plan')}
        onChange={(next) => set(N.plan, { breathing: withFields(breathing, { plan: next }) })}
      />
      {plan !== 'none' && (
        <NumberField
          label={N.tempo}
          min={20}
          max={400}
          value={breathing.tempo}
          placeholder={N.byExercise}
          issues={at('breathing', 'tempo')}
          onChange={(tempo) => set(N.tempo, { breathing: withFields(breathing, { tempo }) })}
        />
      )}
    </>
  );
}

function ScoreFields({ source: { score = {}, remark = '' }, at }: Props) {
  const setScore = (label: string, part: Partial<typeof score>) => set(label, { score: withFields(score, part) });
  return (
    <details className="within">
      <summary>{N.scoreAndRemark}</summary>
      <div className="fields">
        <Select
          label={N.order}
          value={score.order ?? 'band'}
          options={choices(N.orders)}
          onChange={(order) => setScore(N.order, { order })}
        />
        <Select
          label={N.pitch}
          value={score.pitch ?? 'concert'}
          options={choices(N.pitches)}
          onChange={(pitch) => setScore(N.pitch, { pitch })}
        />
        <OpenSelect
          label={`${N.score}: ${T.book.houseFields.page.toLowerCase()}`}
          value={score.page}
          none={T.exercise.inherited}
          names={T.book.pages}
          onChange={(page) => setScore(N.score, { page })}
        />
        <NumberField
          label={`${N.score}: ${T.book.houseFields.staff.toLowerCase()}`}
          min={2}
          max={9}
          step={0.5}
          value={score.staff}
          placeholder={N.asLarge}
          issues={at('score', 'staff')}
          onChange={(staff) => setScore(N.score, { staff })}
        />
        <TextField label={N.remark} value={remark} issues={at('remark')} onChange={(next) => set(N.remark, { remark: next })} />
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
    if (next.length > 0) set(N.exercises, { exercises: next });
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
          onChange={(all) => set(N.exercises, { exercises: all ? undefined : ids })}
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
