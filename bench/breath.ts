/** Breath plans: so many exercises for so many players at so many tempos, on one core. */
import { lungTime } from '../core/breath/lung-time.js';
import { breathPlan } from '../core/breath/plan.js';
import { realiseBook } from '../core/build/edition.js';
import { INSTRUMENTS } from '../core/player/catalogue.js';
import { playerOf } from '../core/player/compass.js';
import type { Line } from '../core/player/line.js';
import { frac } from '../core/theory/fraction.js';
import { benchBook } from './book.js';

const PLAYERS = 40;
const EXERCISES = 200;
const TEMPOS = [52, 60, 72, 84, 96, 112, 132, 160];
/** Players planned for; the rest is reckoned from them, since their work is the same. */
const SAMPLE = 10;

/** Seconds of processor time for all plans, lines already there. */
export function breathSeconds(): { readonly plans: number; readonly seconds: number } {
  const book = benchBook(EXERCISES / 2);
  const blown = INSTRUMENTS.filter((one) => one.breath);
  const sets = Array.from({ length: SAMPLE }, (_, i) => {
    const player = playerOf({ instrument: blown[i % blown.length]?.id ?? 'flute', level: 'professional' });
    const lines = player.ok ? realiseBook(book, player.value) : player;
    if (!player.ok || !lines.ok) throw new Error('the bench book can be played');
    const lung = lungTime({}, player.value.instrument);
    if (!lung.ok || !lung.value) throw new Error('a wind instrument has a lung time');
    return { lines: [...lines.value.values()].slice(0, EXERCISES) as Line[], lung: lung.value };
  });
  const run = (): number => {
    const before = process.cpuUsage();
    for (const { lines, lung } of sets) {
      for (const line of lines) for (const bpm of TEMPOS) breathPlan(line, { beat: frac(1, 4), bpm }, lung, { manner: 'in-time' });
    }
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1e6;
  };
  run();
  const seconds = Math.min(run(), run());
  const scale = (PLAYERS / SAMPLE) * (EXERCISES / (sets[0]?.lines.length ?? EXERCISES));
  return { plans: PLAYERS * EXERCISES * TEMPOS.length, seconds: seconds * scale };
}
