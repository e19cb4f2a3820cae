/** The words in which a page speaks of an exercise: its key order, its directions, what was left out for a player. */
import { KEY_ORDERS } from '../../exercise/key-order-catalogue.js';
import type { Line } from '../../player/line.js';
import { keyText, keyWords } from '../../theory/key.js';

const orderTitle = (line: Line): string => {
  const { name } = line.exercise.order;
  const title = KEY_ORDERS.find((entry) => entry.name === name)?.title ?? name;
  return title.charAt(0).toLowerCase() + title.slice(1);
};

/** As many keys as a line beside a title can name. */
const NAMED_KEYS = 6;

/** `circle of fourths from B♭`, in the player's written keys; an author's own short list is named key by key. */
export function orderWords(line: Line): string {
  const first = line.statements[0];
  const keys = [...new Set(line.statements.map((s) => keyText(s.writtenKey)))];
  if (line.exercise.order.name === 'custom' && keys.length <= NAMED_KEYS) return listed(keys);
  return first ? `${orderTitle(line)} from ${keyText(first.writtenKey)}` : orderTitle(line);
}

const DIRECTION_WORDS = {
  up: 'as written',
  down: 'reversed',
  'alternate-from-up': 'alternately up and down',
  'alternate-from-down': 'alternately down and up',
} as const;

/** What the engraved music is, for a reader who cannot see it: figure, order, directions, passes. */
export function musicWords(number: string, line: Line): string {
  const { exercise } = line;
  const first = line.statements[0];
  const from = first ? ` from ${keyWords(first.writtenKey)}` : '';
  const passes = exercise.passes === 2 ? ', two passes, the second with every direction changed' : '';
  return `Study ${number}, figure ${exercise.figure.text}, ${orderTitle(line)}${from}, ${DIRECTION_WORDS[exercise.directions]}${passes}.`;
}

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** Sentences on what differs for this player. */
export function versionNotes(line: Line): string[] {
  const notes: string[] = [];
  const instrument = line.player.instrument.name;
  if (line.leftOut.length > 0) {
    const keys = listed(line.leftOut.map(keyText));
    notes.push(`Without ${keys}: the figure does not fit the compass of this book for ${instrument} there.`);
  }
  const turned = [...new Set(line.statements.filter((s) => s.turned).map((s) => keyText(s.writtenKey)))];
  if (turned.length > 0) notes.push(`In ${listed(turned)} the figure turns back at the limit of the compass.`);
  return notes;
}
