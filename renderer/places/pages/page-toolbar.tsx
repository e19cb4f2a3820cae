/** Turning, jumping and zooming. */
import type { Shown } from '../../../electron/services/contract/answers/pages.js';
import { turn } from '../../commands/go.js';
import { evenPage } from '../../state/page-spread.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import type { Look, PairProps } from './spread.js';

const P = T.pages;

const go = (page: number) => change({ spread: evenPage(page) });

type ButtonProps = { readonly sign: string; readonly label: string; readonly act: () => void; readonly disabled: boolean };

function TurnButton({ sign, label, act, disabled }: ButtonProps) {
  return (
    <button type="button" onClick={act} disabled={disabled} aria-label={label} title={label}>
      {sign}
    </button>
  );
}

function Jump({ firstPage }: Pick<Shown, 'firstPage'>) {
  const chapters = useWindow((s) => s.book?.source.chapters) ?? [];
  const exercises = chapters.flatMap((chapter, c) =>
    chapter.exercises.map((exercise, e) => ({ key: `${c}.${e}`, title: exercise.title ?? T.book.exercise, chapter: chapter.title })),
  );
  return (
    <select
      aria-label={P.jump}
      value=""
      onChange={(event) => {
        const page = firstPage[event.target.value];
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
  );
}

const FITS = [
  { fit: 'page', label: P.fitHeight },
  { fit: 'width', label: P.fitWidth },
] as const;

export type LookProps = { readonly look: Look; readonly setLook: (look: Look) => void };

function FitAndZoom({ look, setLook }: LookProps) {
  return (
    <div className="fit">
      {FITS.map(({ fit, label }) => (
        <button key={fit} type="button" aria-pressed={look.fit === fit} onClick={() => setLook({ ...look, fit })}>
          {label}
        </button>
      ))}
      <label className="zoom">
        <span>{P.zoom}</span>
        <input
          type="range"
          min={50}
          max={250}
          step={10}
          value={look.zoom}
          onChange={(event) => setLook({ ...look, zoom: event.target.valueAsNumber })}
        />
      </label>
    </div>
  );
}

export function PageToolbar({ shown, here, pair, look, setLook }: PairProps & LookProps) {
  const total = shown.pages.length;
  const atStart = here < 0;
  const atEnd = here + 2 >= total;
  return (
    <div className="toolbar" role="toolbar" aria-label={P.heading}>
      <TurnButton sign="«" label={P.first} act={() => go(0)} disabled={atStart} />
      <TurnButton sign="‹" label={P.previous} act={() => turn(-1)} disabled={atStart} />
      <span className="where" aria-live="polite">
        {P.of(pair.map((page) => shown.pages[page]?.label).join('–'), total)}
      </span>
      <TurnButton sign="›" label={P.next} act={() => turn(1)} disabled={atEnd} />
      <TurnButton sign="»" label={P.last} act={() => go(total - 1)} disabled={atEnd} />
      <Jump firstPage={shown.firstPage} />
      <FitAndZoom look={look} setLook={setLook} />
    </div>
  );
}
