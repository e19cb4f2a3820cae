/** One exercise as the window shows it, written as notation data, MIDI, sound, slides, braille or words. */
import { join } from 'node:path';
import type { Writable } from 'node:stream';
import { buildEdition } from '../../core/build.js';
import { exportFiles, type Rasteriser, type Selection, type Wishes } from '../../core/cli/export-files.js';
import type { Fonts } from '../../core/engrave/metrics.js';
import { slug } from '../../core/file-name.js';
import { readyFolder, writeSafely } from '../../core/files.js';
import type { Workshop } from '../../core/incremental.js';
import { bad, error, good, type Result } from '../../core/issue.js';
import { breaksOf } from '../../core/output/breaks.js';
import { realise } from '../../core/player/realise.js';
import type { Built, ExportAsk } from './contract.js';
import { openPress, pressFailure, sinkWriter, type Tell } from './press.js';

type Context = { readonly shop: Workshop; readonly fonts: Fonts; readonly rasteriser: Rasteriser };

const notHere = () =>
  error('exercise-not-shown', [], 'This exercise cannot be exported as it stands; mend its faults, or choose another instrument.');

function selectionOf(ask: ExportAsk, { shop, fonts }: Context): Result<Selection> {
  const read = shop.read(ask.source);
  const index = read.editions[ask.edition];
  const id = [...read.places].find(([, at]) => at.chapter === ask.focus.chapter && at.exercise === ask.focus.exercise)?.[0];
  // What is held back in its last sound form is not what is written now.
  const held = read.held.some((at) => at.chapter === ask.focus.chapter && at.exercise === ask.focus.exercise);
  if (!read.book || index === undefined || id === undefined || held) return bad(notHere());
  const { book } = read;
  const edition = book.editions[index];
  const exercise = book.chapters.flatMap((chapter) => chapter.exercises).find((it) => it.id === id);
  const set = shop.set(read, index);
  if (!edition || !exercise || !set.ok) return bad(notHere());
  const line = realise(exercise, set.value.player);
  if (!line.ok) return line;
  // Only notation data says where the printed systems and pages begin.
  const built = ask.format === 'musicxml' || ask.format === 'mxl' ? buildEdition(book, edition, fonts) : undefined;
  const breaks = built?.ok ? breaksOf(built.value.document) : new Map();
  const stem = `${slug(book.title)}-${edition.instrument}`;
  return good({ book, edition, lines: [line.value], title: exercise.title, breaks, stem }, line.issues);
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
  const press = openPress(ask.folder, context.fonts, signal, 1, tell);
  try {
    await press.begin(selection.value.title);
    const files = await exportFiles(ask.format, selection.value, wishesOf(ask), context.rasteriser);
    if (!files.ok) return files;
    for (const [i, file] of files.value.entries()) {
      press.at = join(ask.folder, file.name);
      const fill = async (sink: Writable): Promise<void> => {
        const write = sinkWriter(sink);
        for (const chunk of file.chunks()) {
          signal.throwIfAborted();
          await write(chunk);
        }
      };
      await writeSafely(press.at, fill, { signal, inFolder: true });
      press.share((i + 1) / files.value.length);
      press.files.push({ path: press.at, name: file.name, pages: 0 });
    }
    return good({ files: press.files }, [...selection.issues, ...files.issues]);
  } catch (failure) {
    return pressFailure(failure, press);
  }
}
