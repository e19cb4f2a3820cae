/**
 * What is engraved and laid out, as text: one line a mark, so that a stored likeness shows what moved. After a change that is
 * meant, look at the difference and keep it with `npx vitest run <test> -u`.
 */
import type { Drawing, Mark } from '../core/engrave/drawing.js';
import type { Document, PageItem, Tag } from '../core/layout/page/page.js';

const round = (value: number, places: number): string => {
  const text = value.toFixed(places).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};
const sp = (value: number): string => round(value, 3);
const pt = (value: number): string => round(value, 2);

function markText(mark: Mark): string {
  const { role, owner, box } = mark;
  const of = [
    owner.event === undefined ? '' : `e${owner.event}`,
    owner.bar === undefined ? '' : `b${owner.bar}`,
    owner.part === undefined ? '' : `p${owner.part}`,
  ];
  const where = `${role} ${of.join('')}`.trim();
  const points = (all: readonly (readonly [number, number])[]): string => all.map(([x, y]) => `${sp(x)},${sp(y)}`).join(' ');
  switch (mark.kind) {
    case 'glyph':
      return `${where} ${mark.code.toString(16)} at ${sp(mark.x)},${sp(mark.y)}${mark.size === 1 ? '' : ` size ${sp(mark.size)}`}`;
    case 'rect':
      return `${where} from ${sp(box.x0)},${sp(box.y0)} to ${sp(box.x1)},${sp(box.y1)}`;
    case 'polygon':
      return `${where} round ${points(mark.points)}`;
    case 'lens':
      return `${where} from ${points([mark.from, ...mark.outer, ...mark.inner, mark.to])}`;
    case 'text':
      return `${where} "${mark.text}" ${mark.font} ${sp(mark.size)} at ${sp(mark.x)},${sp(mark.y)}`;
  }
}

/** A drawing in staff spaces. */
export const drawingText = ({ marks, width, top, bottom }: Drawing): string =>
  [`width ${sp(width)}, from ${sp(top)} to ${sp(bottom)}`, ...marks.map(markText)].join('\n');

const tagText = (tag: Tag): string => (tag.kind === 'artifact' ? tag.type : `${tag.type} ${tag.id}${tag.alt ? ` (${tag.alt})` : ''}`);

function itemText(item: PageItem): string {
  switch (item.kind) {
    case 'text': {
      const { font, size, x, y, text, tracking, features, width, divided } = item.run;
      const more = [tracking ? ` spaced ${pt(tracking)}` : '', features ? ` ${features.join('+')}` : '', divided ? ' divided' : ''].join(
        '',
      );
      return `"${text}" ${font} ${pt(size)}${more} at ${pt(x)},${pt(y)} wide ${pt(width)}: ${tagText(item.tag)}`;
    }
    case 'rect':
      return `rect ${pt(item.x)},${pt(item.y)} ${pt(item.width)}x${pt(item.height)}${item.gray ? ` gray ${item.gray}` : ''}: ${tagText(item.tag)}`;
    case 'path': {
      const steps = item.d.map(([letter, ...numbers]) => `${letter}${numbers.map((n) => pt(n as number)).join(',')}`).join(' ');
      return `path ${steps} ${item.stroke ? pt(item.stroke) : ''}${item.fill ? ' filled' : ''}${item.dash ? ` dashed ${item.dash.map(pt).join(' ')}` : ''}: ${tagText(item.tag)}`;
    }
    case 'drawing': {
      const { marks, width, top, bottom } = item.draw();
      const size = `${marks.length} marks, wide ${sp(width)}, from ${sp(top)} to ${sp(bottom)}`;
      return `drawing ${item.exercise ?? ''} ${item.system ?? ''} at ${pt(item.x)},${pt(item.y)} by ${round(item.scale, 4)} (${size}): ${tagText(item.tag)}`;
    }
    case 'link':
      return `link ${pt(item.x)},${pt(item.y)} ${pt(item.width)}x${pt(item.height)} to ${item.target}: ${item.words}`;
    case 'anchor':
      return `anchor ${item.name} at ${pt(item.y)}`;
  }
}

const outlineText = (entries: Document['outline'], depth = 1): string[] =>
  entries.flatMap(({ title, anchor, children }) => [`${'  '.repeat(depth)}${title} → ${anchor}`, ...outlineText(children, depth + 1)]);

/** A document in points; of its drawings the places and sizes alone. `pages` picks some of them. */
export function documentText({ width, height, margins, bleed, cropMarks, pages, outline, info }: Document, some = pages): string {
  const { top, bottom, inner, outer } = margins;
  return [
    `${pt(width)}x${pt(height)}, margins ${[top, bottom, inner, outer].map(pt).join(' ')}, bleed ${pt(bleed)}${cropMarks ? ', crop marks' : ''}`,
    JSON.stringify(info),
    ...outlineText(outline),
    `${pages.length} pages`,
    ...some.flatMap((page) => [`— page ${page.label} (${page.numbering}, ${page.side}, ${page.kind})`, ...page.items.map(itemText)]),
    '',
  ].join('\n');
}
