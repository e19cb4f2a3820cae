/** How far systems stand apart on a page, and what of it is compared with the page it faces. */

import { pairs } from '../base/list.js';
import type { Pt } from '../base/units.js';
import { STYLE } from '../engrave/style.js';
import type { Document } from '../layout/page/page.js';
import { blockOf, isFurniture, type PageSystem, type PlacedPage, runInk } from './placed-page.js';
import { LIMIT } from './tolerance.js';

/** White between two systems in staff spaces: the least over columns at most `apart` spaces from each other. */
function whiteOf(upper: PageSystem, lower: PageSystem, apart: number): number {
  let least = Number.POSITIVE_INFINITY;
  lower.tops.forEach((top, i) => {
    for (let j = i - apart; j <= i + apart; j++) least = Math.min(least, top - (upper.bottoms[j] ?? Number.NEGATIVE_INFINITY));
  });
  return least / upper.scale;
}

/** How far to the side ink still makes two systems keep apart, in staff spaces (house). */
const SIDEWAYS = 2;

export type Gap = {
  readonly upper: PageSystem;
  readonly lower: PageSystem;
  readonly step: number;
  /** Straight up and down; and with ink a little to the side counted too, which is what asks for room. */
  readonly white: number;
  readonly room: number;
};

/** Systems that follow one another on a page, side-by-side examples left out. Distances in staff spaces. */
export function gapsOf({ systems }: PlacedPage): Gap[] {
  return pairs(systems).flatMap(([upper, lower]) => {
    if (lower.y <= upper.y || lower.exercise === undefined || upper.exercise === undefined) return [];
    return [
      { upper, lower, step: (lower.y - upper.y) / upper.scale, white: whiteOf(upper, lower, 0), room: whiteOf(upper, lower, SIDEWAYS) },
    ];
  });
}

/** Ink asks for the distance: nearer, and it would have less than its air. */
export const asksForRoom = ({ room }: Pick<Gap, 'room'>): boolean => room <= LIMIT.systemInk + LIMIT.systemEven;

/** Two systems of one exercise, between which no heading stands. */
export const isWithin = ({ upper, lower }: Gap): boolean => upper.exercise === lower.exercise;

/** What the rule of facing pages needs to know of a page. */
export type SpreadPage = {
  readonly placed: Pick<PlacedPage, 'page'>;
  readonly music: boolean;
  /** Points per staff space. */
  readonly scale: Pt;
  /** Highest ink, lowest ink (with the air under a last staff), and the foot of the text block. */
  readonly top: Pt;
  readonly foot: Pt;
  readonly bottom: Pt;
  /**
   * Least distance between systems of one exercise, in spaces, whether ink asks for it, and the most that a system takes, by
   * its distance or by its own ink; undefined without two such systems.
   */
  readonly step: { readonly least: number; readonly asked: boolean; readonly most: number } | undefined;
  /** From its first system to the second of the same exercise, and from the last but one to the last, in spaces. */
  readonly edges?: { readonly first: number; readonly last: number };
  readonly exercises: readonly string[];
  /** Height of its first exercise as printed. */
  readonly firstHeight: Pt;
};

export function spreadPage(document: Document, placed: PlacedPage): SpreadPage {
  const systems = placed.systems.filter((s) => s.exercise !== undefined);
  const exercises = [...new Set(systems.flatMap((s) => s.exercise ?? []))];
  const scale = systems[0]?.scale ?? 0;
  const runs = placed.runs.filter(({ item }) => !isFurniture(item)).map(({ run, item }) => ({ ink: runInk(run), item }));
  const lowest = (s: PageSystem): Pt => Math.max(s.ink.y1, s.y + (4 + STYLE.wordsToStaff) * s.scale);
  const top = Math.min(...runs.map(({ ink }) => ink.y0), ...systems.map((s) => s.ink.y0));
  const first = exercises[0];
  const ofFirst = runs.filter(({ item }) => item.tag.kind === 'element' && item.tag.id.startsWith(`exercise ${first}-`));
  const own = gapsOf(placed).filter(isWithin);
  const least = own.reduce<Gap | undefined>((a, b) => (a && a.step <= b.step ? a : b), undefined);
  const [firstGap, lastGap] = [own[0], own.at(-1)];
  return {
    placed: { page: placed.page },
    music: placed.page.kind === 'music' && exercises.length > 0,
    scale,
    top,
    foot: Math.max(...runs.map(({ ink }) => ink.y1), ...systems.map(lowest)),
    bottom: blockOf(document, placed.page).y1,
    step: least && {
      least: least.step,
      asked: asksForRoom(least),
      most: Math.max(...own.map((g) => g.step), ...systems.map((s) => (lowest(s) - s.ink.y0) / s.scale + LIMIT.systemInk)),
    },
    ...(firstGap && lastGap ? { edges: { first: firstGap.step, last: lastGap.step } } : {}),
    exercises,
    firstHeight: Math.max(...ofFirst.map(({ ink }) => ink.y1), ...systems.filter((s) => s.exercise === first).map(lowest)) - top,
  };
}
