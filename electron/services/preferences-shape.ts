/** The shape of saved preferences; what is missing gets its standard. */
import { z } from 'zod';
import { PREFERENCES, type Preferences } from './preferences.js';

export const preferencesShape: z.ZodType<Preferences> = z.strictObject({
  theme: z.enum(['system', 'light', 'dark']).default(PREFERENCES.theme),
  text: z.number().int().min(80).max(200).default(PREFERENCES.text),
  notes: z.number().min(0).max(1).default(PREFERENCES.notes),
  click: z.number().min(0).max(1).default(PREFERENCES.click),
  countIn: z.boolean().default(PREFERENCES.countIn),
  folder: z.string().max(4096).optional(),
});
