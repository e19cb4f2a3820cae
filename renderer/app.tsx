/** The window: places at the left, the work in the middle, the page beside it, playing at the foot. */
import { type ReactNode, useEffect } from 'react';
import { Dialogs } from './dialogs/dialogs.js';
import { FaultBoundary } from './frame/fault-boundary.js';
import { Notices } from './frame/notices.js';
import { PageBeside } from './frame/page-beside.js';
import { PlayerBar } from './frame/player-bar.js';
import { Rail } from './frame/rail.js';
import { TopBar } from './frame/top-bar.js';
import { Welcome } from './frame/welcome.js';
import { BookPlace } from './places/book/book.js';
import { ExercisePlace } from './places/exercise/exercise.js';
import { PagesPlace } from './places/pages/pages.js';
import { PlayersPlace } from './places/players/players.js';
import { PrintPlace } from './places/print/print.js';
import { type PlaceName, useWindow } from './state/state.js';
import { T } from './texts/texts.js';

const SCREENS: Readonly<Record<PlaceName, () => ReactNode>> = {
  book: BookPlace,
  exercise: ExercisePlace,
  pages: PagesPlace,
  players: PlayersPlace,
  print: PrintPlace,
};

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
      <TopBar />
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
        {beside && <PageBeside />}
      </main>
      <PlayerBar />
      <Notices />
      <FaultBoundary>
        <Dialogs />
      </FaultBoundary>
    </>
  );
}
