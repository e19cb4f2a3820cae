/** Which instrument can play which exercise, and in which key it sounds first. */
import { useEffect, useState } from 'react';
import type { Fits } from '../../../electron/services/contract/answers/fits.js';
import { service } from '../../host/service.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const P = T.players;

function useFits(): Fits | undefined {
  const source = useWindow((s) => s.book?.source);
  const [fits, setFits] = useState<Fits>();
  useEffect(() => {
    if (!source) return;
    let gone = false;
    // After the pages: they matter more.
    const timer = setTimeout(() => {
      void service.call('fits', { source }).then((answer) => {
        if (!gone) setFits(answer.ok ? answer.value : undefined);
      });
    }, 400);
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [source]);
  return fits;
}

function Row({ row: { chapter, exercise, title, cells } }: { readonly row: Fits['rows'][number] }) {
  return (
    <tr>
      <th scope="row">
        <button type="button" className="link" onClick={() => change({ focus: { chapter, exercise }, place: 'exercise' })}>
          {title}
        </button>
      </th>
      {cells.map((cell, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the same instrument may come twice
        <td key={i} className={cell.state} title={cell.words}>
          {cell.state === 'cannot' ? P.cannot : cell.sounding}
          {cell.state === 'changed' && <span className="hint"> ({P.changed})</span>}
        </td>
      ))}
    </tr>
  );
}

function Table({ fits: { editions, rows } }: { readonly fits: Fits }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{T.book.exercise}</th>
          {editions.map((name, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: the same instrument may come twice
            <th key={i} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <Row key={`${row.chapter}.${row.exercise}`} row={row} />
        ))}
      </tbody>
    </table>
  );
}

export function PlayableTable() {
  const fits = useFits();
  return (
    <section className="panel">
      <h2>{P.together}</h2>
      <p className="hint">{P.togetherHint}</p>
      {fits && (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table scrolls, and must scroll by keyboard too
        <section className="table-scroll" aria-label={P.together} tabIndex={0}>
          <Table fits={fits} />
        </section>
      )}
    </section>
  );
}
