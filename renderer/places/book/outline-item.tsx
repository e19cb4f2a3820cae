/** One exercise in the outline: its title, its figure, its faults, its page, and what can be done with it. */
import type { KeyboardEvent } from 'react';
import type { ExerciseSource } from '../../../core/book/schema.js';
import { focusOn, openExercise, stepExercise } from '../../commands/go.js';
import { duplicate, moveStep, remove } from '../../commands/outline.js';
import { figureTextOf, neighbourPlace } from '../../edits/book.js';
import { issuesAt } from '../../parts/issues-at.js';
import { type Focus, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import type { OutlineDrag } from './use-outline-drag.js';

const B = T.book;

function ItemTools({ focus }: { readonly focus: Focus }) {
  const source = useWindow((s) => s.book?.source);
  const canGo = (step: -1 | 1) => source !== undefined && neighbourPlace(source, focus, step) !== undefined;
  return (
    <div className="item-tools">
      <button type="button" className="main" onClick={() => openExercise(focus)}>
        {B.edit}
      </button>
      {/* Not `disabled`, which would take the keyboard's focus away. */}
      <button type="button" onClick={() => moveStep(focus, -1)} aria-label={B.moveUp} title={B.moveUp} aria-disabled={!canGo(-1)}>
        ↑
      </button>
      <button type="button" onClick={() => moveStep(focus, 1)} aria-label={B.moveDown} title={B.moveDown} aria-disabled={!canGo(1)}>
        ↓
      </button>
      <button type="button" onClick={() => duplicate(focus)}>
        {B.duplicate}
      </button>
      <button type="button" onClick={() => remove(focus)}>
        {B.remove}
      </button>
    </div>
  );
}

const pressed = (place: Focus) => (event: KeyboardEvent) => {
  if (event.target !== event.currentTarget) return;
  if (event.key === 'Enter') openExercise(place);
  else if (event.key === 'Delete') remove(place);
  else if (event.key === 'ArrowDown' || event.key === 'ArrowUp') stepExercise(event.key === 'ArrowDown' ? 1 : -1);
  else return;
  event.preventDefault();
  if (event.key === 'Enter') return;
  requestAnimationFrame(() => document.querySelector<HTMLElement>('.outline [aria-current="true"]')?.focus());
};

type Props = {
  readonly exercise: ExerciseSource;
  readonly place: Focus;
  /** The last exercise of its chapter. */
  readonly last: boolean;
  readonly drag: OutlineDrag;
};

type MainProps = Pick<Props, 'exercise' | 'place'> & { readonly figure: string; readonly current: boolean };

function ItemMain({ exercise, place, figure, current }: MainProps) {
  const { chapter, exercise: number } = place;
  const shown = useWindow((s) => s.shown);
  const page = shown?.firstPage[`${chapter}.${number}`];
  const label = page === undefined ? undefined : shown?.pages[page]?.label;
  const below = issuesAt(shown?.issues ?? [], 'chapters', chapter, 'exercises', number);
  const wrong = below().filter(({ severity }) => severity === 'error').length;
  return (
    <button
      type="button"
      className="item-main"
      aria-current={current}
      onClick={() => focusOn(place)}
      onDoubleClick={() => openExercise(place)}
      onKeyDown={pressed(place)}
    >
      <span className="item-title">{exercise.title || figure}</span>
      <code className="item-figure">{figure}</code>
      {wrong > 0 && <span className="badge">{T.print.errors(wrong)}</span>}
      <span className="item-page">{label}</span>
    </button>
  );
}

export function OutlineItem({ exercise, place, last, drag }: Props) {
  const focus = useWindow((s) => s.focus);
  const lists = useWindow((s) => s.lists);
  const current = focus?.chapter === place.chapter && focus.exercise === place.exercise;
  const figure = figureTextOf(exercise, (id) => lists?.figures.find((it) => it.id === id)?.text);
  const drop = drag.drop?.chapter === place.chapter ? drag.drop.exercise : undefined;
  const here = drop === place.exercise ? ' before' : '';
  const behind = drop === place.exercise + 1 && last ? ' after' : '';
  return (
    <li
      className={`item${current ? ' current' : ''}${here}${behind}`}
      draggable
      onDragStart={(event) => {
        event.dataTransfer.effectAllowed = 'move';
        event.dataTransfer.setData('text/plain', exercise.title ?? figure);
        drag.start(place);
      }}
      onDragOver={(event) => drag.over(event, place)}
      onDrop={drag.land}
      onDragEnd={drag.end}
    >
      <ItemMain exercise={exercise} place={place} figure={figure} current={current} />
      {current && <ItemTools focus={place} />}
    </li>
  );
}
