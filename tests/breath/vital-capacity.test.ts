import { describe, expect, it } from 'vitest';
import { type Sex, vitalCapacity, vitalCapacityLow } from '../../core/breath/vital-capacity.js';

const sexOf = (letter: string): Sex => (letter === 'M' ? 'male' : 'female');
const rows = (table: string): [string, ...number[]][] =>
  table
    .trim()
    .split('\n')
    .map((row) => row.trim().split(/\s+/))
    .map(([name, ...numbers]) => [name as string, ...numbers.map(Number)]);

// GLI Global 2022 from the published coefficients and the full quarter-year table (two implementations agreed to 4 places):
// sex, age, height cm, FVC L, 5th percentile L.
const GLI = `
M  6 116 1.3660 1.0689
M 10 138 2.1826 1.7176
M 12 150 2.7810 2.1900
M 14 164 3.6626 2.8841
M 16 174 4.4740 3.5213
M 18 177 4.8497 3.8138
M 20 180 5.2000 4.0847
M 25 180 5.3041 4.1507
M 40 175 4.6986 3.6177
M 55 175 4.3161 3.2649
M 70 172 3.7054 2.7576
M 80 170 3.3623 2.4780
F  6 115 1.2594 0.9833
F 10 138 2.0759 1.6294
F 12 152 2.7287 2.1359
F 14 160 3.1923 2.4906
F 16 163 3.4209 2.6618
F 18 164 3.5333 2.7440
F 20 165 3.6324 2.8174
F 25 165 3.6836 2.8521
F 40 165 3.5755 2.7262
F 55 162 3.0783 2.2672
F 70 160 2.6400 1.8694
F 80 158 2.3713 1.6367`;

// Rows of the published spline table (supplement of the same paper) between our knots: age, male M, female M, male S, female S.
const BETWEEN = `
-  3.25 -0.0542628 -0.1303404  0.1385938  0.2472914
-  4.75 -0.0423340 -0.1028295  0.0874594  0.1474443
-  9.50 -0.0504447 -0.0539709  0.0062008  0.0148016
- 13.50 -0.0152430 -0.0002668 -0.0216498 -0.0068646
- 15.50  0.0218047  0.0259748 -0.0295914 -0.0131592
- 24.00  0.1044138  0.0870260 -0.0409495 -0.0474950
- 30.00  0.0946869  0.0965914 -0.0355484 -0.0644545
- 34.00  0.0807633  0.0937403 -0.0287406 -0.0665331
- 38.00  0.0648219  0.0842284 -0.0204764 -0.0612222
- 42.50  0.0440997  0.0661189 -0.0101869 -0.0478720
- 47.50  0.0168979  0.0384340  0.0017933 -0.0268165
- 57.50 -0.0494665 -0.0316585  0.0256030  0.0237335
- 67.50 -0.1218143 -0.1070666  0.0476036  0.0740428
- 77.50 -0.1899472 -0.1782633  0.0672137  0.1198043
- 92.50 -0.2793165 -0.2721390  0.0926057  0.1794463`;

describe('vital capacity, GLI Global 2022', () => {
  it.each(rows(GLI))('%s %d years %d cm: %d L', (name, age, height, median, low) => {
    const body = { age: age as number, height: height as number, sex: sexOf(name) };
    expect(Math.abs(vitalCapacity(body) / (median as number) - 1)).toBeLessThan(0.001);
    expect(Math.abs(vitalCapacityLow(body) / (low as number) - 1)).toBeLessThan(0.0015);
  });

  it.each(rows(BETWEEN))(
    'between the knots (%s %d years) within 0.1 %% of the full table',
    (_, age = 0, maleM = 0, femaleM = 0, maleS = 0, femaleS = 0) => {
      const full = (constant: number, height: number, ofAge: number, spline: number): number =>
        Math.exp(constant + height * Math.log(150) + ofAge * Math.log(age) + spline);
      const low = (spread: number, skew: number): number => (1 - 1.645 * skew * spread) ** (1 / skew);
      const male = full(-12.629131, 2.727421, 0.009174, maleM);
      const female = full(-12.055901, 2.621579, -0.035975, femaleM);
      const maleLow = male * low(Math.exp(-2.195595 + 0.068466 * Math.log(age) + maleS), 0.9346);
      const femaleLow = female * low(Math.exp(-2.310148 + 0.120428 * Math.log(age) + femaleS), 0.899);
      for (const [sex, median, fifth] of [
        ['male', male, maleLow],
        ['female', female, femaleLow],
      ] as const) {
        const body = { age, height: 150, sex };
        expect(Math.abs(vitalCapacity(body) / median - 1)).toBeLessThan(0.001);
        expect(Math.abs(vitalCapacityLow(body) / fifth - 1)).toBeLessThan(0.0015);
      }
    },
  );

  it('takes the mean of both when the sex is not given', () => {
    const body = { age: 25, height: 170 };
    expect(vitalCapacity(body)).toBeCloseTo((vitalCapacity({ ...body, sex: 'male' }) + vitalCapacity({ ...body, sex: 'female' })) / 2, 12);
  });

  it('reaches from 3 to 95 years and no further', () => {
    expect(vitalCapacity({ age: 3, height: 95, sex: 'male' })).toBeGreaterThan(0.5);
    expect(vitalCapacity({ age: 95, height: 165, sex: 'female' })).toBeGreaterThan(1);
    expect(() => vitalCapacity({ age: 2.9, height: 95 })).toThrow('age');
    expect(() => vitalCapacity({ age: 95.1, height: 165 })).toThrow('age');
    expect(() => vitalCapacity({ age: 20, height: 18 })).toThrow('height');
  });
});

