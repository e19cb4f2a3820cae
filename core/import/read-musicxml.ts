/** A MusicXML score, plain or unpacked → one phrase. What a figure cannot hold is refused with its place. */

import { bad, error, good, type Issue, type Result, note as remark } from '../base/issue.js';
import { MAX_TONES } from '../exercise/figure.js';
import { add, type Fraction, frac, mul } from '../theory/fraction.js';
import type { Mode } from '../theory/key.js';
import { type Metre, parseMetre } from '../theory/metre.js';
import { midi, type Pitch } from '../theory/pitch.js';
import { noNotes, type Phrase, type PhraseEvent, type TupletRatio, tooLong, trimmed } from './phrase.js';
import { childOf, childrenOf, textOf, type XmlNode } from './xml-reader.js';

type Measure = readonly XmlNode[];
type Part = { readonly name: string; readonly measures: readonly Measure[] };

/** Thrown and caught inside this file only. */
class Refusal extends Error {
  constructor(readonly issue: Issue) {
    super(issue.message);
  }
}

function refuse(code: string, message: string): never {
  throw new Refusal(error(code, [], message));
}

/** Parts in order, whichever way the score is laid out. */
function partsOf(root: XmlNode): Part[] {
  const names = new Map(
    childrenOf(childOf(root, 'part-list'), 'score-part').map((part) => [part.attributes.id ?? '', textOf(part, 'part-name') ?? '']),
  );
  const measures = new Map<string, Measure[]>();
  const put = (id: string, measure: Measure): void => {
    const known = measures.get(id);
    if (known) known.push(measure);
    else measures.set(id, [measure]);
  };
  if (root.name === 'score-timewise') {
    for (const measure of childrenOf(root, 'measure'))
      for (const part of childrenOf(measure, 'part')) put(part.attributes.id ?? '', part.children);
  } else {
    for (const part of childrenOf(root, 'part'))
      for (const measure of childrenOf(part, 'measure')) put(part.attributes.id ?? '', measure.children);
  }
  return [...measures].map(([id, own]) => ({ name: names.get(id) || id, measures: own }));
}

const sounds = (part: Part): boolean =>
  part.measures.some((measure) => measure.some((node) => node.name === 'note' && (childOf(node, 'pitch') || childOf(node, 'unpitched'))));

/** A decimal of at most nine digits as an exact fraction. */
function decimal(text: string | undefined): Fraction | undefined {
  const match = /^(\d{1,9})(?:\.(\d{1,4}))?$/.exec(text ?? '');
  if (!match) return undefined;
  const places = match[2]?.length ?? 0;
  return frac(Number(`${match[1]}${match[2] ?? ''}`), 10 ** places);
}

const LETTERS = 'CDEFGAB';

function pitchOf(node: XmlNode, bar: number): Pitch {
  const letter = LETTERS.indexOf(textOf(node, 'step') ?? '?');
  const octave = Number(textOf(node, 'octave') ?? Number.NaN);
  const alter = Number(textOf(node, 'alter') ?? 0);
  if (Number.isFinite(alter) && !Number.isInteger(alter)) {
    refuse(
      'microtone',
      `Bar ${bar} has a note between two keys of the keyboard; a figure has half steps only. Write it a half step up or down.`,
    );
  }
  if (letter < 0 || !Number.isInteger(octave) || octave < 0 || octave > 9 || !(Math.abs(alter) <= 2)) {
    refuse('pitch-unreadable', `Bar ${bar} has a note without a readable pitch; save the file again.`);
  }
  return { letter, alter, octave };
}

function ratioOf(node: XmlNode): TupletRatio | undefined {
  const modification = childOf(node, 'time-modification');
  if (!modification) return undefined;
  const [actual, normal] = ['actual-notes', 'normal-notes'].map((name) => Number(textOf(modification, name))) as [number, number];
  if (!(Number.isInteger(actual) && Number.isInteger(normal) && actual > 0 && normal > 0) || actual === normal) return undefined;
  const opens = childrenOf(node, 'notations').some((one) => childrenOf(one, 'tuplet').some((tuplet) => tuplet.attributes.type === 'start'));
  return { actual, normal, ...(opens ? { opens } : {}) };
}

type State = {
  divisions: Fraction;
  events: PhraseEvent[];
  /** The last note is tied to what follows. */
  tied: boolean;
  voices: Set<string>;
  signature?: Phrase['signature'];
  metre?: Metre | undefined;
  graces: number;
  repeats: boolean;
};

function readAttributes(node: XmlNode, state: State): void {
  const divisions = decimal(textOf(node, 'divisions'));
  if (divisions && divisions.n > 0) state.divisions = divisions;
  const key = childOf(node, 'key');
  const fifths = Number(textOf(key, 'fifths') ?? Number.NaN);
  const mode = textOf(key, 'mode');
  if (Number.isInteger(fifths) && Math.abs(fifths) <= 7 && mode !== 'none') {
    const known: Mode | undefined = mode === 'major' || mode === 'minor' ? mode : undefined;
    state.signature ??= { fifths, ...(known ? { mode: known } : {}) };
  }
  const time = childOf(node, 'time');
  if (time) state.metre ??= parseMetre(`${textOf(time, 'beats')}/${textOf(time, 'beat-type')}`);
}

