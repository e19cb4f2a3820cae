/** The settings of one exercise: its own, else those of its chapter, else those of the book, else the program's. */

import { error, type Issue, isError, type Result, under } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';
import type { Exercise, Misfit, Padding, Start, Tempo } from '../exercise/exercise.js';
import { type KeyOrder, keyOrder } from '../exercise/key-order.js';
import { parseRhythm } from '../exercise/rhythm.js';
import { type Fraction, parseFraction } from '../theory/fraction.js';
import { METRES, type Metre, parseMetre, tempoBeat } from '../theory/metre.js';
import { parseClass } from '../theory/pitch.js';
import { SCALE_NAMES, type ScaleName } from '../theory/scale.js';
import { parseArticulation } from './articulation.js';
import { EXERCISE_DEFAULTS } from './defaults.js';
import type { SettingsSource } from './schema.js';

type Path = readonly (string | number)[];

/** Settings with the place where they stand. Nearest first: exercise, chapter, book. */
export type Layer = { readonly settings: SettingsSource | undefined; readonly path: Path };

export type Settings = Omit<Exercise, 'id' | 'title' | 'instruction' | 'figure'>;

/** Slowest and fastest speed in beats a minute; metronomes go from 40 to 208 (common practice), subdivided beats beyond. */
const TEMPO_RANGE = [20, 400] as const;

/** Words for beats, beside fractions of a whole note. */
const BEATS: ReadonlyMap<string, string> = new Map([
  ['half', '1/2'],
  ['dotted half', '3/4'],
  ['quarter', '1/4'],
  ['dotted quarter', '3/8'],
  ['eighth', '1/8'],
  ['dotted eighth', '3/16'],
]);

/** Beats that a tempo mark can show: a note from half to eighth, with a dot or without. */
function parseBeat(text: string): Fraction | undefined {
  const words = text.trim().toLowerCase();
  const written = BEATS.get(words) ?? words;
  return [...BEATS.values()].includes(written) ? parseFraction(written) : undefined;
}

const PADDINGS: Readonly<Record<NonNullable<SettingsSource['padding']>, Padding>> = {
  flow: { to: 'flow' },
  'beat, long note': { to: 'beat', by: 'long-note' },
  'beat, rests': { to: 'beat', by: 'rests' },
  'bar, long note': { to: 'bar', by: 'long-note' },
  'bar, rests': { to: 'bar', by: 'rests' },
};

/** What holds where no layer states a setting. */
const STANDARD: { readonly [K in keyof typeof EXERCISE_DEFAULTS]: NonNullable<SettingsSource[K]> } = EXERCISE_DEFAULTS;

/** The layers as one: what is stated, where, and a place for faults. */
function reader(layers: readonly Layer[], issues: Issue[]) {
  /** The nearest layer that states the setting. */
  const placeOf = (field: keyof SettingsSource): number => layers.findIndex((layer) => layer.settings?.[field] !== undefined);
  const stated = <K extends keyof SettingsSource>(field: K): SettingsSource[K] => layers[placeOf(field)]?.settings?.[field];
  return {
    placeOf,
    stated,
    pathOf: (field: keyof SettingsSource): Path => [...(layers[placeOf(field)]?.path ?? []), field],
    plain: <K extends keyof typeof EXERCISE_DEFAULTS>(field: K): NonNullable<SettingsSource[K]> => stated(field) ?? STANDARD[field],
    fail: (code: string, path: Path, message: string): undefined => void issues.push(error(code, path, message)),
    take: <T>(result: Result<T>, path: Path): T | undefined => {
      issues.push(...under(path, result.issues));
      return result.ok ? result.value : undefined;
    },
  };
}

type Reader = ReturnType<typeof reader>;

function resolveScale({ plain, pathOf, fail }: Reader): ScaleName | undefined {
  const name = plain('scale');
  const found = SCALE_NAMES.find((scale) => scale === name);
  return (
    found ??
    fail(
      'unknown-scale',
      pathOf('scale'),
      `There is no scale "${name}"${didYouMean(name, SCALE_NAMES) || `; write one of ${SCALE_NAMES.join(', ')}.`}`,
    )
  );
}

function resolveMetre({ plain, pathOf, fail }: Reader): Metre | undefined {
  const text = plain('metre');
  const words = `"${text}" is not a metre that can be printed; write one of ${METRES.join(', ')}.`;
  return parseMetre(text) ?? fail('unknown-metre', pathOf('metre'), words);
}

