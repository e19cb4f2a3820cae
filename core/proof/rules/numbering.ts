/** Rule 23: numbers of pages, bars and exercises, and the order of keys. */
import type { TextMark } from '../../engrave/drawing.js';
import { GLYPH } from '../../engrave/glyphs.js';
import type { Document, Page } from '../../layout/page/page.js';
import type { Line } from '../../player/line.js';
import { type Key, keyText, keyWords } from '../../theory/key.js';
import { chroma } from '../../theory/pitch.js';
import { type Fault, fault, type Spot } from '../fault.js';
import { isFurniture, type PlacedPage } from '../placed-page.js';
import { type PlacedExercise, type PlacedSystem, systemFault } from '../placed-system.js';

/** Pages that carry no number: the title leaf, blank pages and covers (common practice). */
const UNNUMBERED: readonly Page['kind'][] = ['title', 'copyright', 'blank', 'cover'];

/**
 * Numbers and names of one page. A page that opens a chapter carries its number alone, at its foot (common practice):
 * its head stays free for the chapter's title. `arabic` is the number due; undefined on pages with small roman numerals.
 */
export function pageNumbering(document: Document, placed: PlacedPage, arabic: number | undefined, instrument: string): Fault[] {
  const { page, runs } = placed;
  const faults: Fault[] = [];
  const tell = (what: string) => faults.push(fault(23, { page: page.label }, what));
  if (arabic !== undefined) {
    if (page.label !== `${arabic}`) tell(`Page ${arabic} is numbered ${page.label}.`);
    if ((arabic % 2 === 1) !== (page.side === 'right')) tell('Odd pages stand right and even pages left.');
  }
  if (UNNUMBERED.includes(page.kind)) return faults;
  const furniture = runs.filter(({ item }) => isFurniture(item));
  const number = furniture.find(({ run }) => run.text === page.label);
  if (!number) return [...faults, fault(23, { page: page.label }, 'The page does not carry its number.')];
  const { run } = number;
  const atFoot = run.y > document.height / 2;
  if (atFoot) return faults;
  const centre = run.x + run.width / 2;
  if (centre < document.width / 2 !== (page.side === 'left')) tell('The page number does not stand in the outer corner.');
  // The name may be set in pieces, a flat in the music font among them, and may be cut short with an ellipsis.
  const bare = (text: string): string => text.replaceAll(' ', '');
  const names = bare(furniture.map((f) => f.run.text).join(''));
  const start = /^(.{4,}?)…/.exec(names.slice(Math.max(0, names.indexOf(bare(instrument).slice(0, 4)))))?.[1];
  const named = names.includes(bare(instrument)) || (start !== undefined && bare(instrument).startsWith(start));
  if (!named) tell(`The page does not name the instrument (${instrument}).`);
  return faults;
}

/** The bar number over the clef of every system but the first (Gould p. 484, second-hand). */
export function barNumbers(at: PlacedSystem): Fault[] {
  const numbers = at.reading.drawing.marks.filter((m): m is TextMark => m.role === 'bar-number' && m.kind === 'text');
  if (at.firstBar === 0) return numbers.length > 0 ? [systemFault(23, at, 0, 'The first system carries a bar number.')] : [];
  const [number] = numbers;
  if (numbers.length !== 1 || !number)
    return [systemFault(23, at, 0, `The system carries ${numbers.length} bar numbers and should carry one.`)];
  if (number.text !== `${at.firstBar + 1}`)
    return [systemFault(23, at, 0, `The system is numbered ${number.text} and begins with bar ${at.firstBar + 1}.`)];
  const clef = at.reading.clefMark;
  const over = clef && number.y <= clef.box.y0 && number.box.x0 < clef.box.x1;
  return over ? [] : [systemFault(23, at, 0, 'The bar number does not stand over the clef.')];
}

/** Numbers of the exercises in the order of the pages: from 1 without a gap, or in a part those of the book. */
export function exerciseNumbers(
  numbers: readonly { readonly number: string; readonly spot: Spot }[],
  inBook?: ReadonlyMap<string, number>,
): Fault[] {
  return numbers.flatMap(({ number, spot }, i) => {
    const due = inBook ? inBook.get(spot.exercise ?? '') : i + 1;
    return number === `${due}` ? [] : [fault(23, spot, `The exercise is numbered ${number} and should be numbered ${due}.`)];
  });
}

/** Where a system stands, and the bar it begins with. */
export type SystemSpot = Pick<Spot, 'page' | 'exercise' | 'system' | 'bar'>;

