/** The ensemble: who sits in which chair, how they breathe, and the score. */

import type { Issue } from '../../../core/base/issue.js';
import type { EnsembleSource } from '../../../core/ensemble/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import { moved } from '../../edits/book.js';
import { withField } from '../../edits/people.js';
import { CompanionHead, NoCompanion } from '../../parts/companion-head.js';
import { Check, choices, Issues, NumberField, Select, TextField } from '../../parts/fields.js';
import { editCompanion } from '../../state/history.js';
import { keepInSight } from '../../state/keyboard-focus.js';
import { change, now, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { Bonds } from './bonds.js';
import { ChairCard } from './chair-card.js';

const N = T.ensemble;

type At = (...path: (string | number)[]) => readonly Issue[];
type Set = <K extends keyof EnsembleSource>(field: K, label: string, value: EnsembleSource[K] | undefined) => void;

const set: Set = (field, label, value) =>
  editCompanion('ensemble', { name: CHANGE.roster(label), together: String(field) }, (it) =>
    // A name is needed: an empty one is told as a fault.
    field === 'name' ? { ...it, [field]: value } : withField(it, field, value),
  );

function Whole({ source, at }: { readonly source: EnsembleSource; readonly at: At }) {
  const exercises = useWindow((s) => s.ensembleView?.exercises) ?? [];
  const breathing = source.breathing ?? {};
  const score = source.score ?? {};
  const chosen = source.exercises;
  return (
    <section className="panel">
      <CompanionHead of="ensemble" />
      <Issues issues={[...at('format'), ...at('version'), ...at('keep').filter(({ path }) => path.length === 1)]} />
      <div className="fields">
        <TextField label={N.name} value={source.name} issues={at('name')} onChange={(name) => set('name', N.name, name)} />
        <Select
          label={N.level}
          value={source.level ?? 'intermediate'}
          options={choices(T.players.levels)}
          issues={at('level')}
          onChange={(level) => set('level', N.level, level as NonNullable<EnsembleSource['level']>)}
        />
        <Select
          label={N.misfit}
          value={source.misfit ?? 'as written'}
          options={choices(N.misfits)}
          issues={at('misfit')}
          onChange={(misfit) => set('misfit', N.misfit, misfit as NonNullable<EnsembleSource['misfit']>)}
        />
        <TextField
          label={N.start}
          hint={N.startHint}
          value={source.start ?? ''}
          issues={at('start')}
          onChange={(start) => set('start', N.start, start)}
        />
        <Select
          label={N.plan}
          value={breathing.plan ?? 'none'}
          options={choices(N.plans)}
          issues={at('breathing', 'plan')}
          onChange={(plan) => set('breathing', N.plan, withField(breathing, 'plan', plan as 'together'))}
        />
        {(breathing.plan ?? 'none') !== 'none' && (
          <NumberField
            label={N.tempo}
            min={20}
            max={400}
            value={breathing.tempo}
            placeholder={N.byExercise}
            issues={at('breathing', 'tempo')}
            onChange={(tempo) => set('breathing', N.tempo, withField(breathing, 'tempo', tempo))}
          />
        )}
      </div>
      <details className="within">
        <summary>{N.scoreAndRemark}</summary>
        <div className="fields">
          <Select
            label={N.order}
            value={score.order ?? 'band'}
            options={choices(N.orders)}
            onChange={(order) => set('score', N.order, withField(score, 'order', order as 'band'))}
          />
          <Select
            label={N.pitch}
            value={score.pitch ?? 'concert'}
            options={choices(N.pitches)}
            onChange={(pitch) => set('score', N.pitch, withField(score, 'pitch', pitch as 'concert'))}
          />
          <Select
            label={`${N.score}: ${T.book.houseFields.page.toLowerCase()}`}
            value={score.page ?? ''}
            options={[{ value: '', label: T.exercise.inherited }, ...choices(T.book.pages)]}
            onChange={(page) => set('score', N.score, withField(score, 'page', (page || undefined) as 'a4'))}
          />
          <NumberField
            label={`${N.score}: ${N.staff.toLowerCase()}`}
            min={2}
            max={9}
            step={0.5}
            value={score.staff}
            placeholder={N.asLarge}
            issues={at('score', 'staff')}
            onChange={(staff) => set('score', N.staff, withField(score, 'staff', staff))}
          />
          <TextField
            label={N.remark}
            value={source.remark ?? ''}
            issues={at('remark')}
            onChange={(remark) => set('remark', N.remark, remark)}
          />
        </div>
      </details>
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
            onChange={(all) => set('exercises', N.exercises, all ? undefined : exercises.map(({ id }) => id))}
          />
          {chosen &&
            exercises.map(({ id, number, title }) => (
              <Check
                key={id}
                label={`${number}. ${title}`}
                checked={chosen.includes(id)}
                onChange={(on) => {
                  const next = exercises.map((it) => it.id).filter((it) => (it === id ? on : chosen.includes(it)));
                  // With none chosen nothing could be printed.
                  if (next.length > 0) set('exercises', N.exercises, next);
                }}
              />
            ))}
        </div>
      </details>
    </section>
  );
}

function add(lists: Lists): void {
  const source = now().ensemble?.source;
  if (!source) return;
  const instrument = source.chairs.at(-1)?.instrument ?? 'flute';
  const name = lists.instruments.find((it) => it.id === instrument)?.name ?? instrument;
  editCompanion('ensemble', { name: CHANGE.addChair(name) }, (it) => ({ ...it, chairs: [...it.chairs, { instrument }] }));
  change({ chair: source.chairs.length });
}

export function EnsemblePanel({ lists }: { readonly lists: Lists }) {
  const source = useWindow((s) => s.ensemble?.source);
  const view = useWindow((s) => s.ensembleView);
  const open = useWindow((s) => s.chair);
  if (!source) return <NoCompanion of="ensemble" title={N.noneTitle} words={N.noneWords} />;
  const issues = view?.issues ?? [];
  const at: At = (...path) => issues.filter((issue) => path.every((part, i) => issue.path[i] === part));
  const loose = issues.filter(({ path }) => path.length === 0 || (path[0] === 'chairs' && path.length === 1));
  const nameOf = (i: number): string => {
    const chair = source.chairs[i];
    return view?.chairs.length === source.chairs.length
      ? (view.chairs[i]?.name ?? '')
      : (chair?.name ?? lists.instruments.find((it) => it.id === chair?.instrument)?.name ?? chair?.instrument ?? '');
  };
  const move = (i: number, step: -1 | 1) => {
    if (i + step < 0 || i + step >= source.chairs.length) return;
    editCompanion('ensemble', { name: CHANGE.moveChair(nameOf(i)) }, (it) => ({ ...it, chairs: moved(it.chairs, i, i + step) }));
    change({ chair: i + step });
  };
  return (
    <>
      <Whole source={source} at={at} />
      <section className="panel">
        <h2>{N.heading}</h2>
        <p className="hint">{N.hint}</p>
        <Issues issues={loose} />
        <ul className="editions">
          {source.chairs.map((chair, i) => {
            const own = at('chairs', i).filter(({ severity }) => severity !== 'note');
            const current = open === i;
            const copies = view?.chairs[i]?.copies ?? 1;
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: two chairs of one instrument differ by their place only
              <li key={i} className={`edition${current ? ' current' : ''}`}>
                <button
                  type="button"
                  className="edition-head"
                  aria-expanded={current}
                  onClick={(event) => {
                    change({ chair: current ? undefined : i });
                    keepInSight(event.currentTarget);
                  }}
                >
                  <span className="item-title">{nameOf(i)}</span>
                  <span className="hint">
                    {N.playersOf(chair.players ?? 1)}
                    {copies > 1 ? ` · ${N.copies(copies)}` : ''}
                  </span>
                  {own.length > 0 && <span className="badge">{T.students.remarks(own.length)}</span>}
                </button>
                {current && (
                  <ChairCard
                    lists={lists}
                    index={i}
                    chair={chair}
                    name={nameOf(i)}
                    level={source.level}
                    issues={own}
                    onMove={(step) => move(i, step)}
                  />
                )}
              </li>
            );
          })}
        </ul>
        <button type="button" id="add-person" onClick={() => add(lists)}>
          {N.addChair}
        </button>
      </section>
      <Bonds source={source} at={at} />
    </>
  );
}
