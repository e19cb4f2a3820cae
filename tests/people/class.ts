/** Rosters for tests, as plain objects to be spoiled in one place. */
import { demoBook } from '../ensemble/band.js';

export const book = demoBook('small-wheels');

export const student = (more: object = {}): Record<string, unknown> => ({
  name: 'Quillon Marsh',
  instrument: 'flute',
  level: 'beginner',
  assignments: [{ exercises: ['three-steps', 'last-wheel'] }],
  ...more,
});

export const rosterFile = (students: readonly object[], more: object = {}): Record<string, unknown> => ({
  format: 'twelvefold-roster',
  version: 1,
  students,
  ...more,
});
