/**
 * Score order: which staff stands above which, and which sections share a bracket.
 *
 * Band: jhcband.org, glossary, score order; scribd 472626903. Orchestra: scribd 472626903; hansenmedia.net, order of
 * instruments. The difference to remember: horns stand above the trumpets in an orchestra and below them in a band.
 * Places that those lists do not name (alto flute, A clarinet, recorders, guitar) stand with their family, high to low;
 * so do mixed groups. (Common practice.)
 */

import { assert } from '../base/issue.js';
import { INSTRUMENTS } from '../player/catalogue.js';
import type { Family, Instrument } from '../player/player.js';
import { midi } from '../theory/pitch.js';
import type { Chair, ScoreOrderName } from './ensemble.js';

export type Section = 'woodwinds' | 'saxophones' | 'brass' | 'percussion' | 'keyboards' | 'strings' | 'recorders';

type Row = readonly [Section, string];

const CLARINETS = 'clarinet-in-eb clarinet-in-bb clarinet-in-a bass-clarinet';
const SAXOPHONES = 'soprano-saxophone alto-saxophone tenor-saxophone baritone-saxophone';
const RECORDERS = 'soprano-recorder alto-recorder tenor-recorder bass-recorder';
const LOW_BRASS = 'trombone bass-trombone euphonium-treble-clef euphonium-bass-clef tuba';
const MALLETS = 'glockenspiel xylophone vibraphone marimba';

const BAND: readonly Row[] = [
  ['recorders', RECORDERS],
  ['woodwinds', `piccolo flute alto-flute oboe english-horn bassoon ${CLARINETS}`],
  ['saxophones', SAXOPHONES],
  ['brass', `cornet-in-bb trumpet-in-bb trumpet-in-c flugelhorn-in-bb horn-in-f ${LOW_BRASS}`],
  ['strings', 'violin viola cello double-bass'],
  ['keyboards', 'guitar piano-right-hand'],
  ['percussion', MALLETS],
];

const ORCHESTRA: readonly Row[] = [
  ['recorders', RECORDERS],
  ['woodwinds', `piccolo flute alto-flute oboe english-horn ${CLARINETS} ${SAXOPHONES} bassoon`],
  ['brass', `horn-in-f trumpet-in-c trumpet-in-bb cornet-in-bb flugelhorn-in-bb ${LOW_BRASS}`],
  ['percussion', MALLETS],
  ['keyboards', 'guitar piano-right-hand'],
  ['strings', 'violin viola cello double-bass'],
];

const FAMILY_SECTION: Readonly<Record<Family, Section>> = {
  flute: 'woodwinds',
  'double-reed': 'woodwinds',
  clarinet: 'woodwinds',
  saxophone: 'saxophones',
  brass: 'brass',
  recorder: 'recorders',
  strings: 'strings',
  plucked: 'keyboards',
  mallets: 'percussion',
  keyboard: 'keyboards',
};

const placesOf = (rows: readonly Row[]) => rows.flatMap(([section, ids]) => ids.split(' ').map((id) => ({ id, section })));
const PLACES = { band: placesOf(BAND), orchestra: placesOf(ORCHESTRA) } as const;
for (const places of Object.values(PLACES))
  assert(
    places.length === INSTRUMENTS.length && INSTRUMENTS.every(({ id }) => places.some((place) => place.id === id)),
    'score orders name every instrument once',
  );

const height = ({ compass, transposition }: Instrument): number => midi(compass.professional.high) + transposition.semitones;

/** The section of an instrument in this order. */
export function sectionOf(instrument: Instrument, order: ScoreOrderName): Section {
  if (order === 'high-to-low') return FAMILY_SECTION[instrument.family];
  return PLACES[order].find(({ id }) => id === instrument.id)?.section as Section;
}

/** Indices of the chairs from the top staff down. Chairs of one instrument keep the order in which they are listed. */
export function scoreOrder(chairs: readonly Pick<Chair, 'player'>[], order: ScoreOrderName): number[] {
  const rank = ({ player: { instrument } }: Pick<Chair, 'player'>): number =>
    order === 'high-to-low' ? -height(instrument) : PLACES[order].findIndex(({ id }) => id === instrument.id);
  return chairs.map((_, i) => i).sort((a, b) => rank(chairs[a] as Chair) - rank(chairs[b] as Chair) || a - b);
}

/** Neighbouring staves [from, to) that share a bracket. */
export type Span = { readonly from: number; readonly to: number };

function runs<T>(items: readonly T[], same: (a: T, b: T) => boolean): Span[] {
  const spans: Span[] = [];
  items.forEach((item, i) => {
    const last = spans.at(-1);
    if (last && same(items[i - 1] as T, item)) spans[spans.length - 1] = { from: last.from, to: i + 1 };
    else spans.push({ from: i, to: i + 1 });
  });
  return spans;
}

/** Sections of staves in score order: the barlines run through each, and each has a bracket. */
export const sections = (chairs: readonly Chair[], order: ScoreOrderName): Span[] =>
  runs(chairs, (a, b) => sectionOf(a.player.instrument, order) === sectionOf(b.player.instrument, order));

/** `woodwinds` → `Woodwinds`, `high-brass` → `High brass`. */
export const groupName = (id: string): string => id.charAt(0).toUpperCase() + id.slice(1).replaceAll('-', ' ');

/** Two or more neighbouring staves of one group: they share an inner bracket. */
export const innerGroups = (chairs: readonly Chair[]): Span[] =>
  runs(chairs, (a, b) => a.group === b.group).filter(({ from, to }) => to - from > 1);
