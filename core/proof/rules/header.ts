/** Rules 4 and 5: the signs at the start of a system, and key signatures wherever they stand. */
import { assert } from '../../base/issue.js';
import { first, last, pairs } from '../../base/list.js';
import type { GlyphMark } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Line } from '../../player/line.js';
import type { Clef } from '../../player/player.js';
import { mod } from '../../theory/fraction.js';
import { type Key, keyFifths } from '../../theory/key.js';
import { barLength } from '../../theory/metre.js';
import { parsePitch, stepOf } from '../../theory/pitch.js';
import type { Finding } from '../fault.js';
import { inkOf, overlapOf } from '../ink-shape.js';
import { type PlacedExercise, type PlacedSystem, round, systemFinding } from '../placed-system.js';
import type { ReadSignature, SystemReading } from '../read-system.js';
import { alterOf, stepAt } from '../replay.js';
import type { Rule } from '../rule.js';
import { LIMIT } from '../tolerance.js';

/** The signature before the first note, if there is one. */
export function headerSignature(reading: SystemReading): ReadSignature | undefined {
  const first = reading.events[0]?.head.box.x0 ?? Number.POSITIVE_INFINITY;
  return reading.signatures.find((s) => s.after === 0 && s.x0 < first);
}

/** Rule 4. The time signature is due at the start of an exercise and nowhere else. */
export function headerGaps(at: PlacedSystem): Finding[] {
  const { reading } = at;
  const { clefMark, time } = reading;
  const findings: Finding[] = [];
  const tell = (what: string, amount: number, limit: number) =>
    findings.push(systemFinding(at, 0, what, { amount: round(amount), limit: round(limit), unit: 'sp' }));
  if (!clefMark || !reading.clef) return [systemFinding(at, 0, 'The system has no clef that can be read.')];
  const due = at.firstBar === 0;
  if (due !== (time !== undefined))
    findings.push(systemFinding(at, 0, due ? 'The time signature is missing.' : 'A time signature is printed where none is due.'));
  const indent = clefMark.box.x0 - reading.staffLeft;
  if (indent < 0 || indent > LIMIT.clefIndent + LIMIT.same) tell('The clef is indented wrongly.', indent, LIMIT.clefIndent);
  const key = headerSignature(reading);
  const signs = [
    { name: 'clef', x0: clefMark.box.x0, x1: clefMark.box.x1 },
    ...(key ? [{ name: 'key signature', x0: key.x0, x1: key.x1 }] : []),
    ...(time ? [{ name: 'time signature', x0: time.x0, x1: time.x1 }] : []),
  ];
  const [least, most] = LIMIT.headerGap;
  for (const [before, sign] of pairs(signs)) {
    const gap = sign.x0 - before.x1;
    const between = `the ${before.name} and the ${sign.name}`;
    if (gap < least - LIMIT.headerSlack) tell(`There is too little room between ${between}.`, gap, least);
    else if (gap > most + LIMIT.headerSlack) tell(`There is too much room between ${between}.`, gap, most);
  }
  const event = reading.events[0];
  if (!event || (event.kind === 'rest' && event.value === 1)) return findings;
  const lastSign = last(signs);
  const accidental = event.kind === 'note' ? event.accidental : undefined;
  const left = Math.min(event.head.box.x0, accidental?.box.x0 ?? Number.POSITIVE_INFINITY);
  const wanted = LIMIT.toFirstNote[time ? 'afterTime' : 'afterSign'][accidental ? 1 : 0];
  const [under, over] = LIMIT.toFirstNoteSlack;
  const gap = left - lastSign.x1;
  if (gap < wanted - under) tell(`The first note stands too near to the ${lastSign.name}.`, gap, wanted - under);
  else if (gap > wanted + over) tell(`The first note stands too far from the ${lastSign.name}.`, gap, wanted + over);
  return findings;
}

/** Where each clef writes its signatures (universal practice; the tenor clef keeps its sharps within the staff). */
const SHARPS: Readonly<Record<Clef, string>> = {
  treble: 'F5 C5 G5 D5 A4 E5 B4',
  alto: 'F4 C4 G4 D4 A3 E4 B3',
  tenor: 'F3 C4 G3 D4 A3 E4 B3',
  bass: 'F3 C3 G3 D3 A2 E3 B2',
};
const FLATS: Readonly<Record<Clef, string>> = {
  treble: 'B4 E5 A4 D5 G4 C5 F4',
  alto: 'B3 E4 A3 D4 G3 C4 F3',
  tenor: 'B3 E4 A3 D4 G3 C4 F3',
  bass: 'B2 E3 A2 D3 G2 C3 F2',
};

