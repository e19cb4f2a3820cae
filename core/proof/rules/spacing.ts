/** Rules 17 and 18: spacing and width of systems. */

import { factorOf } from '../advances.js';
import type { Finding } from '../fault.js';
import { fillsWidth, type PlacedExercise, type PlacedSystem, round, systemFinding } from '../placed-system.js';
import type { Rule } from '../rule.js';
import { LIMIT } from '../tolerance.js';

/** Rule 17. */
export function spacing(at: PlacedSystem): Finding[] {
  const { advances } = at;
  const findings: Finding[] = [];
  const free = advances.filter((a) => !a.signed && !a.bound);
  const widths = new Map<number, number>();
  for (const one of free) {
    const known = widths.get(one.duration);
    if (known === undefined) widths.set(one.duration, one.width);
    else if (Math.abs(one.width / known - 1) > LIMIT.equalAdvance) {
      const what = 'A note takes another width than an equal one of its system.';
      findings.push(
        systemFinding(at, one.bar, what, {
          amount: round(100 * Math.abs(one.width / known - 1), 1),
          limit: 100 * LIMIT.equalAdvance,
          unit: '%',
        }),
      );
    }
  }
  for (const one of advances) {
    for (const [duration, width] of widths) {
      if (duration >= one.duration || one.width >= width * (1 - LIMIT.equalAdvance)) continue;
      findings.push(
        systemFinding(at, one.bar, 'A longer note takes less room than a shorter one.', {
          amount: round(one.width),
          limit: round(width),
          unit: 'sp',
        }),
      );
    }
  }
  const [quarter, eighth] = [widths.get(1 / 4), widths.get(1 / 8)];
  if (quarter !== undefined && eighth !== undefined) {
    const ratio = quarter / eighth;
    const [least, most] = LIMIT.quarterToEighth;
    if (ratio < least || ratio > most) {
      const what = 'Quarters and eighths are out of proportion.';
      findings.push(systemFinding(at, 0, what, { amount: round(ratio), limit: ratio < least ? least : most, unit: 'ratio' }));
    }
  }
  return findings;
}

/** Rule 18. */
export function systemWidth(exercise: PlacedExercise): Finding[] {
  const findings: Finding[] = [];
  exercise.systems.forEach((at, i) => {
    const { reading } = at;
    const off = Math.abs(at.x + reading.staffLeft * at.scale - at.left);
    if (off > LIMIT.width)
      findings.push(
        systemFinding(at, undefined, 'The system does not begin at the edge of the text block.', {
          amount: round(off),
          limit: LIMIT.width,
          unit: 'pt',
        }),
      );
    const lastLine = reading.barlines.at(-1);
    const courtesy = reading.signatures.some((s) => s.after === reading.barlines.length);
    if (!lastLine) findings.push(systemFinding(at, undefined, 'The system has no barline at its end.'));
    else if (!courtesy && Math.abs(lastLine.x1 - reading.staffRight) * at.scale > LIMIT.width) {
      const gap = Math.abs(lastLine.x1 - reading.staffRight) * at.scale;
      findings.push(
        systemFinding(at, reading.barlines.length - 1, 'The staff does not end at the last barline.', {
          amount: round(gap),
          limit: LIMIT.width,
          unit: 'pt',
        }),
      );
    }
    if (fillsWidth(at)) return;
    const over = at.x + reading.staffRight * at.scale - at.right;
    const last = i === exercise.systems.length - 1;
    if (over > 0 || !last) {
      const what = over > 0 ? 'The system is wider than the text block.' : 'The system does not reach the right edge of the text block.';
      findings.push(systemFinding(at, undefined, what, { amount: round(Math.abs(over)), limit: LIMIT.width, unit: 'pt' }));
      return;
    }
    const factor = factorOf(at.advances);
    if (factor !== undefined && Math.abs(factor - 1) > LIMIT.natural) {
      const what = 'A last system that does not fill the width is not at natural spacing.';
      findings.push(systemFinding(at, undefined, what, { amount: round(factor), limit: 1, unit: 'ratio' }));
    }
  });
  return findings;
}

export const SPACING: Rule = {
  number: 17,
  id: 'spacing',
  title: 'Equal durations get equal space',
  check: { system: ({ at }) => spacing(at) },
};

export const SYSTEM_WIDTH: Rule = {
  number: 18,
  id: 'system-width',
  title: 'Systems fill the width',
  check: { exercise: ({ exercise }) => systemWidth(exercise) },
};
