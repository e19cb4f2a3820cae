/** Where words may be divided (the only import of hyphen: F. M. Liang's patterns). */
import de from 'hyphen/de-1996/index.js';
import enGb from 'hyphen/en-gb/index.js';
import enUs from 'hyphen/en-us/index.js';
import es from 'hyphen/es/index.js';
import fr from 'hyphen/fr/index.js';
import it from 'hyphen/it/index.js';

const BAR = '\u00AD';
const LANGUAGES: Readonly<Record<string, typeof enUs>> = {
  'en-gb': enGb,
  'en-au': enGb,
  'en-nz': enGb,
  'en-ie': enGb,
  en: enUs,
  de,
  fr,
  es,
  it,
};

/**
 * The parts between which a word may be divided; the word alone if it is short, not made of letters only, or in a
 * language without patterns. `language` is a BCP 47 tag such as `en-US`. At least two letters stay before a division and
 * three go to the next line (common practice).
 */
export function syllables(word: string, language: string): readonly string[] {
  const tag = language.toLowerCase();
  const patterns = LANGUAGES[tag] ?? LANGUAGES[tag.split('-', 1).join()];
  if (!patterns || word.length < 6 || !/^\p{L}+$/u.test(word)) return [word];
  const parts = patterns.hyphenateSync(word, { hyphenChar: BAR }).split(BAR);
  while (parts.length > 1 && parts[0]!.length < 2) parts.splice(0, 2, parts[0]! + parts[1]!);
  while (parts.length > 1 && parts.at(-1)!.length < 3) parts.splice(-2, 2, parts.at(-2)! + parts.at(-1)!);
  return parts;
}
