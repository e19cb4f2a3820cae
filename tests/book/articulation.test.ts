import { expect, it } from 'vitest';
import { parseArticulation } from '../../core/book/articulation.js';

it.each([
  ['', { groups: [] }],
  ['none', { groups: [] }],
  ['all slurred', { groups: 'all' }],
  ['all tongued', { groups: [1] }],
  ['slur 2, tongue 2', { groups: [2, 1, 1] }],
  ['Tongue 1,  slur 3', { groups: [1, 3] }],
  ['slur 3, tongue 1', { groups: [3, 1] }],
  ['slur 2', { groups: [2] }],
  ['slur 2, slur 3', { groups: [2, 3] }],
  ['all tongued, staccato', { groups: [1], mark: 'staccato' }],
  ['slur 2, tongue 2, accent', { groups: [2, 1, 1], mark: 'accent' }],
  ['tenuto', { groups: [1], mark: 'tenuto' }],
])('"%s"', (text, value) => {
  expect(parseArticulation(text)).toEqual({ ok: true, value, issues: [] });
});

it.each([
  ['slur 1', [0, 6]],
  ['tongue 0', [0, 8]],
  ['slur 2, hum 3', [8, 13]],
  ['slur two', [0, 8]],
  ['staccato, slur 2', [0, 8]],
  ['slur 2, all tongued', [8, 19]],
  ['all slurred, slur 2', [0, 11]],
  ['all slurred, staccato', [13, 21]],
  ['slur 2,', [7, 8]],
])('refuses "%s" at its place', (text, span) => {
  const result = parseArticulation(text);
  expect(result.ok).toBe(false);
  expect(result.issues).toMatchObject([{ code: 'unknown-articulation', span }]);
});