// Independent equations of other authors and other people.

/** Hankinson JL, Odencrantz JR, Fedan KB, AJRCCM 1999;159:179-187, tables 4 and 5 ("Caucasian" set). */
function nhanes3(sex: Sex, age: number, height: number, low = false): number {
  if (sex === 'male') {
    const [b0, b1, b2] = age < 20 ? [-0.2584, -0.20415, 0.010133] : [-0.1933, 0.00064, -0.000269];
    return (b0 as number) + (b1 as number) * age + (b2 as number) * age ** 2 + (low ? 0.00015695 : 0.00018642) * height ** 2;
  }
  const [b0, b1, b2] = age < 18 ? [-1.2082, 0.05916, 0] : [-0.356, 0.0187, -0.000382];
  return (b0 as number) + (b1 as number) * age + (b2 as number) * age ** 2 + (low ? 0.00012198 : 0.00014815) * height ** 2;
}

/** Quanjer PhH et al., Eur Respir J 1993;6 Suppl 16:5-40: height in metres, 25 to 70 years. */
const ecsc = (sex: Sex, age: number, height: number): number =>
  sex === 'male' ? 5.76 * height - 0.026 * age - 4.34 : 4.43 * height - 0.026 * age - 2.89;

// 28 CFR Part 79 Appendix A: printed lower limits of FVC for men: height cm, age, L.
const LAW = `
- 154.9 49 2.96
- 154.9 51 2.91
- 154.9 59 2.67
- 154.9 65 2.48
- 154.9 81 1.86
- 160.0 49 3.21
- 160.0 61 2.86
- 160.0 75 2.36
- 165.1 49 3.47
- 165.1 59 3.19
- 165.1 69 2.85
- 165.1 81 2.37
- 167.6 49 3.60
- 167.6 65 3.12`;

const ECSC = `
M 25 1.80 5.378
M 30 1.78 5.1328
M 40 1.75 4.700
M 60 1.72 4.0072
F 25 1.65 3.7695
F 40 1.65 3.3795
F 60 1.60 2.638`;

describe('independent equations', () => {
  it.each(rows(LAW))('NHANES III gives the cell printed in 28 CFR 79 (%s %d cm, %d years)', (_, height = 0, age = 0, printed = 0) => {
    expect(Number(nhanes3('male', age, height, true).toFixed(2))).toBe(printed);
  });

  it.each(rows(ECSC))('ECSC 1993 at its exact points: %s %d %d', (name, age = 0, height = 0, litres = 0) => {
    expect(ecsc(sexOf(name), age, height)).toBeCloseTo(litres, 6);
  });

  const people = rows(GLI).filter(([, age = 0]) => age >= 8 && age <= 80);
  it.each(people)('NHANES III and GLI Global agree within 15 %% on %s %d %d', (name, age = 0, height = 0) => {
    const ratio = nhanes3(sexOf(name), age, height) / vitalCapacity({ age, height, sex: sexOf(name) });
    expect(Math.abs(ratio - 1)).toBeLessThan(0.15);
  });

  it.each(rows(ECSC))('ECSC and GLI Global agree within 15 %% on %s %d %d', (name, age = 0, height = 0) => {
    const ratio = ecsc(sexOf(name), age, height) / vitalCapacity({ age, height: height * 100, sex: sexOf(name) });
    expect(Math.abs(ratio - 1)).toBeLessThan(0.15);
  });

  it('the check would see a sex mixed up or a height in the wrong unit', () => {
    expect(Math.abs(nhanes3('male', 25, 180) / vitalCapacity({ age: 25, height: 180, sex: 'female' }) - 1)).toBeGreaterThan(0.15);
    expect(Math.abs(nhanes3('male', 25, 180) / vitalCapacity({ age: 25, height: 150, sex: 'male' }) - 1)).toBeGreaterThan(0.15);
  });
});
