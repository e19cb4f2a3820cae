/** The instruments of the book, and what they can play together. */
import { useState } from 'react';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { EDITIONS, editionObject } from '../../edits/book.js';
import { Select } from '../../parts/fields.js';
import { edit } from '../../state/history.js';
import { instrumentName } from '../../state/instrument-names.js';
import { say, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { EditionItem } from './edition-card.js';
import { PlayableTable } from './playable-table.js';
import { instrumentChoices } from './reader-form.js';

const P = T.players;

function AddEdition({ lists, there }: { readonly lists: Lists; readonly there: readonly string[] }) {
  // The first instrument that the book has not yet.
  const [wanted, setWanted] = useState(() => lists.instruments.find(({ id }) => !there.includes(id))?.id ?? 'flute');
  const add = () => {
    const name = instrumentName(lists, wanted);
    edit('book', { name: CHANGE.addEdition(name), edition: there.length }, (it) => EDITIONS.add(it, { instrument: wanted }));
    say(name);
  };
  return (
    <div className="row end">
      <Select label={P.addEdition} value={wanted} options={instrumentChoices(lists)} onChange={setWanted} />
      <button type="button" className="main" onClick={add}>
        {P.add}
      </button>
    </div>
  );
}

export function InstrumentsPanel({ lists }: { readonly lists: Lists }) {
  const source = useWindow((s) => s.book?.source);
  const issues = useWindow((s) => s.shown?.issues) ?? [];
  if (!source) return null;
  const there = source.editions.map((it) => editionObject(it).instrument);
  return (
    <>
      <section className="panel">
        <h2>{P.editions}</h2>
        <p className="hint">{P.editionsHint}</p>
        {there.length === 0 && <p className="empty">{P.noEditions}</p>}
        <ul className="editions">
          {there.map((instrument, i) => (
            <EditionItem
              // biome-ignore lint/suspicious/noArrayIndexKey: two editions of one instrument differ by their place only
              key={`${instrument} ${i}`}
              lists={lists}
              index={i}
              issues={issues.filter(({ path, severity }) => severity !== 'note' && path[0] === 'editions' && path[1] === i)}
            />
          ))}
        </ul>
        <AddEdition lists={lists} there={there} />
      </section>
      {there.length > 0 && <PlayableTable />}
    </>
  );
}
