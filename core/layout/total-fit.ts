/**
 * Total-fit line breaking after D. E. Knuth and M. F. Plass, "Breaking Paragraphs into Lines", Software: Practice and
 * Experience 11 (1981), 1119–1184: all breaks of a paragraph are chosen together, so that the sum of demerits is least.
 * Boxes, glue and penalties know nothing of words or bars; text and music both use them. Three pure steps:
 * breaks → ratios → positions.
 */
import { assert } from '../base/issue.js';

/** Something that never stretches: a word, a bar's fixed part. */
export type Box = { readonly kind: 'box'; readonly width: number };
/** Space: its natural width, and how far it may stretch and shrink at ratio 1 and -1. Vanishes at a break. */
export type Glue = { readonly kind: 'glue'; readonly width: number; readonly stretch: number; readonly shrink: number };
/** A place where a line may end at a cost; `width` counts only if it does end there (the hyphen). */
export type Penalty = { readonly kind: 'penalty'; readonly width: number; readonly cost: number; readonly flagged: boolean };
export type Item = Box | Glue | Penalty;

/** Cost at or above which no line ends here, and at or below minus which every line does. */
export const FORBIDDEN = 10_000;
export const FORCED = -10_000;
/** Stretch of a glue that takes all the room left: the end of a paragraph. */
export const FILL = 1e7;

export const box = (width: number): Box => ({ kind: 'box', width });
export const glue = (width: number, stretch = 0, shrink = 0): Glue => ({ kind: 'glue', width, stretch, shrink });
export const penalty = (cost: number, width = 0, flagged = false): Penalty => ({ kind: 'penalty', width, cost, flagged });
/** Ends a paragraph whose last line keeps its natural width. */
export const ending = (): readonly Item[] => [penalty(FORBIDDEN), glue(0, FILL), penalty(FORCED)];

export type Options = {
  /** Largest stretch ratio of a line in the first attempt. Default 1.5. */
  readonly tolerance?: number;
  /** Added to the badness of every line: the higher, the fewer lines. Default 10 (The TeXbook, p. 98). */
  readonly linePenalty?: number;
  /** Two flagged breaks in a row. Default 3000 (paper: α). */
  readonly flaggedDemerits?: number;
  /** Neighbouring lines whose fitness classes differ by more than one. Default 3000 (paper: γ). */
  readonly fitnessDemerits?: number;
  /** Stretch granted to each line beside its glue: ragged setting, where the space is left at the line's end. Default 0. */
  readonly lineStretch?: number;
};

/** 100 |r|³; a line that must shrink beyond its shrinkability is infinitely bad. */
export const badness = (ratio: number): number => (ratio < -1 ? Number.POSITIVE_INFINITY : 100 * Math.abs(ratio) ** 3);

/** 0 tight, 1 normal, 2 loose, 3 very loose. */
export function fitnessClass(ratio: number): 0 | 1 | 2 | 3 {
  if (ratio < -0.5) return 0;
  if (ratio <= 0.5) return 1;
  return ratio <= 1 ? 2 : 3;
}

/** Sums of width, stretch and shrink of all items before each index. */
type Sums = { readonly width: readonly number[]; readonly stretch: readonly number[]; readonly shrink: readonly number[] };

function sumsOf(items: readonly Item[]): Sums {
  const width = [0];
  const stretch = [0];
  const shrink = [0];
  items.forEach((item, i) => {
    width.push(width[i]! + (item.kind === 'penalty' ? 0 : item.width));
    stretch.push(stretch[i]! + (item.kind === 'glue' ? item.stretch : 0));
    shrink.push(shrink[i]! + (item.kind === 'glue' ? item.shrink : 0));
  });
  return { width, stretch, shrink };
}

/** First item that shows on the line after a break: glue and optional penalties vanish there. */
function lineStart(items: readonly Item[], afterBreak: number): number {
  let i = afterBreak;
  for (; i < items.length; i++) {
    const item = items[i]!;
    if (item.kind === 'box' || (item.kind === 'penalty' && item.cost <= FORCED)) break;
  }
  return i;
}

