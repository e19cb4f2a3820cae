/**
 * The proof of a finished edition, or of the parts of a set: every rule over every system, exercise and page. Each drawing
 * is drawn once, and only the systems of one exercise are held at a time, so that a large book needs no more memory than a
 * small one.
 */

import type { Book, EditionSpec } from '../book/book.js';
import { pageSize, staffHeight } from '../book/defaults.js';
import { PAGE_SIZES } from '../book/page-size.js';
import type { BreathMark, Ladder } from '../breath/ladder.js';
import type { LungTime } from '../breath/lung-time.js';
import { barsOf } from '../engrave/bars.js';
import type { Drawing } from '../engrave/drawing.js';
import type { Fonts } from '../engrave/metrics.js';
import { shapeScore } from '../engrave/shape.js';
import { fixedWidths, measureBars } from '../engrave/spacing.js';
import { breathMarks as scoreBreaths } from '../layout/matter/breathing-pages.js';
import type { Document, Page, PageItem } from '../layout/page/page.js';
import type { Line } from '../player/line.js';
import type { Player } from '../player/player.js';
import { mod } from '../theory/fraction.js';
import type { Key } from '../theory/key.js';
import { barLength } from '../theory/metre.js';
import { type Fault, RULE_NUMBERS, type RuleNumber, type Spot } from './fault.js';
import type { Bars } from './least-uneven.js';
import { blockOf, type PageSystem, type PlacedPage } from './placed-page.js';
import type { PlacedExercise, PlacedSystem } from './placed-system.js';
import { readSystem } from './read-system.js';
import { beamClearance, beamInk, beamRise } from './rules/beams.js';
import { airLasts, type Breathing, breathMarks, breathPlaces, type ProvedPlan, withinCompass } from './rules/breath.js';
import { evenness, type UnevenSystems, unevenSystems } from './rules/evenness.js';
import { accidentalFit, halfSpace, ledgerLines, noOverlap } from './rules/glyphs.js';
import { headerGaps, keySignatures } from './rules/header.js';
import { documentHygiene, drawnGlyphs, pageHygiene } from './rules/hygiene.js';
import { barNumbers, exerciseNumbers, keyNames, keyOrder, pageNumbering, type SystemSpot, samePlaces } from './rules/numbering.js';
import { insidePage, pageMeasures, pageTurns, type TurnPage, turnPage } from './rules/page.js';
import { courtesies, metre, readBars, replayTest } from './rules/reading.js';
import { advancesOf, spacing, systemWidth } from './rules/spacing.js';
import { middleLine, stemAnchor, stemDirection, stemLength } from './rules/stems.js';
import { facingPages, type SpreadPage, spreadPage, verticalAir } from './rules/vertical.js';

/** What is proved: an edition as built. */
export type ProvedEdition = {
  readonly spec: EditionSpec;
  readonly player: Player;
  readonly document: Document;
  /** By exercise id. */
  readonly lines: ReadonlyMap<string, Line>;
  /** Of a part of a set or a booklet: the name that stands where an edition names its instrument. Its numbers are the book's. */
  readonly part?: string;
  /** By exercise id: keys of its order that were not wanted. */
  readonly unwanted?: ReadonlyMap<string, number>;
  readonly breathing?:
    | {
        readonly lung: LungTime;
        /** By exercise id. Without a ladder or a plan only the printed marks are proved, not the air between them. */
        readonly exercises: ReadonlyMap<
          string,
          { readonly marks: readonly BreathMark[]; readonly ladder?: Ladder; readonly plan?: ProvedPlan }
        >;
      }
    | undefined;
};

export type ProofOptions = {
  readonly onPage?: (done: number, total: number) => void;
};

export type Proof = {
  readonly edition: string;
  readonly pages: number;
  readonly faults: readonly Fault[];
  /** How often each rule was applied: to systems, exercises, pages or the document, as the rule is about. */
  readonly checked: Readonly<Record<RuleNumber, number>>;
};

