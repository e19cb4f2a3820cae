/** Bookmarks. */
import { at } from '../../base/list.js';
import type { OutlineEntry } from '../../layout/page/page.js';
import type { Kit, Outline } from './kit.js';

/** A bookmark's place: the page's index and PDF coordinates from the lower left corner of the media box. */
export type Place = { readonly page: number; readonly left: number; readonly top: number };

/**
 * Bookmarks, all levels closed. To be called when every page exists. PDFKit counts only open items and puts the left
 * edge of a destination at the page's width, so count and destination are set here (ISO 32000-1, 12.3.3 and table 152).
 */
export function addOutline(kit: Kit, entries: readonly OutlineEntry[], place: (anchor: string) => Place): void {
  const kids = kit._root.data.Pages.data.Kids;
  function add(parent: Outline, entry: OutlineEntry): void {
    const { page, left, top } = place(entry.anchor);
    const item = parent.addItem(entry.title, { pageNumber: page, expanded: false });
    item.outlineData.Dest = [at(kids, page), 'XYZ', left, top, null];
    // A closed item counts its hidden children as a negative number.
    if (entry.children.length > 0) item.outlineData.Count = -entry.children.length;
    for (const child of entry.children) add(item, child);
  }
  for (const entry of entries) add(kit.outline, entry);
  if (entries.length > 0) kit.outline.outlineData.Count = entries.length;
}
