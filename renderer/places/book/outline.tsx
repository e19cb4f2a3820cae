/** Chapters and exercises in their order. Moved by dragging, or with the keys and buttons of the chosen one. */
import { type DragEvent, type KeyboardEvent, useState } from 'react';
import type { BookSource, ExerciseSource } from '../../../core/book/schema.js';
import * as work from '../../commands/work.js';
import { figureTextOf, neighbourPlace } from '../../edits/book.js';
import { type Focus, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const B = T.book;

type Drop = { readonly chapter: number; readonly exercise: number };

function ItemTools({ focus }: { readonly focus: Focus }) {
  const source = useWindow((s) => s.book?.source);
  const canGo = (step: -1 | 1) => source !== undefined && neighbourPlace(source, focus, step) !== undefined;
  return (
    <div className="item-tools">
      <button type="button" className="main" onClick={() => work.openExercise(focus)}>
        {B.edit}
      </button>
      {/* Not `disabled`, which would take the keyboard's focus away. */}
      <button type="button" onClick={() => work.moveStep(focus, -1)} aria-label={B.moveUp} title={B.moveUp} aria-disabled={!canGo(-1)}>
        ↑
      </button>
      <button type="button" onClick={() => work.moveStep(focus, 1)} aria-label={B.moveDown} title={B.moveDown} aria-disabled={!canGo(1)}>
        ↓
      </button>
      <button type="button" onClick={() => work.duplicate(focus)}>
        {B.duplicate}
      </button>
      <button type="button" onClick={() => work.remove(focus)}>
        {B.remove}
      </button>
    </div>
  );
}

export function Outline({ source }: { readonly source: BookSource }) {
  const focus = useWindow((s) => s.focus);
  const shown = useWindow((s) => s.shown);
  const lists = useWindow((s) => s.lists);
  const [dragged, setDragged] = useState<Focus>();
  const [drop, setDrop] = useState<Drop>();

  const over = (place: Drop) => (event: DragEvent) => {
    if (!dragged) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = 'move';
    const box = event.currentTarget.getBoundingClientRect();
    const after = event.clientY > box.top + box.height / 2 ? 1 : 0;
    const next = { chapter: place.chapter, exercise: place.exercise + after };
    if (drop?.chapter !== next.chapter || drop.exercise !== next.exercise) setDrop(next);
  };
  const land = (event: DragEvent) => {
    event.preventDefault();
    if (dragged && drop) {
      // Taken out first, so what stood behind it in the same chapter has moved up by one.
      const shift = drop.chapter === dragged.chapter && drop.exercise > dragged.exercise ? 1 : 0;
      const to = { ...drop, exercise: drop.exercise - shift };
      if (to.chapter !== dragged.chapter || to.exercise !== dragged.exercise) work.move(dragged, to);
    }
    setDragged(undefined);
    setDrop(undefined);
  };

  const faults = (chapter: number, exercise: number): number =>
    (shown?.issues ?? []).filter(
      ({ path, severity }) =>
        severity === 'error' && path[0] === 'chapters' && path[1] === chapter && path[2] === 'exercises' && path[3] === exercise,
    ).length;

  const pressed = (place: Focus) => (event: KeyboardEvent) => {
    if (event.target !== event.currentTarget) return;
    if (event.key === 'Enter') work.openExercise(place);
    else if (event.key === 'Delete') work.remove(place);
    else if (event.key === 'ArrowDown' || event.key === 'ArrowUp') work.stepExercise(event.key === 'ArrowDown' ? 1 : -1);
    else return;
    event.preventDefault();
    if (event.key === 'Enter') return;
    requestAnimationFrame(() => document.querySelector<HTMLElement>('.outline [aria-current="true"]')?.focus());
  };

  const item = (exercise: ExerciseSource, c: number, e: number) => {
    const place = { chapter: c, exercise: e };
    const current = focus?.chapter === c && focus.exercise === e;
    const page = shown?.firstPage[`${c}.${e}`];
    const label = page === undefined ? undefined : shown?.pages[page]?.label;
    const wrong = faults(c, e);
    const figure = figureTextOf(exercise, (id) => lists?.figures.find((it) => it.id === id)?.text);
    const here = drop?.chapter === c && drop.exercise === e ? ' before' : '';
    const behind = drop?.chapter === c && drop.exercise === e + 1 && e === (source.chapters[c]?.exercises.length ?? 0) - 1 ? ' after' : '';
    return (
      <li
        key={exercise.id ?? `${c}.${e}`}
        className={`item${current ? ' current' : ''}${here}${behind}`}
        draggable
        onDragStart={(event) => {
          event.dataTransfer.effectAllowed = 'move';
          event.dataTransfer.setData('text/plain', exercise.title ?? figure);
          setDragged(place);
        }}
        onDragOver={over(place)}
        onDrop={land}
        onDragEnd={() => {
          setDragged(undefined);
          setDrop(undefined);
        }}
      >
        <button
          type="button"
          className="item-main"
          aria-current={current}
          onClick={() => work.focusOn(place)}
          onDoubleClick={() => work.openExercise(place)}
          onKeyDown={pressed(place)}
        >
          <span className="item-title">{exercise.title || figure}</span>
          <code className="item-figure">{figure}</code>
          {wrong > 0 && <span className="badge">{T.print.errors(wrong)}</span>}
          <span className="item-page">{label}</span>
        </button>
        {current && <ItemTools focus={place} />}
      </li>
    );
  };

  return (
    <section className="outline" aria-label={B.outline}>
      {source.chapters.map((chapter, c) => (
        <section key={chapter.id ?? c} className="chapter" aria-label={chapter.title}>
          {/* biome-ignore lint/a11y/noStaticElementInteractions: a place to drop on; the buttons do the same by keyboard */}
          <header onDragOver={over({ chapter: c, exercise: 0 })} onDrop={land}>
            <span className="chapter-number">{c + 1}</span>
            <h2>{chapter.title}</h2>
            <div className="chapter-tools">
              <button
                type="button"
                className="quiet"
                onClick={() => work.moveChapter(c, -1)}
                aria-label={`${B.moveUp}: ${chapter.title}`}
                title={B.moveUp}
                aria-disabled={c === 0}
              >
                ↑
              </button>
              <button
                type="button"
                className="quiet"
                onClick={() => work.moveChapter(c, 1)}
                aria-label={`${B.moveDown}: ${chapter.title}`}
                title={B.moveDown}
                aria-disabled={c === source.chapters.length - 1}
              >
                ↓
              </button>
              <button
                type="button"
                className="quiet"
                onClick={() => work.removeChapter(c)}
                aria-label={`${B.remove}: ${chapter.title}`}
                title={B.remove}
              >
                ×
              </button>
            </div>
          </header>
          {chapter.exercises.length === 0 && <p className="hint">{B.emptyChapter}</p>}
          <ol>{chapter.exercises.map((exercise, e) => item(exercise, c, e))}</ol>
          <button type="button" className="quiet add" onClick={() => work.newExercise(c)}>
            + {B.addExercise}
          </button>
        </section>
      ))}
    </section>
  );
}
