/** Every rule of the proof, in the order of the report. A new rule is a line here, beside its case in the tests that breaks it. */

import type { Rule } from './rule.js';
import { BEAM_CLEARANCE, BEAM_INK, BEAM_RISE } from './rules/beams.js';
import { BREATH } from './rules/breath.js';
import { EVENNESS } from './rules/evenness.js';
import { ACCIDENTAL_FIT, HALF_SPACE, LEDGER_LINES, NO_OVERLAP } from './rules/glyphs.js';
import { HEADER_GAPS, KEY_SIGNATURE } from './rules/header.js';
import { HYGIENE } from './rules/hygiene.js';
import { NUMBERING } from './rules/numbering.js';
import { INSIDE_PAGE, PAGE_TURNS } from './rules/page.js';
import { COURTESIES, METRE, REPLAY } from './rules/reading.js';
import { SPACING, SYSTEM_WIDTH } from './rules/spacing.js';
import { MIDDLE_LINE, STEM_ANCHOR, STEM_DIRECTION, STEM_LENGTH } from './rules/stems.js';
import { VERTICAL_AIR } from './rules/vertical.js';

export const RULES: readonly Rule[] = [
  NO_OVERLAP,
  HALF_SPACE,
  ACCIDENTAL_FIT,
  HEADER_GAPS,
  KEY_SIGNATURE,
  REPLAY,
  COURTESIES,
  STEM_LENGTH,
  MIDDLE_LINE,
  STEM_DIRECTION,
  STEM_ANCHOR,
  BEAM_INK,
  BEAM_RISE,
  BEAM_CLEARANCE,
  METRE,
  LEDGER_LINES,
  SPACING,
  SYSTEM_WIDTH,
  EVENNESS,
  VERTICAL_AIR,
  INSIDE_PAGE,
  PAGE_TURNS,
  NUMBERING,
  BREATH,
  HYGIENE,
];
