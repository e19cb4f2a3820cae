/**
 * The logical structure of the document (tagged PDF, ISO 32000-1, 14.7 and 14.8): which element each piece of ink
 * belongs to, in reading order. Elements are joined by their id across pages and written as soon as their last page is
 * done, so a long book keeps little of them.
 */
import { assert } from '../../base/issue.js';
import { at, mustGet } from '../../base/list.js';
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

/** Where new elements go. */
type Places = {
  /** A new element inside another. */
  child(parent: StructureElement, type: string, alt?: string): StructureElement;
  /** What a new element of this type goes into. Cells whose first ink has one baseline make a row. */
  parentOf(type: ElementTag['type'], page: number, y: number): StructureElement;
};

function placesIn(kit: Kit, root: StructureElement): Places {
  let group: { readonly type: string; readonly element: StructureElement } | undefined;
  let row: { readonly element: StructureElement; readonly page: number; readonly y: number } | undefined;

  function child(parent: StructureElement, type: string, alt?: string): StructureElement {
    const element = kit.struct(type, alt === undefined ? {} : { alt });
    parent.add(element);
    return element;
  }

  return {
    child,
    parentOf(type, page, y) {
      const wanted = GROUPS[type];
      if (wanted !== group?.type) {
        group = wanted ? { type: wanted, element: child(root, wanted) } : undefined;
        row = undefined;
      }
      if (!group) return root;
      if (type !== 'TD') return group.element;
      if (!row || row.page !== page || Math.abs(row.y - y) > 1) row = { element: child(group.element, 'TR'), page, y };
      return row.element;
    },
  };
}

/** Elements that are begun and not yet written, by id. */
type LiveElements = {
  open(tag: ElementTag, page: number, y: number): Live;
  cover(tag: Tag, extent: Extent): void;
  /** Writes those that stand on no page behind this one. */
  endThrough(page: number): void;
};

function liveElements(pages: readonly Page[], { child, parentOf }: Places, toPdf: StructureOptions['toPdf']): LiveElements {
  const spread = pagesOfElements(pages);
  const live = new Map<string, Live>();
  return {
    open(tag, page, y) {
      const known = live.get(tag.id);
      if (known) {
        assert(known.type === tag.type, `the element ${tag.id} has one type on all its items`);
        return known;
      }
      const element = child(parentOf(tag.type, page, y), tag.type, tag.alt);
      const { first, last } = mustGet(spread, tag.id);
      const body = tag.type === 'LI' ? child(element, 'LBody') : element;
      const opened: Live = { type: tag.type, element, body, lastPage: last, onlyPage: first === last };
      live.set(tag.id, opened);
      return opened;
    },

    cover(tag, extent) {
      const element = tag.kind === 'element' ? live.get(tag.id) : undefined;
      if (element) element.extent = element.extent ? union(element.extent, extent) : extent;
    },

    endThrough(page) {
      for (const [id, { type, element, lastPage, onlyPage, extent }] of live) {
        if (lastPage > page) continue;
        // A figure on one page says where it is (ISO 32000-1, table 344).
        if (type === 'Figure' && onlyPage && extent) element.dictionary.data.A = { O: 'Layout', Placement: 'Block', BBox: toPdf(extent) };
        element.end();
        live.delete(id);
      }
    },
  };
}

function writeLink(kit: Kit, { x, y, width, height, words }: LinkItem, destination: string, element: StructureElement): void {
  kit.annotate(x, y, width, height, { Subtype: 'Link', Dest: destination, Contents: new String(words), structParent: element });
  // An annotation's page is the current one when its element is written, so the element ends here.
  element.end();
}

/** The pieces of content that belong to one element each; one at most is open. */
function spans(kit: Kit, flush: () => void): { begin(wanted: string, mark: () => void): void; close(): void } {
  let span: string | undefined;

  function close(): void {
    if (span === undefined) return;
    flush();
    kit.endMarkedContent();
    span = undefined;
  }

  return {
    /** `wanted` tells one from another: one that is open goes on. */
    begin(wanted, mark) {
      if (span === wanted) return;
      close();
      flush();
      mark();
      span = wanted;
    },
    close,
  };
}

export function structure(kit: Kit, pages: readonly Page[], { flush, destination, toPdf }: StructureOptions): Structure {
  const root = kit.struct('Document', {});
  kit.addStructure(root);
  const places = placesIn(kit, root);
  const live = liveElements(pages, places, toPdf);
  let links: PageLink[] = [];
  let page = -1;
  const { begin, close } = spans(kit, flush);

  return {
    startPage(index) {
      page = index;
      links = at(pages, index)
        .items.filter((item) => item.kind === 'link')
        .map((item) => ({ item }));
    },

    enter(item) {
      const { tag } = item;
      if (tag.kind === 'artifact') {
        const type = tag.type === 'pagination' ? 'Pagination' : 'Layout';
        return begin(`artifact ${tag.type}`, () => kit.markContent('Artifact', { type }));
      }
      const link = item.kind === 'text' ? links.find(({ item: box }) => stands(item.run.x, item.run.y, box)) : undefined;
      begin(`element ${tag.id} ${link ? links.indexOf(link) : ''}`, () => {
        const { body } = live.open(tag, page, firstY(item));
        if (link) link.element ??= places.child(body, 'Link');
        (link?.element ?? body).add(kit.markStructureContent(link ? 'Link' : tag.type === 'LI' ? 'LBody' : tag.type));
      });
    },

    cover: live.cover,

    endPage() {
      close();
      for (const { item, element } of links) writeLink(kit, item, destination(item.target), element ?? places.child(root, 'Link'));
      links = [];
      live.endThrough(page);
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
