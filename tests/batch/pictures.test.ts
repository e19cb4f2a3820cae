/** Pictures from threads: the same bytes as from this one, and an end whatever happens. */
import { describe, expect, it } from 'vitest';
import { withPictures } from '../../core/batch/pictures.js';
import { installedRasteriser } from '../../core/disk/rasteriser.js';
import { openPngPainter } from '../../core/output/picture/png.js';

const svg = (color: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="30" viewBox="0 0 40 30"><rect width="100%" height="100%" fill="white"/><circle cx="20" cy="15" r="11" fill="${color}"/></svg>`;
const COLORS = ['black', 'red', 'teal', 'navy', 'gray', 'olive', 'purple'];
const never = new AbortController().signal;

describe('pictures painted on threads', () => {
  it('come in the order in which they were asked for, with the bytes that this thread makes', async () => {
    const paint = await openPngPainter(installedRasteriser);
    const found = await withPictures(COLORS.length, never, (ask) => Promise.all(COLORS.map((color) => ask(svg(color), 80))));
    found.forEach((png, i) => {
      expect(Buffer.compare(png, paint(svg(COLORS[i] as string), 80))).toBe(0);
    });
    expect(new Set(found.map((png) => Buffer.from(png).toString('base64'))).size).toBe(COLORS.length);
  });

  it('a picture that cannot be painted fails, and so does what is asked of that thread afterwards', async () => {
    await expect(withPictures(1, never, (ask) => Promise.all([ask(svg('red'), 80), ask('no picture', 80)]))).rejects.toThrow();
  });

  it('a stop is heard while they are painted', async () => {
    const stop = new AbortController();
    const work = withPictures(2, stop.signal, (ask) => {
      const all = Promise.all(COLORS.map((color) => ask(svg(color), 800)));
      stop.abort(new Error('enough'));
      return all;
    });
    await expect(work).rejects.toThrow('enough');
  });

  it('and before', async () => {
    await expect(withPictures(2, AbortSignal.abort(new Error('not at all')), () => Promise.resolve(1))).rejects.toThrow('not at all');
  });
});
