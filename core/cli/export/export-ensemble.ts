/** `twelvefold export --ensemble`: the score of an ensemble, or its parts, as notation data or MIDI. */
import { resolve } from 'node:path';
import { slug } from '../../base/file-name.js';
import { bad, error, good, isError, type Result } from '../../base/issue.js';
import { first } from '../../base/list.js';
import { didYouMean } from '../../base/nearest.js';
import type { Book } from '../../book/book.js';
import { MAX_LENGTH } from '../../book/json.js';
import { readText } from '../../disk/files.js';
import { openedFonts } from '../../disk/fonts.js';
import type { Chair, Ensemble } from '../../ensemble/ensemble.js';
import { ensembleBookOf } from '../../ensemble/ensemble-book.js';
import { readEnsemble } from '../../ensemble/read.js';
import { type EnsembleSelection, ensembleMidi, ensembleXml } from '../../export/ensemble-files.js';
import type { ExportFile } from '../../export/export-file.js';
import type { Format } from '../../export/format-names.js';
import type { Wishes } from '../../export/formats.js';
import { withPool } from '../batch.js';
import { layOutAll } from '../ensemble.js';
import type { Terminal } from '../terminal.js';
import type { Chosen, ExportOptions } from './export-options.js';

const ENSEMBLE_FORMATS = ['musicxml', 'mxl', 'midi'] as const;
const PITCHES = ['concert', 'transposed'] as const;

/** The chairs whose parts are asked for; undefined for the score. */
function chairsOf({ chairs }: Ensemble, { part, parts }: ExportOptions): Result<readonly Chair[] | undefined> {
  if (parts) return good(chairs);
  if (!part) return good(undefined);
  const ids = chairs.map(({ id }) => id);
  const unknown = part.filter((id) => !ids.includes(id));
  if (unknown.length === 0) return good(chairs.filter(({ id }) => part.includes(id)));
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

/** What the options ask for of the ensemble in this file. */
function selectOf(book: Book, read: Ensemble, chosen: Chosen, options: ExportOptions): Result<EnsembleSelection> {
  const ensemble = pitched(read, options.pitch);
  if (!ensemble.ok) return ensemble;
  const chairs = chairsOf(ensemble.value, options);
  if (!chairs.ok) return chairs;
  const ensembleBook = ensembleBookOf(book, ensemble.value);
  const ids = new Set(chosen.exercises.map(({ exercise }) => exercise.id));
  const exercises = ensembleBook.exercises.filter(({ exercise }) => ids.has(exercise.id));
  if (exercises.length === 0) {
    const words = `The ensemble plays none of what was chosen ("${chosen.title}"); add it to its "exercises", or choose another.`;
    return bad(error('exercise-not-in-set', [], words));
  }
  const single = chosen.name === '' && chosen.exercises.length === 1;
  const nameEnd = single ? `-${slug(first(exercises).exercise.id)}` : chosen.name;
  return good({ ensembleBook, exercises, title: chosen.title, nameEnd, chairs: chairs.value });
}

/** The exercises are laid out on all threads. */
async function xmlFiles(
  selection: EnsembleSelection,
  format: 'musicxml' | 'mxl',
  terminal: Terminal,
  quiet: boolean,
): Promise<Result<readonly ExportFile[]>> {
  const { ensembleBook } = selection;
  const { book, ensemble, exercises } = ensembleBook;
  const { layouts, issues } = await withPool({ kind: 'ensemble', book, ensemble }, exercises.length, terminal.signal, (pool) =>
    layOutAll(ensembleBook, pool, terminal, quiet),
  );
  if (issues.some(isError)) return { ok: false, issues };
  const files = ensembleXml(selection, format, layouts, openedFonts());
  return files.ok ? good(files.value, [...issues, ...files.issues]) : files;
}

/** The files of an ensemble that the options ask for. */
export async function ensembleFiles(
  book: Book,
  asked: Format,
  wishes: Wishes,
  chosen: Chosen,
  options: ExportOptions & { readonly ensemble: string },
  terminal: Terminal,
): Promise<Result<readonly ExportFile[]>> {
  const format = ENSEMBLE_FORMATS.find((one) => one === asked);
  if (!format) {
    const words = `"${asked}" is for a single player; with --ensemble choose ${ENSEMBLE_FORMATS.join(', ')}, or name a --player instead.`;
    return bad(error('format-for-one-player', [], words));
  }
  const text = await readText(resolve(terminal.cwd, options.ensemble), 3 * MAX_LENGTH, options.ensemble, 'an ensemble file');
  if (!text.ok) return text;
  const read = readEnsemble(text.value, book);
  if (!read.ok) return read;
  const selection = selectOf(book, read.value, chosen, options);
  if (!selection.ok) return selection;
  const { bpm, countIn, click } = wishes;
  const files =
    format === 'midi'
      ? ensembleMidi(selection.value, { bpm, countIn, click })
      : await xmlFiles(selection.value, format, terminal, options.json === true);
  return files.ok ? good(files.value, [...read.issues, ...files.issues]) : files;
}
