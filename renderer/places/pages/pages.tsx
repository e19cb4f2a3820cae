/** The pages as they will be printed, two and two. */
import { type CSSProperties, useState } from 'react';
import type { ExerciseView } from '../../../electron/services/views.js';
import { turn } from '../../commands/work.js';
import { PageView } from '../../parts/page-view.js';
import { evenPage } from '../../state/page-spread.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const P = T.pages;

export function NoteCard({ exercise, event }: { readonly exercise: ExerciseView; readonly event: number }) {
  const note = exercise.notes.find((it) => it.index === event);
  if (!note || note.key === undefined) return null;
  const statement = exercise.statements[note.statement];
  const breath = exercise.breathing?.breaths.find((it) => it.afterEvent === event);
  const reason = breath && T.exercise.reasons[breath.reason as keyof typeof T.exercise.reasons];
  return (
    <aside className="note-card" aria-label={P.note}>
      <dl>
        <dt>{P.noteKey}</dt>
        <dd>{statement ? statement.keyWords : '–'}</dd>
        <dt>{P.noteDegree}</dt>
        <dd>{note.degree}</dd>
        <dt>{P.noteWritten}</dt>
        <dd>{note.written}</dd>
        <dt>{P.noteSounding}</dt>
        <dd>{note.sounding}</dd>
        <dt>{P.noteBreath}</dt>
        <dd>{reason ?? P.noBreath}</dd>
      </dl>
      <button type="button" className="quiet" onClick={() => change({ note: undefined })} aria-label={T.dialog.close}>
        ×
      </button>
    </aside>
  );
}

type Fit = 'page' | 'width';

export function PagesPlace() {
  const shown = useWindow((s) => s.shown);
  const spread = useWindow((s) => s.spread);
  const note = useWindow((s) => s.note);
  const source = useWindow((s) => s.book?.source);
  const focus = useWindow((s) => s.focus);
  const [fit, setFit] = useState<Fit>('page');
  const [zoom, setZoom] = useState(100);
  if (!shown) return <p className="coming">{P.coming}</p>;
  if (shown.pages.length === 0) {
    const place = source?.editions.length === 0 ? 'players' : 'book';
    return (
      <div className="empty-place">
        <h1>{P.nonePage}</h1>
        <p>{P.noneWords}</p>
        <button type="button" className="main" onClick={() => change({ place, company: 'instruments' })}>
          {P.goOn[place]}
        </button>
      </div>
    );
  }
  const total = shown.pages.length;
  const here = evenPage(Math.min(spread, total - 1));
  const pair = [here, here + 1].filter((page) => page >= 0 && page < total);
  const labels = pair.map((page) => shown.pages[page]?.label).join('–');
  const go = (page: number) => change({ spread: evenPage(page) });
  const exercises = (source?.chapters ?? []).flatMap((chapter, c) =>
    chapter.exercises.map((exercise, e) => ({ key: `${c}.${e}`, title: exercise.title ?? T.book.exercise, chapter: chapter.title })),
  );
  return (
    <div className="pages-place">
      <div className="toolbar" role="toolbar" aria-label={P.heading}>
        <button type="button" onClick={() => go(0)} disabled={here < 0} aria-label={P.first} title={P.first}>
          «
        </button>
        <button type="button" onClick={() => turn(-1)} disabled={here < 0} aria-label={P.previous} title={P.previous}>
          ‹
        </button>
        <span className="where" aria-live="polite">
          {P.of(labels, total)}
        </span>
        <button type="button" onClick={() => turn(1)} disabled={here + 2 >= total} aria-label={P.next} title={P.next}>
          ›
        </button>
        <button type="button" onClick={() => go(total - 1)} disabled={here + 2 >= total} aria-label={P.last} title={P.last}>
          »
        </button>
        <select
          aria-label={P.jump}
          value=""
          onChange={(event) => {
            const page = shown.firstPage[event.target.value];
            if (page !== undefined) go(page);
          }}
        >
          <option value="">{P.jump} …</option>
          {exercises.map((it) => (
            <option key={it.key} value={it.key}>
              {it.chapter}: {it.title}
            </option>
          ))}
        </select>
        <div className="fit">
          <button type="button" aria-pressed={fit === 'page'} onClick={() => setFit('page')}>
            {P.fitHeight}
          </button>
          <button type="button" aria-pressed={fit === 'width'} onClick={() => setFit('width')}>
            {P.fitWidth}
          </button>
          <label className="zoom">
            <span>{P.zoom}</span>
            <input type="range" min={50} max={250} step={10} value={zoom} onChange={(event) => setZoom(event.target.valueAsNumber)} />
          </label>
        </div>
      </div>
      <section
        className={`spread fit-${fit}`}
        aria-label={P.spread}
        style={{ '--zoom': zoom / 100, '--ratio': shown.width / shown.height } as CSSProperties}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the region scrolls, and must scroll by keyboard too
        tabIndex={0}
      >
        {here < 0 && <div className="paper blank" aria-hidden="true" style={{ aspectRatio: `${shown.width} / ${shown.height}` }} />}
        {pair.map((page) => (
          <PageView key={page} page={page} />
        ))}
      </section>
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
              onClick={() => go(i)}
              aria-label={P.page(page.label)}
            >
              {page.label}
            </button>
          ))}
        </nav>
      </div>
    </div>
  );
}
