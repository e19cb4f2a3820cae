/** Rule 23: numbers of pages, bars and exercises, and the order of keys. */
import { last, pairs, zip } from '../../base/list.js';
import type { TextMark } from '../../engrave/drawing.js';
import { GLYPH } from '../../engrave/glyphs.js';
import type { Document, Page } from '../../layout/page/page.js';
import { type Key, keyText, keyWords } from '../../theory/key.js';
import { chroma } from '../../theory/pitch.js';
import type { ExerciseSummary } from '../exercise-summary.js';
import { type Finding, finding, type Spot } from '../fault.js';
import { isFurniture, type PlacedPage, type TitleNumber } from '../placed-page.js';
import { type PlacedExercise, type PlacedSystem, systemFinding } from '../placed-system.js';
import type { Rule } from '../rule.js';

/** Pages that carry no number: the title leaf, blank pages and covers (common practice). */
const UNNUMBERED: readonly Page['kind'][] = ['title', 'copyright', 'blank', 'cover'];

/**
 * Numbers and names of one page. A page that opens a chapter carries its number alone, at its foot (common practice):
 * its head stays free for the chapter's title. `arabic` is the number due; undefined on pages with small roman numerals.
 */
export function pageNumbering(document: Document, placed: PlacedPage, arabic: number | undefined, instrument: string): Finding[] {
  const { page, runs } = placed;
  const findings: Finding[] = [];
  const tell = (what: string) => findings.push(finding({ page: page.label }, what));
  if (arabic !== undefined) {
    if (page.label !== `${arabic}`) tell(`Page ${arabic} is numbered ${page.label}.`);
    if ((arabic % 2 === 1) !== (page.side === 'right')) tell('Odd pages stand right and even pages left.');
  }
  if (UNNUMBERED.includes(page.kind)) return findings;
  const furniture = runs.filter(({ item }) => isFurniture(item));
  const number = furniture.find(({ run }) => run.text === page.label);
  if (!number) return [...findings, finding({ page: page.label }, 'The page does not carry its number.')];
  const { run } = number;
  const atFoot = run.y > document.height / 2;
  if (atFoot) return findings;
  const centre = run.x + run.width / 2;
  if (centre < document.width / 2 !== (page.side === 'left')) tell('The page number does not stand in the outer corner.');
  // The name may be set in pieces, a flat in the music font among them, and may be cut short with an ellipsis.
  const bare = (text: string): string => text.replaceAll(' ', '');
  const names = bare(furniture.map((f) => f.run.text).join(''));
  const start = /^(.{4,}?)…/.exec(names.slice(Math.max(0, names.indexOf(bare(instrument).slice(0, 4)))))?.[1];
  const named = names.includes(bare(instrument)) || (start !== undefined && bare(instrument).startsWith(start));
  if (!named) tell(`The page does not name the instrument (${instrument}).`);
  return findings;
}

/** The bar number over the clef of every system but the first (Gould p. 484, second-hand). */
export function barNumbers(at: PlacedSystem): Finding[] {
  const numbers = at.reading.drawing.marks.filter((m): m is TextMark => m.role === 'bar-number' && m.kind === 'text');
  if (at.firstBar === 0) return numbers.length > 0 ? [systemFinding(at, 0, 'The first system carries a bar number.')] : [];
  const [number] = numbers;
  if (numbers.length !== 1 || !number)
    return [systemFinding(at, 0, `The system carries ${numbers.length} bar numbers and should carry one.`)];
  if (number.text !== `${at.firstBar + 1}`)
    return [systemFinding(at, 0, `The system is numbered ${number.text} and begins with bar ${at.firstBar + 1}.`)];
  const clef = at.reading.clefMark;
  const over = clef && number.y <= clef.box.y0 && number.box.x0 < clef.box.x1;
  return over ? [] : [systemFinding(at, 0, 'The bar number does not stand over the clef.')];
}

/** Numbers of the exercises in the order of the pages: from 1 without a gap, or in a part those of the book. */
export function exerciseNumbers(numbers: readonly TitleNumber[], inBook?: ReadonlyMap<string, number>): Finding[] {
  return numbers.flatMap(({ number, spot }, i) => {
    const due = inBook ? inBook.get(spot.exercise ?? '') : i + 1;
    return number === `${due}` ? [] : [finding(spot, `The exercise is numbered ${number} and should be numbered ${due}.`)];
  });
}

/** Where a system stands, and the bar it begins with. */
export type SystemSpot = Pick<Spot, 'page' | 'exercise' | 'system' | 'bar'>;

