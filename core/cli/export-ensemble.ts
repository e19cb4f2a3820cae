/** `twelvefold export --ensemble`: the score of an ensemble, or its parts, as notation data or MIDI. */
import { resolve } from 'node:path';
import { distinct, slug } from '../base/file-name.js';
import { bad, error, good, type Issue, isError, type Result } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';
import type { Book } from '../book/book.js';
import { MAX_LENGTH } from '../book/json.js';
import { buildPart, layoutOfCopy, sharedPages } from '../build/parts.js';
import { buildScore, scorePlan } from '../build/score.js';
import { readText } from '../disk/files.js';
import { openedFonts } from '../disk/fonts.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import { type Copy, copiesOf, ensembleExercises, ensembleStems, type NumberedExercise } from '../ensemble/ensemble-book.js';
import { readEnsemble } from '../ensemble/read.js';
import { scoreOrder } from '../ensemble/score-order.js';
import { ensemblePerformances, partPaper, partPieces, scoreInfo, scorePaper, scorePieces } from '../export/ensemble-pieces.js';
import { type ExportFile, exportFile } from '../export/export-file.js';
import type { Format, Wishes } from '../export/formats.js';
import { breaksOf } from '../output/breaks.js';
import { type MusicXmlInfo, musicXml } from '../output/musicxml/musicxml.js';
import { mxl } from '../output/musicxml/mxl.js';
import type { Piece } from '../output/piece.js';
import { midiExport } from '../output/sound/midi.js';
import { withPool } from './batch.js';
import { layOutAll } from './ensemble.js';
import type { Chosen, ExportOptions } from './export-options.js';
import type { Terminal } from './terminal.js';

const ENSEMBLE_FORMATS: readonly Format[] = ['musicxml', 'mxl', 'midi'];
const PITCHES = ['concert', 'transposed'] as const;

type Ask = {
  readonly book: Book;
  readonly ensemble: Ensemble;
  readonly format: Format;
  readonly wishes: Wishes;
  readonly chosen: Chosen;
  readonly exercises: readonly NumberedExercise[];
  /** Indices of the chairs whose parts are wanted; undefined for the score. */
  readonly chairs: readonly number[] | undefined;
};

/** `trumpet-1` → the place of its chair. */
function chairsOf({ chairs }: Ensemble, { part, parts }: ExportOptions): Result<readonly number[] | undefined> {
  if (parts) return good(chairs.map((_, i) => i));
  if (!part) return good(undefined);
  const ids = chairs.map(({ id }) => id);
  const unknown = part.filter((id) => !ids.includes(id));
  if (unknown.length === 0) return good(ids.flatMap((id, i) => (part.includes(id) ? [i] : [])));
  return bad(
    ...unknown.map((id) => {
      const remedy = didYouMean(id, ids) || `; choose one of ${ids.join(', ')}.`;
      return error('unknown-part', [], `The ensemble has no chair "${id}"${remedy}`);
    }),
  );
}

/** The ensemble with its score in the pitch that is asked for. */
function pitched(ensemble: Ensemble, pitch: string | undefined): Result<Ensemble> {
  if (pitch === undefined) return good(ensemble);
  const found = PITCHES.find((one) => one === pitch);
  if (found) return good({ ...ensemble, score: { ...ensemble.score, pitch: found } });
  return bad(error('not-a-choice', [], `--pitch ${pitch} is not possible; choose ${PITCHES.join(' or ')}.`));
}

function exercisesOf(book: Book, ensemble: Ensemble, chosen: Chosen): Result<readonly NumberedExercise[]> {
  const ids = new Set(chosen.exercises.map(({ exercise }) => exercise.id));
  const own = ensembleExercises(book, ensemble).filter(({ exercise }) => ids.has(exercise.id));
  if (own.length > 0) return good(own);
  const words = `The ensemble plays none of what was chosen ("${chosen.title}"); add it to its "exercises", or choose another.`;
  return bad(error('exercise-not-in-set', [], words));
}

/** What is behind the stem of a file: the exercise where there is one, else the chapter. */
const nameEnd = ({ chosen, exercises }: Ask): string =>
  chosen.name !== '' || chosen.exercises.length > 1 ? chosen.name : `-${slug(exercises[0]?.exercise.id ?? '')}`;

function xmlFile(ask: Ask, stem: string, pieces: readonly Piece[], more: Pick<MusicXmlInfo, 'paper' | 'groups' | 'concert'>): ExportFile {
  const { book, format, chosen } = ask;
  const info = { work: book.title, title: chosen.title, author: book.author, copyright: book.copyright, date: book.date, ...more };
  const xml = musicXml(pieces, info);
  const name = `${stem}${nameEnd(ask)}`;
  return exportFile(`${name}.${format}`, format === 'mxl' ? mxl(xml, name, book.date) : xml);
}