type Tally = {
  readonly faults: Fault[];
  readonly checked: Record<RuleNumber, number>;
  apply(rule: RuleNumber, found: readonly Fault[]): void;
};

function tally(): Tally {
  const faults: Fault[] = [];
  const checked = Object.fromEntries(RULE_NUMBERS.map((n) => [n, 0])) as Record<RuleNumber, number>;
  return {
    faults,
    checked,
    apply(rule, found) {
      checked[rule]++;
      faults.push(...found);
    },
  };
}

/** The key in force in each bar, where the exercise is written with signatures: each statement opens a bar. */
export function signatureKeys(line: Line): readonly Key[] | undefined {
  const length = barLength(line.exercise.metre);
  if (line.exercise.signs !== 'signature' || line.statements.some((s) => mod(s.onset, length).n !== 0)) return undefined;
  const bars = (line.duration.n * length.d) / (line.duration.d * length.n);
  const at = (bar: number) => line.statements.findLast((s) => s.onset.n * length.d <= bar * length.n * s.onset.d);
  return Array.from({ length: bars }, (_, bar) => (at(bar) ?? line.statements[0])?.writtenKey as Key);
}

function proveSystem(at: PlacedSystem, fonts: Fonts, { apply }: Tally): void {
  apply(1, noOverlap(at, fonts));
  apply(2, halfSpace(at, fonts));
  apply(3, accidentalFit(at));
  apply(4, headerGaps(at));
  apply(8, stemLength(at));
  apply(9, middleLine(at));
  apply(10, stemDirection(at));
  apply(11, stemAnchor(at));
  apply(12, beamInk(at));
  apply(13, beamRise(at));
  apply(14, beamClearance(at));
  apply(16, ledgerLines(at));
  apply(23, barNumbers(at));
  apply(24, breathMarks(at, fonts));
}

/** The bars of an exercise as they can be broken over a width in staff spaces. */
function barsIn(line: Line, width: number, fonts: Fonts, breathing: Breathing | undefined): Bars {
  const shape = shapeScore(line, barsOf(line, scoreBreaths(breathing)), fonts);
  return { measures: measureBars(shape), fixed: fixedWidths(shape), width };
}

/** An exercise of one part, for what is judged in all parts of a set together. */
type Examined = UnevenSystems & { readonly id: string; readonly systems: readonly SystemSpot[] };

/** Rules 5 to 7, 15, 17, 18, 23 and 24 over the systems of one exercise; what is uneven in them is not judged yet. */
function examineExercise(exercise: PlacedExercise, fonts: Fonts, breathing: Breathing | undefined, { apply }: Tally): UnevenSystems {
  const { line, spot, systems, unwanted } = exercise;
  const bars = readBars(exercise);
  const advances = systems.map((at) => advancesOf(exercise, at, fonts));
  apply(5, keySignatures(exercise, signatureKeys(line), fonts));
  apply(6, replayTest(exercise, bars));
  apply(7, courtesies(exercise, bars));
  apply(15, metre(exercise, bars));
  systems.forEach((at, i) => {
    apply(17, spacing(at, advances[i] ?? []));
  });
  apply(18, systemWidth(exercise, advances));
  apply(23, [...keyOrder(line, spot, unwanted), ...keyNames(exercise)]);
  const air = breathing?.plans.flatMap((plan) => airLasts(line, plan, spot)) ?? [];
  apply(24, [...withinCompass(line, spot), ...breathPlaces(exercise, bars, breathing), ...air]);
  const [at] = systems;
  const spaces = at ? (at.right - at.left) / at.scale : 0;
  return unevenSystems(exercise, advances, () => barsIn(line, spaces, fonts, breathing));
}

type DrawingItem = Extract<PageItem, { kind: 'drawing' }>;

