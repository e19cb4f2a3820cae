/** The exercise in focus, told note by note with every musical word already found. */
import type { EditionSpec } from '../../../core/book/book.js';
import type { Draft } from '../../../core/book/draft.js';
import type { BuiltEdition } from '../../../core/build/edition.js';
import type { Workshop } from '../../../core/build/workshop.js';
import { barsOf } from '../../../core/engrave/bars.js';
import { drawSystem } from '../../../core/engrave/draw/system.js';
import type { Fonts } from '../../../core/engrave/metrics.js';
import { shapeScore } from '../../../core/engrave/shape.js';
import { beatText, secondsPerWhole, tempoOf } from '../../../core/exercise/tempo.js';
import { musicWords } from '../../../core/layout/music/words.js';
import { drawingSvg } from '../../../core/output/picture/svg.js';
import type { Line } from '../../../core/player/line.js';
import { toNumber } from '../../../core/theory/fraction.js';
import { keyText, keyWords } from '../../../core/theory/key.js';
import { chroma, midi } from '../../../core/theory/pitch.js';
import type { ExerciseView, NoteView, StatementView } from '../contract/answers/exercise.js';
import type { ExercisePosition } from '../contract/fields.js';
import type { Ask } from '../contract/questions.js';
import { breathingView, settingsFor } from './breath-view.js';
import { pitchView, wheelSpot } from './lists.js';

export type InFocus = { readonly line: Line; readonly id: string };

/** The exercise in focus, if this edition has it. */
export function lineInFocus(read: Draft, edition: BuiltEdition, focus: ExercisePosition): InFocus | undefined {
  const id = [...read.places].find(([, place]) => place.chapter === focus.chapter && place.exercise === focus.exercise)?.[0];
  const line = id === undefined ? undefined : edition.lines.get(id);
  return line && id !== undefined ? { line, id } : undefined;
}

/** Bars shown of an exercise's opening: enough for two statements of most figures, in the width of an editor. */
const OPENING_BARS = 4;

function noteViews(line: Line): NoteView[] {
  return line.events.map((event) => {
    const common = { index: event.index, statement: event.statement, onset: toNumber(event.onset), duration: toNumber(event.duration) };
    if (event.kind === 'rest') return { ...common, degree: 'r', written: '', sounding: '', key: undefined };
    return {
      ...common,
      degree: event.degree,
      written: pitchView(event.written).shown,
      sounding: pitchView(event.sounding).shown,
      key: midi(event.written),
    };
  });
}

function statementViews(line: Line): StatementView[] {
  return line.statements.map((s) => ({
    index: s.index,
    key: keyText(s.writtenKey),
    keyWords: keyWords(s.writtenKey),
    sounding: keyText(s.soundingKey),
    spot: wheelSpot(chroma(s.soundingKey.tonic)),
    direction: s.direction,
    pass: s.pass,
    place: s.keyIndex,
    set: s.set,
    onset: toNumber(s.onset),
    turned: s.turned,
  }));
}

export function exerciseView(
  read: Draft,
  spec: EditionSpec,
  { line, id }: InFocus,
  ask: Ask<'show'>,
  shop: Workshop,
  fonts: Fonts,
): ExerciseView {
  const number = (read.book?.chapters.flatMap((chapter) => chapter.exercises).findIndex((it) => it.id === id) ?? 0) + 1;
  const { exercise, player } = line;
  const beats = tempoOf(line.exercise, ask.bpm);
  const opening = shop.cache.cached(['opening', shop.cache.identity(line)], () => {
    const shape = shapeScore(line, barsOf(line), fonts);
    const drawing = drawSystem(shape, { from: 0, to: Math.min(OPENING_BARS, shape.bars.length), width: undefined });
    return drawingSvg(drawing, fonts, { title: musicWords(`${number}`, line), scale: 5.4, glyphs: 'inline' });
  });
  return {
    id,
    number,
    title: exercise.title,
    opening,
    words: musicWords(`${number}`, line),
    notes: noteViews(line),
    statements: statementViews(line),
    turnaround: line.turnaround,
    duration: toNumber(line.duration),
    leftOut: line.leftOut.map(keyText),
    low: pitchView(player.compass.low),
    high: pitchView(player.compass.high),
    breathing: breathingView(line, beats, settingsFor(spec, ask), shop),
    tempo: exercise.tempo && { from: exercise.tempo.from, to: exercise.tempo.to, beat: beatText(exercise.tempo.beat) },
    seconds: toNumber(line.duration) * secondsPerWhole(beats),
  };
}
