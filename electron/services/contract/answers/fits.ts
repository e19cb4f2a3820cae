/** How the exercises of a book fit the instruments of its editions. */

export type FitCell = { readonly state: 'fits' | 'changed' | 'cannot'; readonly words: string; readonly sounding: string };

export type Fits = {
  readonly editions: readonly string[];
  readonly rows: readonly {
    readonly chapter: number;
    readonly exercise: number;
    readonly title: string;
    readonly cells: readonly FitCell[];
  }[];
};
