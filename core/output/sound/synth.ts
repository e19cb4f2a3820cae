/**
 * A plain, pleasant tone without samples: one period of a few partials, read round and round at the wanted pitch, with a
 * soft start and end. Sounds are added to a stretch of samples, so that any length can be made in pieces.
 */

export type Voice = {
  readonly kind: 'tone' | 'click';
  /** First sample, and the first sample after the end. */
  readonly from: number;
  readonly to: number;
  /** Hertz. */
  readonly pitch: number;
  /** Largest value. */
  readonly level: number;
  /** Samples of the rise and of the fall; the fall ends at `to`. */
  readonly attack: number;
  readonly release: number;
  /** Share of the level that is lost in a second of holding. */
  readonly decay: number;
};

/** A power of two, so that places wrap with a mask; linear reading between entries stays 90 dB under the tone. */
const TABLE_SIZE = 4096;

/** Partials fall off fast: between a flute and a soft reed. (House choice.) */
const PARTIALS = [1, 0.42, 0.2, 0.08, 0.035] as const;

const tables = new Map<number, Float32Array>();

/** One period with so many partials, largest value 1, one entry more than a period for reading between entries. */
function tableOf(partials: number): Float32Array {
  const known = tables.get(partials);
  if (known) return known;
  const table = new Float32Array(TABLE_SIZE + 1);
  for (let i = 0; i <= TABLE_SIZE; i++) {
    const phase = (2 * Math.PI * i) / TABLE_SIZE;
    table[i] = PARTIALS.slice(0, partials).reduce((sum, level, k) => sum + level * Math.sin((k + 1) * phase), 0);
  }
  const most = table.reduce((largest, value) => Math.max(largest, Math.abs(value)), 0);
  const scaled = table.map((value) => value / most);
  tables.set(partials, scaled);
  return scaled;
}

/** Partials above this share of the sampling rate would come back as wrong tones. */
const HIGHEST = 0.45;

const partialsAt = (pitch: number, rate: number): number => Math.max(1, Math.min(PARTIALS.length, Math.floor((HIGHEST * rate) / pitch)));

/** Rise and fall as half a cosine: no corner, so no click. */
function envelope(voice: Voice, at: number): number {
  const { from, to, attack, release } = voice;
  const rise = at - from < attack ? 0.5 - 0.5 * Math.cos((Math.PI * (at - from)) / attack) : 1;
  const fall = to - at < release ? 0.5 - 0.5 * Math.cos((Math.PI * (to - at)) / release) : 1;
  return rise * fall;
}

/** Adds a voice to `out`, whose first sample is number `start` of the whole. */
export function addVoice(out: Float32Array, start: number, voice: Voice, rate: number): void {
  const from = Math.max(0, voice.from - start);
  const to = Math.min(out.length, voice.to - start);
  const { level, pitch, decay } = voice;
  const table = tableOf(voice.kind === 'click' ? 1 : partialsAt(pitch, rate));
  const step = (pitch / rate) * TABLE_SIZE;
  // The place in the period is counted from the voice's start, so that pieces join without a seam.
  let place = ((from + start - voice.from) * step) % TABLE_SIZE;
  let held = level * (1 - decay) ** ((from + start - voice.from) / rate);
  const fade = (1 - decay) ** (1 / rate);
  const middleFrom = voice.from + voice.attack - start;
  const middleTo = voice.to - voice.release - start;
  for (let i = from; i < to; i++) {
    const entry = place | 0;
    const low = table[entry] as number;
    const value = low + ((table[entry + 1] as number) - low) * (place - entry);
    const shape = i >= middleFrom && i <= middleTo ? held : held * envelope(voice, i + start);
    out[i] = (out[i] as number) + value * shape;
    place += step;
    if (place >= TABLE_SIZE) place -= TABLE_SIZE;
    held *= fade;
  }
}
