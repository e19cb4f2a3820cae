/** A thread that paints pictures one after another. */
import { parentPort } from 'node:worker_threads';
import { assert } from '../base/issue.js';
import { installedRasteriser } from '../disk/rasteriser.js';
import { openPngPainter } from '../output/picture/png.js';
import { movable } from './movable.js';
import type { FromPictureWorker, PictureJob } from './pictures.js';

const port = parentPort;
assert(port, 'this file runs as a thread');
const paint = await openPngPainter(installedRasteriser);
const tell = (message: FromPictureWorker, transfer: ArrayBuffer[] = []): void => port.postMessage(message, transfer);

port.on('message', ({ svg, width }: PictureJob) => {
  const png = paint(svg, width);
  tell({ kind: 'picture', png }, movable(png));
});
tell({ kind: 'ready' });
