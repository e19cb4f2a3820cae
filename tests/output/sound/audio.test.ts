import { describe, expect, it } from 'vitest';
import { breathPlan } from '../../../core/breath/plan.js';
import { type AudioOptions, practiceAudio } from '../../../core/output/sound/audio.js';
import { type Performance, type PerformanceOptions, perform } from '../../../core/output/sound/performance.js';
import { wavHeader } from '../../../core/output/sound/wav.js';
import type { Line } from '../../../core/player/line.js';
import { frac, toNumber } from '../../../core/theory/fraction.js';
import { lungs } from '../../breath/lines.js';
import { codes, player, realised, value } from '../../player/fixture.js';

const SLOW = { beat: frac(1, 4), bpm: 60 };
const performed = (line: Line, options: PerformanceOptions = {}): Performance => value(perform(line, { tempo: SLOW, ...options }));

type Heard = { readonly rate: number; readonly samples: Float32Array };

/** A WAV file read by its own chunk tags, not by what the writer meant. */
function readWav(file: Uint8Array): Heard {
  const view = new DataView(file.buffer, file.byteOffset);
  const tag = (at: number) => String.fromCharCode(...file.subarray(at, at + 4));
  expect(`${tag(0)} ${tag(8)} ${view.getUint32(4, true) + 8}`).toBe(`RIFF WAVE ${file.length}`);
  let rate = 0;
  for (let at = 12; at < file.length; at += 8 + view.getUint32(at + 4, true)) {
    if (tag(at) === 'fmt ') rate = view.getUint32(at + 12, true);
    if (tag(at) !== 'data') continue;
    const count = view.getUint32(at + 4, true) / 2;
    expect(at + 8 + 2 * count).toBe(file.length);
    return { rate, samples: Float32Array.from({ length: count }, (_, i) => view.getInt16(at + 8 + 2 * i, true) / 32768) };
  }
  throw new Error('no data');
}

function recorded(runs: readonly Performance[], options: AudioOptions = {}): Heard {
  const audio = value(practiceAudio(runs, options));
  const file = Buffer.concat([...audio.chunks()]);
  expect(file.length).toBe(audio.bytes);
  return readWav(file);
}

/**
 * Pitch by autocorrelation: the lag at which a stretch of sound is most like itself, refined by a parabola through the peak
 * and its neighbours, over several periods for sharpness.
 */
function pitchAt({ rate, samples }: Heard, seconds: number, near: number, length = 0.12): number {
  const from = Math.round(seconds * rate);
  const size = Math.round(length * rate);
  const likeness = (lag: number): number => {
    let [both, a, b] = [0, 0, 0];
    for (let i = from; i < from + size; i++) {
      const x = samples[i] as number;
      const y = samples[i + lag] as number;
      both += x * y;
      a += x * x;
      b += y * y;
    }
    return both / Math.sqrt(a * b);
  };
  const periods = Math.max(1, Math.floor(0.05 * near));
  const centre = (periods * rate) / near;
  // Under half a period, so that a neighbouring period is not taken for the wanted one.
  const reach = Math.max(2, Math.ceil(Math.min(0.01 * centre, (0.45 * rate) / near)));
  let best = Math.round(centre);
  for (let lag = Math.round(centre) - reach; lag <= centre + reach; lag++) if (likeness(lag) > likeness(best)) best = lag;
  const [l, m, r] = [likeness(best - 1), likeness(best), likeness(best + 1)];
  const lag = best + (0.5 * (l - r)) / (l - 2 * m + r);
  return (periods * rate) / lag;
}

const cents = (a: number, b: number): number => 1200 * Math.log2(a / b);

/** Onsets by energy: where the loudness over 2 ms rises through a tenth of the loudest after at least 5 ms below it. */
function onsets({ rate, samples }: Heard, share = 0.1): number[] {
  const window = Math.round(0.002 * rate);
  const levels = Float32Array.from({ length: Math.floor(samples.length / window) }, (_, i) => {
    let energy = 0;
    for (let k = i * window; k < (i + 1) * window; k++) energy += (samples[k] as number) ** 2;
    return Math.sqrt(energy / window);
  });
  const limit = share * levels.reduce((a, b) => Math.max(a, b), 0);
  const found: number[] = [];
  let quiet = 3;
  levels.forEach((level, i) => {
    if (level < limit) quiet++;
    else {
      if (quiet >= 3) found.push((i * window) / rate);
      quiet = 0;
    }
  });
  return found;
}

const START = 0.1; // seconds of silence before the first run

describe('pitch', () => {
  // Equal temperament (ISO 16: A4 = 440 Hz): computed here from the key number, not taken from the program.
  it.each([
    ['flute', 440, 44100],
    ['flute', 415, 48000],
    ['tuba', 466, 44100],
    ['piccolo', 442, 48000],
    ['alto-saxophone', 440, 48000],
  ] as const)('%s at A = %i, %i samples a second: within 2 cents', (instrument, a4, rate) => {
    const line = realised({ figure: '1 2 3 5', rhythm: 'quarters', order: { name: 'major-thirds' } }, player(instrument));
    const performance = performed(line);
    const sound = recorded([performance], { a4, rate });
    expect(sound.rate).toBe(rate);
    for (const note of performance.notes.slice(0, 12)) {
      const wanted = a4 * 2 ** ((note.key - 69) / 12);
      const at = START + toNumber(note.onset) * performance.secondsPerWhole + 0.15;
      expect(Math.abs(cents(pitchAt(sound, at, wanted), wanted))).toBeLessThan(2);
    }
  });

  it('a tone ten cents off is seen', () => {
    const line = realised({ figure: '1', rhythm: 'quarters', order: { name: 'tritones' } }, player('flute'));
    const performance = performed(line);
    const sound = recorded([performance], { a4: 440 * 2 ** (10 / 1200) });
    const wanted = 440 * 2 ** (((performance.notes[0]?.key ?? 0) - 69) / 12);
    expect(cents(pitchAt(sound, START + 0.15, wanted), wanted)).toBeCloseTo(10, 0);
  });
});

