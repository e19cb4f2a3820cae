/** `twelvefold export`: exercises as notation data, MIDI, sound, slides, braille or words. */
import { join, resolve } from 'node:path';
import { slug } from '../../base/file-name.js';
import { bad, error, good, type Issue, isError, type Result } from '../../base/issue.js';
import { didYouMean } from '../../base/nearest.js';
import { withPictures } from '../../batch/pictures.js';
import type { Book } from '../../book/book.js';
import { fileIssue, inFolder, writeChunksSafely } from '../../disk/files.js';
import { openedFonts } from '../../disk/fonts.js';
import { installedRasteriser } from '../../disk/rasteriser.js';
import type { ExportFile } from '../../export/export-file.js';
import { FORMATS, type Format } from '../../export/format-names.js';
import { exportFiles, type Wishes } from '../../export/formats.js';
import { linesOf, type Selection } from '../../export/selection.js';
import { instrumentById } from '../../player/catalogue.js';
import { findEdition, findExercise } from '../find.js';
import { openFile } from '../open.js';
import { EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from '../terminal.js';
import { ensembleFiles } from './export-ensemble.js';
import type { Chosen, ExportOptions } from './export-options.js';

const SHAPES = ['16:9', '9:16'] as const;
const SIZES = [1080, 2160] as const;
const RATES = [44100, 48000] as const;

/** Options as written → wishes; what is not a number or not among the choices is told by the option's name. */
function wishesOf(options: ExportOptions): Result<Wishes> {
  const issues: Issue[] = [];
  const number = (name: string, text: string | undefined): number | undefined => {
    if (text === undefined) return undefined;
    const value = text.trim() === '' ? Number.NaN : Number(text);
    if (!Number.isFinite(value)) issues.push(error('not-a-number', [], `--${name} "${text}" is not a number; write one such as 60.`));
    return value;
  };
  function among<T extends string | number>(name: string, value: string | number | undefined, choices: readonly T[]): T | undefined {
    const found = choices.find((choice) => choice === value);
    if (value !== undefined && found === undefined && !Number.isNaN(value)) {
      issues.push(error('not-a-choice', [], `--${name} ${value} is not possible; choose ${choices.join(' or ')}.`));
    }
    return found;
  }
  const wishes: Wishes = {
    bpm: number('tempo', options.tempo),
    ladder: number('ladder', options.ladder),
    countIn: number('count-in', options.countIn),
    click: options.click === true,
    drone: options.drone === true,
    a4: number('a4', options.a4),
    rate: among('rate', number('rate', options.rate), RATES),
    shape: among('shape', options.shape, SHAPES),
    size: among('size', number('size', options.size), SIZES),
    ground: options.dark ? 'dark' : 'light',
    eachKey: options.eachKey === true,
  };
  return issues.length > 0 ? bad(...issues) : good(wishes);
}

function formatOf(to: string): Result<Format> {
  const found = FORMATS.find((format) => format === to);
  if (found) return good(found);
  const remedy = didYouMean(to, FORMATS) || `; choose one of ${FORMATS.join(', ')}.`;
  return bad(error('unknown-format', [], `There is no format "${to}"${remedy}`));
}

/** The exercises that the options name, and what they are together. */
function choose(book: Book, { exercise, chapter }: ExportOptions): Result<Chosen> {
  if (exercise !== undefined) {
    const found = findExercise(book, exercise);
    return found.ok ? good({ title: found.value.exercise.title, name: '', exercises: [found.value] }) : found;
  }
  const all = book.chapters.map((one, c) => ({
    chapter: one,
    exercises: one.exercises.map((own, e) => ({ exercise: own, path: ['chapters', c, 'exercises', e] })),
  }));
  if (chapter === undefined) return good({ title: book.title, name: '', exercises: all.flatMap((one) => one.exercises) });
  const found = all.find((one) => one.chapter.id === chapter);
  if (found) return good({ title: found.chapter.title, name: `-${slug(chapter)}`, exercises: found.exercises });
  const ids = all.map((one) => one.chapter.id);
  return bad(
    error('unknown-chapter', [], `The book has no chapter "${chapter}"${didYouMean(chapter, ids) || `; choose one of ${ids.join(', ')}.`}`),
  );
}

function select(book: Book, options: ExportOptions, chosen: Chosen): Result<Selection> {
  const instrument = instrumentById(options.player ?? '');
  if (!instrument.ok) return instrument;
  const edition = findEdition(book, instrument.value.id, options.level);
  const lines = linesOf(chosen.exercises, edition, options.exercise !== undefined);
  if (!lines.ok) return lines;
  const stem = `${slug(book.title)}-${edition.instrument}${chosen.name}`;
  return good({ book, edition, lines: lines.value, title: chosen.title, stem, fonts: openedFonts() }, lines.issues);
}

type Done = { readonly issues: readonly Issue[]; readonly written: readonly string[] };

async function playerFiles(
  book: Book,
  options: ExportOptions,
  format: Format,
  wishes: Wishes,
  chosen: Chosen,
  signal: AbortSignal,
): Promise<Result<readonly ExportFile[]>> {
  const selection = select(book, options, chosen);
  if (!selection.ok) return selection;
  const { lines } = selection.value;
  // Threads are worth their start when there is more than a handful of pictures.
  const many = format === 'png' && (lines.length > 2 || wishes.eachKey === true);
  const files = many
    ? await withPictures(2 * lines.length, signal, (paint) => exportFiles(format, selection.value, wishes, { paint }))
    : await exportFiles(format, selection.value, wishes, installedRasteriser);
  return files.ok ? good(files.value, [...selection.issues, ...files.issues]) : files;
}

async function exportAll(book: Book, options: ExportOptions, terminal: Terminal): Promise<Done> {
  const issues: Issue[] = [];
  const written: string[] = [];
  const take = <T>(result: Result<T>): T | undefined => {
    issues.push(...result.issues);
    return result.ok ? result.value : undefined;
  };
  const format = take(formatOf(options.to));
  const wishes = take(wishesOf(options));
  if (!format || !wishes) return { issues, written };
  const chosen = take(choose(book, options));
  if (!chosen) return { issues, written };
  const { ensemble } = options;
  const files = take(
    ensemble === undefined
      ? await playerFiles(book, options, format, wishes, chosen, terminal.signal)
      : await ensembleFiles(book, format, wishes, chosen, { ...options, ensemble }, terminal),
  );
  if (!files) return { issues, written };
  const out = options.out ?? '.';
  const writeAll = async (folder: string): Promise<void> => {
    for (const file of files) {
      const shown = join(out, file.name);
      try {
        await writeChunksSafely(join(folder, file.name), file.chunks(), { signal: terminal.signal, inFolder: true });
        written.push(shown);
      } catch (failure) {
        const issue = terminal.signal.aborted ? undefined : fileIssue(failure, shown);
        if (!issue) throw failure;
        issues.push(issue);
        return;
      }
    }
  };
  take(await inFolder(resolve(terminal.cwd, out), out, writeAll));
  return { issues, written };
}

/** Why the options do not go together; undefined if they do. */
function usageFault({ player, ensemble, part, parts, pitch }: ExportOptions): string | undefined {
  if ((player === undefined) === (ensemble === undefined))
    return 'say for whom: --player <instrument> for one player, or --ensemble <file> for a set of players.';
  if (ensemble === undefined && (part || parts || pitch !== undefined)) return '--part, --parts and --pitch go with --ensemble.';
  if (part && parts) return 'choose between --part and --parts.';
  return pitch !== undefined && (part || parts) ? '--pitch is for the score; parts are always as their players read them.' : undefined;
}

export async function exportCommand(name: string, options: ExportOptions, terminal: Terminal): Promise<ExitCode> {
  const fault = usageFault(options);
  if (fault !== undefined) {
    terminal.err(`error: ${fault}\n`);
    return EXIT.usage;
  }
  const { book, file } = await openFile(name, terminal);
  const { issues, written } = book.ok ? await exportAll(book.value, options, terminal) : { issues: book.issues, written: [] };
  const ok = !issues.some(isError);
  if (options.json) tellJson(terminal, { ok, issues, files: written });
  else {
    tellIssues(terminal, issues, file);
    for (const path of written) terminal.out(`Wrote ${path}\n`);
  }
  return ok ? EXIT.ok : EXIT.mistakes;
}
