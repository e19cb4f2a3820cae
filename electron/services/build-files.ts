/** Writing what was chosen to a folder: editions of the book, students' booklets, parts and score. The pages are those of the screen. */
import { join } from 'node:path';
import type { Book } from '../../core/book/book.js';
import { resolveBook } from '../../core/book/resolve.js';
import { checkShape } from '../../core/book/schema.js';
import { type BuiltEdition, buildEdition } from '../../core/build.js';
import type { Fonts } from '../../core/engrave/metrics.js';
import { distinct, editionStems, slug } from '../../core/file-name.js';
import { readyFolder, writeSafely, writeTextSafely } from '../../core/files.js';
import { bad, good, isError, type Result } from '../../core/issue.js';
import { midiExport } from '../../core/output/midi.js';
import { perform } from '../../core/output/performance.js';
import { pageSvg } from '../../core/output/svg.js';
import { instrumentById } from '../../core/player/catalogue.js';
import { bookletPieces, pressBooklets, pressSet, setPieces } from './build-people.js';
import type { BuildAsk, Built } from './contract.js';
import { ensembleOf, rosterOf } from './people-check.js';
import { openPress, type Press, pressFailure, pressPdf, type Tell } from './press.js';

/** A folder of its own inside the chosen one. */
async function folderIn(press: Press, name: string): Promise<string> {
  press.at = join(press.folder, name);
  const ready = await readyFolder(press.at);
  if (ready.ok) return press.at;
  press.issues.push(...ready.issues);
  throw Object.assign(new Error(name), { code: 'ENOTDIR' });
}

async function pressMidi(press: Press, { lines }: BuiltEdition, stem: string): Promise<Result<true>> {
  const folder = await folderIn(press, `${stem}-midi`);
  const all = [...lines.values()];
  const stems = distinct(all.map(({ exercise }, i) => `${String(i + 1).padStart(3, '0')}-${slug(exercise.title)}`));
  for (const [i, line] of all.entries()) {
    const sound = perform(line, { countIn: 1 });
    if (!sound.ok) return sound;
    press.at = join(folder, `${stems[i]}.mid`);
    const bytes = midiExport(line.exercise.title, [sound.value]);
    await writeSafely(press.at, (sink) => void sink.end(bytes), { signal: press.signal, inFolder: true });
  }
  press.files.push({ path: folder, name: `${stem}-midi`, pages: 0 });
  return good(true);
}

async function pressPictures(press: Press, { document }: BuiltEdition, stem: string): Promise<void> {
  const folder = await folderIn(press, `${stem}-pages`);
  for (const [i, page] of document.pages.entries()) {
    press.at = join(folder, `page-${String(i + 1).padStart(3, '0')}.svg`);
    const svg = pageSvg(page, document, press.fonts, { title: `Page ${page.label}` });
    await writeTextSafely(press.at, svg, { signal: press.signal, inFolder: true });
    press.share(0.4 + (0.6 * (i + 1)) / document.pages.length);
  }
  press.files.push({ path: folder, name: `${stem}-pages`, pages: document.pages.length });
}

async function pressEditions(press: Press, book: Book, { editions, kinds }: BuildAsk): Promise<Result<true>> {
  const stems = editionStems(
    book.title,
    book.editions.map((edition) => edition.instrument),
  );
  for (const index of editions) {
    const spec = book.editions[index];
    const stem = stems[index];
    if (!spec || !stem) continue;
    const instrument = instrumentById(spec.instrument);
    await press.begin(instrument.ok ? instrument.value.name : spec.instrument);
    const built = buildEdition(book, spec, press.fonts);
    press.issues.push(...built.issues);
    if (!built.ok) continue;
    if (kinds.includes('pdf')) await pressPdf(press, built.value.document, `${stem}.pdf`);
    if (kinds.includes('midi')) {
      const done = await pressMidi(press, built.value, stem);
      if (!done.ok) return done;
    }
    if (kinds.includes('svg')) await pressPictures(press, built.value, stem);
  }
  return good(true);
}

/** Issue `stopped` when the signal was aborted; files already finished stay. What cannot be built is told and passed over. */
export async function buildFiles(ask: BuildAsk, fonts: Fonts, signal: AbortSignal, tell: Tell): Promise<Result<Built>> {
  const shape = checkShape(ask.source as { [field: string]: unknown });
  const book = shape.ok ? resolveBook(shape.value) : shape;
  if (!book.ok) return bad(...book.issues);
  const roster = ask.booklets && rosterOf(ask.booklets.roster as object, book.value);
  const ensemble = ask.set && ensembleOf(ask.set.ensemble as object, book.value);
  // Before anything is written: half of what was asked for is no help.
  const wrong = [...(roster?.ok === false ? roster.issues : []), ...(ensemble?.ok === false ? ensemble.issues : [])].filter(isError);
  if (wrong.length > 0) return bad(...wrong);
  const folder = await readyFolder(ask.folder);
  if (!folder.ok) return folder;
  const pieces =
    (ask.kinds.length > 0 ? ask.editions.length : 0) +
    (ask.booklets ? bookletPieces(ask.booklets) : 0) +
    (ask.set && ensemble?.ok ? setPieces(book.value, ensemble.value, ask.set) : 0);
  const press = openPress(ask.folder, fonts, signal, pieces, tell);
  try {
    if (ask.kinds.length > 0) {
      const done = await pressEditions(press, book.value, ask);
      if (!done.ok) return done;
    }
    if (ask.booklets && roster?.ok) await pressBooklets(press, book.value, roster.value, ask.booklets);
    if (ask.set && ensemble?.ok) await pressSet(press, book.value, ensemble.value, ask.set);
  } catch (failure) {
    return pressFailure(failure, press);
  }
  return press.files.length > 0 ? good({ files: press.files }, press.issues) : bad(...press.issues);
}
