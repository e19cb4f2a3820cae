/** The page that belongs to what is being worked on. */
import { NoteCard } from '../parts/note-card.js';
import { PageView } from '../parts/page-view.js';
import { evenPage } from '../state/page-spread.js';
import { change, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

export function PageBeside() {
  const shown = useWindow((s) => s.shown);
  const beside = useWindow((s) => (s.place === 'book' ? s.beside : undefined));
  const note = useWindow((s) => s.note);
  if (!shown || shown.pages.length === 0) return null;
  const text = beside === undefined ? undefined : Math.min(beside, shown.pages.length - 1);
  const pages = text !== undefined ? [text] : shown.focusPages.length > 0 ? shown.focusPages : [0];
  return (
    <aside className="beside" aria-label={T.places.pages}>
      {pages.map((page) => (
        <div key={page}>
          <PageView page={page} />
          <button type="button" className="quiet small" onClick={() => change({ place: 'pages', spread: evenPage(page) })}>
            {T.pages.page(shown.pages[page]?.label ?? '')}
          </button>
        </div>
      ))}
      {note && shown.exercise?.id === note.exercise && <NoteCard exercise={shown.exercise} event={note.event} />}
    </aside>
  );
}
