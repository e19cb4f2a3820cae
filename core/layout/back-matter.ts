/** Appendices of an edition: charts, indexes, ladder and record sheet, each only if the book asks for it. */

import type { Cached, KeyPart } from '../base/cache.js';
import type { Pt } from '../base/units.js';
import { drawSnippet } from '../engrave/snippet.js';
import type { Figure } from '../exercise/figure.js';
import { type Key, keyAtFifths, keyFifths, keyText, transposeKey } from '../theory/key.js';
import { classText, intervalBetween, type Pitch, pitchText, stepOf, transpose } from '../theory/pitch.js';
import { degreeInterval, SCALE_NAMES, type ScaleName, scaleIntervals, scaleMode } from '../theory/scale.js';
import { type EditionContent, type ExercisePlace, exerciseAnchor, type Leaf } from './edition.js';
import { type FigureEntry, figureIndexPages, type KeyEntry, keyIndexPages } from './matter/index-pages.js';
import { keyChartPages } from './matter/key-chart.js';
import { metronomeLadderPage } from './matter/metronome-ladder.js';
import { practiceRecordPages } from './matter/practice-record.js';
import { snippetPages } from './matter/snippet-pages.js';
import { type MatterPage, pagesOn, type Setting } from './page/geometry.js';

export type BackSection = { readonly title: string; readonly anchor: string; readonly page: number };

const reference = (place: ExercisePlace): { page: string; anchor: string } => ({
  page: `${place.page + 1}`,
  anchor: exerciseAnchor(place.id),
});

function figureEntries(content: EditionContent, places: readonly ExercisePlace[]): FigureEntry[] {
  const byText = new Map<string, { figure: Figure; references: { page: string; anchor: string }[] }>();
  for (const place of places) {
    const line = content.lines.get(place.id);
    if (!line) continue;
    const { figure } = line.exercise;
    const entry = byText.get(figure.text) ?? { figure, references: [] };
    entry.references.push(reference(place));
    byText.set(figure.text, entry);
  }
  return [...byText.values()];
}

/** Keys in circle order, each with the exercises that have a statement in it. */
function keyEntries(content: EditionContent, places: readonly ExercisePlace[]): KeyEntry[] {
  const byKey = new Map<string, { key: Key; references: { page: string; anchor: string }[] }>();
  for (const place of places) {
    const line = content.lines.get(place.id);
    const keys = new Map((line?.statements ?? []).map((s) => [keyText(s.writtenKey), s.writtenKey] as const));
    for (const [name, key] of keys) {
      const entry = byKey.get(name) ?? { key, references: [] };
      entry.references.push(reference(place));
      byKey.set(name, entry);
    }
  }
  return [...byKey.values()].sort((a, b) => a.key.mode.localeCompare(b.key.mode) || keyFifths(a.key) - keyFifths(b.key));
}

/** The compass as its natural notes from lowest to highest, the two ends exact. */
function compassNotes(content: EditionContent): { pitch: Pitch; label: string }[] {
  const { low, high } = content.player.compass;
  const notes: { pitch: Pitch; label: string }[] = [{ pitch: low, label: classText(low) }];
  for (let step = stepOf(low) + 1; step < stepOf(high); step++) {
    const pitch = { letter: step % 7, alter: 0, octave: Math.floor(step / 7) };
    notes.push({ pitch, label: pitch.letter === 0 ? 'C' : '' });
  }
  if (stepOf(high) > stepOf(low)) notes.push({ pitch: high, label: classText(high) });
  return notes;
}

function compassPages(content: EditionContent, setting: Setting, space: Pt): MatterPage[] {
  const { player } = content;
  const { instrument, compass } = player;
  const drawing = drawSnippet({ clef: instrument.clef, fifths: 0, notes: compassNotes(content), value: 1, step: 3 }, setting.fonts);
  const sounding = intervalBetween(compass.low, transpose(compass.low, instrument.transposition)).steps;
  const pitched = instrument.pitchedIn ? ` A written C sounds ${instrument.pitchedIn}.` : sounding === 0 ? ' It sounds as written.' : '';
  const text = `Every exercise in this book stays between the lowest and the highest note shown here, in written pitch.${pitched}`;
  const words = `Compass for ${instrument.name}: ${pitchText(compass.low)} to ${pitchText(compass.high)}, written.`;
  return snippetPages(
    {
      title: 'The Compass of This Book',
      anchor: 'compass',
      text,
      snippets: [
        { label: '', drawing, alt: words, caption: `${pitchText(compass.low)} to ${pitchText(compass.high)}, ${player.level} level` },
      ],
    },
    space,
    setting,
  );
}

/** Heads of the scale appendix stand this many spaces apart, so that two octaves' worth of notes fill most of a line. */
const SCALE_STEP = 5.2;

