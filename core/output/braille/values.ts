/**
 * How the values of a bar are told. Each sign stands for two of them (a whole looks like a sixteenth), and in a group of
 * short notes all but the first look like eighths; where that could mislead, groups are written out and signs of value stand.
 */
import { at as itemAt, last } from '../../base/list.js';
import type { Bar, BarEvent } from '../../engrave/bar.js';
import { add, equal, type Fraction, frac, less, mul, text, ZERO } from '../../theory/fraction.js';
import { beatLengths, beatStarts, type Metre } from '../../theory/metre.js';
import { isLarge, SIGN } from './cells.js';

/** A group as indices into the bar's events: the first in its true value, the others written as eighths. */
export type ValueGroup = readonly number[];

export type BarValues = {
  /** What stands before each event: a sign of value, or nothing. */
  readonly signs: readonly string[];
  readonly groups: readonly ValueGroup[];
};

const EIGHTH = 8;

/** Length of an event if its sign, that of a note of 1/`shape`, is read as the large or as the small value. */
function readings({ duration, base }: BarEvent, shape: number): readonly Fraction[] {
  const scale = mul(duration, frac(base.d, base.n));
  return [shape, isLarge(shape) ? shape * 16 : shape / 16].map((d) => mul(scale, frac(1, d)));
}

/** A stretch of the bar in which so many notes of one short value may be a group. */
type Slot = { readonly start: Fraction; readonly denominator: number; readonly count: number };

/**
 * Sixteenths go in fours in metres over 2 and 4, in sixes over 8; smaller notes in fours, within parts of a beat. (New
 * International Manual of Braille Music Notation, 1996, 4-5.)
 */
function slotsOf(metre: Metre, length: Fraction): Slot[] {
  const even = (denominator: number): Slot[] => {
    const step = frac(4, denominator);
    const slots: Slot[] = [];
    for (let start = ZERO; !less(length, add(start, step)); start = add(start, step)) slots.push({ start, denominator, count: 4 });
    return slots;
  };
  const beats = beatLengths(metre);
  const sixes = beatStarts(metre).flatMap((start, i): Slot[] =>
    beats[i] && equal(beats[i], frac(3, 8)) && !less(length, add(start, frac(3, 8))) ? [{ start, denominator: 16, count: 6 }] : [],
  );
  return [...(metre.unit === EIGHTH ? sixes : even(16)), ...even(32), ...even(64)];
}

/** Does a group of a short value begin with this event, as the bar is written? Its number of notes, or 0. */
function seemingGroup({ events, tuplets }: Bar, at: number, onset: Fraction, shapes: readonly number[], slots: readonly Slot[]): number {
  const { dots, tuplet } = itemAt(events, at);
  const shape = itemAt(shapes, at);
  if (dots > 0 || shape === EIGHTH) return 0;
  const denominator = isLarge(shape) ? shape * 16 : shape;
  const inTuplet = tuplet === undefined ? undefined : tuplets[tuplet]?.events;
  const slot = slots.find((one) => one.denominator === denominator && equal(one.start, onset));
  const count = inTuplet ? (inTuplet[0] === at ? inTuplet.length : 0) : (slot?.count ?? 0);
  const others = events.slice(at + 1, at + count);
  const looks = others.every((one, i) => one.kind === 'note' && one.dots === 0 && one.tuplet === tuplet && shapes[at + 1 + i] === EIGHTH);
  return count > 2 && others.length === count - 1 && looks ? count : 0;
}

/**
 * How many ways there are to read the signs of a bar so that it is full: each as its large or its small value, and a short
 * one with eighths behind it as a group as well, save before the events that have a sign of value.
 */
