/** The files of an ensemble: its score or its parts, as notation data or MIDI. */

import { distinct, slug } from '../base/file-name.js';
import { good, type Issue, type Result } from '../base/issue.js';
import { first, mustGet, zip } from '../base/list.js';
import { copyExercises, type ExerciseLayout } from '../build/ensemble-layout.js';
import { buildPart } from '../build/part.js';
import { buildScore } from '../build/score.js';
import { chairsInScore, scorePlan } from '../build/score-staves.js';
import { sharedPages } from '../build/shared-pages.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Chair } from '../ensemble/ensemble.js';
import { type EnsembleBook, ensembleStems, type NumberedExercise } from '../ensemble/ensemble-book.js';
import { breaksOf } from '../output/breaks.js';
import { type MusicXmlInfo, musicXml } from '../output/musicxml/musicxml.js';
import { mxl } from '../output/musicxml/mxl.js';
import type { NotatedExercise } from '../output/notated-exercise.js';
import { midiExport } from '../output/sound/midi.js';
import type { Performance } from '../output/sound/performance.js';
import { type EnsembleSound, ensemblePerformances } from './ensemble-performance.js';
import { partPaper, partPieces, scoreInfo, scorePaper, scorePieces } from './ensemble-pieces.js';
import { type ExportFile, exportFile } from './export-file.js';

/** What is exported of an ensemble's book. */
export type EnsembleSelection = {
  readonly ensembleBook: EnsembleBook;
  readonly exercises: readonly NumberedExercise[];
  /** Of the chapter or the book when it is all of one; else of the exercise. */
  readonly title: string;
  /** Of what is chosen, behind the stem of a notation file; begins with a hyphen where it is not empty. */
  readonly nameEnd: string;
  /** Whose parts are wanted; undefined for the score. */
  readonly chairs: readonly Chair[] | undefined;
};

type XmlFormat = 'musicxml' | 'mxl';

type FileInfo = Pick<MusicXmlInfo, 'paper' | 'groups' | 'concert'>;

function xmlFile(
  selection: EnsembleSelection,
  format: XmlFormat,
  head: string,
  pieces: readonly NotatedExercise[],
  more: FileInfo,
): ExportFile {
  const { title, author, copyright, date } = selection.ensembleBook.book;
  const stem = `${head}${selection.nameEnd}`;
  const xml = musicXml(pieces, { work: title, title: selection.title, author, copyright, date, ...more });
  return exportFile(`${stem}.${format}`, format === 'mxl' ? mxl(xml, stem, date) : xml);
}

const idsOf = ({ exercises }: EnsembleSelection): ReadonlySet<string> => new Set(exercises.map(({ exercise }) => exercise.id));

function scoreXml(
  selection: EnsembleSelection,
  format: XmlFormat,
  layouts: readonly ExerciseLayout[],
  fonts: Fonts,
): Result<readonly ExportFile[]> {
  const { ensembleBook } = selection;
  const plans = layouts.map((layout) => scorePlan(layout, ensembleBook.ensemble));
  const score = buildScore(ensembleBook, plans, fonts);
  if (!score.ok) return score;
  const ids = idsOf(selection);
  const pieces = scorePieces(
    ensembleBook,
    plans.filter(({ id }) => ids.has(id)),
    breaksOf(score.value),
  );
  const info = { paper: scorePaper(ensembleBook, score.value), ...scoreInfo(ensembleBook.ensemble) };
  return good([xmlFile(selection, format, ensembleStems(ensembleBook).score, pieces, info)], score.issues);
}

function partsXml(
  selection: EnsembleSelection & { readonly chairs: readonly Chair[] },
  format: XmlFormat,
  layouts: readonly ExerciseLayout[],
  fonts: Fonts,
): Result<readonly ExportFile[]> {
  const { ensembleBook, chairs } = selection;
  const contents = ensembleBook.copies
    .filter(({ chair }) => chairs.includes(chair))
    .map((copy) => ({ copy, exercises: copyExercises(layouts, copy) }));
  // Systems and pages are the same in every part.
  const part = buildPart(ensembleBook, first(contents), sharedPages(ensembleBook, layouts, fonts), fonts);
  if (!part.ok) return part;
  const breaks = breaksOf(part.value.document);
  const stems = ensembleStems(ensembleBook).copies;
  const ids = idsOf(selection);
  const files = contents.map(({ copy, exercises }): ExportFile => {
    const pieces = partPieces(ensembleBook, { copy, exercises: exercises.filter(({ id }) => ids.has(id)) }, breaks);
    return xmlFile(selection, format, mustGet(stems, copy.id), pieces, { paper: partPaper(ensembleBook.book, copy.chair) });
  });
  return good(files, part.issues);
}

/** Everything is laid out, for a page may begin anywhere; then what was asked for is written. */
export function ensembleXml(
  selection: EnsembleSelection,
  format: XmlFormat,
  layouts: readonly ExerciseLayout[],
  fonts: Fonts,
): Result<readonly ExportFile[]> {
  const { chairs } = selection;
  return chairs ? partsXml({ ...selection, chairs }, format, layouts, fonts) : scoreXml(selection, format, layouts, fonts);
}

/** A file for each exercise: of the score with all chairs, of a part with its own. */
export function ensembleMidi({ ensembleBook, exercises, chairs }: EnsembleSelection, sound: EnsembleSound): Result<readonly ExportFile[]> {
  const { book, ensemble } = ensembleBook;
  const head = `${slug(book.title)}-${slug(ensemble.name)}`;
  const names = distinct([`${head}-score`, ...ensemble.chairs.map(({ name }) => `${head}-${slug(name)}`)]);
  const stems = new Map(zip(ensemble.chairs, names.slice(1)));
  const files: ExportFile[] = [];
  const issues: Issue[] = [];
  for (const one of exercises) {
    const { id, title } = one.exercise;
    const sounding = chairs ?? chairsInScore(ensemble);
    const performances = ensemblePerformances(ensemble, one, sounding, sound);
    if (!performances.ok) return performances;
    issues.push(...performances.issues);
    const write = (stem: string, some: readonly Performance[], own: readonly Chair[]): void => {
      const titles = own.map(({ name }) => name);
      files.push(exportFile(`${stem}-${slug(id)}.mid`, midiExport(title, some, titles)));
    };
    if (chairs) for (const [chair, performance] of zip(chairs, performances.value)) write(mustGet(stems, chair), [performance], [chair]);
    else write(first(names), performances.value, sounding);
  }
  return good(files, issues);
}
