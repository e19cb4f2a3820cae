/** The rasteriser as it is installed with its package; bundle.mjs copies it beside the program and puts its new place here. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Rasteriser } from '../output/picture/png.js';

export const installedRasteriser: Rasteriser = () =>
  new Uint8Array(readFileSync(createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm')));
