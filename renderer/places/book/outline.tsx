/** Chapters and exercises in their order. Moved by dragging, or with the keys and buttons of the chosen one. */
import type { DragEvent } from 'react';
import type { BookSource, ChapterSource } from '../../../core/book/schema.js';
import { moveChapter, newExercise, removeChapter } from '../../commands/outline.js';
import { T } from '../../texts/texts.js';
import { OutlineItem } from './outline-item.js';
import { type OutlineDrag, useOutlineDrag } from './use-outline-drag.js';

const B = T.book;

type HeadProps = { readonly chapter: ChapterSource; readonly place: number; readonly last: boolean; readonly drag: OutlineDrag };

function ChapterHead({ chapter: { title }, place, last, drag }: HeadProps) {
  const tools = [
    { label: B.moveUp, sign: '↑', act: () => moveChapter(place, -1), cannot: place === 0 },
    { label: B.moveDown, sign: '↓', act: () => moveChapter(place, 1), cannot: last },
    { label: B.remove, sign: '×', act: () => removeChapter(place), cannot: undefined },
  ];
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a place to drop on; the buttons do the same by keyboard
    <header onDragOver={(event: DragEvent) => drag.over(event, { chapter: place, exercise: 0 })} onDrop={drag.land}>
      <span className="chapter-number">{place + 1}</span>
      <h2>{title}</h2>
      <div className="chapter-tools">
        {tools.map(({ label, sign, act, cannot }) => (
          <button
            key={sign}
            type="button"
            className="quiet"
            onClick={act}
            aria-label={`${label}: ${title}`}
            title={label}
            aria-disabled={cannot}
          >
            {sign}
          </button>
        ))}
      </div>
    </header>
  );
}

export function Outline({ source }: { readonly source: BookSource }) {
  const drag = useOutlineDrag();
  return (
    <section className="outline" aria-label={B.outline}>
      {source.chapters.map((chapter, c) => (
        <section key={chapter.id ?? c} className="chapter" aria-label={chapter.title}>
          <ChapterHead chapter={chapter} place={c} last={c === source.chapters.length - 1} drag={drag} />
          {chapter.exercises.length === 0 && <p className="hint">{B.emptyChapter}</p>}
          <ol>
            {chapter.exercises.map((exercise, e) => (
              <OutlineItem
                key={exercise.id ?? `${c}.${e}`}
                exercise={exercise}
                place={{ chapter: c, exercise: e }}
                last={e === chapter.exercises.length - 1}
                drag={drag}
              />
            ))}
          </ol>
          <button type="button" className="quiet add" onClick={() => newExercise(c)}>
            + {B.addExercise}
          </button>
        </section>
      ))}
    </section>
  );
}
