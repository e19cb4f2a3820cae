/** The signs by the code points of the registry of the Standard Music Font Layout (W3C SMuFL 1.4). */
import { expect, test } from 'vitest';
import { GLYPH } from '../../core/engrave/glyphs.js';

const REGISTRY = `
bracketTop U+E003, bracketBottom U+E004, gClef U+E050, cClef U+E05C, fClef U+E062, timeSig0 U+E080,
noteheadWhole U+E0A2, noteheadHalf U+E0A3, noteheadBlack U+E0A4, augmentationDot U+E1E7, flag8thUp U+E240,
flag8thDown U+E241, flag16thUp U+E242, flag16thDown U+E243, flag32ndUp U+E244, flag32ndDown U+E245,
accidentalFlat U+E260, accidentalNatural U+E261, accidentalSharp U+E262, accidentalDoubleSharp U+E263,
accidentalDoubleFlat U+E264, articAccentAbove U+E4A0, articAccentBelow U+E4A1, articStaccatoAbove U+E4A2,
articStaccatoBelow U+E4A3, articTenutoAbove U+E4A4, articTenutoBelow U+E4A5, breathMarkComma U+E4CE, restWhole U+E4E3,
restHalf U+E4E4, restQuarter U+E4E5, rest8th U+E4E6, rest16th U+E4E7, rest32nd U+E4E8, dynamicPiano U+E520,
dynamicMezzo U+E521, dynamicForte U+E522, dynamicPP U+E52B, dynamicMP U+E52C, dynamicMF U+E52D, dynamicFF U+E52F,
tuplet0 U+E880, metNoteHalfUp U+ECA3, metNoteQuarterUp U+ECA5, metNote8thUp U+ECA7, metAugmentationDot U+ECB7
`;

test('every sign that is printed', () => {
  const named = Object.entries(GLYPH).map(([name, code]) => `${name} U+${code.toString(16).toUpperCase()}`);
  expect(named).toEqual(REGISTRY.trim().split(/,\s+/));
});