function durationOf(node: XmlNode, state: State, bar: number): Fraction {
  const counted = decimal(textOf(node, 'duration'));
  if (!counted || counted.n === 0) refuse('duration-unreadable', `Bar ${bar} has a note without a readable duration; save the file again.`);
  const { n, d } = mul(counted, frac(state.divisions.d, state.divisions.n));
  return frac(n, d * 4);
}

function put(state: State, event: PhraseEvent): void {
  state.events.push(event);
  // A tie joins notes, so the count can only be told by events; a figure's worth of notes has few rests more.
  if (state.events.length > 4 * MAX_TONES) throw new Refusal(tooLong());
}

function readNote(node: XmlNode, state: State, bar: number): void {
  if (childOf(node, 'grace')) {
    state.graces++;
    return;
  }
  if (childOf(node, 'chord')) refuse('chord', `Bar ${bar} has a chord; a figure has one note at a time. Keep one note of it.`);
  if (childOf(node, 'unpitched')) refuse('percussion', `Bar ${bar} has percussion without pitch; choose a part with pitches.`);
  state.voices.add(`${textOf(node, 'voice') ?? ''} ${textOf(node, 'staff') ?? ''}`);
  if (state.voices.size > 1) refuse('several-voices', `Bar ${bar} has a second voice; a figure has one. Save the voice alone.`);
  const duration = durationOf(node, state, bar);
  const tuplet = ratioOf(node);
  const sounding = childOf(node, 'pitch');
  if (!sounding || childOf(node, 'cue')) {
    // A whole bar of rest before the first note is no part of the phrase.
    if (state.events.length === 0 && childOf(node, 'rest')?.attributes.measure === 'yes') return;
    put(state, { kind: 'rest', key: 0, duration, bar, ...(tuplet ? { tuplet } : {}) });
    state.tied = false;
    return;
  }
  const pitch = pitchOf(sounding, bar);
  const ties = childrenOf(node, 'tie').map((tie) => tie.attributes.type);
  const before = state.events.at(-1);
  if (ties.includes('stop') && state.tied && before && before.key === midi(pitch)) {
    const same = before.tuplet?.actual === tuplet?.actual && before.tuplet?.normal === tuplet?.normal;
    const { duration: first, tuplet: own, began = { duration: first, ...(own ? { tuplet: own } : {}) } } = before;
    state.events[state.events.length - 1] = { ...before, began, duration: add(first, duration), ...(same ? {} : { mixed: true }) };
  } else {
    put(state, { kind: 'note', key: midi(pitch), pitch, duration, bar, ...(tuplet ? { tuplet } : {}) });
  }
  state.tied = ties.includes('start');
}

function readMeasure(measure: Measure, state: State, bar: number): void {
  for (const node of measure) {
    if (node.name === 'attributes') readAttributes(node, state);
    else if (node.name === 'note') readNote(node, state, bar);
    else if (node.name === 'backup') refuse('several-voices', `Bar ${bar} has a second voice; a figure has one. Save the voice alone.`);
    else if (node.name === 'forward') put(state, { kind: 'rest', key: 0, duration: durationOf(node, state, bar), bar });
    else if (node.name === 'barline' && childOf(node, 'repeat')) state.repeats = true;
  }
}

function phraseOf(root: XmlNode): Result<Phrase> {
  const parts = partsOf(root).filter(sounds);
  const [part, other] = parts;
  if (!part) return bad(noNotes());
  if (other) {
    refuse(
      'several-parts',
      `The file has several parts (${parts
        .map(({ name }) => `"${name.slice(0, 40)}"`)
        .slice(0, 4)
        .join(', ')}); a figure is one line. Save one part alone.`,
    );
  }
  const state: State = { divisions: frac(1), events: [], tied: false, voices: new Set(), graces: 0, repeats: false };
  part.measures.forEach((measure, i) => {
    readMeasure(measure, state, i + 1);
  });
  const events = trimmed(state.events);
  if (events.length > MAX_TONES) return bad(tooLong());
  const issues = [
    ...(state.graces > 0
      ? [remark('grace-notes-left-out', [], 'The grace notes are left out: a figure has only notes with a value of their own.')]
      : []),
    ...(state.repeats ? [remark('repeats-not-played', [], 'Repeats are not played out: the phrase is read once.')] : []),
  ];
  const title = textOf(root, 'movement-title') || textOf(childOf(root, 'work'), 'work-title');
  return good(
    {
      events,
      ...(state.signature ? { signature: state.signature } : {}),
      ...(state.metre ? { metre: state.metre } : {}),
      ...(title ? { title: title.slice(0, 200) } : {}),
    },
    issues,
  );
}

/** The root of a MusicXML score → its phrase, in written pitch. */
export function readMusicXml(root: XmlNode): Result<Phrase> {
  if (root.name !== 'score-partwise' && root.name !== 'score-timewise') {
    return bad(
      error('not-musicxml', [], `The file is XML with the root "${root.name.slice(0, 40)}", not a MusicXML score; choose another file.`),
    );
  }
  try {
    return phraseOf(root);
  } catch (failure) {
    if (failure instanceof Refusal) return bad(failure.issue);
    throw failure;
  }
}