/** Width of a line from item `start` to the break at `end`, and its glue. */
function measure(items: readonly Item[], sums: Sums, start: number, end: number) {
  const last = items[end]!;
  return {
    width: sums.width[end]! - sums.width[start]! + (last.kind === 'penalty' ? last.width : 0),
    stretch: sums.stretch[end]! - sums.stretch[start]!,
    shrink: sums.shrink[end]! - sums.shrink[start]!,
  };
}

function ratioOf(excess: number, stretch: number, shrink: number): number {
  // A hair of rounding must not turn a line that just fits into one that does not.
  if (Math.abs(excess) < 1e-9) return 0;
  if (excess > 0) return stretch > 0 ? excess / stretch : Number.POSITIVE_INFINITY;
  return shrink > 0 ? excess / shrink : Number.NEGATIVE_INFINITY;
}

/** A width for each line; the last one serves all further lines. */
export type LineWidths = number | readonly number[];

function widthOfLine(widths: LineWidths, line: number): number {
  return typeof widths === 'number' ? widths : widths[Math.min(line, widths.length - 1)]!;
}

type Node = {
  /** Index of the break; -1 at the start of the paragraph. */
  readonly at: number;
  readonly start: number;
  readonly line: number;
  readonly fitness: number;
  readonly flagged: boolean;
  readonly demerits: number;
  readonly before: Node | undefined;
};

/** One attempt; undefined when no set of breaks stays within the tolerance. `emergency` also takes overfull lines if need be. */
function attempt(items: readonly Item[], widths: LineWidths, options: Required<Options>, emergency: boolean): Node | undefined {
  const sums = sumsOf(items);
  const linesThatDiffer = typeof widths === 'number' ? 0 : widths.length - 1;
  let active: Node[] = [{ at: -1, start: lineStart(items, 0), line: 0, fitness: 1, flagged: false, demerits: 0, before: undefined }];

  for (let at = 0; at < items.length; at++) {
    const item = items[at]!;
    const legal = item.kind === 'penalty' ? item.cost < FORBIDDEN : item.kind === 'glue' && items[at - 1]?.kind === 'box';
    if (!legal) continue;
    const cost = item.kind === 'penalty' ? item.cost : 0;
    const flagged = item.kind === 'penalty' && item.flagged;
    const forced = cost <= FORCED;
    const kept: Node[] = [];
    const best = new Map<number, Node>();
    let overfull: Node | undefined;

    const offer = (from: Node, ratio: number, badnessOfLine: number) => {
      const base = options.linePenalty + badnessOfLine;
      let demerits = cost >= 0 ? (base + cost) ** 2 : forced ? base ** 2 : base ** 2 - cost ** 2;
      if (flagged && from.flagged) demerits += options.flaggedDemerits;
      const fitness = fitnessClass(ratio);
      if (Math.abs(fitness - from.fitness) > 1) demerits += options.fitnessDemerits;
      const total = from.demerits + demerits;
      const line = from.line + 1;
      // Nodes are worth telling apart by line only while the widths ahead differ.
      const id = fitness + 4 * Math.min(line, linesThatDiffer);
      const rival = best.get(id);
      if (!rival || total < rival.demerits) {
        best.set(id, { at, start: lineStart(items, at + 1), line, fitness, flagged, demerits: total, before: from });
      }
    };

    for (const from of active) {
      // Nothing but vanished items since that break: no line between them.
      if (from.start > at) {
        kept.push(from);
        continue;
      }
      const line = measure(items, sums, from.start, at);
      const excess = widthOfLine(widths, from.line) - line.width;
      const ratio = ratioOf(excess, line.stretch + options.lineStretch, line.shrink);
      if (ratio < -1) {
        if (!overfull || from.at > overfull.at || (from.at === overfull.at && from.demerits < overfull.demerits)) overfull = from;
        continue;
      }
      if (!forced) kept.push(from);
      if (ratio <= options.tolerance) offer(from, ratio, Math.min(badness(ratio), 1e6));
    }
    if (best.size === 0 && kept.length === 0) {
      if (!emergency || !overfull) return undefined;
      offer(overfull, -1, 1e6);
    }
    active = [...kept, ...best.values()];
  }
  return active.filter((node) => node.at === items.length - 1).sort((a, b) => a.demerits - b.demerits)[0];
}