const spotsOf = ({ systems }: ExerciseSummary): SystemSpot[] => systems.map(({ spot, firstBar }) => ({ ...spot, bar: firstBar + 1 }));

/** The systems of an exercise begin with the same bars on the same pages as in the first part of the ensemble: "line 3, bar 2" is one place. */
export function samePlaces(systems: readonly SystemSpot[], first: readonly SystemSpot[]): Finding[] {
  const words = (spot: SystemSpot | undefined): string => (spot ? `bar ${spot.bar} on page ${spot.page}` : 'nothing');
  const count = Math.max(systems.length, first.length);
  const wrong = Array.from({ length: count }, (_, i) => i).find((i) => words(systems[i]) !== words(first[i]));
  if (wrong === undefined) return [];
  const spot = systems[wrong] ?? last(systems);
  return [finding(spot, `System ${wrong + 1} is ${words(systems[wrong])}, and ${words(first[wrong])} in the first part of the set.`)];
}

const wrap = (value: number): number => ((value % 12) + 12) % 12;

/** The keys of each pass are those of the order, each once, in its order, but for those left out and so many that are unwanted. */
export function keyOrder({ line, spot, unwanted = 0 }: PlacedExercise): Finding[] {
  const { order } = line.exercise;
  const findings: Finding[] = [];
  const tell = (what: string) => findings.push(finding(spot, what));
  const first = line.statements[0];
  if (!first) return [finding(spot, 'The exercise has no statement.')];
  const origin = chroma(first.soundingKey.tonic) - (order.keys[first.keyIndex]?.chroma ?? 0);
  const kept = order.keys.length - new Set(line.leftOut.map(keyText)).size - unwanted;
  for (const pass of line.turnaround === undefined ? ([1] as const) : ([1, 2] as const)) {
    const own = line.statements.filter((s) => s.pass === pass);
    const turn = pass === 2 && line.exercise.turnaround === 'repeat-last-key' ? [...own.slice(1), ...own.slice(0, 1)] : own;
    const places = turn.map((s) => s.keyIndex);
    if (pairs(places).some(([before, place]) => place <= before)) tell(`The keys of pass ${pass} are out of order, or one comes twice.`);
    // A key that an order of one's own names twice is left out twice.
    const named = new Set(order.keys.map((k) => `${wrap(k.chroma)}${k.mode}`)).size;
    if (named === order.keys.length && own.length !== kept) tell(`Pass ${pass} has ${own.length} keys and should have ${kept}.`);
    for (const statement of own) {
      const due = wrap(origin + (order.keys[statement.keyIndex]?.chroma ?? Number.NaN));
      if (chroma(statement.soundingKey.tonic) !== due)
        tell(`${keyWords(statement.soundingKey)} is not key ${statement.keyIndex + 1} of its order.`);
    }
  }
  return findings;
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
    const open = names.at(-1);
    if (open && open.event === piece.event) open.text += piece.text;
    else names.push({ text: piece.text, event: piece.event });
  }
  return names.map((n) => n.text);
}

/** The printed key names are the written keys of the statements in turn. */
export function keyNames(exercise: PlacedExercise): Finding[] {
  const printed = exercise.systems.flatMap((at) => printedKeyNames(at).map((name) => ({ name, at })));
  const due: readonly Key[] = exercise.line.exercise.keyNames ? exercise.line.statements.map((s) => s.writtenKey) : [];
  if (printed.length !== due.length) return [finding(exercise.spot, `${printed.length} key names are printed and ${due.length} are due.`)];
  const wrong = zip(printed, due).find(([{ name }, key]) => name !== keyText(key));
  if (!wrong) return [];
  const [{ name, at }, key] = wrong;
  return [systemFinding(at, undefined, `The key name ${name} should be ${keyText(key)}.`)];
}

export const NUMBERING: Rule = {
  number: 23,
  id: 'numbering',
  title: 'Pages, bars, exercises and keys are in order',
  check: {
    system: ({ at }) => barNumbers(at),
    exercise: ({ exercise }) => [...keyOrder(exercise), ...keyNames(exercise)],
    page: ({ document, placed, arabic, instrument }) => pageNumbering(document, placed, arabic, instrument),
    edition: ({ pages, numbers }) =>
      exerciseNumbers(
        pages.flatMap((page) => page.titleNumbers),
        numbers,
      ),
    sharedExercise: ([first, ...others]) => [undefined, ...others.map((own) => samePlaces(spotsOf(own), first ? spotsOf(first) : []))],
  },
};
