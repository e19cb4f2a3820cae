/** The keys as a wheel: the order of an exercise drawn as a path through them. Every key is a button. */
import type { KeyboardEvent } from 'react';
import type { Lists } from '../../electron/services/contract/answers/lists.js';
import { T } from '../texts/texts.js';

const SIZE = 240;
const MIDDLE = SIZE / 2;
const RING = 92;
const DOT = 19;

const at = (spot: number, radius = RING): readonly [number, number] => {
  const angle = (spot / 12) * 2 * Math.PI - Math.PI / 2;
  return [MIDDLE + radius * Math.cos(angle), MIDDLE + radius * Math.sin(angle)];
};

export type WheelProps = {
  readonly wheel: Lists['wheel'];
  /** Spots in the order played. */
  readonly path: readonly number[];
  readonly title: string;
  /** Sounding place now, while playing. */
  readonly lit: number | undefined;
  readonly own: boolean;
  readonly onKey: (spot: number) => void;
};

export function KeyWheel({ wheel, path, title, lit, own, onKey }: WheelProps) {
  const points = path.map((spot) => at(spot, RING - DOT - 2).join(',')).join(' ');
  const press = (spot: number) => (event: KeyboardEvent) => {
    if (event.key !== 'Enter' && event.key !== ' ') return;
    event.preventDefault();
    onKey(spot);
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a picture cannot be a set of fields
    <svg className="wheel" viewBox={`-6 -6 ${SIZE + 12} ${SIZE + 12}`} role="group" aria-label={T.exercise.wheelLabel(title)}>
      <polyline className="wheel-path" points={points} />
      {wheel.map(({ spot, shown }) => {
        const [x, y] = at(spot);
        const place = path.indexOf(spot);
        const label = own ? (place < 0 ? T.exercise.addKey(shown) : T.exercise.dropKey(shown)) : T.exercise.beginAt(shown);
        const state = lit === spot ? ' lit' : place === 0 ? ' first' : place > 0 ? ' in' : '';
        return (
          // biome-ignore lint/a11y/useSemanticElements: a button cannot stand inside a picture
          <g
            key={spot}
            className={`wheel-key${state}`}
            role="button"
            tabIndex={0}
            aria-label={label}
            aria-pressed={place >= 0}
            onClick={() => onKey(spot)}
            onKeyDown={press(spot)}
          >
            <circle cx={x} cy={y} r={DOT} />
            <text x={x} y={y + 5}>
              {shown}
            </text>
          </g>
        );
      })}
      {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in this group takes the focus */}
      <g aria-hidden="true">
        {path.map((spot, place) => (
          <text key={spot} className="wheel-place" x={at(spot, RING + DOT + 9)[0]} y={at(spot, RING + DOT + 9)[1] + 3}>
            {place + 1}
          </text>
        ))}
      </g>
    </svg>
  );
}
