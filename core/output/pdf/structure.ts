/**
 * The logical structure of the document (tagged PDF, ISO 32000-1, 14.7 and 14.8): which element each piece of ink
 * belongs to, in reading order. Elements are joined by their id across pages and written as soon as their last page is
 * done, so a long book keeps little of them.
 */
import { assert } from '../../base/issue.js';
import type { Page, PageItem, Tag } from '../../layout/page/page.js';
import type { Extent } from './content.js';
import type { Kit, StructureElement } from './kit.js';

type ElementTag = Extract<Tag, { kind: 'element' }>;
type LinkItem = Extract<PageItem, { kind: 'link' }>;

/** A link of the current page; its element appears with the first text that stands inside its rectangle. */
type PageLink = { readonly item: LinkItem; element?: StructureElement };

type Live = {
  readonly type: ElementTag['type'];
  readonly element: StructureElement;
  /** Where its ink goes: the element itself, or the body of a list item. */
  readonly body: StructureElement;
  readonly lastPage: number;
  /** The one page it stands on, or undefined when there are several. */
  readonly onlyPage: boolean;
  extent?: Extent;
};

/** Elements that stand only inside another (ISO 32000-1, 14.8.4.3): the group around each run of them. */
const GROUPS: Readonly<Partial<Record<ElementTag['type'], string>>> = { LI: 'L', TOCI: 'TOC', TD: 'Table' };

export type Structure = {
  startPage(index: number): void;
  /** Makes ink that follows belong to the item's tag. Call before painting each item that has one. */
  enter(item: Extract<PageItem, { readonly tag: Tag }>): void;
  /** The extent of a drawing just painted. */
  cover(tag: Tag, extent: Extent): void;
  /** Ends the current span, writes the links, and ends the elements that go no further. */
  endPage(): void;
  end(): void;
};

export type StructureOptions = {
  /** Operators painted so far must be written before a span begins or ends. */
  readonly flush: () => void;
  /** Name of the destination of a link. */
  readonly destination: (anchor: string) => string;
  /** From the trimmed page, y down, to PDF coordinates. */
  readonly toPdf: (extent: Extent) => [number, number, number, number];
};

export function structure(kit: Kit, pages: readonly Page[], { flush, destination, toPdf }: StructureOptions): Structure {
  const root = kit.struct('Document', {});
  kit.addStructure(root);
  const spread = pagesOfElements(pages);
  const live = new Map<string, Live>();
  let links: PageLink[] = [];
  let page = -1;
  let span: string | undefined;
  let group: { readonly type: string; readonly element: StructureElement } | undefined;
  let row: { readonly element: StructureElement; readonly page: number; readonly y: number } | undefined;

  function child(parent: StructureElement, type: string, alt?: string): StructureElement {
    const element = kit.struct(type, alt === undefined ? {} : { alt });
    parent.add(element);
    return element;
  }

  /** The element that a new element of this type goes into. Cells whose first ink has one baseline make a row. */
  function parentOf(type: ElementTag['type'], y: number): StructureElement {
    const wanted = GROUPS[type];
    if (wanted !== group?.type) {
      group = wanted ? { type: wanted, element: child(root, wanted) } : undefined;
      row = undefined;
    }
    if (!group) return root;
    if (type !== 'TD') return group.element;
    if (!row || row.page !== page || Math.abs(row.y - y) > 1) row = { element: child(group.element, 'TR'), page, y };
    return row.element;
  }

  function open(tag: ElementTag, y: number): Live {
    const known = live.get(tag.id);
    if (known) {
      assert(known.type === tag.type, `the element ${tag.id} has one type on all its items`);
      return known;
    }
    const element = child(parentOf(tag.type, y), tag.type, tag.alt);
    const { first, last } = spread.get(tag.id)!;
    const body = tag.type === 'LI' ? child(element, 'LBody') : element;
    const opened: Live = { type: tag.type, element, body, lastPage: last, onlyPage: first === last };
    live.set(tag.id, opened);
    return opened;
  }

  function close(): void {
    if (span === undefined) return;
    flush();
    kit.endMarkedContent();
    span = undefined;
  }

  return {
    startPage(index) {
      page = index;
      links = pages[index]!.items.filter((item) => item.kind === 'link').map((item) => ({ item }));
    },

    enter(item) {
      const { tag } = item;
      if (tag.kind === 'artifact') {
        if (span === `artifact ${tag.type}`) return;
        close();
        flush();
        kit.markContent('Artifact', { type: tag.type === 'pagination' ? 'Pagination' : 'Layout' });
        span = `artifact ${tag.type}`;
        return;
      }
      const link = item.kind === 'text' ? links.find(({ item: box }) => stands(item.run.x, item.run.y, box)) : undefined;
      const wanted = `element ${tag.id} ${link ? links.indexOf(link) : ''}`;
      if (span === wanted) return;
      close();
      flush();
      const { body } = open(tag, firstY(item));
      let target = body;
      if (link) {
        link.element ??= child(body, 'Link');
        target = link.element;
      }
      target.add(kit.markStructureContent(link ? 'Link' : tag.type === 'LI' ? 'LBody' : tag.type));
      span = wanted;
    },

    cover(tag, extent) {
      const element = tag.kind === 'element' ? live.get(tag.id) : undefined;
      if (element) element.extent = element.extent ? union(element.extent, extent) : extent;
    },

    endPage() {
      close();
      for (const link of links) {
        const { x, y, width, height, target, words } = link.item;
        const element = link.element ?? child(root, 'Link');
        kit.annotate(x, y, width, height, {
          Subtype: 'Link',
          Dest: destination(target),
          Contents: new String(words),
          structParent: element,
        });
        // An annotation's page is the current one when its element is written, so the element ends here.
        element.end();
      }
      links = [];
      for (const [id, { type, element, lastPage, onlyPage, extent }] of live) {
        if (lastPage > page) continue;
        // A figure on one page says where it is (ISO 32000-1, table 344).
        if (type === 'Figure' && onlyPage && extent) element.dictionary.data.A = { O: 'Layout', Placement: 'Block', BBox: toPdf(extent) };
        element.end();
        live.delete(id);
      }
    },

    end() {
      root.end();
    },
  };
}

/** First and last page of every element. */
function pagesOfElements(pages: readonly Page[]): Map<string, { first: number; last: number }> {
  const spread = new Map<string, { first: number; last: number }>();
  for (const [index, { items }] of pages.entries()) {
    for (const item of items) {
      if (item.kind === 'link' || item.kind === 'anchor' || item.tag.kind !== 'element') continue;
      const known = spread.get(item.tag.id);
      if (known) known.last = index;
      else spread.set(item.tag.id, { first: index, last: index });
    }
  }
  return spread;
}

function stands(x: number, y: number, box: LinkItem): boolean {
  const slack = 0.5;
  return x >= box.x - slack && x <= box.x + box.width + slack && y >= box.y - slack && y <= box.y + box.height + slack;
}

function firstY(item: Extract<PageItem, { readonly tag: Tag }>): number {
  if (item.kind === 'text') return item.run.y;
  if (item.kind === 'path') {
    const start = item.d[0];
    return start && start[0] !== 'Z' ? start[2] : 0;
  }
  return item.y;
}

function union(a: Extent, b: Extent): Extent {
  return { x0: Math.min(a.x0, b.x0), y0: Math.min(a.y0, b.y0), x1: Math.max(a.x1, b.x1), y1: Math.max(a.y1, b.y1) };
}
