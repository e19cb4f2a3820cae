/** Durations → the text of a rhythm, as short as its repetition allows. */

import { bad, error, good, type Result } from '../base/issue.js';
import { at } from '../base/list.js';
import { RHYTHM_NAMES } from '../exercise/rhythm.js';
import { add, div, equal, type Fraction, frac, mul, sub, text, ZERO } from '../theory/fraction.js';
import type { PhraseEvent, TupletRatio } from './phrase.js';

/** A written value: base and dots, and the ratio of its tuplet. */
export type Value = { readonly base: Fraction; readonly dots: number; readonly ratio?: TupletRatio };

const BASES = [1, 2, 4, 8, 16, 32] as const;

const written = ({ base, dots }: Value): Fraction => mul(base, frac(2 ** (dots + 1) - 1, 2 ** dots));

/** The plain or dotted value of exactly this written length. */
function plainValue(length: Fraction): Value | undefined {
  const all = BASES.flatMap((d) => [0, 1, 2].map((dots): Value => ({ base: frac(1, d), dots })));
  return all.find((value) => equal(written(value), length));
}

/** Ratios by the odd factor of a denominator. (Common practice.) */
const RATIOS: Readonly<Record<number, TupletRatio>> = {
  3: { actual: 3, normal: 2 },
  5: { actual: 5, normal: 4 },
  7: { actual: 7, normal: 4 },
};

function oddPart(number: number): number {
  let odd = number;
  while (odd % 2 === 0) odd /= 2;
  return odd;
}

/** The written value of a duration in whole notes, in the tuplet named or the usual one; undefined if there is none. */
export function noteValue(duration: Fraction, named?: TupletRatio): Value | undefined {
  const ratio = named ?? RATIOS[oddPart(duration.d)];
  const length = ratio ? mul(duration, frac(ratio.actual, ratio.normal)) : duration;
  const value = plainValue(length);
  return value && (ratio ? { ...value, ratio } : value);
}

const isBase = (length: Fraction): boolean => length.n === 1 && (BASES as readonly number[]).includes(length.d);

type Group = { readonly values: readonly Value[]; readonly ratio: TupletRatio | undefined; readonly whole: boolean };

/** Does this much written time fill a tuplet of the ratio? */
const fills = (time: Fraction, ratio: TupletRatio): boolean => isBase(div(time, frac(ratio.actual)));

const sameRatio = (a: TupletRatio | undefined, b: TupletRatio | undefined): boolean => a?.actual === b?.actual && a?.normal === b?.normal;

/** Plain values one by one, tuplets as groups: as the file marks them, or each closed as soon as it is full. */
function groupsOf(values: readonly Value[]): Group[] {
  const marked = values.some((value) => value.ratio?.opens);
  const groups: Group[] = [];
  let open: Value[] = [];
  const close = (): void => {
    const ratio = open[0]?.ratio;
    const time = open.reduce((sum, value) => add(sum, written(value)), ZERO);
    if (ratio) groups.push({ values: open, ratio, whole: fills(time, ratio) });
    open = [];
  };
  for (const value of values) {
    if (open.length > 0 && (!sameRatio(open[0]?.ratio, value.ratio) || value.ratio?.opens)) close();
    if (!value.ratio) {
      groups.push({ values: [value], ratio: undefined, whole: true });
      continue;
    }
    open.push(value);
    const time = open.reduce((sum, one) => add(sum, written(one)), ZERO);
    if (!marked && fills(time, value.ratio)) close();
  }
  close();
  return groups;
}

const valueText = ({ base, dots }: Value): string => `1/${base.d}${'.'.repeat(dots)}`;

const groupText = ({ values, ratio }: Group): string => {
  const inside = values.map(valueText).join(' ');
  return ratio ? `${ratio.actual}:${ratio.normal}(${inside})` : inside;
};

const alike = (a: Value, b: Value): boolean => equal(a.base, b.base) && a.dots === b.dots && sameRatio(a.ratio, b.ratio);

/** How many whole groups from the first on, said over and over, give all the values; the last time may break off. */
function period(groups: readonly Group[], values: readonly Value[]): number | undefined {
  let length = 0;
  for (const [i, group] of groups.entries()) {
    if (!group.whole) return undefined;
    length += group.values.length;
    const unit = length;
    if (values.every((value, k) => alike(value, at(values, k % unit)))) return i + 1;
  }
  return undefined;
}

/** The value that completes a tuplet left open at the end: it becomes a rest. */
function completion({ values, ratio }: Group): Value | undefined {
  if (!ratio) return undefined;
  const time = values.reduce((sum, value) => add(sum, written(value)), ZERO);
  for (const d of [...BASES].reverse()) {
    const left = sub(mul(frac(1, d), frac(ratio.actual)), time);
    const value = left.n > 0 ? plainValue(left) : undefined;
    if (value) return { ...value, ratio };
  }
  return undefined;
}

export type RhythmText = {
  /** A name if it has one, else note values. */
  readonly text: string;
  /** A rest must follow the last tone to complete its tuplet. */
  readonly restAtEnd: boolean;
};

/** Fails with `value-unwritable` where a note lasts no single note value, and `tuplet-incomplete`. */
export function rhythmText(events: readonly PhraseEvent[]): Result<RhythmText> {
  const values: Value[] = [];
  for (const [i, event] of events.entries()) {
    const value = event.mixed ? undefined : noteValue(event.duration, event.tuplet);
    if (!value) {
      const what = event.kind === 'note' ? 'note' : 'rest';
      return bad(
        error(
          'value-unwritable',
          [],
          `The ${what} number ${i + 1} (bar ${event.bar}) lasts ${text(event.duration)} of a whole note, which is no single note value; make it shorter or longer.`,
        ),
      );
    }
    values.push(value);
  }
  const groups = groupsOf(values);
  const broken = groups.findIndex((group) => !group.whole);
  const repeated = period(groups, values);
  const named = (said: string): string => RHYTHM_NAMES.find((rhythm) => rhythm.text === said)?.name ?? said;
  if (repeated !== undefined) return good({ text: named(groups.slice(0, repeated).map(groupText).join(' ')), restAtEnd: false });
  const last = groups.at(-1);
  const added = broken === groups.length - 1 && last ? completion(last) : undefined;
  if (!last || !added) return bad(error('tuplet-incomplete', [], 'A tuplet of the phrase is not complete; fill it with notes or rests.'));
  const whole = [...groups.slice(0, -1), { ...last, values: [...last.values, added], whole: true }];
  return good({ text: whole.map(groupText).join(' '), restAtEnd: true });
}
