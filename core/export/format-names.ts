/** The names of the export formats for a single player. Apart from what makes their files, which is much to load. */
export const FORMATS = ['musicxml', 'mxl', 'midi', 'wav', 'svg', 'png', 'brf', 'braille', 'text'] as const;
export type Format = (typeof FORMATS)[number];
