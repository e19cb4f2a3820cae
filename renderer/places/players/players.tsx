/** Who plays: the instruments of the book, the students of a roster and the chairs of an ensemble. */
import type { ReactNode } from 'react';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { keysOf } from '../../edits/list.js';
import { PlaceHead } from '../../parts/place-head.js';
import { change, type State, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import { EnsemblePanel } from './ensemble.js';
import { InstrumentsPanel } from './instruments.js';
import { StudentsPanel } from './students.js';

const P = T.players;

const COMPANIES: Readonly<Record<State['company'], (props: { readonly lists: Lists }) => ReactNode>> = {
  instruments: InstrumentsPanel,
  students: StudentsPanel,
  ensemble: EnsemblePanel,
};

export function PlayersPlace() {
  const lists = useWindow((s) => s.lists);
  const title = useWindow((s) => s.book?.source.title);
  const company = useWindow((s) => s.company);
  if (!lists || title === undefined) return null;
  const Panel = COMPANIES[company];
  return (
    <div className="work">
      <PlaceHead over={title} title={P.heading} />
      <nav className="kinds" aria-label={P.heading}>
        {keysOf(COMPANIES).map((name) => (
          <button key={name} type="button" aria-pressed={company === name} onClick={() => change({ company: name })}>
            {P.companies[name]}
          </button>
        ))}
      </nav>
      <Panel lists={lists} />
    </div>
  );
}
