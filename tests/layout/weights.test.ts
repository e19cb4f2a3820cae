/** What the searches of the layout weigh, written out (house choices; ratios after Knuth & Plass, SP&E 11, 1981). */
import { expect, test } from 'vitest';
import { SYSTEM_AIR } from '../../core/layout/music/exercise-block.js';
import { STAFF_AIR } from '../../core/layout/music/score-block.js';
import { ALIKE, LOOSE, LOOSEST, PENALTY } from '../../core/layout/music/systems.js';
import { COST } from '../../core/layout/page/page-fill.js';
import { BLOCK_AIR, FACING } from '../../core/layout/page/page-spread.js';
import { FILL, FORBIDDEN, FORCED } from '../../core/layout/total-fit.js';

test('systems', () => {
  expect(PENALTY).toEqual({ cut: 60, turnaround: -60, looseLast: 250, uneven: 100_000_000_000 });
  expect([LOOSE, LOOSEST, ALIKE]).toEqual([0.4, 1.5, 0.1]);
  expect([FORBIDDEN, FORCED, FILL]).toEqual([10_000, -10_000, 10_000_000]);
});

test('pages', () => {
  expect(COST).toEqual({ empty: 100, lastEmpty: 15, blank: 200, page: 12, ragged: 30, lavish: 80, facing: 60 });
});

test('air, in spaces of the staff', () => {
  expect(BLOCK_AIR).toEqual({ least: 2.6, most: 7.6 });
  expect(FACING).toBe(0.5);
  expect(SYSTEM_AIR).toEqual({ ink: 1, leastStep: 8.6, most: 5 });
  expect(STAFF_AIR).toEqual({ leastStep: 7, ink: 0.8, section: 1.2, most: 8.5 });
});
