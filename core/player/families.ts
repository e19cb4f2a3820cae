/** Whole families by one word: `saxophones`, `brass`, `all`. */
import { INSTRUMENTS } from './catalogue.js';
import type { Family } from './kinds.js';
import type { Instrument } from './player.js';

const WOODWINDS: readonly Family[] = ['flute', 'double-reed', 'clarinet', 'saxophone'];

const WORDS: Readonly<Record<string, readonly Family[]>> = {
  flutes: ['flute'],
  'double-reeds': ['double-reed'],
  clarinets: ['clarinet'],
  saxophones: ['saxophone'],
  woodwinds: WOODWINDS,
  brass: ['brass'],
  recorders: ['recorder'],
  winds: [...WOODWINDS, 'brass', 'recorder'],
  strings: ['strings'],
  mallets: ['mallets'],
  all: [...new Set(INSTRUMENTS.map(({ family }) => family))],
};

export const FAMILY_WORDS: readonly string[] = Object.keys(WORDS);

/** The instruments that a word stands for, in the order of the catalogue; undefined if it is no such word. Capitals do not matter. */
export function familyByWord(word: string): readonly Instrument[] | undefined {
  const plain = word.trim().toLowerCase().replace(/\s+/g, '-');
  const families = Object.hasOwn(WORDS, plain) ? WORDS[plain] : undefined;
  return families && INSTRUMENTS.filter(({ family }) => families.includes(family));
}
