/** Every guide that is made from a schema, by its name in docs/. */
import { bookGuide } from './book-guide.js';
import { companionsGuide } from './companions-guide.js';

export const GUIDES: Readonly<Record<string, () => string>> = {
  'book-file.md': bookGuide,
  'roster-and-ensemble-files.md': companionsGuide,
};
