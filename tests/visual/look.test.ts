/** Chosen pages look as they did. After a change that is meant, look at it with `npm run look` and keep it with `npm run look:accept`. */
import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import { withTool } from '../output/read-pdf.js';
import { difference, manifest, nameOf, paint, stored, TOLERANCE } from './look.js';

describe('pages', () => {
  for (const look of manifest) {
    withTool('pdftoppm', `${nameOf(look)} looks as stored`, async () => {
      const before = stored(look);
      expect(before, 'a stored picture: run npm run look:accept').toBeDefined();
      expect(difference(before as PNG, await paint(look)).share).toBeLessThanOrEqual(TOLERANCE);
    });
  }

  withTool('pdftoppm', 'of different music do not look alike', async () => {
    const [, , first, second] = await Promise.all(manifest.slice(0, 4).map(paint));
    expect(difference(first as PNG, second as PNG).share).toBeGreaterThan(TOLERANCE);
  });
});

it('one moved accidental is seen', () => {
  const blank = new PNG({ width: 413, height: 585 });
  blank.data.fill(255);
  const marked = PNG.sync.read(PNG.sync.write(blank));
  // About the ink of one sharp sign at 50 dots an inch on a 7 mm staff, erased here and printed there.
  for (const [x0, y0] of [
    [100, 100],
    [200, 100],
  ] as const)
    for (let x = x0; x < x0 + 3; x++) for (let y = y0; y < y0 + 9; y++) marked.data.fill(0, (y * 413 + x) * 4, (y * 413 + x) * 4 + 3);
  expect(difference(blank, marked).share).toBeGreaterThan(TOLERANCE);
  expect(difference(blank, blank).share).toBe(0);
});
