/** The window: places at the left, the work in the middle, the page beside it, playing at the foot. */
import { type ReactNode, useEffect } from 'react';
import { commandById, keysText } from './commands/command-table.js';
import { goTo, showEdition } from './commands/work.js';
import { Dialogs } from './dialogs/dialogs.js';
import { editionObject } from './edits/book.js';
import { open, openDemo, save } from './files/book-files.js';
import { FaultBoundary } from './frame/fault-boundary.js';
import { PlayerBar } from './frame/player-bar.js';
import { PageView } from './parts/page-view.js';
import { BookPlace } from './places/book/book.js';
import { ExercisePlace } from './places/exercise/exercise.js';
import { NoteCard, PagesPlace } from './places/pages/pages.js';
import { PlayersPlace } from './places/players/players.js';
import { PrintPlace } from './places/print/print.js';
import { isEdited, redo, undo } from './state/history.js';
import { focusWork } from './state/keyboard-focus.js';
import { evenPage } from './state/page-spread.js';
import { change, dismiss, PLACES, type PlaceName, useWindow } from './state/state.js';
import { T } from './texts/texts.js';

const SCREENS: Readonly<Record<PlaceName, () => ReactNode>> = {
  book: BookPlace,
  exercise: ExercisePlace,
  pages: PagesPlace,
  players: PlayersPlace,
  print: PrintPlace,
};

function Top() {
  const book = useWindow((s) => s.book);
  const edited = useWindow(isEdited);
  const edition = useWindow((s) => s.edition);
  const lists = useWindow((s) => s.lists);
  const undoName = book?.past.at(-1)?.name;
  const redoName = book?.future.at(-1)?.name;
  return (
    <header className="top">
      <div className="top-book">
        <span className="top-title">{book ? book.source.title || T.file.untitled : T.app}</span>
        {book && (
          <span className="top-state" data-edited={edited}>
            {edited ? T.file.edited : book.path ? T.file.saved : book.name}
          </span>
        )}
      </div>
      {book && lists && book.source.editions.length > 0 && (
        <label className="top-edition">
          <span className="unseen">{T.pages.instrument}</span>
          <select value={edition} onChange={(event) => showEdition(Number(event.target.value))}>
            {book.source.editions.map((it, i) => {
              const { instrument } = editionObject(it);
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: the same instrument may come twice
                <option key={i} value={i}>
                  {lists.instruments.find((one) => one.id === instrument)?.name ?? instrument}
                </option>
              );
            })}
          </select>
        </label>
      )}
      <span className="grow" />
      <button
        type="button"
        className="quiet"
        onClick={undo}
        disabled={!undoName}
        title={undoName && T.edit.undoNamed(undoName)}
        aria-label={undoName ? T.edit.undoNamed(undoName) : T.edit.undo}
      >
        ↶ <span className="long">{T.edit.undo}</span>
      </button>
      <button
        type="button"
        className="quiet"
        onClick={redo}
        disabled={!redoName}
        title={redoName && T.edit.redoNamed(redoName)}
        aria-label={redoName ? T.edit.redoNamed(redoName) : T.edit.redo}
      >
        ↷ <span className="long">{T.edit.redo}</span>
      </button>
      <span className="divider" />
      <button type="button" className="quiet" onClick={() => commandById('book.new')?.run()}>
        {T.file.new}
      </button>
      <button type="button" className="quiet" onClick={open}>
        {T.file.open}
      </button>
      <button type="button" onClick={() => void save()} disabled={!book}>
        {T.file.save}
      </button>
      <button type="button" className="quiet" onClick={() => change({ dialog: { kind: 'search' } })} title={keysText('Mod+K', false)}>
        {T.search.open}
      </button>
      <button
        type="button"
        className="quiet"
        onClick={() => change({ dialog: { kind: 'settings' } })}
        aria-label={T.settings.title}
        title={T.settings.title}
      >
        Aa
      </button>
    </header>
  );
}

function Rail() {
  const place = useWindow((s) => s.place);
  const errors = useWindow((s) => s.shown?.issues.filter((issue) => issue.severity === 'error').length ?? 0);
  return (
    <nav className="rail" aria-label={T.app}>
      {PLACES.map((name, i) => (
        <button
          key={name}
          type="button"
          aria-current={place === name ? 'page' : undefined}
          onClick={() => goTo(name)}
          title={`${T.placeHints[name]} (Alt + ${i + 1})`}
        >
          {T.places[name]}
          {name === 'print' && errors > 0 && <span className="badge">{errors}</span>}
        </button>
      ))}
    </nav>
  );
}

/** The page that belongs to what is being worked on. */
function Beside() {
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

function Notices() {
  const notices = useWindow((s) => s.notices);
  const said = useWindow((s) => s.said);
  return (
    <>
      <section className="notices" aria-label={T.notices.region}>
        {notices.map((notice) => (
          <div key={notice.id} className="notice" data-severity={notice.severity}>
            <p>{notice.words}</p>
            <button type="button" className="quiet" onClick={() => dismiss(notice.id)} aria-label={T.notices.dismiss}>
              ×
            </button>
          </div>
        ))}
      </section>
      <p className="unseen" role="status">
        {said}
      </p>
    </>
  );
}

function Welcome() {
  return (
    <div className="empty-place">
      <h1>{T.app}</h1>
      <p>{T.start.words}</p>
      <div className="row">
        <button type="button" className="main" onClick={() => change({ dialog: { kind: 'start' } })}>
          {T.start.title}
        </button>
        <button type="button" onClick={open}>
          {T.file.open}
        </button>
        <button type="button" onClick={() => void openDemo().then(() => focusWork('.outline [aria-current="true"]'))}>
          {T.file.openDemo}
        </button>
      </div>
    </div>
  );
}

function useLook(): void {
  const { theme, text } = useWindow((s) => s.preferences);
  useEffect(() => {
    const root = document.documentElement;
    if (theme === 'system') delete root.dataset.theme;
    else root.dataset.theme = theme;
    root.style.fontSize = `${text}%`;
  }, [theme, text]);
}

export function App() {
  useLook();
  const about = useWindow((s) => s.about);
  const book = useWindow((s) => s.book);
  const place = useWindow((s) => s.place);
  const Screen = SCREENS[place];
  // While the first page is still being made, its place is kept.
  const noPages = useWindow((s) => s.shown?.pages.length === 0);
  const beside = book && !noPages && (place === 'book' || place === 'exercise' || place === 'players');
  return (
    <>
      <a className="skip" href="#work">
        {T.skip}
      </a>
      <Top />
      <Rail />
      <main id="work" className={beside ? 'with-page' : undefined} tabIndex={-1}>
        <div className="middle" key={place}>
          {about ? (
            book ? (
              <FaultBoundary>
                <Screen />
              </FaultBoundary>
            ) : (
              <Welcome />
            )
          ) : (
            <p className="coming">{T.states.loading}</p>
          )}
        </div>
        {beside && <Beside />}
      </main>
      <PlayerBar />
      <Notices />
      <FaultBoundary>
        <Dialogs />
      </FaultBoundary>
    </>
  );
}