/** Where the ink of a drawing is on its page, in points. */
function inkOnPage({ x, y, scale }: DrawingItem, { marks, width }: Drawing): Pick<PageSystem, 'ink' | 'tops' | 'bottoms'> {
  const columns = Math.max(1, Math.ceil(width));
  const tops = Array.from({ length: columns }, (): number => y);
  const bottoms = Array.from({ length: columns }, (): number => y + 4 * scale);
  const ink = { x0: Number.POSITIVE_INFINITY, x1: Number.NEGATIVE_INFINITY, y0: Number.POSITIVE_INFINITY, y1: Number.NEGATIVE_INFINITY };
  for (const { box } of marks) {
    ink.x0 = Math.min(ink.x0, x + box.x0 * scale);
    ink.x1 = Math.max(ink.x1, x + box.x1 * scale);
    ink.y0 = Math.min(ink.y0, y + box.y0 * scale);
    ink.y1 = Math.max(ink.y1, y + box.y1 * scale);
    const [from, to] = [Math.max(0, Math.floor(box.x0)), Math.min(columns - 1, Math.floor(box.x1))];
    for (let i = from; i <= to; i++) {
      tops[i] = Math.min(tops[i] as number, y + box.y0 * scale);
      bottoms[i] = Math.max(bottoms[i] as number, y + box.y1 * scale);
    }
  }
  return { ink, tops, bottoms };
}

/** Numbers of the exercises that begin on a page: the first run of each title. */
function titleNumbers(page: Page): { number: string; spot: Spot }[] {
  const seen = new Set<string>();
  return page.items.flatMap((item) => {
    if (item.kind !== 'text' || item.tag.kind !== 'element') return [];
    const exercise = /^exercise (.*)-title$/.exec(item.tag.id)?.[1];
    if (exercise === undefined || seen.has(exercise)) return [];
    seen.add(exercise);
    return [{ number: item.run.text, spot: { page: page.label, exercise } }];
  });
}

function breathingOf({ breathing }: ProvedEdition, id: string): Breathing | undefined {
  const own = breathing?.exercises.get(id);
  if (!breathing || !own) return undefined;
  const plans = own.plan ? [own.plan] : (own.ladder?.rungs.flatMap(({ plan }) => plan ?? []) ?? []);
  return { marks: own.marks, lung: breathing.lung, plans };
}

/** A part with all rules applied that need no other part. */
type ExaminedPart = {
  readonly edition: ProvedEdition;
  readonly tally: Tally;
  readonly exercises: readonly Examined[];
  readonly spreads: readonly SpreadPage[];
};

