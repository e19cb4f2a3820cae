/**
 * Score order: which staff stands above which, and which sections share a bracket.
 *
 * Band: jhcband.org, glossary, score order; scribd 472626903. Orchestra: scribd 472626903; hansenmedia.net, order of
 * instruments. The difference to remember: horns stand above the trumpets in an orchestra and below them in a band.
 * Kinds that those lists do not name (recorders, guitar) stand with their like. Instruments of one kind stand high to low; so
 * do mixed groups. (Common practice.)
 */

import type { Kind } from '../player/kinds.js';
import type { Clef, Instrument } from '../player/player.js';
import { midi } from '../theory/pitch.js';
import type { Chair, ScoreOrderName } from './ensemble.js';

export type Section = 'woodwinds' | 'saxophones' | 'brass' | 'percussion' | 'keyboards' | 'strings' | 'recorders';

/** From the top staff down, with the section that shares a bracket. */
type Order = Readonly<Record<Kind, Section>>;

const BAND: Order = {
  recorder: 'recorders',
  flute: 'woodwinds',
  oboe: 'woodwinds',
  bassoon: 'woodwinds',
  clarinet: 'woodwinds',
  saxophone: 'saxophones',
  cornet: 'brass',
  'trumpet-in-bb': 'brass',
  'trumpet-in-c': 'brass',
  flugelhorn: 'brass',
  horn: 'brass',
  trombone: 'brass',
  euphonium: 'brass',
  tuba: 'brass',
  bowed: 'strings',
  guitar: 'keyboards',
  piano: 'keyboards',
  mallets: 'percussion',
};

const ORCHESTRA: Order = {
  recorder: 'recorders',
  flute: 'woodwinds',
  oboe: 'woodwinds',
  clarinet: 'woodwinds',
  saxophone: 'woodwinds',
  bassoon: 'woodwinds',
  horn: 'brass',
  'trumpet-in-c': 'brass',
  'trumpet-in-bb': 'brass',
  cornet: 'brass',
  flugelhorn: 'brass',
  trombone: 'brass',
  euphonium: 'brass',
  tuba: 'brass',
  mallets: 'percussion',
  guitar: 'keyboards',
  piano: 'keyboards',
  bowed: 'strings',
};

/** Where nobody says which order, sections are those of a band. */
const SECTIONS: Readonly<Record<ScoreOrderName, Order>> = { band: BAND, orchestra: ORCHESTRA, 'high-to-low': BAND };

const CLEFS: readonly Clef[] = ['treble', 'alto', 'tenor', 'bass'];

/** Highest and lowest sounding note of professionals, as MIDI key numbers. */
const top = ({ compass, transposition }: Instrument): number => midi(compass.professional.high) + transposition.semitones;
const bottom = ({ compass, transposition }: Instrument): number => midi(compass.professional.low) + transposition.semitones;

/** Less than 0 if `a` stands above `b`; 0 for one and the same instrument only, but for the order from high to low. */
function compare(a: Instrument, b: Instrument, order: ScoreOrderName): number {
  if (order === 'high-to-low') return top(b) - top(a);
  const kinds = Object.keys(SECTIONS[order]);
  return (
    kinds.indexOf(a.kind) - kinds.indexOf(b.kind) ||
    bottom(b) - bottom(a) ||
    CLEFS.indexOf(a.clef) - CLEFS.indexOf(b.clef) ||
    (a.id < b.id ? -1 : Number(a.id > b.id))
  );
}

/** The section of an instrument in this order. */
export const sectionOf = (instrument: Instrument, order: ScoreOrderName): Section => SECTIONS[order][instrument.kind];

/** Indices of the chairs from the top staff down. Chairs of one instrument keep the order in which they are listed. */
export function scoreOrder(chairs: readonly Pick<Chair, 'player'>[], order: ScoreOrderName): number[] {
  return chairs
    .map(({ player: { instrument } }, index) => ({ instrument, index }))
    .sort((a, b) => compare(a.instrument, b.instrument, order) || a.index - b.index)
    .map(({ index }) => index);
}

/** Neighbouring staves [from, to) that share a bracket. */
export type Span = { readonly from: number; readonly to: number };

function runs<T>(items: readonly T[], same: (a: T, b: T) => boolean): Span[] {
  const spans: { from: number; to: number }[] = [];
  let before: { item: T; span: { from: number; to: number } } | undefined;
  for (const [i, item] of items.entries()) {
    const span = before && same(before.item, item) ? before.span : { from: i, to: i };
    if (span !== before?.span) spans.push(span);
    span.to = i + 1;
    before = { item, span };
  }
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
