/** Under the pages: what is told about the chosen note, and every page as a dot. */
import { NoteCard } from '../../parts/note-card.js';
import { evenPage } from '../../state/page-spread.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import type { PairProps } from './spread.js';

const P = T.pages;

export function PageStrip({ shown, pair }: Pick<PairProps, 'shown' | 'pair'>) {
  const note = useWindow((s) => s.note);
  const focus = useWindow((s) => s.focus);
  return (
    <div className="page-strip">
      {note && shown.exercise?.id === note.exercise ? (
        <NoteCard exercise={shown.exercise} event={note.event} />
      ) : (
        <p className="hint">{P.noteHint}</p>
      )}
      {focus && note && (
        <button type="button" onClick={() => change({ place: 'exercise' })}>
          {P.openExercise}
        </button>
      )}
      <nav className="page-list" aria-label={P.jumpPage}>
        {shown.pages.map((page, i) => (
          <button
            // biome-ignore lint/suspicious/noArrayIndexKey: a page is its place
            key={i}
            type="button"
            className={`dot ${page.kind}`}
            aria-current={pair.includes(i) ? 'page' : undefined}
            onClick={() => change({ spread: evenPage(i) })}
            aria-label={P.page(page.label)}
          >
            {page.label}
          </button>
        ))}
      </nav>
    </div>
  );
}
