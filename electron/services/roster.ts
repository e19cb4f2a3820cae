/** People who breathe: kept in a file of their own on this machine, never in a book. Every field but the id is optional. */
import { z } from 'zod';

const person = z.strictObject({
  id: z.string().min(1).max(64),
  name: z.string().max(80).optional(),
  instrument: z.string().max(64).optional(),
  /** Seconds of the best of the measured long tones. */
  longTone: z.number().positive().max(90).optional(),
  /** Seconds set by player or teacher. */
  lungTime: z.number().positive().max(90).optional(),
  lungClass: z.enum(['adult', 'teen', 'child']).optional(),
});

export const rosterShape = z.strictObject({
  format: z.literal('twelvefold-roster'),
  version: z.literal(1),
  people: z.array(person).max(1000),
});

export type Person = z.infer<typeof person>;
export const peopleShape = z.array(person).max(1000);
