/** Plans as they were: for lines of every kind, lungs of several sizes and both manners, where one breathes and at what cost. */
import { expect, it } from 'vitest';
import { breathCandidates } from '../../core/breath/candidates.js';
import { ladder } from '../../core/breath/ladder.js';
import { CAUTIONS, IN_TIME, MARKS_ARE_SUGGESTIONS, MEASURE_YOUR_OWN } from '../../core/breath/page.js';
import { type BreathOptions, breathPlan } from '../../core/breath/plan.js';
import { vitalCapacity, vitalCapacityLow } from '../../core/breath/vital-capacity.js';
import { ladderWords } from '../../core/breath/words.js';
import { frac, text } from '../../core/theory/fraction.js';
import { kindLines } from '../output/exported.js';
import { lungs, QUARTER } from './lines.js';

const WAYS: readonly (readonly [seconds: number, bpm: number, options: BreathOptions])[] = [
  [5, 60, { manner: 'in-time' }],
  [8, 96, { manner: 'in-time', breathSeconds: 0.6 }],
  [3, 40, { manner: 'in-time' }],
  [6, 72, { manner: 'added-beat' }],
  [4, 60, { manner: 'added-beat', added: frac(1, 2) }],
];

it('plans and ladders', async () => {
  const found = kindLines().flatMap((line) => {
    const { id } = line.player.instrument;
    const candidates = breathCandidates(line).map(
      ({ afterEvent, reason, cost, forbidden }) => `${afterEvent} ${reason} ${cost}${forbidden ? '!' : ''}`,
    );
    const plans = WAYS.map(([seconds, bpm, options]) => {
      const plan = breathPlan(line, { beat: QUARTER, bpm }, lungs(seconds, seconds === 8 ? 0.8 : 0), options);
      if (!plan.ok) return `${seconds} s at ${bpm}: ${plan.issues.map(({ message }) => message).join(' ')}`;
      const { breaths, forced, cost, airAtEnd, added } = plan.value;
      const marks = breaths.map((breath) =>
        [
          breath.afterEvent,
          breath.reason,
          text(breath.onset),
          breath.secondsSinceLast.toFixed(3),
          breath.airLeft.toFixed(3),
          breath.seconds.toFixed(3),
        ].join(' '),
      );
      return [
        `${seconds} s at ${bpm}: cost ${cost}, ${forced} forced, ${airAtEnd.toFixed(3)} s left, ${text(added)} added`,
        ...marks.map((mark) => `  ${mark}`),
      ].join('\n');
    });
    const climb = ladder(line, QUARTER, [50, 72, 108, 160], lungs(6), { manner: 'in-time' });
    const steps = climb.ok
      ? `${ladderWords(climb.value)}; ${climb.value.marks.map(({ afterEvent, fallsAway }) => `${afterEvent}${fallsAway ? ' falls away' : ''}`).join(', ')}`
      : climb.issues.map(({ code }) => code).join();
    return [`— ${id}`, candidates.join(', '), ...plans, steps, ''];
  });
  await expect(`${found.join('\n')}\n`).toMatchFileSnapshot('likeness/plans.txt');
});

it('sentences', async () => {
  const text = [CAUTIONS, IN_TIME, MARKS_ARE_SUGGESTIONS, MEASURE_YOUR_OWN].join('\n\n');
  await expect(`${text}\n`).toMatchFileSnapshot('likeness/sentences.txt');
});

it('volumes at every knot of the table, and between', async () => {
  const ages = [
    3,
    3.5,
    4,
    4.5,
    5,
    5.5,
    ...Array.from({ length: 18 }, (_, i) => 6 + i),
    25,
    28,
    30,
    32,
    36,
    40,
    45,
    50,
    55,
    60,
    65,
    70,
    75,
    80,
    85,
    90,
    95,
  ];
  const rows = ages.map((age) => {
    const height = age < 18 ? 80 + 5 * age : 170;
    const cells = (['male', 'female', undefined] as const).map((sex) => {
      const body = { age, height, ...(sex ? { sex } : {}) };
      return `${vitalCapacity(body).toFixed(4)} ${vitalCapacityLow(body).toFixed(4)}`;
    });
    return `${age} ${height}: ${cells.join(', ')}`;
  });
  await expect(`${rows.join('\n')}\n`).toMatchFileSnapshot('likeness/volumes.txt');
});