/** Staff step of the nth sign of a signature. */
function signatureStep(clef: Clef, sharps: boolean, n: number): number {
  const pitch = parsePitch((sharps ? SHARPS : FLATS)[clef].split(' ')[n] ?? '');
  assert(pitch, 'a signature has at most seven signs, each at a pitch');
  return stepOf(pitch);
}

/** What is wrong with the signs as those of a signature of so many fifths; `cancels` are the fifths taken back. */
export function signatureWrong(signs: readonly GlyphMark[], clef: Clef, fifths: number, cancels: number): string | undefined {
  const count = fifths === 0 ? Math.abs(cancels) : Math.abs(fifths);
  if (signs.length !== count) return `A key signature of ${count} signs has ${signs.length}.`;
  const shown = fifths === 0 ? cancels : fifths;
  const alter = fifths === 0 ? 0 : Math.sign(fifths);
  const wrong = signs.findIndex(
    ({ code, y }, i) => alterOf(code) !== alter || Math.abs(stepAt(y, clef) - signatureStep(clef, shown > 0, i)) > 0.1,
  );
  return wrong < 0 ? undefined : `Sign ${wrong + 1} of a key signature is wrong or stands at the wrong height.`;
}

/** Distances inside a signature, and its signs apart from one another. */
function signatureSteps(signature: ReadSignature, at: PlacedSystem, fonts: Fonts): Finding[] {
  const { signs } = signature;
  const findings: Finding[] = [];
  const [least, most] = LIMIT.keyStep;
  for (const [before, sign] of pairs(signs)) {
    const step = sign.x - before.x;
    if (step < least - LIMIT.same || step > most + LIMIT.same) {
      const what = 'The signs of a key signature are wrongly spaced.';
      findings.push(systemFinding(at, signature.after, what, { amount: round(step), limit: step < least ? least : most, unit: 'sp' }));
    }
    const [a, b] = [inkOf(before, fonts), inkOf(sign, fonts)];
    if (a.some((x) => b.some((y) => overlapOf(x, y) > LIMIT.overlap))) {
      findings.push(systemFinding(at, signature.after, 'The signs of a key signature overlap.'));
    }
  }
  return findings;
}

/** The key in force in each bar, where the exercise is written with signatures: each statement opens a bar. */
function signatureKeys(line: Line): readonly Key[] | undefined {
  const length = barLength(line.exercise.metre);
  if (line.exercise.signs !== 'signature' || line.statements.some((s) => mod(s.onset, length).n !== 0)) return undefined;
  const bars = (line.duration.n * length.d) / (line.duration.d * length.n);
  const inForce = (bar: number) => line.statements.findLast((s) => s.onset.n * length.d <= bar * length.n * s.onset.d);
  return Array.from({ length: bars }, (_, bar) => (inForce(bar) ?? first(line.statements)).writtenKey);
}

/**
 * Rule 5. `keys` is the key in force in each bar where the exercise is written with signatures, undefined where it is
 * written with accidentals alone. Naturals are printed only when a signature is left for none (modern practice).
 */
export function keySignatures(exercise: PlacedExercise, keys: readonly Key[] | undefined, fonts: Fonts): Finding[] {
  const findings: Finding[] = [];
  const fifthsAt = (bar: number): number => {
    const key = keys?.[Math.min(bar, keys.length - 1)];
    return key ? keyFifths(key) : 0;
  };
  for (const at of exercise.systems) {
    const { reading, firstBar } = at;
    const clef = reading.clef ?? 'treble';
    const header = headerSignature(reading);
    const bars = reading.barlines.length;
    const tell = (bar: number, what: string | undefined) => what && findings.push(systemFinding(at, bar, what));
    tell(0, signatureWrong(header?.signs ?? [], clef, fifthsAt(firstBar), 0));
    for (let bar = 1; bar <= bars; bar++) {
      const before = fifthsAt(firstBar + bar - 1);
      const now = keys && firstBar + bar < keys.length ? fifthsAt(firstBar + bar) : before;
      const found = reading.signatures.find((s) => s !== header && s.after === bar);
      if (before === now && found) tell(bar, 'A key signature is printed where the key does not change.');
      if (before !== now) tell(bar, signatureWrong(found?.signs ?? [], clef, now, before));
    }
    for (const signature of reading.signatures) findings.push(...signatureSteps(signature, at, fonts));
  }
  return findings;
}

export const HEADER_GAPS: Rule = {
  number: 4,
  id: 'header-gaps',
  title: 'Clef, key, time and first note stand in order and well spaced',
  check: { system: ({ at }) => headerGaps(at) },
};

export const KEY_SIGNATURE: Rule = {
  number: 5,
  id: 'key-signature',
  title: 'Key signatures are those of the written keys',
  check: { exercise: ({ exercise, fonts }) => keySignatures(exercise, signatureKeys(exercise.line), fonts) },
};
