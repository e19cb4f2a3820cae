/** A chapter's exercises → pages: filled, and spread over the height so that full pages begin and end alike. */

import { at } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import { STYLE } from '../../engrave/style.js';
import { blockHeights, type Cut } from '../music/block-heights.js';
import { type ExerciseBlock, stackHeight } from '../music/exercise-block.js';
import type { ExerciseHeading } from '../music/exercise-heading.js';
import { bodyOf, type Frame, type MatterPage, pagesOn, type Setting } from './geometry.js';
import { type Fill, matchedFill } from './matched-pages.js';
import type { PageItem, Tag } from './page.js';
import type { FilledPage } from './page-fill.js';
import { type Distances, facingDistances, type PageContent } from './page-spread.js';

export type MusicBlock = {
  readonly id: string;
  readonly block: ExerciseBlock;
  readonly heading: ExerciseHeading;
  /** Text alternative of the engraved music: says in words what it is. */
  readonly words: string;
  /** Set under the last system: the breaths at each tempo. */
  readonly foot?: ExerciseHeading;
};

export type MusicPages = {
  /** The pages; with an opening, the first one holds only what is added to the opening's last page. */
  readonly pages: readonly MatterPage[];
  /** For each block, the index of the page it begins on. */
  readonly starts: readonly number[];
};

/** A stretch of systems of one block as it stands on one page. */
type Stretch = Cut & { readonly music: MusicBlock };

const footOf = ({ music, to }: Stretch): ExerciseHeading | undefined => (to === music.block.systems.length ? music.foot : undefined);

const heightOf = (stretch: Stretch): Pt =>
  (stretch.from === 0 ? stretch.music.heading.height : 0) +
  stackHeight(stretch.music.block, stretch.from, stretch.to) +
  (footOf(stretch)?.height ?? 0);

function placeStretch(stretch: Stretch, body: Frame, top: Pt, step: number): { items: PageItem[]; bottom: Pt } {
  const { music, from, to } = stretch;
  const { block } = music;
  const items: PageItem[] = [];
  let y = top;
  if (from === 0) {
    items.push(...music.heading.place(body, y));
    y += music.heading.height;
  }
  const tag: Tag = { kind: 'element', type: 'Figure', id: `music:${music.id}`, alt: music.words };
  y += at(block.systems, from).above;
  for (let i = from; i < to; i++) {
    const { uneven } = at(block.systems, i).breaks;
    const drawing = {
      kind: 'drawing',
      x: body.left,
      y,
      scale: block.scale,
      draw: () => block.draw(i),
      exercise: music.id,
      system: i,
      tag,
    } as const;
    items.push(uneven ? { ...drawing, uneven } : drawing);
    if (i < to - 1) y += Math.max(at(block.steps, i), step * block.scale);
  }
  const bottom = y + Math.max(at(block.systems, to - 1).below, (4 + STYLE.wordsToStaff) * block.scale);
  const foot = footOf(stretch);
  if (foot) items.push(...foot.place(body, bottom));
  return { items, bottom: bottom + (foot?.height ?? 0) };
}

function placePage({ stretches, body }: MusicPage, { step, air }: Distances): PageItem[] {
  const items: PageItem[] = [];
  let y = body.top;
  for (const stretch of stretches) {
    const placed = placeStretch(stretch, body, y, step);
    items.push(...placed.items);
    y = placed.bottom + air * stretch.music.block.scale;
  }
  return items;
}

/** What stands on a page, before its distances are chosen. */
type MusicPage = { readonly stretches: readonly Stretch[]; readonly body: Frame };

function contentOf({ stretches, body }: MusicPage, last: boolean): PageContent {
  const steps = stretches.flatMap(({ music, from, to }) => music.block.steps.slice(from, to - 1));
  const whole = stretches.reduce((sum, stretch) => sum + heightOf(stretch), 0);
  return {
    fixed: whole - steps.reduce((sum, step) => sum + step, 0) - tailOf(stretches.at(-1)),
    steps,
    gaps: Math.max(0, stretches.length - 1),
    room: body.height,
    scale: stretches[0]?.music.block.scale ?? 0,
    last,
  };
}

/** White under the last line of text that a page ends with. */
const tailOf = (stretch: Stretch | undefined): Pt => (stretch && footOf(stretch)?.tail) ?? 0;

const idsOn = (page: MusicPage): string[] => page.stretches.map(({ music }) => music.id);

/** Places each page of music together with the one that faces it. */
function placePages(pages: readonly (MusicPage | undefined)[], firstSide: 'left' | 'right'): PageItem[][] {
  const placed: PageItem[][] = pages.map(() => []);
  const place = (i: number, distances: Distances | undefined): void => {
    const page = pages[i];
    if (page && distances) placed[i] = placePage(page, distances);
  };
  const content = (page: MusicPage | undefined, i: number): PageContent | undefined =>
    page && page.stretches.length > 0 ? contentOf(page, i === pages.length - 1) : undefined;
  for (let i = firstSide === 'left' ? 0 : -1; i < pages.length; i += 2) {
    const [left, right] = [pages[i], pages[i + 1]];
    const shared = left !== undefined && right !== undefined && idsOn(left).some((id) => idsOn(right).includes(id));
    const [own, other] = facingDistances(content(left, i), content(right, i + 1), shared);
    place(i, own);
    place(i + 1, other);
  }
  return placed;
}

/** What a chapter's opening leaves of its page, in points from the page's top. */
export type Opening = { readonly top: Pt; readonly bottom: Pt };

/** The best fill for one player. */
function fillOf(blocks: readonly MusicBlock[], { geometry, styles }: Setting, opening: Opening | undefined): Fill {
  const { height: room } = bodyOf(geometry, styles);
  const firstRoom = opening ? opening.bottom - opening.top : room;
  return matchedFill([{ blocks: blocks.map(blockHeights), room, firstRoom, scale: blocks[0]?.block.scale ?? 0 }], geometry.side);
}

/** `geometry` is that of the first page, which `opening`, if given, has begun. Filled as told or as is best. */
export function musicPages(blocks: readonly MusicBlock[], setting: Setting, opening: Opening | undefined, told?: Fill): MusicPages {
  const { geometry, styles } = setting;
  const fill = told ?? fillOf(blocks, setting, opening);
  const starts: number[] = [];
  const contents = fill.pages.map((page: FilledPage, index): MusicPage | undefined => {
    const own = bodyOf(pagesOn(geometry, index), styles);
    const body = index === 0 && opening ? { ...own, ...opening, height: opening.bottom - opening.top } : own;
    if (page.kind === 'blank') return undefined;
    if (page.kind === 'part') {
      if (page.part === 0) starts[page.block] = index;
      const cut = at(at(fill.cuts, page.block), page.part);
      return { stretches: [{ ...cut, music: at(blocks, page.block) }], body };
    }
    const stretches = blocks.slice(page.from, page.to).map((music, i): Stretch => {
      starts[page.from + i] = index;
      return { music, from: 0, to: music.block.systems.length };
    });
    return { stretches, body };
  });
  const placed = placePages(contents, geometry.side);
  const pages = contents.map((page, i): MatterPage => ({ kind: page ? 'music' : 'blank', items: at(placed, i) }));
  return { pages, starts };
}
