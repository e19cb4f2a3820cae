/** A thread that paints pictures one after another. */
import { parentPort } from 'node:worker_threads';
import { assert } from '../issue.js';
import { openPngPainter } from '../output/png.js';
import type { PictureJob } from './pictures.js';
import { installedRasteriser } from './rasteriser.js';

const port = parentPort;
assert(port, 'this file runs as a thread');
const ready = openPngPainter(installedRasteriser);

port.on('message', async ({ svg, width }: PictureJob) => {
  const png = (await ready)(svg, width);
  port.postMessage(png, [png.buffer as ArrayBuffer]);
});
