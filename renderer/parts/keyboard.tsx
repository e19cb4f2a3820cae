/** A keyboard with a compass on it. A press moves the nearer end of the compass. */
import type { Lists } from '../../electron/services/contract/answers/lists.js';
import { T } from '../texts/texts.js';

const WHITE = 16;
const HIGH = 74;

type Props = {
  readonly keyboard: Lists['keyboard'];
  readonly low: number;
  readonly high: number;
  readonly onMove: (end: 'low' | 'high', name: string) => void;
};

export function Keyboard({ keyboard, low, high, onMove }: Props) {
  // From a C below to a B above the compass, with some keys to spare.
  const from = Math.max(21, Math.floor((low - 5) / 12) * 12);
  const to = Math.min(108, Math.ceil((high + 6) / 12) * 12 - 1);
  const shown = keyboard.filter((it) => it.key >= from && it.key <= to);
  const whites = shown.filter((it) => !it.black);
  const place = (key: number): number => {
    const before = whites.filter((it) => it.key < key).length;
    return before * WHITE;
  };
  const move = (key: number, name: string) => onMove(Math.abs(key - low) <= Math.abs(key - high) ? 'low' : 'high', name);
  const inside = (key: number): string => (key >= low && key <= high ? ' inside' : '') + (key === low || key === high ? ' end' : '');
  return (
    <svg className="keyboard" viewBox={`0 0 ${whites.length * WHITE} ${HIGH}`} role="img" aria-label={T.players.keyboard}>
      {[...whites, ...shown.filter((it) => it.black)].map((it) => (
        // biome-ignore lint/a11y/noStaticElementInteractions: the two ends can be moved with the buttons and fields beside the keyboard
        <rect
          key={it.key}
          className={`key ${it.black ? 'black' : 'white'}${inside(it.key)}`}
          x={it.black ? place(it.key) - WHITE * 0.3 : place(it.key)}
          y={0}
          width={it.black ? WHITE * 0.6 : WHITE}
          height={it.black ? HIGH * 0.6 : HIGH}
          onClick={() => move(it.key, it.name)}
        >
          <title>{it.shown}</title>
        </rect>
      ))}
      {whites
        .filter((it) => it.name.startsWith('C'))
        .map((it) => (
          <text key={it.key} className="key-name" x={place(it.key) + WHITE / 2} y={HIGH - 6}>
            {it.shown}
          </text>
        ))}
    </svg>
  );
}
