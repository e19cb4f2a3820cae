/** Names of output files: predictable, and good on every common file system. */

/** Device names that one common system reserves in every folder (Microsoft, "Naming Files, Paths, and Namespaces"). */
const RESERVED = /^(?:con|prn|aux|nul|com[0-9]|lpt[0-9])$/;

/** Longest stem; with a suffix and an extension it stays under the 255 bytes that file systems allow a name. */
const LONGEST = 80;

/** `Études & Scales, No. 2` → `etudes-scales-no-2`: lower-case letters, digits and single hyphens only; never empty. */
export function slug(text: string): string {
  const plain = text
    .replaceAll('♭', '-flat-')
    .replaceAll('♯', '-sharp-')
    .replace(/['’]/g, '')
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST)
    .replace(/^-+|-+$/g, '');
  if (plain === '') return 'book';
  return RESERVED.test(plain) ? `${plain}-book` : plain;
}

/** Stems in the same order, each different: a repeated one gets `-2`, `-3` … . */
export function distinct(stems: readonly string[]): string[] {
  const taken = new Set<string>();
  const wanted = new Set(stems);
  return stems.map((stem) => {
    let name = stem;
    for (let n = 2; taken.has(name); n++) {
      const next = `${stem}-${n}`;
      // A name that another stem asks for in its own right is not taken from it.
      if (!wanted.has(next) && !taken.has(next)) name = next;
    }
    taken.add(name);
    return name;
  });
}

/** One stem for each edition of a book, in order: `title-instrument`. */
export function editionStems(title: string, instruments: readonly string[]): string[] {
  return distinct(instruments.map((instrument) => `${slug(title)}-${slug(instrument)}`));
}