/** The systems of an exercise begin with the same bars on the same pages as in the first part of the set: "line 3, bar 2" is one place. */
export function samePlaces(systems: readonly SystemSpot[], first: readonly SystemSpot[]): Fault[] {
  const words = (spot: SystemSpot | undefined): string => (spot ? `bar ${spot.bar} on page ${spot.page}` : 'nothing');
  const count = Math.max(systems.length, first.length);
  const wrong = Array.from({ length: count }, (_, i) => i).find((i) => words(systems[i]) !== words(first[i]));
  if (wrong === undefined) return [];
  const spot = systems[wrong] ?? (systems.at(-1) as SystemSpot);
  return [fault(23, spot, `System ${wrong + 1} is ${words(systems[wrong])}, and ${words(first[wrong])} in the first part of the set.`)];
}

const wrap = (value: number): number => ((value % 12) + 12) % 12;

/** The keys of each pass are those of the order, each once, in its order, but for those left out and so many that are unwanted. */
export function keyOrder(line: Line, spot: Spot, unwanted = 0): Fault[] {
  const { order } = line.exercise;
  const faults: Fault[] = [];
  const tell = (what: string) => faults.push(fault(23, spot, what));
  const first = line.statements[0];
  if (!first) return [fault(23, spot, 'The exercise has no statement.')];
  const origin = chroma(first.soundingKey.tonic) - (order.keys[first.keyIndex]?.chroma ?? 0);
  const kept = order.keys.length - new Set(line.leftOut.map(keyText)).size - unwanted;
  for (const pass of line.turnaround === undefined ? ([1] as const) : ([1, 2] as const)) {
    const own = line.statements.filter((s) => s.pass === pass);
    const turn = pass === 2 && line.exercise.turnaround === 'repeat-last-key' ? [...own.slice(1), ...own.slice(0, 1)] : own;
    const places = turn.map((s) => s.keyIndex);
    if (places.some((place, i) => i > 0 && place <= (places[i - 1] as number)))
      tell(`The keys of pass ${pass} are out of order, or one comes twice.`);
    // A key that an order of one's own names twice is left out twice.
    const named = new Set(order.keys.map((k) => `${wrap(k.chroma)}${k.mode}`)).size;
    if (named === order.keys.length && own.length !== kept) tell(`Pass ${pass} has ${own.length} keys and should have ${kept}.`);
    for (const statement of own) {
      const due = wrap(origin + (order.keys[statement.keyIndex]?.chroma ?? Number.NaN));
      if (chroma(statement.soundingKey.tonic) !== due)
        tell(`${keyWords(statement.soundingKey)} is not key ${statement.keyIndex + 1} of its order.`);
    }
  }
  return faults;
}

const SIGN_TEXT: ReadonlyMap<number, string> = new Map([
  [GLYPH.accidentalFlat, '♭'],
  [GLYPH.accidentalSharp, '♯'],
]);

/** Key names as printed, from left to right: letters from the text font, signs from the music font. */
export function printedKeyNames(at: PlacedSystem): string[] {
  const pieces = at.reading.drawing.marks
    .filter((m) => m.role === 'key-name')
    .map((m) => ({
      box: m.box,
      text: m.kind === 'text' ? m.text : m.kind === 'glyph' ? (SIGN_TEXT.get(m.code) ?? '?') : '',
      event: m.owner.event,
    }))
    .sort((a, b) => a.box.x0 - b.box.x0);
  const names: { text: string; event: number | undefined }[] = [];
  for (const piece of pieces) {
    const last = names.at(-1);
    if (last && last.event === piece.event) last.text += piece.text;
    else names.push({ text: piece.text, event: piece.event });
  }
  return names.map((n) => n.text);
}

/** The printed key names are the written keys of the statements in turn. */
export function keyNames(exercise: PlacedExercise): Fault[] {
  const printed = exercise.systems.flatMap((at) => printedKeyNames(at).map((name) => ({ name, at })));
  const due: readonly Key[] = exercise.line.exercise.keyNames ? exercise.line.statements.map((s) => s.writtenKey) : [];
  if (printed.length !== due.length)
    return [fault(23, exercise.spot, `${printed.length} key names are printed and ${due.length} are due.`)];
  const wrong = printed.findIndex(({ name }, i) => name !== keyText(due[i] as Key));
  const at = printed[wrong];
  return at ? [systemFault(23, at.at, undefined, `The key name ${at.name} should be ${keyText(due[wrong] as Key)}.`)] : [];
}
