/** The line drawn over the compass: where it lies, where keys change, where breaths are taken. */
import { memo } from 'react';
import type { ExerciseView, NoteView } from '../../electron/services/contract/answers/exercise.js';
import { T } from '../texts/texts.js';

const WIDTH = 900;
const HEIGHT = 190;
const LEFT = 44;
const TOP = 24;
const BOTTOM = 20;

/** Where a moment and a key lie in the picture. */
type Scale = { readonly x: (onset: number) => number; readonly y: (key: number) => number };

function scaleOf({ low, high, duration }: ExerciseView): Scale {
  const span = Math.max(1, high.key - low.key);
  return {
    x: (onset) => LEFT + ((WIDTH - LEFT - 8) * onset) / duration,
    y: (key) => TOP + ((HEIGHT - TOP - BOTTOM) * (high.key - key)) / span,
  };
}

/** The line in pieces between rests: a rest breaks it. */
const lineOf = (notes: readonly NoteView[], { x, y }: Scale): string =>
  notes
    .map((note, i) => {
      if (note.key === undefined) return '';
      const start = `${x(note.onset).toFixed(1)} ${y(note.key).toFixed(1)}`;
      return `${i === 0 || notes[i - 1]?.key === undefined ? 'M' : 'L'}${start}H${x(note.onset + note.duration).toFixed(1)}`;
    })
    .join('');

type Part = { readonly exercise: ExerciseView; readonly scale: Scale };

function Compass({ exercise: { low, high } }: Pick<Part, 'exercise'>) {
  return (
    <>
      <rect className="contour-compass" x={LEFT} y={TOP} width={WIDTH - LEFT - 8} height={HEIGHT - TOP - BOTTOM} />
      <text className="contour-end" x={LEFT - 6} y={TOP + 8}>
        {high.shown}
      </text>
      <text className="contour-end" x={LEFT - 6} y={HEIGHT - BOTTOM}>
        {low.shown}
      </text>
    </>
  );
}

function Statements({ exercise: { statements, turnaround }, scale: { x } }: Part) {
  // Key names as many as have room.
  const every = Math.ceil(statements.length / 26);
  return statements.map((statement) => (
    <g key={statement.index}>
      <line
        className={`contour-bar${statement.index === turnaround ? ' turn' : ''}`}
        x1={x(statement.onset)}
        x2={x(statement.onset)}
        y1={TOP}
        y2={HEIGHT - BOTTOM}
      />
      {statement.index % every === 0 && (
        <text className="contour-key" x={x(statement.onset) + 2} y={HEIGHT - 6}>
          {statement.key}
        </text>
      )}
    </g>
  ));
}

function Breaths({ exercise: { breathing }, scale: { x } }: Part) {
  return breathing?.breaths.map((breath) => (
    <path
      key={breath.afterEvent}
      className={`contour-breath${breath.forced ? ' forced' : ''}`}
      d={`M${x(breath.at) - 2} ${TOP - 15}c5 0 6 6 -1 11c3 -4 3 -6 -1 -7c-3 -1 -2 -4 2 -4z`}
    >
      <title>{T.exercise.reasons[breath.reason]}</title>
    </path>
  ));
}

function Hits({ exercise: { notes }, scale: { x }, onNote }: Part & { readonly onNote: (event: number) => void }) {
  return notes.map((note) =>
    note.key === undefined ? null : (
      // biome-ignore lint/a11y/noStaticElementInteractions: the notes can be reached from the page too; this is a shortcut for the mouse
      <rect
        key={note.index}
        className="contour-hit"
        x={x(note.onset)}
        y={TOP}
        width={Math.max(2, x(note.onset + note.duration) - x(note.onset))}
        height={HEIGHT - TOP - BOTTOM}
        onClick={() => onNote(note.index)}
      />
    ),
  );
}

type Props = {
  readonly exercise: ExerciseView;
  readonly instrument: string;
  readonly event: number | undefined;
  readonly onNote: (event: number) => void;
};

export const Contour = memo(function Contour({ exercise, instrument, event, onNote }: Props) {
  const { notes, low, high } = exercise;
  const scale = scaleOf(exercise);
  const current = notes.find((note) => note.index === event);
  return (
    <svg
      className="contour"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={T.exercise.lineLabel(instrument, low.shown, high.shown)}
    >
      <Compass exercise={exercise} />
      <Statements exercise={exercise} scale={scale} />
      <path className="contour-line" d={lineOf(notes, scale)} />
      <Breaths exercise={exercise} scale={scale} />
      {current?.key !== undefined && <circle className="contour-now" cx={scale.x(current.onset)} cy={scale.y(current.key)} r={5} />}
      <Hits exercise={exercise} scale={scale} onNote={onNote} />
    </svg>
  );
});
