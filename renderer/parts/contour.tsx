/** The line drawn over the compass: where it lies, where keys change, where breaths are taken. */
import { memo } from 'react';
import type { ExerciseView } from '../../electron/services/views.js';
import { T } from '../texts/texts.js';

const WIDTH = 900;
const HEIGHT = 190;
const LEFT = 44;
const TOP = 24;
const BOTTOM = 20;

export const Contour = memo(function Contour({
  exercise,
  instrument,
  event,
  onNote,
}: {
  readonly exercise: ExerciseView;
  readonly instrument: string;
  readonly event: number | undefined;
  readonly onNote: (event: number) => void;
}) {
  const { notes, statements, low, high, duration, breathing } = exercise;
  const span = Math.max(1, high.key - low.key);
  const x = (onset: number): number => LEFT + ((WIDTH - LEFT - 8) * onset) / duration;
  const y = (key: number): number => TOP + ((HEIGHT - TOP - BOTTOM) * (high.key - key)) / span;
  // Pieces between rests: a rest breaks the line.
  const path = notes
    .map((note, i) => {
      if (note.key === undefined) return '';
      const start = `${x(note.onset).toFixed(1)} ${y(note.key).toFixed(1)}`;
      return `${i === 0 || notes[i - 1]?.key === undefined ? 'M' : 'L'}${start}H${x(note.onset + note.duration).toFixed(1)}`;
    })
    .join('');
  const breaths = breathing?.breaths ?? [];
  const current = notes.find((note) => note.index === event);
  // Key names as many as have room.
  const every = Math.ceil(statements.length / 26);
  return (
    <svg
      className="contour"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={T.exercise.lineLabel(instrument, low.shown, high.shown)}
    >
      <rect className="contour-compass" x={LEFT} y={TOP} width={WIDTH - LEFT - 8} height={HEIGHT - TOP - BOTTOM} />
      <text className="contour-end" x={LEFT - 6} y={TOP + 8}>
        {high.shown}
      </text>
      <text className="contour-end" x={LEFT - 6} y={HEIGHT - BOTTOM}>
        {low.shown}
      </text>
      {statements.map((statement) => (
        <g key={statement.index}>
          <line
            className={`contour-bar${statement.index === exercise.turnaround ? ' turn' : ''}`}
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
      ))}
      <path className="contour-line" d={path} />
      {breaths.map((breath) => (
        <path
          key={breath.afterEvent}
          className={`contour-breath${breath.forced ? ' forced' : ''}`}
          d={`M${x(breath.at) - 2} ${TOP - 15}c5 0 6 6 -1 11c3 -4 3 -6 -1 -7c-3 -1 -2 -4 2 -4z`}
        >
          <title>{T.exercise.reasons[breath.reason as keyof typeof T.exercise.reasons]}</title>
        </path>
      ))}
      {current?.key !== undefined && <circle className="contour-now" cx={x(current.onset)} cy={y(current.key)} r={5} />}
      {notes.map((note) =>
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
      )}
    </svg>
  );
});
