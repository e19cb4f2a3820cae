/**
 * The house style: every distance of the engraving in staff spaces, with its source. "Gould" is Elaine Gould, Behind
 * Bars (2011); "Ross" is Ted Ross, The Art of Music Engraving and Processing (1970); both second-hand unless marked.
 * "House" is our own choice where no number is published.
 */
export const STYLE = {
  /** Thicknesses: the music font's own engraving defaults (SMuFL metadata of Sebastian 1.1). */
  staffLine: 0.13,
  stem: 0.125,
  beam: 0.5,
  /** Distance between the same edges of neighbouring beams: thickness ½ and gap ¼ (Gould p. 17). */
  beamPitch: 0.75,
  ledger: 0.16,
  /** Ledger lines project this far on each side of the head (SMuFL metadata). */
  ledgerExtension: 0.4,
  /** Shortened where neighbours would otherwise come nearer than `ledgerApart` (house). */
  ledgerTight: 0.3,
  ledgerApart: 0.4,
  thinBarline: 0.16,
  thickBarline: 0.5,
  barlineSeparation: 0.5,
  slurEnd: 0.08,
  slurMiddle: 0.22,
  tupletBracket: 0.125,

  /** Note spacing, notehead to notehead, by duration: 16th 2, 8th 2½, quarter 3½, half 5, whole 7 (Gould p. 39). */
  spacing: [
    [1 / 64, 1.45],
    [1 / 32, 1.7],
    [1 / 16, 2],
    [1 / 8, 2.5],
    [1 / 4, 3.5],
    [1 / 2, 5],
    [1, 7],
    [2, 9.5],
  ] as readonly (readonly [number, number])[],
  /** Natural setting relative to those proportions: technique books are set a little open (house). */
  openness: 1.18,
  /** How far a system may close up or open from natural before it counts as bad, as a share of natural (house). */
  shrink: 0.22,
  stretch: 0.5,

  /** No two characters nearer than this (Gould p. 41). */
  gap: 0.5,
  /** Barline to note, either side (Gould p. 42, Ross p. 74); a stem never nearer than 1. */
  barlineToNote: 1.1,
  barlineToAccidental: 0.7,
  noteToBarline: 1.1,
  /** Extra advance for a note that carries an accidental: plates show 0.6 to 0.75 (measured, second-hand). */
  accidentalAllowance: 0.55,

  /** Header of a system (Gould p. 41 f.): clef indent, gaps between signs, and before the first note. */
  clefIndent: 0.8,
  headerGap: 1.15,
  headerToNote: { afterClef: 2.2, afterKey: 2.2, afterTime: 1.9, oneAccidental: 1.4 },
  /** Step from sign to sign inside a key signature (Ross p. 144, Gould p. 92). */
  keyStep: { sharp: 1.05, flat: 1, natural: 1 },
  /** Gap after a signature in mid-system (Gould p. 42). */
  afterMidKey: 1.4,

  /** Accidental to head: plates measure 0.19 to 0.38 (Gould p. 78, measured). */
  accidentalGap: { flat: 0.22, natural: 0.3, sharp: 0.3 },
  dotGap: 0.45,

  /** Stems (Gould p. 14, read). */
  stemLength: 3.5,
  stemFloor: 2.5,
  /** Shortest stem under a beam, to its outer edge: a head on a line takes 3¼ (Ross p. 121). */
  beamedStem: 3.25,
  beamedStemLongest: 4.5,

  /** Slurs and ties, from the head's centre or the stem's end (house). */
  curveOffset: 0.85,
  curveFromStem: 0.45,
  slurRise: { least: 0.75, most: 2.2 },
  tieRise: 0.7,
  /** White kept between a slur and the ink under it (house). */
  curveClear: 0.35,
  /** The same to the end of a ledger line, and between a beam and an accidental under it (house). */
  curveClearLedger: 0.15,
  beamToAccidental: 0.2,

  /** White between neighbouring layers above and below the staff (house; never under ½, Gould p. 41). */
  layerGap: 0.55,
  /** Baseline of a key name when nothing is in its way (house). */
  keyNameLevel: -1.7,
  /** Nearest that words come to the staff. */
  wordsToStaff: 1,
  /** Type sizes in spaces; tempo 10 to 12 pt at a 7 mm staff (Ross A-46), tuplet numeral 1⅓ to 1½ high (Ross p. 159). */
  size: { keyName: 2.1, barNumber: 1.5, degree: 1.75, tempo: 2.1, label: 1.9, tuplet: 0.9, dynamic: 0.95 },

  /**
   * Breath mark: its middle at ⅔ of the white gap after its note, 0.9 above the staff or ½ above the ink under it, and
   * one level through a system (house; the comma's size is the font's).
   */
  breath: { share: 2 / 3, aboveStaff: 0.9, clear: 0.5, size: 0.8, parenthesis: 1.7 },
} as const;

/** Ideal advance of a duration (whole notes) in spaces before openness: interpolated on the logarithm of the duration. */
export function idealAdvance(duration: number): number {
  const table = STYLE.spacing;
  let i = 1;
  while (i < table.length - 1 && (table[i] as readonly [number, number])[0] < duration) i++;
  const [d0, w0] = table[i - 1] as readonly [number, number];
  const [d1, w1] = table[i] as readonly [number, number];
  const t = Math.log2(duration / d0) / Math.log2(d1 / d0);
  return w0 * (w1 / w0) ** t;
}
