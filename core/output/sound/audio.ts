/** Practice audio: the line in a plain tone with metronome, count-in and drone, once or at a ladder of tempos. */

import { assert, bad, error, good, type Issue, type Result } from '../../base/issue.js';
import { at as itemAt } from '../../base/list.js';
import { type Fraction, toNumber } from '../../theory/fraction.js';
import { midi } from '../../theory/pitch.js';
import { frequencyOf } from '../../theory/tonal.js';
import type { Performance } from './performance.js';
import { addVoice, type Voice } from './synth.js';
import { HEADER_BYTES, MOST_SAMPLES, pcm16, wavHeader } from './wav.js';

export type AudioOptions = {
  /** Samples a second. */
  readonly rate?: 44100 | 48000;
  /** Hertz of A4, 415 to 466; 440 when not said. */
  readonly a4?: number;
  /** The root of the key of each statement, held underneath. */
  readonly drone?: boolean;
};

export type Audio = {
  readonly seconds: number;
  /** Size of the whole file. */
  readonly bytes: number;
  /** The file in pieces, header first; no more than one piece is in memory. Each call begins anew. */
  chunks(): Generator<Uint8Array, void, undefined>;
};

/** Seconds. (House choices.) */
const TONE = {
  attack: 0.008,
  /** Under a slur the next tone comes in while the last goes out. */
  slurredAttack: 0.03,
  release: 0.03,
  /** White between tongued notes, at most this share of the note. */
  gap: 0.02,
  gapShare: 0.2,
  decay: 0.12,
} as const;
const CLICK = { length: 0.045, attack: 0.0008, strong: 1760, weak: 1320, decay: 0.9999999 } as const;
const LEVEL = { tone: 0.42, drone: 0.1, click: 0.28 } as const;
/** Silence before the first sound, between two runs, and after the last, in seconds. */
const SILENCE = { before: 0.1, between: 1.5, after: 0.5 } as const;

/** The drone stays between A2 and A♭3. */
const DRONE_LOWEST = 45;

export const A4_RANGE = { low: 415, high: 466 } as const;
const RATES: readonly number[] = [44100, 48000];
const CHUNK = 1 << 16;

function optionIssues({ rate = 44100, a4 = 440 }: AudioOptions): Issue[] {
  const issues: Issue[] = [];
  if (!RATES.includes(rate)) issues.push(error('sample-rate', ['rate'], `There is no sample rate ${rate} here; choose 44100 or 48000.`));
  if (!(a4 >= A4_RANGE.low && a4 <= A4_RANGE.high)) {
    issues.push(error('pitch-of-a', ['a4'], `A = ${a4} Hz is outside ${A4_RANGE.low} to ${A4_RANGE.high}; choose a pitch within.`));
  }
  return issues;
}

/** One run of the line as voices in order of their start, from `origin` seconds on. */
function voicesOf(performance: Performance, origin: number, rate: number, a4: number, drone: boolean): Voice[] {
  const { notes, clicks, secondsPerWhole } = performance;
  const sample = (seconds: number): number => Math.round((origin + seconds) * rate);
  const seconds = (at: Fraction): number => toNumber(at) * secondsPerWhole;
  const voices: Voice[] = notes.map((note, i): Voice => {
    const start = seconds(note.onset);
    const length = note.length * secondsPerWhole;
    const gap = note.slurred ? -TONE.release : Math.min(TONE.gap, length * TONE.gapShare);
    const after = notes[i - 1]?.slurred === true;
    const attack = Math.min(after ? TONE.slurredAttack : TONE.attack, length / 3);
    return {
      kind: 'tone',
      from: sample(start),
      to: sample(start + length - gap),
      pitch: frequencyOf(note.key, a4),
      level: (LEVEL.tone * note.velocity) / 127,
      attack: Math.round(attack * rate),
      release: Math.round(Math.min(TONE.release, length / 3) * rate),
      decay: TONE.decay,
    };
  });
  for (const { onset, strong } of clicks) {
    const start = seconds(onset);
    voices.push({
      kind: 'click',
      from: sample(start),
      to: sample(start + CLICK.length),
      pitch: strong ? CLICK.strong : CLICK.weak,
      level: strong ? LEVEL.click : LEVEL.click * 0.6,
      attack: Math.round(CLICK.attack * rate),
      release: Math.round(CLICK.length * 0.8 * rate),
      decay: CLICK.decay,
    });
  }
  if (drone) voices.push(...drones(performance, sample, seconds, rate, a4));
  return voices.sort((a, b) => a.from - b.from);
}

