/** A thread that paints pictures one after another. */
import { parentPort } from 'node:worker_threads';
import { assert } from '../base/issue.js';
import { installedRasteriser } from '../disk/rasteriser.js';
import { openPngPainter } from '../output/picture/png.js';
import type { PictureJob } from './pictures.js';

const port = parentPort;
assert(port, 'this file runs as a thread');
const ready = openPngPainter(installedRasteriser);

port.on('message', async ({ svg, width }: PictureJob) => {
  const png = (await ready)(svg, width);
  port.postMessage(png, [png.buffer as ArrayBuffer]);
});