const APPENDIX_SCALES: readonly ScaleName[] = SCALE_NAMES.filter(
  (name) => name !== 'ionian' && name !== 'aeolian' && name !== 'altered' && name !== 'whole tone',
);

/** Each scale once, from written C or the lowest C of the compass. */
function scalePages(content: EditionContent, setting: Setting, space: Pt): MatterPage[] {
  const { player } = content;
  const { low, high } = player.compass;
  let root: Pitch = { letter: 0, alter: 0, octave: low.octave };
  if (stepOf(root) < stepOf(low)) root = { ...root, octave: root.octave + 1 };
  if (stepOf(root) + 7 > stepOf(high)) root = { ...root, octave: root.octave - 1 };
  const snippets = APPENDIX_SCALES.map((name) => {
    const up = [...scaleIntervals(name).map((i) => transpose(root, i)), transpose(root, degreeInterval(8))];
    const tones = [...up, ...up.slice(0, -1).reverse()];
    const fifths = scaleMode(name) === 'minor' ? keyFifths({ tonic: root, mode: 'minor' }) : 0;
    const drawing = drawSnippet(
      { clef: player.instrument.clef, fifths, notes: tones.map((pitch) => ({ pitch, label: '' })), value: 4, step: SCALE_STEP },
      setting.fonts,
    );
    const title = name.charAt(0).toUpperCase() + name.slice(1);
    return { label: title, drawing, alt: `${title} scale from C: ${tones.map(pitchText).join(' ')}`, caption: '' };
  });
  return snippetPages({ title: 'Scales', anchor: 'scales', text: '', snippets }, space * 0.85, setting);
}

const nothing = (): undefined => undefined;

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

export function backMatter(
  content: EditionContent,
  places: readonly ExercisePlace[],
  setting: Setting,
  before: number,
  space: Pt,
  cached: Cached,
): { leaves: Leaf[]; sections: BackSection[] } {
  const { extras } = content.book;
  const leaves: Leaf[] = [];
  const sections: BackSection[] = [];
  const { instrument, compass, level } = content.player;
  const add = (wanted: boolean, title: string, anchor: string, from: () => KeyPart, build: (own: Setting) => MatterPage[]): void => {
    if (!wanted) return;
    const geometry = pagesOn(setting.geometry, leaves.length);
    const own = ['back', anchor, geometry, instrument.id, compass, level];
    const last = content.hasty ? content.lastBack?.get(JSON.stringify(own)) : undefined;
    const pages = last ?? cached([...own, from()], () => build({ ...setting, geometry }));
    content.lastBack?.set(JSON.stringify(own), pages);
    sections.push({ title, anchor, page: before + leaves.length });
    leaves.push(...pages.map((matter): Leaf => ({ matter, running: title, footFolio: false })));
  };
  const { transposition } = content.player.instrument;
  const concert = content.player.instrument.pitchedIn ? (written: Key): Key => simplest(transposeKey(written, transposition)) : undefined;
  const goal = (id: string): string => {
    const tempo = content.lines.get(id)?.exercise.tempo;
    return tempo ? `${tempo.from}–${tempo.to}` : '';
  };
  const record = places.map((p) => ({ number: p.number, title: p.title, goal: goal(p.id) }));
  add(extras.compassChart, 'The Compass of This Book', 'compass', nothing, (own) => compassPages(content, own, space));
  add(extras.keyChart, 'Keys and Signatures', 'key-chart', nothing, (own) => keyChartPages(concert ? { concert } : {}, own));
  add(extras.scaleAppendix, 'Scales', 'scales', nothing, (own) => scalePages(content, own, space));
  add(extras.metronomeLadder, 'Metronome Ladder', 'metronome-ladder', nothing, (own) => [metronomeLadderPage(own)]);
  add(
    extras.practiceRecord,
    'Practice Record',
    'practice-record',
    () => record,
    (own) => practiceRecordPages({ exercises: record, weeks: 10 }, own),
  );
  // Found only when asked for: someone who types does not wait for the indexes.
  const figures = once(() => figureEntries(content, places));
  add(extras.figureIndex, 'Index of Figures', 'figure-index', figures, (own) => figureIndexPages(figures(), own));
  const keys = once(() => keyEntries(content, places));
  add(extras.keyIndex, 'Index of Keys', 'key-index', keys, (own) => keyIndexPages(keys(), own));
  return { leaves, sections };
}

/** A key with more than seven signs by its usual name: G sharp major is A flat major. */
function simplest(key: Key): Key {
  const fifths = keyFifths(key);
  return Math.abs(fifths) <= 7 ? key : keyAtFifths(fifths - 12 * Math.sign(fifths), key.mode);
}