/**
 * Items and line widths → indexes of the items at which lines end, the last one included. The items must end with a
 * forced break (see `ending`). Tries the given tolerance, then larger ones, then any stretch at all; it always answers,
 * and a line is overfull only if it holds one unbreakable stretch wider than the line.
 */
export function breakLines(items: readonly Item[], widths: LineWidths, options: Options = {}): readonly number[] {
  const last = items.at(-1);
  assert(last?.kind === 'penalty' && last.cost <= FORCED, 'the items of a paragraph end with a forced break');
  const full: Required<Options> = {
    tolerance: 1.5,
    linePenalty: 10,
    flaggedDemerits: 3000,
    fitnessDemerits: 3000,
    lineStretch: 0,
    ...options,
  };
  const tolerances = [full.tolerance, 2 * full.tolerance, 4 * full.tolerance];
  let end: Node | undefined;
  for (const tolerance of tolerances) end ??= attempt(items, widths, { ...full, tolerance }, false);
  end ??= attempt(items, widths, { ...full, tolerance: Number.POSITIVE_INFINITY }, true);
  const breaks: number[] = [];
  for (let node = end; node && node.at >= 0; node = node.before) breaks.unshift(node.at);
  return breaks;
}

/** First item of each line, for the given breaks. */
function startsOf(items: readonly Item[], breaks: readonly number[]): number[] {
  return breaks.map((_, line) => lineStart(items, line === 0 ? 0 : breaks[line - 1]! + 1));
}

/**
 * How far the glue of each line stretches (1 = all its stretch) or shrinks (-1 = all its shrink) to fill the line. 0 where
 * a line has room but no glue to stretch; below -1 only on an overfull line.
 */
export function adjustmentRatios(items: readonly Item[], widths: LineWidths, breaks: readonly number[]): readonly number[] {
  const sums = sumsOf(items);
  const starts = startsOf(items, breaks);
  return breaks.map((end, line) => {
    const { width, stretch, shrink } = measure(items, sums, Math.min(starts[line]!, end), end);
    const excess = widthOfLine(widths, line) - width;
    const ratio = ratioOf(excess, stretch, shrink);
    return ratio === Number.POSITIVE_INFINITY ? 0 : ratio;
  });
}

/** Where an item stands: its line, its left edge and its width. */
export type Position = { readonly item: number; readonly line: number; readonly x: number; readonly width: number };

/** Boxes, and the penalties with a width at which lines end. Glue is adjusted by the ratio of its line, never below -1. */
export function positions(items: readonly Item[], breaks: readonly number[], ratios: readonly number[]): readonly Position[] {
  const placed: Position[] = [];
  const starts = startsOf(items, breaks);
  breaks.forEach((end, line) => {
    const ratio = Math.max(-1, ratios[line]!);
    let x = 0;
    for (let i = starts[line]!; i <= end; i++) {
      const item = items[i]!;
      if (item.kind === 'box') {
        placed.push({ item: i, line, x, width: item.width });
        x += item.width;
      } else if (item.kind === 'glue' && i < end) {
        x += item.width + ratio * (ratio < 0 ? item.shrink : item.stretch);
      } else if (item.kind === 'penalty' && i === end && item.width > 0) {
        placed.push({ item: i, line, x, width: item.width });
      }
    }
  });
  return placed;
}