/** Everything is laid out, for a page may begin anywhere; then what was asked for is written. */
async function xmlFiles(ask: Ask, terminal: Terminal, quiet: boolean): Promise<Result<readonly ExportFile[]>> {
  const { book, ensemble } = ask;
  const { signal } = terminal;
  const jobs = ensembleExercises(book, ensemble).length;
  const { layouts, issues } = await withPool({ kind: 'ensemble', book, ensemble }, jobs, signal, (pool) =>
    layOutAll(book, ensemble, pool, terminal, quiet),
  );
  if (issues.some(isError)) return { ok: false, issues };
  const wanted = new Set(ask.exercises.map(({ exercise }) => exercise.id));
  const copies = copiesOf(ensemble);
  const stems = ensembleStems(book.title, ensemble);
  if (!ask.chairs) {
    const chairs = copies.map(({ chair }) => chair);
    const plans = layouts.map((layout) => scorePlan(layout, ensemble, chairs));
    const score = buildScore(book, ensemble, plans, openedFonts());
    if (!score.ok) return score;
    const own = plans.filter(({ id }) => wanted.has(id));
    const pieces = scorePieces(book, ensemble, own, breaksOf(score.value));
    const info = { paper: scorePaper(book, ensemble, score.value), ...scoreInfo(ensemble) };
    return good([xmlFile(ask, stems.score, pieces, info)], [...issues, ...score.issues]);
  }
  const pages = sharedPages(book, ensemble, layouts, openedFonts());
  const own = copies.flatMap((copy, i) => (ask.chairs?.includes(copy.chair) ? [{ copy, i }] : []));
  const [first] = own as [{ copy: Copy; i: number }];
  // Systems and pages are the same in every part.
  const document = buildPart(book, ensemble, layoutOfCopy(layouts, first.i), pages, first.copy, openedFonts());
  if (!document.ok) return document;
  const breaks = breaksOf(document.value);
  const files = own.map(({ copy, i }): ExportFile => {
    const some = layoutOfCopy(layouts, i).filter(({ id }) => wanted.has(id));
    const chair = ensemble.chairs[copy.chair] as Ensemble['chairs'][number];
    return xmlFile(ask, stems.parts[i] as string, partPieces(book, ensemble, some, copy, breaks), { paper: partPaper(book, chair) });
  });
  return good(files, [...issues, ...document.issues]);
}

/** A file for each exercise: of the score with all chairs, of a part with its own. */
function midiFiles(ask: Ask): Result<readonly ExportFile[]> {
  const { book, ensemble, wishes } = ask;
  const head = `${slug(book.title)}-${slug(ensemble.name)}`;
  const all = scoreOrder(ensemble.chairs, ensemble.score.order);
  const names = distinct([`${head}-score`, ...ensemble.chairs.map(({ name }) => `${head}-${slug(name)}`)]);
  const chairs = ask.chairs ?? all;
  const files: ExportFile[] = [];
  const issues: Issue[] = [];
  for (const one of ask.exercises) {
    const runs = ensemblePerformances(ensemble, one, chairs, { bpm: wishes.bpm, countIn: wishes.countIn, click: wishes.click });
    if (!runs.ok) return runs;
    issues.push(...runs.issues);
    const { exercise } = one;
    const write = (stem: string | undefined, from: number, to: number): void => {
      const titles = chairs.slice(from, to).map((chair) => ensemble.chairs[chair]?.name ?? '');
      files.push(exportFile(`${stem}-${slug(exercise.id)}.mid`, midiExport(exercise.title, runs.value.slice(from, to), titles)));
    };
    if (ask.chairs) for (const [i, chair] of ask.chairs.entries()) write(names[chair + 1], i, i + 1);
    else write(names[0], 0, chairs.length);
  }
  return good(files, issues);
}

/** The files of an ensemble that the options ask for. */
export async function ensembleFiles(
  book: Book,
  format: Format,
  wishes: Wishes,
  chosen: Chosen,
  options: ExportOptions & { readonly ensemble: string },
  terminal: Terminal,
): Promise<Result<readonly ExportFile[]>> {
  if (!ENSEMBLE_FORMATS.includes(format)) {
    const words = `"${format}" is for a single player; with --ensemble choose ${ENSEMBLE_FORMATS.join(', ')}, or name a --player instead.`;
    return bad(error('format-for-one-player', [], words));
  }
  const text = await readText(resolve(terminal.cwd, options.ensemble), 3 * MAX_LENGTH, options.ensemble, 'an ensemble file');
  if (!text.ok) return text;
  const read = readEnsemble(text.value, book);
  if (!read.ok) return read;
  const ensemble = pitched(read.value, options.pitch);
  if (!ensemble.ok) return ensemble;
  const chairs = chairsOf(ensemble.value, options);
  if (!chairs.ok) return chairs;
  const exercises = exercisesOf(book, ensemble.value, chosen);
  if (!exercises.ok) return exercises;
  const ask: Ask = { book, ensemble: ensemble.value, format, wishes, chosen, exercises: exercises.value, chairs: chairs.value };
  const files = format === 'midi' ? midiFiles(ask) : await xmlFiles(ask, terminal, options.json === true);
  return files.ok ? good(files.value, [...read.issues, ...files.issues]) : files;
}
