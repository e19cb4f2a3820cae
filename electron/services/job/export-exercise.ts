/** One exercise as the window shows it, written as notation data, MIDI, sound, slides, braille or words. */
import { join } from 'node:path';
import { slug } from '../../../core/base/file-name.js';
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import type { Workshop } from '../../../core/build/workshop.js';
import { fileIssue, readyFolder, writeChunksSafely } from '../../../core/disk/files.js';
import type { Fonts } from '../../../core/engrave/metrics.js';
import { exportFiles, type Wishes } from '../../../core/export/formats.js';
import { linesOf, type Selection } from '../../../core/export/selection.js';
import type { Rasteriser } from '../../../core/output/picture/png.js';
import type { Built, BuiltFile } from '../contract/answers/written.js';
import type { Ask } from '../contract/questions.js';
import { stopped, type Tell } from './progress.js';

export type ExportAsk = Omit<Ask<'export'>, 'ticket'>;

type Context = { readonly shop: Workshop; readonly fonts: Fonts; readonly rasteriser: Rasteriser };

const notHere = () =>
  error('exercise-not-shown', [], 'This exercise cannot be exported as it stands; mend its faults, or choose another instrument.');

function selectionOf(ask: ExportAsk, { shop, fonts }: Context): Result<Selection> {
  const read = shop.read(ask.source);
  const index = read.editions[ask.edition];
  const id = [...read.places].find(([, at]) => at.chapter === ask.focus.chapter && at.exercise === ask.focus.exercise)?.[0];
  // What is held back in its last sound form is not what is written now.
  const outdated = read.outdated.some((at) => at.chapter === ask.focus.chapter && at.exercise === ask.focus.exercise);
  if (!read.book || index === undefined || id === undefined || outdated) return bad(notHere());
  const { book } = read;
  const edition = book.editions[index];
  const exercise = book.chapters.flatMap((chapter) => chapter.exercises).find((it) => it.id === id);
  if (!edition || !exercise) return bad(notHere());
  const lines = linesOf([{ exercise, path: [] }], edition, true);
  if (!lines.ok) return lines;
  const stem = `${slug(book.title)}-${edition.instrument}`;
  return good({ book, edition, lines: lines.value, title: exercise.title, stem, fonts }, lines.issues);
}

function wishesOf(ask: ExportAsk): Wishes {
  const given = { bpm: ask.bpm, ladder: ask.ladder, countIn: ask.countIn, a4: ask.a4, shape: ask.shape };
  const said = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
  return { ...said, click: ask.click, drone: ask.drone, ground: ask.dark ? 'dark' : 'light', eachKey: ask.eachKey };
}

/** Issue `stopped` when the signal was aborted; a file is there whole or not at all. */
export async function exportExercise(ask: ExportAsk, context: Context, signal: AbortSignal, tell: Tell): Promise<Result<Built>> {
  const selection = selectionOf(ask, context);
  if (!selection.ok) return selection;
  const folder = await readyFolder(ask.folder);
  if (!folder.ok) return folder;
  const { title } = selection.value;
  tell(0, 100, title);
  // Lets the event loop turn, so that a wish to stop is heard.
  await new Promise((turn) => setImmediate(turn));
  if (signal.aborted) return bad(stopped());
  const files = await exportFiles(ask.format, selection.value, wishesOf(ask), context.rasteriser);
  if (!files.ok) return files;
  const written: BuiltFile[] = [];
  for (const file of files.value) {
    const path = join(ask.folder, file.name);
    try {
      await writeChunksSafely(path, file.chunks(), { signal, inFolder: true });
    } catch (failure) {
      if (signal.aborted) return bad(stopped());
      const issue = fileIssue(failure, path);
      if (!issue) throw failure;
      return bad(issue);
    }
    written.push({ path, name: file.name, pages: 0 });
    tell(Math.round((100 * written.length) / files.value.length), 100, title);
  }
  return good({ files: written, missing: [] }, [...selection.issues, ...files.issues]);
}
