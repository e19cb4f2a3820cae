export type Tone =
  | {
      readonly kind: 'note';
      /** 1 = tonic, 8 = octave, 9 above it; -7 = the seventh below the tonic. Never 0. */
      readonly degree: number;
      /** Relative to the major scale when written (b3, #4), 0 and `plain` when not. */
      readonly alter: number;
      /** No sign was written: the degree is read in the exercise's scale. */
      readonly plain: boolean;
      readonly span: readonly [number, number];
    }
  | { readonly kind: 'rest'; readonly span: readonly [number, number] };

export type Figure = { readonly text: string; readonly tones: readonly Tone[] };
