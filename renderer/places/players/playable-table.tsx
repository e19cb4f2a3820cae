/** Which instrument can play which exercise, and in which key it sounds first. */
import { useEffect, useState } from 'react';
import type { Fits } from '../../../electron/services/views.js';
import { service } from '../../host/service.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const P = T.players;

export function PlayableTable() {
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
  return (
    <section className="panel">
      <h2>{P.together}</h2>
      <p className="hint">{P.togetherHint}</p>
      {fits && (
        <section
          className="table-scroll"
          aria-label={P.together}
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table scrolls, and must scroll by keyboard too
          tabIndex={0}
        >
          <table>
            <thead>
              <tr>
                <th scope="col">{T.book.exercise}</th>
                {fits.editions.map((name, i) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: the same instrument may come twice
                  <th key={i} scope="col">
                    {name}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {fits.rows.map((row) => (
                <tr key={`${row.chapter}.${row.exercise}`}>
                  <th scope="row">
                    <button
                      type="button"
                      className="link"
                      onClick={() => change({ focus: { chapter: row.chapter, exercise: row.exercise }, place: 'exercise' })}
                    >
                      {row.title}
                    </button>
                  </th>
                  {row.cells.map((cell, i) => (
                    // biome-ignore lint/suspicious/noArrayIndexKey: the same instrument may come twice
                    <td key={i} className={cell.state} title={cell.words}>
                      {cell.state === 'cannot' ? P.cannot : cell.sounding}
                      {cell.state === 'changed' && <span className="hint"> ({P.changed})</span>}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </section>
  );
}
