/** What there is to say about each key order: its names, its steps, its sets. */
import type { KeyOrderName } from './key-order.js';

export type KeyOrderEntry = {
  readonly name: KeyOrderName;
  readonly title: string;
  /** Names in use for it (common practice; they differ from book to book, so show the list of keys beside them). */
  readonly textbookNames: readonly string[];
  /** Move of the tonic from key to key. */
  readonly steps: string;
  /** Number of sets and keys in each; undefined when the author's list decides. */
  readonly sets: number | undefined;
  readonly size: number | undefined;
};

export const KEY_ORDERS: readonly KeyOrderEntry[] = [
  {
    name: 'fourths',
    title: 'Circle of fourths',
    textbookNames: ['cycle of fourths', 'descending fifths', 'flat-wise order'],
    steps: 'up a fourth',
    sets: 1,
    size: 12,
  },
  {
    name: 'fifths',
    title: 'Circle of fifths',
    textbookNames: ['cycle of fifths', 'sharp-wise order', 'clockwise'],
    steps: 'up a fifth',
    sets: 1,
    size: 12,
  },
  {
    name: 'chromatic-up',
    title: 'Chromatic, ascending',
    textbookNames: ['by half steps'],
    steps: 'up a half step',
    sets: 1,
    size: 12,
  },
  {
    name: 'chromatic-down',
    title: 'Chromatic, descending',
    textbookNames: ['descending half steps'],
    steps: 'down a half step',
    sets: 1,
    size: 12,
  },
  {
    name: 'whole-tones',
    title: 'Whole tones',
    textbookNames: ['whole steps', 'whole-tone cycle'],
    steps: 'up or down a whole step; the second set a half step higher',
    sets: 2,
    size: 6,
  },
  {
    name: 'minor-thirds',
    title: 'Minor thirds',
    textbookNames: ['minor-third cycle', 'diminished cycle'],
    steps: 'up or down a minor third; each set a half step higher',
    sets: 3,
    size: 4,
  },
  {
    name: 'major-thirds',
    title: 'Major thirds',
    textbookNames: ['major-third cycle', 'augmented cycle', 'three-tonic system'],
    steps: 'up or down a major third; each set a half step higher',
    sets: 4,
    size: 3,
  },
  {
    name: 'tritones',
    title: 'Tritones',
    textbookNames: ['tritone pairs', 'tritone substitution pairs'],
    steps: 'a tritone; each pair a half step higher',
    sets: 6,
    size: 2,
  },
  {
    name: 'semitone-pairs',
    title: 'Half-step pairs',
    textbookNames: ['semitone pairs', 'side-slip pairs'],
    steps: 'up or down a half step within a pair; each pair a whole step higher',
    sets: 6,
    size: 2,
  },
  {
    name: 'signatures',
    title: 'One sharp, one flat',
    textbookNames: ['order of key signatures', 'sharps and flats in turn'],
    steps: 'fifths from the first key, above and below in turn',
    sets: 1,
    size: 12,
  },
  {
    name: 'relative-pairs',
    title: 'Major and relative minor',
    textbookNames: ['relative pairs', 'relative keys'],
    steps: 'a major key, its relative minor, then up a fourth',
    sets: 12,
    size: 2,
  },
  {
    name: 'parallel-pairs',
    title: 'Major and parallel minor',
    textbookNames: ['parallel pairs', 'tonic major and minor'],
    steps: 'a major key, the minor on the same tonic, then up a fourth',
    sets: 12,
    size: 2,
  },
  {
    name: 'wedge',
    title: 'Chromatic wedge',
    textbookNames: ['wedge', 'fan'],
    steps: 'half steps from the first key, above and below in turn',
    sets: 1,
    size: 12,
  },
  { name: 'custom', title: 'Own order', textbookNames: [], steps: 'as listed', sets: undefined, size: undefined },
  {
    name: 'shuffle',
    title: 'Shuffled',
    textbookNames: ['random order'],
    steps: 'each key once, in an order that is the same in every printing',
    sets: 1,
    size: 12,
  },
];
