/** One page on paper: the same drawing as in the printed file. */

import { focusOn } from '../commands/go.js';
import { evenPage } from '../state/page-spread.js';
import { change, now, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';
import { Drawing, type NotePlace } from './drawing.js';

/** A note of any exercise on the page: its exercise comes into focus, so that the note can be told about. */
function choose(note: NotePlace): void {
  const chapters = now().book?.source.chapters ?? [];
  const places = chapters.flatMap((chapter, c) => chapter.exercises.map((it, e) => ({ id: it.id ?? `${c + 1}.${e + 1}`, c, e })));
  const place = places.find((it) => it.id === note.exercise);
  if (place) focusOn({ chapter: place.c, exercise: place.e });
  change({ note });
}

export function PageView({ page }: { readonly page: number }) {
  const drawn = useWindow((s) => s.drawn.get(page));
  const shown = useWindow((s) => s.shown);
  const note = useWindow((s) => s.note);
  const playing = useWindow((s) => s.playing);
  const entry = shown?.pages[page];
  if (!shown || !entry) return null;
  const lit = playing ? (playing.event === undefined ? undefined : { exercise: playing.exercise, event: playing.event }) : note;
  return (
    <figure
      className="paper"
      data-side={entry.side}
      aria-label={T.pages.page(entry.label)}
      style={{ aspectRatio: `${shown.width} / ${shown.height}` }}
    >
      {drawn ? <Drawing svg={drawn.svg} lit={lit} onNote={choose} onLink={jumpTo} /> : <p className="coming">{T.pages.coming}</p>}
    </figure>
  );
}

/** Links of the contents and indexes lead to their page. */
function jumpTo(target: string): void {
  change(({ book, shown }) => {
    const id = target.replace(/^exercise /, '');
    const page = shown?.pages.findIndex((entry) => entry.exercises.includes(id)) ?? -1;
    if (!book || page < 0) return {};
    return { spread: evenPage(page), place: 'pages' };
  });
}
