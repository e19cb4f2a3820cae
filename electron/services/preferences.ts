/** How this person likes the window; kept on the machine. */
import { z } from 'zod';

export const preferencesShape = z.strictObject({
  theme: z.enum(['system', 'light', 'dark']).default('system'),
  /** Text size as a percentage. */
  text: z.number().int().min(80).max(200).default(100),
  /** Volume of notes and clicks, 0 to 1. */
  notes: z.number().min(0).max(1).default(0.7),
  click: z.number().min(0).max(1).default(0.5),
  countIn: z.boolean().default(true),
  /** Folder of the last printing. */
  folder: z.string().max(4096).optional(),
});

export type Preferences = z.infer<typeof preferencesShape>;
export const PREFERENCES: Preferences = preferencesShape.parse({});
