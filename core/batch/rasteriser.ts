/** The rasteriser as it is installed beside the program. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/** The module that paints PNG pictures, as bytes of WebAssembly. */
export type Rasteriser = () => Uint8Array<ArrayBuffer>;

export const installedRasteriser: Rasteriser = () =>
  new Uint8Array(readFileSync(createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm')));
