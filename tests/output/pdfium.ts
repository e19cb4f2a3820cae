/** What PDFium, the reader inside several browsers, finds in a file. Its package names few of the functions, so they are named here. */
import { PDFiumLibrary } from '@hyzyla/pdfium';

/** The functions of PDFium's public headers fpdf_doc.h and fpdf_structtree.h used here; handles and addresses are numbers. */
type Functions = {
  readonly _FPDFBookmark_GetFirstChild: (document: number, bookmark: number) => number;
  readonly _FPDFBookmark_GetNextSibling: (document: number, bookmark: number) => number;
  readonly _FPDFBookmark_GetTitle: (bookmark: number, buffer: number, length: number) => number;
  readonly _FPDFBookmark_GetDest: (document: number, bookmark: number) => number;
  readonly _FPDFDest_GetDestPageIndex: (document: number, destination: number) => number;
  readonly _FPDF_GetPageLabel: (document: number, page: number, buffer: number, length: number) => number;
  readonly _FPDF_CountNamedDests: (document: number) => number;
  readonly _FPDF_GetNamedDestByName: (document: number, name: number) => number;
  readonly _FPDF_LoadPage: (document: number, index: number) => number;
  readonly _FPDF_ClosePage: (page: number) => void;
  readonly _FPDF_StructTree_GetForPage: (page: number) => number;
  readonly _FPDF_StructTree_Close: (tree: number) => void;
  readonly _FPDF_StructTree_CountChildren: (tree: number) => number;
  readonly _FPDF_StructTree_GetChildAtIndex: (tree: number, index: number) => number;
  readonly _FPDF_StructElement_CountChildren: (element: number) => number;
  readonly _FPDF_StructElement_GetChildAtIndex: (element: number, index: number) => number;
  readonly _FPDF_StructElement_GetAltText: (element: number, buffer: number, length: number) => number;
  readonly wasmExports: { readonly malloc: (size: number) => number; readonly free: (address: number) => void };
  readonly HEAPU8: Uint8Array;
};

export type SeenByPdfium = {
  readonly labels: readonly string[];
  /** Bookmarks in the order of the list, with depth from 0 and page from 0. */
  readonly outline: readonly { readonly title: string; readonly depth: number; readonly page: number }[];
  readonly destinationCount: number;
  /** Page from 0 of a named destination; undefined when it is not found. */
  readonly destination: (name: string) => number | undefined;
  /** Text alternatives in the structure of each page. */
  readonly alternatives: readonly (readonly string[])[];
  readonly close: () => void;
};

export async function seenByPdfium(bytes: Uint8Array): Promise<SeenByPdfium> {
  const library = await PDFiumLibrary.init();
  const open = await library.loadDocument(new Uint8Array(bytes));
  // Both are private in the types: the package keeps them for itself.
  const { module: pdfium } = library as unknown as { readonly module: Functions };
  const { documentIdx: document } = open as unknown as { readonly documentIdx: number };

  /** PDFium fills a buffer with UTF-16, a zero at its end, and returns the length in bytes. */
  function text(fill: (buffer: number, length: number) => number): string {
    const length = fill(0, 0);
    if (length < 2) return '';
    const buffer = pdfium.wasmExports.malloc(length);
    fill(buffer, length);
    const found = Buffer.from(pdfium.HEAPU8.slice(buffer, buffer + length - 2)).toString('utf16le');
    pdfium.wasmExports.free(buffer);
    return found;
  }

  function* bookmarks(parent: number, depth: number): Generator<SeenByPdfium['outline'][number]> {
    let item = pdfium._FPDFBookmark_GetFirstChild(document, parent);
    while (item !== 0) {
      const mark = item;
      const destination = pdfium._FPDFBookmark_GetDest(document, mark);
      const title = text((buffer, length) => pdfium._FPDFBookmark_GetTitle(mark, buffer, length));
      yield { title, depth, page: pdfium._FPDFDest_GetDestPageIndex(document, destination) };
      yield* bookmarks(mark, depth + 1);
      item = pdfium._FPDFBookmark_GetNextSibling(document, mark);
    }
  }

  function alternativesOf(element: number): string[] {
    // A child that is a piece of content and not an element is 0.
    if (element === 0) return [];
    const own = text((buffer, length) => pdfium._FPDF_StructElement_GetAltText(element, buffer, length));
    const count = Math.max(0, pdfium._FPDF_StructElement_CountChildren(element));
    const children = Array.from({ length: count }, (_, i) => pdfium._FPDF_StructElement_GetChildAtIndex(element, i));
    return [...(own === '' ? [] : [own]), ...children.flatMap(alternativesOf)];
  }

  function alternatives(index: number): string[] {
    const page = pdfium._FPDF_LoadPage(document, index);
    const tree = pdfium._FPDF_StructTree_GetForPage(page);
    const count = tree === 0 ? 0 : pdfium._FPDF_StructTree_CountChildren(tree);
    const found = Array.from({ length: count }, (_, i) => alternativesOf(pdfium._FPDF_StructTree_GetChildAtIndex(tree, i))).flat();
    if (tree !== 0) pdfium._FPDF_StructTree_Close(tree);
    pdfium._FPDF_ClosePage(page);
    return found;
  }

  const pages = Array.from({ length: open.getPageCount() }, (_, i) => i);
  return {
    labels: pages.map((page) => text((buffer, length) => pdfium._FPDF_GetPageLabel(document, page, buffer, length))),
    outline: [...bookmarks(0, 0)],
    destinationCount: pdfium._FPDF_CountNamedDests(document),
    destination(name) {
      const address = pdfium.wasmExports.malloc(name.length + 1);
      pdfium.HEAPU8.set(Buffer.from(`${name}\0`, 'latin1'), address);
      const found = pdfium._FPDF_GetNamedDestByName(document, address);
      pdfium.wasmExports.free(address);
      return found === 0 ? undefined : pdfium._FPDFDest_GetDestPageIndex(document, found);
    },
    alternatives: pages.map(alternatives),
    close() {
      open.destroy();
      library.destroy();
    },
  };
}