function examine(edition: ProvedEdition, book: Book, fonts: Fonts, options: ProofOptions): ExaminedPart {
  const { document, lines, spec, player } = edition;
  const staff = staffHeight(book, spec);
  const own = tally();
  const turns: TurnPage[] = [];
  const spreads: SpreadPage[] = [];
  const numbers: { number: string; spot: Spot }[] = [];
  const exercises: Examined[] = [];
  let held: { id: string; systems: PlacedSystem[]; bars: number } | undefined;
  let arabic = 0;

  const close = (): void => {
    const line = held && lines.get(held.id);
    if (held && line) {
      const { id, systems } = held;
      const placed = { spot: { exercise: id, page: systems[0]?.spot.page }, line, systems, unwanted: edition.unwanted?.get(id) };
      const uneven = examineExercise(placed, fonts, breathingOf(edition, id), own);
      exercises.push({ ...uneven, id, systems: systems.map(({ spot, firstBar }) => ({ ...spot, bar: firstBar + 1 })) });
    }
    held = undefined;
  };

  document.pages.forEach((page, index) => {
    const block = blockOf(document, page);
    const systems: PageSystem[] = [];
    for (const item of page.items) {
      if (item.kind !== 'drawing') continue;
      const drawing = item.draw();
      const { exercise, system = 0, x, y, scale } = item;
      systems.push({ exercise, system, x, y, scale, ...inkOnPage(item, drawing) });
      const spot: Spot = { page: page.label, ...(exercise === undefined ? {} : { exercise, system }) };
      own.apply(25, drawnGlyphs(drawing, fonts, spot));
      const reading = readSystem(drawing);
      if (exercise === undefined) {
        own.apply(1, noOverlap({ spot, reading, firstBar: 0, x, y, scale, left: block.x0, right: block.x1, page: index }, fonts));
        continue;
      }
      if (held?.id !== exercise) {
        close();
        held = { id: exercise, systems: [], bars: 0 };
      }
      const current = held as { id: string; systems: PlacedSystem[]; bars: number };
      const placed: PlacedSystem = { spot, reading, firstBar: current.bars, x, y, scale, left: block.x0, right: block.x1, page: index };
      current.systems.push(placed);
      current.bars += reading.barlines.length;
      proveSystem(placed, fonts, own);
    }
    const runs = page.items.flatMap((item) => (item.kind === 'text' ? [{ run: item.run, item }] : []));
    const placed: PlacedPage = { index, page, systems, runs };
    own.apply(20, verticalAir(placed));
    own.apply(21, insidePage(document, placed, staff));
    if (page.numbering === 'arabic') arabic++;
    own.apply(
      23,
      pageNumbering(document, placed, page.numbering === 'arabic' ? arabic : undefined, edition.part ?? player.instrument.name),
    );
    own.apply(25, pageHygiene(placed, fonts));
    turns.push(turnPage(placed));
    spreads.push(spreadPage(document, placed));
    numbers.push(...titleNumbers(page));
    options.onPage?.(index + 1, document.pages.length);
  });
  close();
  own.apply(21, pageMeasures(document, staff));
  own.apply(22, pageTurns(turns));
  own.apply(23, exerciseNumbers(numbers, edition.part === undefined ? undefined : bookNumbers(book)));
  own.apply(25, documentHygiene(document, PAGE_SIZES[pageSize(book, spec)]));
  return { edition, tally: own, exercises, spreads };
}

/** Number of each exercise in its book, by id. */
const bookNumbers = ({ chapters }: Book): ReadonlyMap<string, number> =>
  new Map(chapters.flatMap(({ exercises }) => exercises.map(({ id }) => id)).map((id, i) => [id, i + 1]));

/** Rules 19, 20 and 23 where they look at all parts; an edition is a set of one. */
function judge(parts: readonly ExaminedPart[]): Proof[] {
  const ids = [...new Set(parts.flatMap(({ exercises }) => exercises.map(({ id }) => id)))];
  for (const id of ids) {
    const having = parts.flatMap(({ tally, exercises }) => {
      const own = exercises.find((one) => one.id === id);
      return own ? [{ tally, own }] : [];
    });
    const faults = evenness(having.map(({ own }) => own));
    const [first] = having;
    having.forEach(({ tally: { apply }, own }, i) => {
      apply(19, faults[i] as readonly Fault[]);
      if (i > 0 && first) apply(23, samePlaces(own.systems, first.own.systems));
    });
  }
  const spreads = parts.map((part) => part.spreads);
  return parts.map(({ edition: { spec, part = spec.instrument, document }, tally: { apply, faults, checked } }, i) => {
    apply(20, facingPages(spreads[i] as readonly SpreadPage[], spreads));
    const sorted = faults.map((f): Fault => ({ ...f, edition: part })).sort((a, b) => a.rule - b.rule);
    return { edition: part, pages: document.pages.length, faults: sorted, checked };
  });
}

export const proveEdition = (edition: ProvedEdition, book: Book, fonts: Fonts, options: ProofOptions = {}): Proof =>
  judge([examine(edition, book, fonts, options)])[0] as Proof;

/** The proof of the parts of a set, by part: what one part demands of its systems and pages excuses what the others have for it. */
export const proveSet = (parts: readonly ProvedEdition[], book: Book, fonts: Fonts): Proof[] =>
  judge(parts.map((part) => examine(part, book, fonts, {})));
