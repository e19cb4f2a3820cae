/** SVG → PNG (the only import of the rasteriser). The same SVG gives the same bytes on every machine: it runs as WebAssembly. */
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { indexedPng } from './indexed-png.js';

/** Paints an SVG that has its letters as outlines, so many pixels wide. */
export type PngPainter = (svg: string, width: number) => Uint8Array;

/** The module that paints, as bytes of WebAssembly: `index_bg.wasm` of its package. */
export type Rasteriser = () => Uint8Array<ArrayBuffer>;

/** Pictures painted elsewhere, each when it is ready. */
export type PaintPicture = (svg: string, width: number) => Promise<Uint8Array>;

let ready: Promise<void> | undefined;

/** Only the first rasteriser given is used. */
export async function openPngPainter(rasteriser: Rasteriser): Promise<PngPainter> {
  ready ??= initWasm(rasteriser());
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