describe('onsets', () => {
  const line = realised({ figure: '1 2 3 5', articulation: { groups: [] } }, player('clarinet-in-bb'));

  it.each([
    [60, 1],
    [96, 1],
    [133, 1],
  ])('at %i beats a minute, each within 5 ms', (bpm) => {
    const performance = performed(line, { tempo: { beat: frac(1, 4), bpm } });
    const found = onsets(recorded([performance]));
    const wanted = performance.notes.map((note) => START + toNumber(note.onset) * performance.secondsPerWhole);
    expect(found.length).toBe(wanted.length);
    for (const [i, at] of found.entries()) expect(Math.abs(at - (wanted[i] as number))).toBeLessThan(0.005);
  });

  it('after an added beat too', () => {
    const plan = value(breathPlan(line, SLOW, lungs(7), { manner: 'added-beat' }));
    const performance = performed(line, { breaths: plan });
    const found = onsets(recorded([performance]));
    const last = line.events.at(-1)!;
    const wanted = START + 4 * toNumber(last.onset) + plan.breaths.length;
    expect(Math.abs((found.at(-1) as number) - wanted)).toBeLessThan(0.005);
  });

  it('of the count-in alone: one for each beat', () => {
    const performance = performed(line, { countIn: 1 });
    const found = onsets(recorded([{ ...performance, notes: [] }]));
    expect(found.map((at) => Math.round((at - START) * 1000))).toSatisfy(
      (all: number[]) => all.length === 4 && all.every((ms, i) => Math.abs(ms - 1000 * i) < 5),
    );
  });
});

describe('the sound', () => {
  const line = realised({ figure: '1 3 5', articulation: { groups: [3] } }, player('flute'));

  it('has no clicks: no step from sample to sample beyond what the tone itself makes', () => {
    const { samples } = recorded([performed(line)], { drone: true });
    let most = 0;
    for (let i = 1; i < samples.length; i++) most = Math.max(most, Math.abs((samples[i] as number) - (samples[i - 1] as number)));
    const highest = Math.max(...performed(line).notes.map((note) => 440 * 2 ** ((note.key - 69) / 12)));
    expect(most).toBeLessThan((2 * Math.PI * highest * 2 * 0.42) / 44100);
    expect(samples[0]).toBe(0);
    expect(samples.at(-1)).toBe(0);
  });

  it('is never cut at full scale, with everything on', () => {
    const loud = realised({ figure: '1 3 5', articulation: { groups: [3] }, dynamic: 'ff' }, player('flute'));
    const { samples } = recorded([performed(loud, { click: true, countIn: 1 })], { drone: true });
    const most = samples.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
    expect(most).toBeGreaterThan(0.3);
    expect(most).toBeLessThan(0.98);
  });

  it('holds the root of the key under the line as a drone', () => {
    const performance = performed(line);
    const sound = recorded([{ ...performance, notes: [] }], { drone: true });
    // Concert C, in the octave from A2: C3, key 48.
    expect(Math.abs(cents(pitchAt(sound, START + 0.4, 130.81), 130.8128))).toBeLessThan(2);
  });

  it('of a ladder is as long as its runs', () => {
    const runs = [60, 90, 120].map((bpm) => performed(line, { tempo: { beat: frac(1, 4), bpm } }));
    const { rate, samples } = recorded(runs);
    const music = runs.reduce((sum, run) => sum + toNumber(run.duration) * run.secondsPerWhole, 0);
    expect(samples.length / rate).toBeCloseTo(0.1 + music + 2 * 1.5 + 0.5, 3);
  });

  it('comes in pieces of bounded size that join without a seam, the same bytes each time', () => {
    const audio = value(practiceAudio([performed(line)]));
    const first = [...audio.chunks()];
    expect(Math.max(...first.map((chunk) => chunk.length))).toBeLessThanOrEqual(2 << 16);
    expect(Buffer.concat([...audio.chunks()]).equals(Buffer.concat(first))).toBe(true);
  });
});

describe('options that make no sense', () => {
  const run = performed(realised({ figure: '1' }, player('flute')));
  it.each([
    [{ a4: 300 }, 'pitch-of-a'],
    [{ a4: Number.NaN }, 'pitch-of-a'],
    [{ rate: 8000 as 44100 }, 'sample-rate'],
  ])('%j: %s', (options, code) => expect(codes(practiceAudio([run], options))).toEqual([code]));

  it('a recording too long for the format is refused before it is made', () => {
    const endless = { ...run, secondsPerWhole: 1e6 };
    expect(codes(practiceAudio([endless]))).toEqual(['audio-too-long']);
  });
});

it('a header counts its bytes', () => {
  const view = new DataView(wavHeader(1000, 48000).buffer);
  expect([view.getUint32(4, true), view.getUint32(28, true), view.getUint32(40, true)]).toEqual([2036, 96000, 2000]);
});
