/** What a book may choose from: instruments, figures, key orders, rhythms, scales, metres. Names as printed. */

import { assert } from '../../../core/base/issue.js';
import { at } from '../../../core/base/list.js';
import { FIGURE_GROUPS, FIGURE_LIBRARY } from '../../../core/exercise/figure-library.js';
import { KEY_ORDER_NAMES, type KeyOrderSpec, keyOrder, orderList } from '../../../core/exercise/key-order.js';
import { KEY_ORDERS } from '../../../core/exercise/key-order-catalogue.js';
import { RHYTHM_NAMES } from '../../../core/exercise/rhythm.js';
import { MAX_IMPORT } from '../../../core/import/import-figure.js';
import { INSTRUMENTS, LEVELS } from '../../../core/player/catalogue.js';
import { METRES } from '../../../core/theory/metre.js';
import { accidentalText, chroma, className, letterName, midi, type Pitch, pitchName } from '../../../core/theory/pitch.js';
import { SCALE_NAMES } from '../../../core/theory/scale.js';
import type { Lists, OrderEntry, PitchView } from '../contract/answers/lists.js';

export const pitchView = (pitch: Pitch): PitchView => ({
  name: pitchName(pitch),
  shown: `${letterName(pitch.letter)}${accidentalText(pitch.alter)}${pitch.octave}`,
  key: midi(pitch),
});

/** Place on the wheel of a chroma above C: 7 semitones are one step. */
export const wheelSpot = (chroma: number): number => (((chroma * 7) % 12) + 12) % 12;

/** `B♭` → `Bb`: as written in a book file. */
export const plainName = (shown: string): string => shown.replaceAll('♭', 'b').replaceAll('♯', '#');

function orderOf(entry: (typeof KEY_ORDERS)[number]): OrderEntry {
  const { name, title, steps } = entry;
  if (name === 'custom') return { name, title, steps, spots: [], names: [] };
  const spec: KeyOrderSpec = name === 'shuffle' ? { name, seed: 1 } : { name };
  const order = keyOrder(spec);
  assert(order.ok, `the order ${name} needs nothing more`);
  return { name, title, steps, spots: order.value.keys.map((key) => wheelSpot(key.chroma)), names: orderList(order.value, 0) };
}

/** Names with at most one sign: of the keys of an own order. */
function namesAt(spot: number): string[] {
  const all = [-1, 0, 1].flatMap((alter) => Array.from({ length: 7 }, (_, letter) => ({ letter, alter })));
  return all.filter((tone) => wheelSpot(chroma(tone)) === spot).map(className);
}

/** Chroma above C → letter and alteration, black keys as flats but for F sharp. */
const KEYS = [
  [0, 0],
  [1, -1],
  [1, 0],
  [2, -1],
  [2, 0],
  [3, 0],
  [3, 1],
  [4, 0],
  [5, -1],
  [5, 0],
  [6, -1],
  [6, 0],
] as const;

function keyboard(): Lists['keyboard'] {
  return Array.from({ length: 88 }, (_, i) => {
    const key = 21 + i;
    const [letter, alter] = at(KEYS, key % 12);
    return { ...pitchView({ letter, alter, octave: Math.floor(key / 12) - 1 }), black: alter !== 0 };
  });
}

export function listsOf(): Lists {
  const circle = keyOrder({ name: 'fifths' });
  assert(circle.ok, 'the circle of fifths is an order');
  const names = orderList(circle.value, 0);
  return {
    instruments: INSTRUMENTS.map(({ id, name, family, clef, pitchedIn, breath, compass }) => ({
      id,
      name,
      family,
      clef,
      pitchedIn,
      breath,
      compass: Object.fromEntries(
        LEVELS.map((level) => [level, { low: pitchView(compass[level].low), high: pitchView(compass[level].high) }]),
      ),
    })),
    levels: LEVELS,
    groups: FIGURE_GROUPS,
    figures: FIGURE_LIBRARY.map(({ id, title, group, text, draws, scale }) => ({ id, title, group, text, draws, scale })),
    orders: KEY_ORDER_NAMES.flatMap((name) => KEY_ORDERS.filter((entry) => entry.name === name).map(orderOf)),
    rhythms: RHYTHM_NAMES,
    scales: SCALE_NAMES,
    metres: METRES,
    keyboard: keyboard(),
    importLimit: MAX_IMPORT,
    wheel: names.map((shown, spot) => ({ spot, shown, written: plainName(shown), names: namesAt(spot) })),
  };
}