/** A key list names real keys, so it starts on its first key unless a start is stated as near to the exercise, or nearer. */
function resolveStart({ stated, plain, placeOf, pathOf, fail }: Reader): Start | undefined {
  const spec = stated('start');
  const keys = customKeys(plain('order'));
  const first = keys?.[0] === undefined ? undefined : parseClass(keys[0].replace(/m\s*$/, ''));
  if (first && (spec === undefined || placeOf('start') > placeOf('order'))) return { kind: 'concert', key: first };
  if (spec === undefined || spec === 'lowest') return { kind: 'lowest' };
  const { concert, written } = spec;
  const text = concert ?? written;
  if (text === undefined || (concert !== undefined && written !== undefined))
    return fail('start', pathOf('start'), 'Give one starting key: write {"concert": "Bb"} or {"written": "C"}, or "lowest".');
  const kind = concert === undefined ? 'written' : 'concert';
  const key = parseClass(text);
  if (key) return { kind, key };
  return fail('unknown-key', [...pathOf('start'), kind], `"${text}" is not a key; write a note name such as "C", "Bb" or "F#".`);
}

function resolveTempo({ stated, pathOf, fail }: Reader, metre: Metre | undefined): Tempo | undefined {
  const spec = stated('tempo');
  if (!spec || !metre) return undefined;
  const path = pathOf('tempo');
  const { from, to = from } = spec;
  const [slowest, fastest] = TEMPO_RANGE;
  for (const name of ['from', 'to'] as const) {
    const speed = spec[name];
    if (speed === undefined || (speed >= slowest && speed <= fastest)) continue;
    fail('tempo', [...path, name], `${speed} beats a minute is no tempo; write a number from ${slowest} to ${fastest}.`);
  }
  if (from > to)
    fail('tempo-upside-down', path, `The tempo goes from ${from} down to ${to}; write the slower number in "from" and the faster in "to".`);
  const beat = spec.beat === undefined ? tempoBeat(metre) : parseBeat(spec.beat);
  if (beat) return { beat, from, to };
  const beats = [...BEATS.keys()].join(', ');
  return fail('tempo-beat', [...path, 'beat'], `"${spec.beat}" is not a beat; write one of ${beats}, or a fraction such as "1/4".`);
}

/** Reads everything but the figure. Issues stand at the layer that states the setting, so a fault in `defaults` is told there. */
export function resolveSettings(layers: readonly Layer[], issues: Issue[]): Settings | undefined {
  const before = issues.length;
  const from = reader(layers, issues);
  const { stated, plain, pathOf, take } = from;
  const scale = resolveScale(from);
  const metre = resolveMetre(from);
  const rhythm = take(parseRhythm(plain('rhythm')), pathOf('rhythm'));
  const order = take(resolveOrder(plain('order')), pathOf('order'));
  const articulation = take(parseArticulation(plain('articulation')), pathOf('articulation'));
  const variants = (stated('variants') ?? []).flatMap((words, i) => take(parseArticulation(words), [...pathOf('variants'), i]) ?? []);
  const start = resolveStart(from);
  const tempo = resolveTempo(from, metre);
  if (issues.slice(before).some(isError)) return undefined;
  if (!scale || !metre || !rhythm || !order || !articulation || !start) return undefined;
  const dynamic = stated('dynamic');
  return {
    scale,
    rhythm,
    metre,
    padding: PADDINGS[plain('padding')],
    order,
    directions: plain('directions'),
    passes: plain('passes'),
    turnaround: plain('turnaround'),
    start,
    ending: plain('ending'),
    contour: plain('contour'),
    misfit: resolveMisfit(plain('misfit')),
    articulation,
    variants,
    signs: plain('signs'),
    simpleSpelling: plain('simpleSpelling'),
    keyNames: plain('keyNames'),
    degreeNumbers: plain('degreeNumbers'),
    ...(dynamic && { dynamic }),
    ...(tempo && { tempo }),
  };
}

type OrderSource = NonNullable<SettingsSource['order']>;

function customKeys(source: OrderSource): readonly string[] | undefined {
  if (typeof source === 'string') return undefined;
  return Array.isArray(source) ? source : source.keys;
}

function resolveOrder(source: OrderSource): Result<KeyOrder> {
  if (typeof source === 'string') return keyOrder({ name: source });
  if (!Array.isArray(source)) return keyOrder(source);
  const result = keyOrder({ name: 'custom', keys: source });
  // The list stands directly in `order`, so the place has no `keys` in it.
  return { ...result, issues: result.issues.map((issue) => ({ ...issue, path: issue.path.slice(1) })) };
}

function resolveMisfit(source: NonNullable<SettingsSource['misfit']>): Misfit {
  return typeof source === 'string' ? { kind: source } : { kind: 'level', level: source.level };
}
