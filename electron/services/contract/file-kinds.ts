/** The kinds of files that a window opens and saves, by the endings of their names. */

export const FILE_KINDS = {
  book: { ending: '.twelvefold', name: 'Twelvefold book', what: 'a book' },
  roster: { ending: '.roster', name: 'Roster of students', what: 'a roster' },
  ensemble: { ending: '.ensemble', name: 'Ensemble', what: 'an ensemble' },
} as const;
export type FileKind = keyof typeof FILE_KINDS;
export type CompanionKind = Exclude<FileKind, 'book'>;
