/**
 * Musical signs within text: which glyph of the music font stands for a character, how large beside the letters, how
 * high, and with how much room, so that `B♭` reads as one word. Sizes and heights are in ems of the surrounding text.
 */

export type Sign = {
  /** What is set in the music font. The plain character where that font has it, so that the page's text can be copied. */
  readonly text: string;
  /** Type size of the glyph ÷ type size of the text. */
  readonly scale: number;
  /** How far the glyph's baseline stands above that of the text. */
  readonly rise: number;
  /** Space kept before and after the glyph. */
  readonly before: number;
  readonly after: number;
};

/*
 * The flat's bowl stands on the baseline like a letter's and its stem reaches a little above the capitals (0.67 em); sharp
 * and natural are centred on the middle of the capitals. The font's own text forms would be better, but it has none.
 */
const SIGNS: Readonly<Record<string, Sign>> = {
  '♭': { text: '♭', scale: 1.18, rise: 0.172, before: 0.03, after: 0.045 },
  '♮': { text: '♮', scale: 1.05, rise: 0.335, before: 0.04, after: 0.05 },
  '♯': { text: '♯', scale: 1.05, rise: 0.335, before: 0.035, after: 0.05 },
  '𝄫': { text: '\uE264', scale: 1.18, rise: 0.172, before: 0.03, after: 0.045 },
  '𝄪': { text: '\uE263', scale: 1.3, rise: 0.31, before: 0.05, after: 0.06 },
  // Notes of metronome marks (SMuFL, "Metronome marks" U+ECA0–U+ECBF): whole, half, quarter, eighth, 16th, dot.
  '\u{1D15D}': { text: '\uECA2', scale: 1.1, rise: 0.01, before: 0.02, after: 0.06 },
  '\u{1D15E}': { text: '\uECA3', scale: 1.1, rise: 0.01, before: 0.02, after: 0.08 },
  '♩': { text: '\uECA5', scale: 1.1, rise: 0.01, before: 0.02, after: 0.08 },
  '♪': { text: '\uECA7', scale: 1.1, rise: 0.01, before: 0.02, after: 0.04 },
  '\u{1D161}': { text: '\uECA9', scale: 1.1, rise: 0.01, before: 0.02, after: 0.04 },
  '\u{1D16D}': { text: '\uECB7', scale: 1.5, rise: -0.03, before: 0, after: 0.06 },
};

export const DOT = '\u{1D16D}';
const NOTE_VALUES = new Set(['\u{1D15D}', '\u{1D15E}', '♩', '♪', '\u{1D161}']);

/** True for a note value, after which a full stop means a dotted note. */
export const isNoteValue = (character: string): boolean => NOTE_VALUES.has(character);

/** Unicode composes notes of head, stem and flag (normal form C keeps them apart): as one character here. */
export const withWholeNotes = (text: string): string =>
  text
    .replaceAll('\u{1D158}\u{1D165}\u{1D16F}', '\u{1D161}')
    .replaceAll('\u{1D158}\u{1D165}\u{1D16E}', '♪')
    .replaceAll('\u{1D158}\u{1D165}', '♩')
    .replaceAll('\u{1D157}\u{1D165}', '\u{1D15E}');

export const signOf = (character: string): Sign | undefined => SIGNS[character];

/**
 * A code span of the author's text: scale degrees (`1 b3 #4 5`) and note names (`Bb`, `F##`) get real signs; anything
 * else stays as it is. Degrees stand a little apart, as in `1 2 ♭3 5`.
 */
export function withRealSigns(code: string): string {
  return code
    .trim()
    .split(/\s+/)
    .map((word) => {
      const degree = /^(-?)(bb|##|x|b|#)?(-?\d{1,2})$/.exec(word);
      if (degree) return `${degree[1]}${degree[2] ? SIGN_OF[degree[2]] : ''}${degree[3]}`.replace('-', '−');
      const note = /^([A-G])(bb|##|x|b|#)(\d|m)?$/.exec(word);
      return note ? `${note[1]}${SIGN_OF[note[2]!]}${note[3] ?? ''}` : word;
    })
    .join(' ');
}

const SIGN_OF: Readonly<Record<string, string>> = { b: '♭', bb: '𝄫', '#': '♯', '##': '𝄪', x: '𝄪' };

/** True if every word of the code span is a scale degree: then the span is set as a figure. */
export const isFigure = (code: string): boolean => /^\s*(-?(bb|##|x|b|#)?-?\d{1,2}|r)(\s+(-?(bb|##|x|b|#)?-?\d{1,2}|r))*\s*$/.test(code);
