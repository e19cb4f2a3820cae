/**
 * Forced vital capacity from age, height and sex: GLI Global 2022, one formula for everybody from 3 to 95 years.
 * Source: Bowerman C, Bhakta NR, Brazzale D, et al., Am J Respir Crit Care Med 2023;207(6):768-774,
 * doi 10.1164/rccm.202205-0963OC, coefficients and spline table of its supplement. The table runs by quarter years; the
 * knots below (rounded to 4 places), joined by straight lines, give the same volume within 0.1 %.
 * The result serves to place breath marks. It is no medical measurement.
 */
import { assert } from '../base/issue.js';

export type Sex = 'male' | 'female';

/** Age in years, height in centimetres. Without sex, the mean of both. */
export type Body = { readonly age: number; readonly height: number; readonly sex?: Sex };

/** Years for which the equations were published. */
export const AGES = { from: 3, to: 95 } as const;

/** Centimetres. The publication states no limits: these are a house choice around the people it measured. */
export const HEIGHTS = { from: 80, to: 220 } as const;

type Equation = {
  readonly constant: number;
  readonly height: number;
  readonly age: number;
  readonly spread: number;
  readonly spreadAge: number;
  /** Skewness: the L of the LMS method. */
  readonly skew: number;
};

const EQUATIONS: Readonly<Record<Sex, Equation>> = {
  male: { constant: -12.629131, height: 2.727421, age: 0.009174, spread: -2.195595, spreadAge: 0.068466, skew: 0.9346 },
  female: { constant: -12.055901, height: 2.621579, age: -0.035975, spread: -2.310148, spreadAge: 0.120428, skew: 0.899 },
};

/** Age, then the splines of the median and of the spread: male M, male S, female M, female S. */
const SPLINES: readonly (readonly [number, number, number, number, number])[] = [
  [3, -0.0569, 0.1495, -0.1364, 0.2687],
  [3.5, -0.0517, 0.1285, -0.1248, 0.2275],
  [4, -0.0472, 0.1105, -0.1149, 0.1921],
  [4.5, -0.0436, 0.0947, -0.1065, 0.1613],
  [5, -0.0414, 0.0807, -0.0994, 0.1345],
  [6, -0.0405, 0.0573, -0.0882, 0.091],
  [7, -0.0428, 0.0386, -0.0788, 0.0589],
  [8, -0.0466, 0.0236, -0.0697, 0.0361],
  [9, -0.0498, 0.0114, -0.0596, 0.0205],
  [10, -0.0502, 0.0015, -0.048, 0.0102],
  [11, -0.0461, -0.0067, -0.0352, 0.0033],
  [12, -0.037, -0.0135, -0.0214, -0.0015],
  [13, -0.0234, -0.0192, -0.0073, -0.0052],
  [14, -0.0064, -0.0239, 0.0066, -0.0084],
  [15, 0.0124, -0.0279, 0.0198, -0.0116],
  [16, 0.0311, -0.0312, 0.0319, -0.0148],
  [17, 0.0485, -0.0339, 0.0428, -0.0184],
  [18, 0.064, -0.0361, 0.0524, -0.0222],
  [19, 0.0769, -0.0379, 0.0608, -0.0262],
  [20, 0.0869, -0.0392, 0.0679, -0.0305],
  [21, 0.0944, -0.0402, 0.074, -0.0348],
  [22, 0.0995, -0.0408, 0.0791, -0.0392],
  [23, 0.1028, -0.041, 0.0835, -0.0434],
  [25, 0.1047, -0.0406, 0.0899, -0.0513],
  [28, 0.1002, -0.0381, 0.0954, -0.0605],
  [32, 0.088, -0.0324, 0.096, -0.0665],
  [36, 0.0731, -0.0247, 0.0898, -0.0647],
  [40, 0.056, -0.016, 0.0771, -0.0561],
  [45, 0.0311, -0.0042, 0.0532, -0.038],
  [50, 0.0015, 0.0078, 0.0222, -0.0148],
  [55, -0.0318, 0.0198, -0.0131, 0.0108],
  [60, -0.0675, 0.0313, -0.0505, 0.0366],
  [65, -0.1039, 0.0423, -0.0884, 0.0618],
  [70, -0.1394, 0.0527, -0.1254, 0.086],
  [75, -0.1735, 0.0625, -0.1611, 0.1088],
  [80, -0.2059, 0.0718, -0.195, 0.1305],
  [85, -0.2365, 0.0804, -0.2272, 0.1509],
  [90, -0.2654, 0.0887, -0.2575, 0.1702],
  [95, -0.2928, 0.0964, -0.2864, 0.1885],
];

const COLUMNS = { male: { median: 1, spread: 2 }, female: { median: 3, spread: 4 } } as const;

function spline(age: number, column: 1 | 2 | 3 | 4): number {
  const next = Math.max(
    1,
    SPLINES.findIndex((row) => row[0] >= age),
  );
  const above = SPLINES[next]!;
  const below = SPLINES[next - 1]!;
  const share = (age - below[0]) / (above[0] - below[0]);
  return below[column] + share * (above[column] - below[column]);
}

function inRange(body: Body): void {
  assert(body.age >= AGES.from && body.age <= AGES.to, `age within ${AGES.from} to ${AGES.to} years`);
  assert(body.height >= HEIGHTS.from && body.height <= HEIGHTS.to, `height within ${HEIGHTS.from} to ${HEIGHTS.to} cm`);
}

function forSex(body: Body, volume: (sex: Sex) => number): number {
  return body.sex ? volume(body.sex) : (volume('male') + volume('female')) / 2;
}

function median({ age, height }: Body, sex: Sex): number {
  const of = EQUATIONS[sex];
  return Math.exp(of.constant + of.height * Math.log(height) + of.age * Math.log(age) + spline(age, COLUMNS[sex].median));
}

/** Median forced vital capacity in litres (body temperature, saturated). Asserts age and height in range. */
export function vitalCapacity(body: Body): number {
  inRange(body);
  return forSex(body, (sex) => median(body, sex));
}

/** The volume in litres that 19 of 20 people of this age, height and sex exceed: the 5th percentile, by the LMS method. */
export function vitalCapacityLow(body: Body): number {
  inRange(body);
  return forSex(body, (sex) => {
    const of = EQUATIONS[sex];
    const spread = Math.exp(of.spread + of.spreadAge * Math.log(body.age) + spline(body.age, COLUMNS[sex].spread));
    return median(body, sex) * (1 - 1.645 * of.skew * spread) ** (1 / of.skew);
  });
}