/** One tone for each run of statements on one root, each fading into the next. */
function drones(
  { line, statements, duration }: Performance,
  sample: (seconds: number) => number,
  seconds: (at: Fraction) => number,
  rate: number,
  a4: number,
): Voice[] {
  const fade = 0.06;
  const keys = line.statements.map(
    ({ soundingKey }) => DRONE_LOWEST + ((((midi({ ...soundingKey.tonic, octave: 4 }) - DRONE_LOWEST) % 12) + 12) % 12),
  );
  const changes = keys.flatMap((key, i) => (i === 0 || keys[i - 1] !== key ? [i] : []));
  return changes.map((first, n): Voice => {
    const next = changes[n + 1];
    const end = seconds(next === undefined ? duration : itemAt(statements, next));
    return {
      kind: 'tone',
      from: sample(seconds(itemAt(statements, first))),
      to: sample(end + (next === undefined ? 0 : fade)),
      pitch: frequencyOf(itemAt(keys, first), a4),
      level: LEVEL.drone,
      attack: Math.round(fade * rate),
      release: Math.round(fade * rate),
      decay: 0,
    };
  });
}

/**
 * One or more runs of a line as a WAV file (16 bit, one channel): the same line at rising tempos makes a ladder. Fails with
 * `sample-rate`, `pitch-of-a`, and `audio-too-long` where a WAV file cannot hold it.
 */
export function practiceAudio(runs: readonly Performance[], options: AudioOptions = {}): Result<Audio> {
  assert(runs.length > 0, 'something is played');
  const issues = optionIssues(options);
  if (issues.length > 0) return bad(...issues);
  const { rate = 44100, a4 = 440, drone = false } = options;
  const starts: number[] = [];
  let end: number = SILENCE.before;
  runs.forEach((run, i) => {
    if (i > 0) end += SILENCE.between;
    starts.push(end);
    end += toNumber(run.duration) * run.secondsPerWhole;
  });
  const samples = Math.ceil((end + SILENCE.after) * rate);
  if (samples > MOST_SAMPLES) {
    const hours = Math.floor(MOST_SAMPLES / rate / 3600);
    return bad(
      error(
        'audio-too-long',
        [],
        `The recording would last more than the ${hours} hours that a WAV file holds; choose a faster tempo or fewer runs.`,
      ),
    );
  }
  return good({
    seconds: samples / rate,
    bytes: HEADER_BYTES + 2 * samples,
    *chunks() {
      yield wavHeader(samples, rate);
      const out = new Float32Array(CHUNK);
      let run = 0;
      let waiting: Voice[] = [];
      let sounding: Voice[] = [];
      for (let at = 0; at < samples; at += CHUNK) {
        const stretch = out.subarray(0, Math.min(CHUNK, samples - at)).fill(0);
        for (; run < runs.length && itemAt(starts, run) * rate < at + stretch.length; run++) {
          waiting = [...waiting, ...voicesOf(itemAt(runs, run), itemAt(starts, run), rate, a4, drone)];
        }
        const begun = waiting.findIndex((voice) => voice.from >= at + stretch.length);
        const now = begun < 0 ? waiting : waiting.slice(0, begun);
        waiting = begun < 0 ? [] : waiting.slice(begun);
        sounding = [...sounding, ...now].filter((voice) => voice.to > at);
        for (const voice of sounding) addVoice(stretch, at, voice, rate);
        yield pcm16(stretch);
      }
    },
  });
}
