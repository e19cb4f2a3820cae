/**
 * The distances of the house style, written out a second time; core/engrave/style.ts names the source of each (Gould, Behind
 * Bars; Ross, The Art of Music Engraving and Processing; the SMuFL metadata of the font; or a house choice).
 */
import { describe, expect, it, test } from 'vitest';
import { idealAdvance, STYLE } from '../../core/engrave/style.js';

test('distances in staff spaces', () =>
  expect(STYLE).toEqual({
    staffLine: 0.13,
    stem: 0.125,
    beam: 0.5,
    beamPitch: 0.75,
    ledger: 0.16,
    ledgerExtension: 0.4,
    ledgerTight: 0.3,
    ledgerApart: 0.4,
    thinBarline: 0.16,
    thickBarline: 0.5,
    barlineSeparation: 0.5,
    slurEnd: 0.08,
    slurMiddle: 0.22,
    tupletBracket: 0.125,
    spacing: [
      [0.015625, 1.45],
      [0.03125, 1.7],
      [0.0625, 2],
      [0.125, 2.5],
      [0.25, 3.5],
      [0.5, 5],
      [1, 7],
      [2, 9.5],
    ],
    openness: 1.18,
    shrink: 0.22,
    stretch: 0.5,
    gap: 0.5,
    barlineToNote: 1.1,
    barlineToAccidental: 0.7,
    noteToBarline: 1.1,
    accidentalAllowance: 0.55,
    clefIndent: 0.8,
    headerGap: 1.15,
    headerToNote: { afterClef: 2.2, afterKey: 2.2, afterTime: 1.9, oneAccidental: 1.4 },
    keyStep: { sharp: 1.05, flat: 1, natural: 1 },
    afterMidKey: 1.4,
    accidentalGap: { flat: 0.22, natural: 0.3, sharp: 0.3 },
    dotGap: 0.45,
    stemLength: 3.5,
    stemFloor: 2.5,
    beamedStem: 3.25,
    beamedStemLongest: 4.5,
    curveOffset: 0.85,
    curveFromStem: 0.45,
    slurRise: { least: 0.75, most: 2.2 },
    tieRise: 0.7,
    curveClear: 0.35,
    curveClearLedger: 0.15,
    beamToAccidental: 0.2,
    layerGap: 0.55,
    keyNameLevel: -1.7,
    wordsToStaff: 1,
    size: { keyName: 2.1, barNumber: 1.5, degree: 1.75, tempo: 2.1, label: 1.9, tuplet: 0.9, dynamic: 0.95 },
    breath: { share: 0.6666666666666666, aboveStaff: 0.9, clear: 0.5, size: 0.8, parenthesis: 1.7 },
  }));

describe('the advance of a duration, as Gould prints it (p. 39)', () => {
  it.each([
    [1 / 16, 2],
    [1 / 8, 2.5],
    [1 / 4, 3.5],
    [1 / 2, 5],
    [1, 7],
  ])('of %d of a whole note: %d spaces', (duration, spaces) => expect(idealAdvance(duration)).toBeCloseTo(spaces, 9));
  it('lies between for values between, evenly on the logarithm', () => {
    // A dotted quarter: log2(1.5) = 0.585 of the way from 3.5 to 5, by ratio.
    expect(idealAdvance(3 / 8)).toBeCloseTo(4.3121, 3);
    expect(idealAdvance(1 / 12)).toBeCloseTo(2.1957, 1);
    expect(idealAdvance(1 / 128)).toBeCloseTo(1.2368, 3);
    expect(idealAdvance(4)).toBeCloseTo(12.8929, 3);
  });
});