function waysToFill(bar: Bar, slots: readonly Slot[], shapes: readonly number[], told: ReadonlySet<number>): number {
  const { events, length } = bar;
  type Places = Map<string, { place: Fraction; ways: number }>;
  const reached: Places[] = [...events, undefined].map(() => new Map());
  const reach = (at: number, place: Fraction, ways: number): void => {
    if (less(length, place)) return;
    const id = text(place);
    itemAt(reached, at).set(id, { place, ways: (itemAt(reached, at).get(id)?.ways ?? 0) + ways });
  };
  reach(0, ZERO, 1);
  events.forEach((event, at) => {
    const full = event.kind === 'rest' && event.full;
    const shape = itemAt(shapes, at);
    for (const { place, ways } of itemAt(reached, at).values()) {
      for (const read of full ? [event.duration] : readings(event, shape)) reach(at + 1, add(place, read), ways);
      const count = full || told.has(at + 1) ? 0 : seemingGroup(bar, at, place, shapes, slots);
      if (count === 0) continue;
      const each = itemAt(readings(event, shape), isLarge(shape) ? 1 : 0);
      reach(at + count, add(place, mul(each, frac(count))), ways);
    }
  });
  return [...itemAt(reached, events.length).values()].find(({ place }) => equal(place, length))?.ways ?? 0;
}

/** Short notes of one value without dots; a rest of that value may begin them. (New International Manual, 4-2 and 4-4.) */
const alike = (events: readonly BarEvent[], denominator: number): boolean =>
  !isLarge(denominator) &&
  events.length >= 3 &&
  events.every(({ kind, base, dots }, i) => base.d === denominator && dots === 0 && (i === 0 || kind === 'note'));

/**
 * Notes of one value that fill a slot, or a whole tuplet. Not before an eighth, which would look like one note more. (Music
 * Braille Code, BANA 1997, 7.3.3; New International Manual, 4-3.)
 */
function groupsOf(bar: Bar, slots: readonly Slot[]): ValueGroup[] {
  const inSlots = slots.flatMap(({ start, denominator, count }): ValueGroup[] => {
    const first = bar.events.findIndex(({ onset }) => equal(onset, start));
    if (first === -1) return [];
    const own = bar.events.slice(first, first + count);
    const fits = own.length === count && alike(own, denominator) && own.every(({ tuplet }) => tuplet === undefined);
    return fits ? [own.map((_, i) => first + i)] : [];
  });
  const tuplets = bar.tuplets.flatMap(({ actual, events }): ValueGroup[] => {
    const own = events.map((at) => itemAt(bar.events, at));
    return own.length % actual === 0 && alike(own, own[0]?.base.d ?? 1) ? [events] : [];
  });
  return [...inSlots, ...tuplets].filter((group) => bar.events[last(group) + 1]?.base.d !== EIGHTH);
}

/** The eighths that would make a group with the short note before them, were nothing said. (Music Braille Code, 7.4.) */
function mistaken(bar: Bar, slots: readonly Slot[]): ReadonlySet<number> {
  const shapes = bar.events.map(({ base }) => base.d);
  return new Set(
    bar.events.flatMap(({ base, onset }, at) => (!isLarge(base.d) && seemingGroup(bar, at, onset, shapes, slots) > 0 ? [at + 1] : [])),
  );
}

/**
 * Signs of value before the events of a bar that could be read in two ways: where small values begin, and where large ones
 * follow them. A bar is read in large values unless it says otherwise, and an eighth is taken for one even after small ones.
 * (Music Braille Code, BANA 1997, 1.1 and its example.)
 */
function valueSigns(bar: Bar, doubtful: boolean, eighths: ReadonlySet<number>): readonly string[] {
  let said = true;
  return bar.events.map(({ base }, at) => {
    const large = isLarge(base.d);
    const told = eighths.has(at) || (doubtful && large !== said && base.d !== EIGHTH);
    if (!told) return '';
    said = large;
    return large ? SIGN.largeValues : SIGN.smallValues;
  });
}

/** Groups only where the bar can then be read in no other way. */
export function barValues(bar: Bar, metre: Metre): BarValues {
  const slots = slotsOf(metre, bar.length);
  const shapes = bar.events.map(({ base }) => base.d);
  const told = mistaken(bar, slots);
  const groups = groupsOf(bar, slots);
  const others = new Set(groups.flatMap((group) => group.slice(1)));
  const grouped = shapes.map((shape, at) => (others.has(at) ? EIGHTH : shape));
  if (groups.length > 0 && waysToFill(bar, slots, grouped, told) === 1) return { groups, signs: valueSigns(bar, false, told) };
  return { groups: [], signs: valueSigns(bar, waysToFill(bar, slots, shapes, told) > 1, told) };
}
