/** What must hold for every book that is read without error, checked by the plainest arithmetic there is. */
import { createHash } from 'node:crypto';
import type { Book, EditionSpec } from '../../core/book/book.js';
import { readBook } from '../../core/book/read.js';
import type { BreathPlan } from '../../core/breath/plan.js';
import { breathsOf } from '../../core/breath/policy.js';
import { type BuiltEdition, buildEdition, realiseBook } from '../../core/build/edition.js';
import type { BarEvent, BarTuplet } from '../../core/engrave/bar.js';
import { barsOf } from '../../core/engrave/bars.js';
import { writePdf } from '../../core/output/pdf/pdf.js';
import { playerOf } from '../../core/player/compass.js';
import type { Line } from '../../core/player/line.js';
import { testFonts } from '../fonts.js';
import { expectIssue } from '../proof/random-book.js';

/** Thrown when something that must hold does not. */
export class Broken extends Error {}

function must(holds: boolean, words: string): asserts holds {
  if (!holds) throw new Broken(words);
}

type Ratio = { readonly n: number; readonly d: number };
const seconds = ({ n, d }: Ratio, tempo: BreathPlan['tempo']): number => ((n / d) * 60 * tempo.beat.d) / (tempo.bpm * tempo.beat.n);

/** Sums of ratios over one denominator; 2^9 × 3² × 5 × 7 has room for every value that is printed. */
const WHOLE = 161_280;
function ticks({ n, d }: Ratio): number {
  must((n * WHOLE) % d === 0, `a time of ${n}/${d} of a whole note is on no grid`);
  return (n * WHOLE) / d;
}

/** Semitones above C0, from letter, alteration and octave. */
const height = ({ letter, alter, octave }: { letter: number; alter: number; octave: number }): number =>
  12 * octave + ([0, 2, 4, 5, 7, 9, 11][letter] as number) + alter;

/** Every key of the order, once a pass, the second time the other way; what is missing is told as left out. */
export function eachKeyBothWays({ exercise, statements, leftOut }: Line): void {
  const { order, passes, directions } = exercise;
  const pass = (number: number) => statements.filter((one) => one.pass === number);
  const [first, second] = [pass(1), pass(2)];
  const missing = order.keys.length - first.length;
  must(new Set(first.map((one) => one.keyIndex)).size === first.length, 'a key comes twice in one pass');
  must(leftOut.length === 0 ? missing === 0 : missing >= leftOut.length, `${missing} keys are missing, ${leftOut.length} are told`);
  must(second.length === (passes === 2 ? first.length : 0), 'the passes are not of one length');
  for (const one of second) {
    const before = first.find((other) => other.keyIndex === one.keyIndex);
    must(before !== undefined, 'the second pass has a key that the first has not');
    must(before.direction !== one.direction, 'a key is played twice in the same direction');
  }
  if (directions === 'up' || directions === 'down')
    must(
      first.every((one) => one.direction === directions),
      'a first pass goes another way than it was asked to',
    );
  const start = new Set(statements.map((one) => (((one.key.chroma - (order.keys[one.keyIndex]?.chroma ?? 0)) % 12) + 12) % 12));
  must(start.size <= 1, 'the keys do not stand at the distances of their order');
}

export function insideCompass({ events, player }: Line): void {
  for (const event of events) {
    if (event.kind === 'rest') continue;
    const at = height(event.written);
    must(height(player.compass.low) <= at && at <= height(player.compass.high), 'a note is outside the compass');
    must(
      height(event.sounding) - at === player.instrument.transposition.semitones,
      'a note sounds at another distance than its instrument',
    );
  }
}

/** What note head, dots and tuplet number say. */
function shown({ base, dots, tuplet }: BarEvent, tuplets: readonly BarTuplet[]): number {
  const { actual, normal } = tuplet === undefined ? { actual: 1, normal: 1 } : (tuplets[tuplet] as BarTuplet);
  return (ticks(base) * (2 - 1 / 2 ** dots) * normal) / actual;
}

