/** The library of ready figures: browse by kind, hear, take. */
import { useEffect, useMemo, useState } from 'react';
import type { FigureView } from '../../electron/services/contract/answers/figure.js';
import type { FigureEntry } from '../../electron/services/contract/answers/lists.js';
import { takeFigure } from '../commands/outline.js';
import { service } from '../host/service.js';
import { Dialog } from '../parts/dialog.js';
import { Drawing } from '../parts/drawing.js';
import { hearFigure } from '../sound/play.js';
import { closeDialog, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

const X = T.exercise;

function Figure({ figure, clef }: { readonly figure: FigureEntry; readonly clef: 'treble' | 'bass' | 'alto' | 'tenor' }) {
  const [view, setView] = useState<FigureView>();
  useEffect(() => {
    let gone = false;
    void service.call('figure', { library: figure.id, text: undefined, clef }).then((answer) => {
      if (answer.ok && !gone) setView(answer.value);
    });
    return () => {
      gone = true;
    };
  }, [figure.id, clef]);
  return (
    <li className="figure-card">
      <div className="figure-card-head">
        <h3>{figure.title}</h3>
        <code>{figure.text}</code>
      </div>
      <div className="figure-card-staff">{view && <Drawing svg={view.svg} natural />}</div>
      <div className="figure-card-acts">
        <button type="button" onClick={() => view && hearFigure(view.keys)} aria-label={`${X.hear}: ${figure.title}`}>
          {X.hear}
        </button>
        <button
          type="button"
          className="main"
          aria-label={`${X.take}: ${figure.title}`}
          onClick={() => {
            takeFigure(figure);
            closeDialog();
          }}
        >
          {X.take}
        </button>
      </div>
    </li>
  );
}

export function FigureLibrary() {
  const lists = useWindow((s) => s.lists);
  const source = useWindow((s) => s.book?.source);
  const edition = useWindow((s) => s.edition);
  const [group, setGroup] = useState('Cells');
  const [words, setWords] = useState('');
  const figures = useMemo(() => {
    const wanted = words.trim().toLowerCase();
    return (lists?.figures ?? []).filter((it) =>
      wanted ? `${it.title} ${it.text} ${it.draws} ${it.group}`.toLowerCase().includes(wanted) : group === '' || it.group === group,
    );
  }, [lists, group, words]);
  const choose = (kind: string) => {
    setWords('');
    setGroup(kind);
  };
  const spec = source?.editions[edition];
  const id = typeof spec === 'string' ? spec : spec?.instrument;
  const clef = lists?.instruments.find((it) => it.id === id)?.clef ?? 'treble';
  return (
    <Dialog title={X.library} wide onClose={closeDialog}>
      <p className="hint">{X.libraryHint}</p>
      <div className="library-tools">
        <input
          type="search"
          aria-label={X.searchFigures}
          placeholder={X.searchFigures}
          value={words}
          onChange={(event) => setWords(event.target.value)}
        />
        <fieldset className="kinds">
          <legend className="unseen">{X.library}</legend>
          {(lists?.groups ?? []).map((it) => (
            <button key={it} type="button" aria-pressed={group === it && !words} onClick={() => choose(it)}>
              {it}
            </button>
          ))}
        </fieldset>
      </div>
      {figures.length === 0 && <p className="empty">{X.noFigures}</p>}
      <ul className="figure-cards">
        {figures.map((figure) => (
          <Figure key={figure.id} figure={figure} clef={clef} />
        ))}
      </ul>
    </Dialog>
  );
}
