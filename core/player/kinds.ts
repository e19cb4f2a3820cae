/** Kinds of instruments: what an instrument is called without its size. A piccolo is a flute, a bass trombone a trombone. */

/**
 * Each kind with its family. Scores place whole kinds (core/ensemble/score-order.ts), so what a band and an orchestra place
 * apart, such as trumpets in B♭ and in C, are kinds of their own.
 */
export const FAMILY_OF = {
  flute: 'flute',
  oboe: 'double-reed',
  bassoon: 'double-reed',
  clarinet: 'clarinet',
  saxophone: 'saxophone',
  horn: 'brass',
  'trumpet-in-bb': 'brass',
  'trumpet-in-c': 'brass',
  cornet: 'brass',
  flugelhorn: 'brass',
  trombone: 'brass',
  euphonium: 'brass',
  tuba: 'brass',
  recorder: 'recorder',
  bowed: 'strings',
  guitar: 'plucked',
  mallets: 'mallets',
  piano: 'keyboard',
} as const;

export type Kind = keyof typeof FAMILY_OF;

export type Family = (typeof FAMILY_OF)[Kind];
