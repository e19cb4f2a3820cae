/** Plays tones and clicks with Web Audio, a little ahead of time, so that a busy window never makes the beat limp. */
import type { Playback } from '../../electron/services/contract/answers/playback.js';

export type Volumes = { readonly notes: number; readonly click: number };

export type Playing = {
  stop(): void;
  setVolumes(volumes: Volumes): void;
};

export type PlayOptions = {
  readonly volumes: Volumes;
  readonly countIn: boolean;
  readonly click: () => boolean;
  readonly loop: () => boolean;
  /** The event that sounds, and seconds from the first note; undefined between notes. */
  readonly onEvent: (event: number | undefined, at: number) => void;
  readonly onEnd: () => void;
};

/** Seconds that are put into the queue ahead, and the time between two looks at it. */
const AHEAD = 0.25;
const LOOK = 60;

/** Partials of a mild reed-like tone, and its attack and release in seconds (house choice). */
const PARTIALS = [0, 1, 0.32, 0.34, 0.12, 0.1, 0.04];
const ATTACK = 0.018;
const RELEASE = 0.045;

type Sound = {
  readonly context: AudioContext;
  tone(hertz: number, at: number, length: number): void;
  tick(at: number, strong: boolean): void;
  setVolumes(volumes: Volumes): void;
};

/** The tones and clicks of one playing, each at its own volume. */
function makeSound(volumes: Volumes): Sound {
  const context = new AudioContext();
  const notes = new GainNode(context, { gain: volumes.notes });
  const clicks = new GainNode(context, { gain: volumes.click });
  const limiter = new DynamicsCompressorNode(context);
  notes.connect(limiter);
  clicks.connect(limiter);
  limiter.connect(context.destination);
  const wave = context.createPeriodicWave(new Float32Array(PARTIALS.length), Float32Array.from(PARTIALS));
  return {
    context,
    tone(hertz, at, length) {
      const oscillator = new OscillatorNode(context, { frequency: hertz });
      oscillator.setPeriodicWave(wave);
      const envelope = new GainNode(context, { gain: 0 });
      const end = at + Math.max(0.04, length - 0.01);
      envelope.gain.setValueAtTime(0, at);
      envelope.gain.linearRampToValueAtTime(0.5, at + ATTACK);
      envelope.gain.setValueAtTime(0.42, Math.max(at + ATTACK, end - RELEASE));
      envelope.gain.linearRampToValueAtTime(0, end);
      oscillator.connect(envelope).connect(notes);
      oscillator.start(at);
      oscillator.stop(end + 0.01);
    },
    tick(at, strong) {
      const oscillator = new OscillatorNode(context, { type: 'triangle', frequency: strong ? 1760 : 1175 });
      const envelope = new GainNode(context, { gain: 0 });
      envelope.gain.setValueAtTime(0.6, at);
      envelope.gain.exponentialRampToValueAtTime(0.001, at + 0.05);
      oscillator.connect(envelope).connect(clicks);
      oscillator.start(at);
      oscillator.stop(at + 0.06);
    },
    setVolumes(next) {
      notes.gain.value = next.notes;
      clicks.gain.value = next.click;
    },
  };
}

/** Puts the notes and clicks of round after round into the queue, as far as `until`; false when all of it is over. */
function makeQueue(performance: Playback, { context, tone, tick }: Sound, options: PlayOptions, begin: number) {
  /** Time of the first note of this round, on the clock of the sound. */
  let zero = begin;
  let nextNote = 0;
  let nextClick = 0;

  function round(until: number): void {
    for (let note = performance.notes[nextNote]; note && zero + note.start < until; note = performance.notes[nextNote]) {
      if (note.hertz !== undefined) tone(note.hertz, zero + note.start, note.length);
      nextNote++;
    }
    for (let click = performance.clicks[nextClick]; click && zero + click.at < until; click = performance.clicks[nextClick]) {
      if (options.click()) tick(zero + click.at, click.strong);
      nextClick++;
    }
  }

  return {
    zero: () => zero,
    fill(until: number): boolean {
      for (;;) {
        round(until);
        const queued = nextNote >= performance.notes.length && nextClick >= performance.clicks.length;
        if (!queued || zero + performance.seconds >= until) return true;
        if (!options.loop()) return context.currentTime <= zero + performance.seconds;
        zero += performance.seconds;
        nextNote = 0;
        nextClick = 0;
      }
    },
  };
}

export function playTones(performance: Playback, options: PlayOptions): Playing {
  const sound = makeSound(options.volumes);
  const { context } = sound;
  const lead = options.countIn ? Math.max(0, ...performance.countIn.map((click) => -click.at)) : 0;
  const begin = context.currentTime + 0.12 + lead;
  const queue = makeQueue(performance, sound, options, begin);
  let over = false;
  let frame = 0;
  let shown: number | undefined;

  if (options.countIn) for (const { at, strong } of performance.countIn) sound.tick(begin + at, strong);

  function look(): void {
    if (!queue.fill(context.currentTime + AHEAD)) finish();
  }

  function follow(): void {
    if (over) return;
    // In the queue's lead a new round has begun already; what sounds now is the end of the last one.
    let at = context.currentTime - queue.zero();
    if (at < -lead - 0.2 && options.loop()) at += performance.seconds;
    const event = performance.notes.findLast((note) => note.start <= at && at < note.start + note.length)?.event;
    if (event !== shown) {
      shown = event;
      options.onEvent(event, at);
    }
    frame = requestAnimationFrame(follow);
  }

  const timer = setInterval(look, LOOK);
  look();
  follow();

  function finish(): void {
    if (over) return;
    over = true;
    clearInterval(timer);
    cancelAnimationFrame(frame);
    void context.close();
    options.onEnd();
  }

  return { stop: finish, setVolumes: sound.setVolumes };
}

/** A few tones one after another, for hearing a figure of the library. MIDI key numbers, undefined for rests. */
export function playFigure(keys: readonly (number | undefined)[], volume: number): Playing {
  const each = 0.28;
  return playTones(
    {
      exercise: '',
      bpm: 0,
      ladder: [],
      // Equal temperament, A4 = 440 Hz (ISO 16).
      notes: keys.map((key, i) => ({
        event: i,
        start: i * each,
        length: each,
        hertz: key === undefined ? undefined : 440 * 2 ** ((key - 69) / 12),
      })),
      clicks: [],
      countIn: [],
      seconds: keys.length * each,
      issue: undefined,
    },
    {
      volumes: { notes: volume, click: 0 },
      countIn: false,
      click: () => false,
      loop: () => false,
      onEvent: () => undefined,
      onEnd: () => undefined,
    },
  );
}
