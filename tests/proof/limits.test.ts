/**
 * Every limit of the proof, written out a second time. "Gould" is Elaine Gould, Behind Bars (2011), "Ross" is Ted Ross, The Art
 * of Music Engraving and Processing (1970), "Gerou & Lusk" is Essential Dictionary of Music Notation (1996), all second-hand; a
 * number without a source is a house choice.
 */
import { describe, expect, it, test } from 'vitest';
import { LIMIT } from '../../core/proof/tolerance.js';
import { type Built, built, prove, withDocument } from './edition.js';

test('limits in staff spaces, points and shares', () =>
  expect(LIMIT).toEqual({
    same: 0.05,
    drawn: 0.002,
    overlap: 0.02,
    graze: 0.05,
    // Gould pp. 41 to 43, Ross p. 74
    columnGap: 0.5,
    stemToBarline: 1,
    accidentalToBarline: 0.5,
    // plates 0.19 to 0.38, Ross p. 131: 0.54
    accidentalGap: [0.15, 0.55],
    // Gould p. 6, p. 41 f.
    clefIndent: 1,
    headerGap: [1, 1.5],
    headerSlack: 0.25,
    toFirstNote: { afterSign: [2.5, 1.5], afterTime: [2, 1] },
    toFirstNoteSlack: [0.5, 1],
    // Ross p. 144, Gould p. 92
    keyStep: [1, 1.25],
    // Gould p. 14, Ross p. 86
    stem: 3.5,
    stemSlack: 0.25,
    stemFloor: 2.5,
    flagsClear: 0.55,
    flaggedFloor: 3,
    stemNormalWithin: 3.5,
    stemAnchor: 0.06,
    // Gould p. 17, p. 21
    beam: 0.5,
    beamPitch: 0.75,
    beamPitchWide: 1,
    beamSlack: 0.02,
    // Ross pp. 97 to 104, Gould pp. 19 to 21
    beamRise: { second: 0.25, third: 1, fourth: 1.25, wideShort: 1, wideLong: 2, close: 0.5 },
    beamClose: 3,
    beamShortGroup: 4,
    // Ross p. 121, Gould p. 19
    beamClear: 2.5,
    ledgerOverhang: [0.28, 0.45],
    equalAdvance: 0.02,
    // Gould p. 39: 1.40 ± 0.15
    quarterToEighth: [1.25, 1.55],
    rodBound: 0.8,
    width: 0.1,
    classBorder: 0.01,
    alike: 0.1,
    // Gould p. 41, Ross p. 60
    barCount: 1,
    lastNatural: 0.4,
    natural: 0.02,
    // Knuth & Plass, Software: Practice and Experience 11 (1981)
    ratio: [-1, 1.5],
    fitness: [-0.5, 0.5, 1],
    // Ross pp. 64 to 68, Gould p. 488
    systemInk: 1,
    systemStaff: 4,
    systemEven: 0.5,
    pageTop: 1,
    pageFoot: 0.5,
    exerciseAir: 5.2,
    // 15 mm (Gould p. 481); a quarter inch (Gerou & Lusk p. 133)
    margin: 42.52,
    pageNumber: 18,
    insideSlack: 0.1,
    // Gould p. 482 f.
    staff: [7, 9],
    staffSlack: 0.05,
    breathClear: 0.5,
    breathSeconds: 0.05,
    pageBox: 0.01,
  }));

describe('what a page must keep, one just right and one just wrong', () => {
  const one = built({ title: 'One', figure: '1 2 3 5', order: ['C', 'F'], rhythm: 'quarters' });
  type Margins = typeof one.edition.document.margins;
  const told = (b: Built, words: RegExp): number => prove(b).faults.filter(({ what }) => words.test(what)).length;
  const withMargins = (margins: Partial<Margins>): Built =>
    withDocument(one, (document) => ({ ...document, margins: { ...document.margins, ...margins } }));
  const withStaff = (staff: number): Built => ({ ...one, book: { ...one.book, house: { ...one.book.house, staff } } });

  // 15 mm are 42.52 points; a tenth of a point is let pass.
  it.each(['top', 'bottom', 'inner', 'outer'] as const)('a margin of 15 mm: %s', (side) => {
    const narrow = new RegExp(`The ${side} margin is too narrow`);
    expect(told(withMargins({ [side]: 42.43 }), narrow)).toBe(0);
    expect(told(withMargins({ [side]: 42.41 }), narrow)).toBe(1);
  });
  it('an inner margin no narrower than the outer one', () => {
    expect(told(withMargins({ inner: 50, outer: 50.09 }), /narrower than the outer/)).toBe(0);
    expect(told(withMargins({ inner: 50, outer: 50.11 }), /narrower than the outer/)).toBe(1);
  });
  it.each([
    [6.94, 1],
    [6.96, 0],
    [9.04, 0],
    [9.06, 1],
  ])('a staff of 7 to 9 mm: %d', (staff, faults) => expect(told(withStaff(staff), /unsuitable height/)).toBe(faults));
});
