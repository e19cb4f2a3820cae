/** SVG → PNG (the only import of the rasteriser). The same SVG gives the same bytes on every machine: it runs as WebAssembly. */
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { indexedPng } from './indexed-png.js';

/** Paints an SVG that has its letters as outlines, so many pixels wide. */
export type PngPainter = (svg: string, width: number) => Uint8Array;

let ready: Promise<void> | undefined;

/** `program` is the rasteriser itself, `index_bg.wasm` of its package; only the first one given is used. */
export async function openPngPainter(program: () => Uint8Array<ArrayBuffer>): Promise<PngPainter> {
  ready ??= initWasm(program());
  await ready;
  return (svg, width) => {
    const picture = new Resvg(svg, { fitTo: { mode: 'width', value: width }, font: { loadSystemFonts: false } });
    const image = picture.render();
    // Ink on paper has few colours; the rasteriser's own file takes most of the time and is twice as large.
    const png = indexedPng(image.pixels, image.width, image.height) ?? image.asPng();
    image.free();
    picture.free();
    return png;
  };
}
