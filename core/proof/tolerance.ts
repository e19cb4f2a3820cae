/**
 * Every limit of the proof, with its source. Staff spaces unless said. "Gould" is Elaine Gould, Behind Bars (2011),
 * "Ross" is Ted Ross, The Art of Music Engraving and Processing (1970), both second-hand; "house" is our own choice.
 */
export const LIMIT = {
  /** Positions that should be equal. */
  same: 0.05,
  /** A distance between two places, each of which drawings hold to the nearest thousandth. */
  drawn: 0.002,
  /** Ink may share this much in both directions before it counts as overlapping: the width of a hairline at 7 mm (house). */
  overlap: 0.02,
  /** A curve may graze ink that it passes over by this much: a third of a staff line (house). */
  graze: 0.05,

  /** Rule 2. Absolute minimum between characters (Gould p. 41). */
  columnGap: 0.5,
  /** A stem or head to a barline (Gould pp. 42 f., Ross p. 74); an accidental to a barline (Gould p. 42). */
  stemToBarline: 1,
  accidentalToBarline: 0.5,

  /** Rule 3. Accidental to head: plates measure 0.19 to 0.38, Ross p. 131 gives 0.54. */
  accidentalGap: [0.15, 0.55],

  /** Rule 4. Clef indent (Gould p. 6). Between signs 1 to 1½ (Gould p. 41), give or take ¼. */
  clefIndent: 1,
  headerGap: [1, 1.5],
  headerSlack: 0.25,
  /** Before the first note: plain, one accidental (Gould p. 42). */
  toFirstNote: { afterSign: [2.5, 1.5], afterTime: [2, 1] },
  /**
   * How far below and above those. Below ½ rather than ¼: Gould's numbers are for parts, and the signs of this font are
   * narrower than their boxes; technique books set the header a little tighter (house).
   */
  toFirstNoteSlack: [0.5, 1],

  /** Rule 5. Step of sharps 1 to 1¼, of flats 1 (Ross p. 144, Gould p. 92). */
  keyStep: [1, 1.25],

  /** Rule 8. Normal length and how far from it; floor; floor with a flag (Gould p. 14, read; Ross p. 86). */
  stem: 3.5,
  stemSlack: 0.25,
  stemFloor: 2.5,
  /** Added for two flags that reach up to their own head (measured on the font). */
  flagsClear: 0.55,
  flaggedFloor: 3,
  /** Heads this near to the middle line have stems of normal length. */
  stemNormalWithin: 3.5,
  /** Rule 11. */
  stemAnchor: 0.06,

  /** Rule 12. Thickness ½, pitch ¾ (Gould p. 17); 1 for three or more slanted beams (Gould p. 21). */
  beam: 0.5,
  beamPitch: 0.75,
  beamPitchWide: 1,
  beamSlack: 0.02,
  /** Rule 13. Largest rise by interval in steps (Ross pp. 97–104, Gould pp. 19–21); close: white between heads under 3. */
  beamRise: { second: 0.25, third: 1, fourth: 1.25, wideShort: 1, wideLong: 2, close: 0.5 },
  beamClose: 3,
  /** Groups up to this many notes count as short (Gould p. 20). */
  beamShortGroup: 4,
  /** Rule 14. Head to outer edge of any beam (Ross p. 121, Gould p. 19). */
  beamClear: 2.5,

  /** Rule 16. Overhang of ledger lines (SMuFL metadata 0.4, house 0.3 where notes are close). */
  ledgerOverhang: [0.28, 0.45],

  /** Rule 17. Equal within 2 % (measured in engraving). Quarter to eighth 1.40 ± 0.15 (Gould p. 39). */
  equalAdvance: 0.02,
  quarterToEighth: [1.25, 1.55],
  /** White that shows that two columns rest on their minimum: the half space and a little. */
  rodBound: 0.8,

  /** Rule 18, in points. */
  width: 0.1,
  /** Rule 19. A ratio read from a drawing may be off by this much from that of its springs (rounding). */
  classBorder: 0.01,
  /** Bars are alike when their natural widths differ by no more than this share (house). */
  alike: 0.1,
  /** Numbers of bars of neighbouring systems, when the bars are alike (Gould p. 41, Ross p. 60). */
  barCount: 1,
  /** Ratio from which a last system may be left at natural width (house). */
  lastNatural: 0.4,

  /** Rule 18. An unjustified system's spacing may differ from natural by this share. */
  natural: 0.02,

  /**
   * Rule 19. Adjustment ratio: tightest -1 (Knuth & Plass, SP&E 11, 1981); loosest 1.5, where spacing of a whole system
   * begins to look open beside its neighbours (house). Fitness classes at -½, ½, 1 (the same paper).
   */
  ratio: [-1, 1.5],
  fitness: [-0.5, 0.5, 1],

  /** Rule 20. Ink to ink (Ross pp. 64–68), staff to staff (Gould p. 488), difference between like distances. */
  systemInk: 1,
  systemStaff: 4,
  systemEven: 0.5,
  /** Facing pages: their highest and their lowest ink (Gould p. 488). A title's capitals stand a little under its line's top. */
  pageTop: 1,
  pageFoot: 0.5,
  /** Least air between two exercises from ink to ink: 3.2 and the white in the lines of text between them (house). */
  exerciseAir: 5.2,

  /** Rule 21, in points: margins 15 mm (Gould p. 481), page number ¼ in from the edge (Gerou & Lusk p. 133). */
  margin: 42.52,
  pageNumber: 18,
  insideSlack: 0.1,
  /** Staff height in millimetres: parts 7 to 8.5, teaching material up to 9 (Gould p. 482 f.); give or take 0.05. */
  staff: [7, 9],
  staffSlack: 0.05,

  /** Rule 24. White round a breath mark (house, after Gould p. 41). Seconds that a plan may overrun by rounding. */
  breathClear: 0.5,
  breathSeconds: 0.05,

  /** Rule 25, in points. */
  pageBox: 0.01,
} as const;
