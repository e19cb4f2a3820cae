/** Notes and a key → degrees, signs always against the major scale. */

import { bad, error, good, type Result } from '../base/issue.js';
import { at } from '../base/list.js';
import { MAX_DEGREE, type Tone, toneText } from '../exercise/figure.js';
import { naturalSemitones } from '../theory/interval.js';
import type { Key } from '../theory/key.js';
import { chroma, midi, type Pitch, stepOf } from '../theory/pitch.js';
import type { PhraseEvent } from './phrase.js';

/** A lowest note this near under a tonic belongs to the tonic above it: `-7 1`, `-b7 1`. */
const UNDER = 2;

/**
 * Degree 1: the tonic at or below the lowest note, or the one just above it. (So `1 2 1 -7 1` comes back as it was written,
 * and `5 7 9 11` is not put under its tonic.)
 */
export function rootOf(events: readonly PhraseEvent[], key: Key): Pitch {
  const lowest = Math.min(...events.filter((event) => event.kind === 'note').map((event) => event.key));
  const above = (((lowest - chroma(key.tonic)) % 12) + 12) % 12;
  const root = above >= 12 - UNDER ? lowest + 12 - above : lowest - above;
  const octave = (root - key.tonic.alter - naturalSemitones(key.tonic.letter)) / 12 - 1;
  return { ...key.tonic, octave };
}

/** Letters above the root for each semitone where nothing is spelled: flats, but a raised fourth. */
const USUAL = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6] as const;
/** The same for a tone that goes up a half step; the flat seventh stays. */
const RISING = [0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 6, 6] as const;

/**
 * Steps above the root of a note that is not spelled, or spelled too far from it. A phrase with a minor third alone has flats;
 * one with a major third and no fifth has a raised fifth. (Common practice; where a spelling cannot be heard this is a guess.)
 */
function usualSteps(semitones: number, next: number | undefined, heard: ReadonlySet<number>): number {
  const octave = Math.floor(semitones / 12);
  const within = semitones - 12 * octave;
  const minor = heard.has(3) && !heard.has(4);
  const table = next === semitones + 1 && !minor ? RISING : USUAL;
  let steps: number = at(table, within);
  if (within === 6 && (minor || !heard.has(7))) steps = 4;
  if (within === 8 && heard.has(4) && !heard.has(7)) steps = 4;
  return steps + 7 * octave;
}

function toneOf(steps: number, semitones: number): Tone | undefined {
  const alter = semitones - naturalSemitones(steps);
  const degree = steps >= 0 ? steps + 1 : -(steps + 8);
  if (Math.abs(alter) > 2 || degree === 0 || steps < -7) return undefined;
  return { kind: 'note', degree, alter, plain: alter === 0, span: [0, 0] };
}

/** The figure's text: one word for each event. Fails with `figure-too-wide` above the highest degree. */
export function degreesText(events: readonly PhraseEvent[], key: Key): Result<string> {
  const root = rootOf(events, key);
  const above = (event: PhraseEvent): number => event.key - midi(root);
  const heard = new Set(events.filter((event) => event.kind === 'note').map((event) => ((above(event) % 12) + 12) % 12));
  const words: string[] = [];
  for (const [i, event] of events.entries()) {
    if (event.kind === 'rest') {
      words.push('r');
      continue;
    }
    const semitones = above(event);
    const next = events[i + 1];
    const usual = usualSteps(semitones, next?.kind === 'note' ? above(next) : undefined, heard);
    const tone = (event.pitch && toneOf(stepOf(event.pitch) - stepOf(root), semitones)) ?? toneOf(usual, semitones);
    if (tone?.kind !== 'note' || tone.degree > MAX_DEGREE) {
      return bad(
        error(
          'figure-too-wide',
          [],
          `The phrase reaches beyond degree ${MAX_DEGREE}, three octaves above its tonic; choose a narrower one, or name another key.`,
        ),
      );
    }
    words.push(toneText(tone));
  }
  return good(words.join(' '));
}