/** Every bar holds exactly its metre, and the written values of every note add up to its time. */
export function exactBars(line: Line): void {
  const { beats, unit } = line.exercise.metre;
  const bar = ticks({ n: beats, d: unit });
  const { bars } = barsOf(line);
  const written = new Map<number, number>();
  for (const { events, tuplets } of bars) {
    let at = 0;
    for (const event of events) {
      must(ticks(event.onset) === at, 'a written value begins where the one before it does not end');
      must((event.kind === 'rest' && event.full) || shown(event, tuplets) === ticks(event.duration), 'a written value shows another time');
      at += ticks(event.duration);
      written.set(event.event, (written.get(event.event) ?? 0) + ticks(event.duration));
    }
    must(at === bar, `a bar of ${beats}/${unit} holds ${at / WHOLE} of a whole note`);
  }
  must(bars.length * bar === ticks(line.duration), 'the bars are longer or shorter than the line');
  let end = 0;
  for (const event of line.events) {
    must(ticks(event.onset) === end, 'a note begins where the one before it does not end');
    end += ticks(event.duration);
    // Rests of one tuplet are written as one; what they fill is checked with the bar.
    if (event.kind === 'note')
      must(written.get(event.index) === ticks(event.duration), 'a note is written longer or shorter than it lasts');
  }
}

/** The air of each plan, counted note by note with the lengths of breaths that the plan states. */
export function airLasts(line: Line, plan: BreathPlan): void {
  const taken = new Map(plan.breaths.map((breath) => [breath.afterEvent, breath.seconds]));
  const lungs = plan.lung.seconds;
  let air = lungs;
  const refill = (length: number) => {
    air = lungs - (lungs - air) * Math.exp(-length / 0.7);
  };
  for (const event of line.events) {
    const length = seconds(event.duration, plan.tempo);
    if (event.kind === 'rest') {
      refill(length);
      continue;
    }
    const breath = taken.get(event.index);
    const stolen = breath !== undefined && plan.manner === 'in-time' ? breath : 0;
    must(stolen < length, 'a breath takes the whole note before it');
    air -= length - stolen;
    must(air > -1e-6, `the air runs out by ${-air} s`);
    if (breath !== undefined) refill(breath);
  }
}

export type Verdict = { readonly book: Book; readonly spec: EditionSpec; readonly lines: number; readonly plans: number };

/** Reads a book and checks every line of its first edition. Undefined when an issue explains why it cannot be played. */
export function holds(text: string): Verdict | undefined {
  const read = readBook(text);
  if (!read.ok) return expectIssue(read.issues);
  const book = read.value;
  const spec = book.editions[0];
  must(spec !== undefined, 'a book without an edition was read');
  const player = playerOf(spec);
  if (!player.ok) return expectIssue(player.issues);
  const lines = realiseBook(book, player.value);
  if (!lines.ok) return expectIssue(lines.issues);
  for (const line of lines.value.values()) {
    eachKeyBothWays(line);
    insideCompass(line);
    exactBars(line);
    must(line.leftOut.length === 0 || lines.issues.length > 0, 'keys are left out without a word');
  }
  let plans = 0;
  for (const line of lines.value.values()) {
    const breathed = breathsOf(line, spec.breath);
    must(breathed.ok, 'the breaths of a book that is read cannot be planned');
    for (const { plan } of (breathed.ok && breathed.value?.ladder.rungs) || []) {
      if (!plan) continue;
      plans++;
      airLasts(line, plan);
    }
  }
  return { book, spec, lines: lines.value.size, plans };
}

/** The pages of a book that holds; undefined when an issue explains why there are none. */
export function pagesOf({ book, spec }: Verdict): BuiltEdition | undefined {
  const edition = buildEdition(book, spec, testFonts());
  return edition.ok ? edition.value : expectIssue(edition.issues);
}

/** SHA-256 of the PDF of an edition. */
export async function pdfDigest({ document }: BuiltEdition): Promise<string> {
  const hash = createHash('sha256');
  await writePdf(document, testFonts(), async (chunk) => void hash.update(chunk));
  return hash.digest('hex');
}
