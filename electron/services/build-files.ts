/** Writing the editions of a book to a folder: the same pages as on the screen, as PDF files or as pictures of the pages. */
import { join } from 'node:path';
import { resolveBook } from '../../core/book/resolve.js';
import { checkShape } from '../../core/book/schema.js';
import { buildEdition } from '../../core/build.js';
import type { Fonts } from '../../core/engrave/metrics.js';
import { distinct, editionStems, slug } from '../../core/file-name.js';
import { fileIssue, readyFolder, writeSafely, writeTextSafely } from '../../core/files.js';
import { bad, error, good, type Issue, type Result } from '../../core/issue.js';
import { midiExport } from '../../core/output/midi.js';
import { writePdf } from '../../core/output/pdf.js';
import { perform } from '../../core/output/performance.js';
import { pageSvg } from '../../core/output/svg.js';
import type { BuildAsk, Built, BuiltFile } from './contract.js';

/** Lets the event loop turn, so that a wish to stop is heard. */
const turn = () => new Promise<void>((resolve) => setImmediate(resolve));

export const stopped = (): Issue => error('stopped', [], 'Stopped, as you wished; finished files stay, and nothing half-written is left.');

/** Issue `stopped` when the signal was aborted; files already finished stay. An edition that cannot be built is told and passed over. */
export async function buildFiles(
  ask: BuildAsk,
  fonts: Fonts,
  signal: AbortSignal,
  tell: (done: number, total: number, words: string) => void,
): Promise<Result<Built>> {
  const shape = checkShape(ask.source as { [field: string]: unknown });
  const book = shape.ok ? resolveBook(shape.value) : shape;
  if (!book.ok) return bad(...book.issues);
  const folder = await readyFolder(ask.folder);
  if (!folder.ok) return folder;
  const { editions, title } = book.value;
  const stems = editionStems(
    title,
    editions.map((edition) => edition.instrument),
  );
  const files: BuiltFile[] = [];
  const issues: Issue[] = [];
  const total = ask.editions.length * 100;
  let path = ask.folder;
  try {
    for (const [n, index] of ask.editions.entries()) {
      const spec = editions[index];
      if (!spec) continue;
      tell(n * 100, total, spec.instrument);
      await turn();
      signal.throwIfAborted();
      const built = buildEdition(book.value, spec, fonts);
      issues.push(...built.issues);
      if (!built.ok) continue;
      const { document } = built.value;
      const pages = document.pages.length;
      const step = (page: number) => tell(n * 100 + 40 + Math.round((60 * page) / pages), total, spec.instrument);
      if (ask.kinds.includes('pdf')) {
        const name = `${stems[index]}.pdf`;
        path = join(ask.folder, name);
        await writeSafely(
          path,
          (sink) => {
            const write = (chunk: Uint8Array) =>
              new Promise<void>((done, fail) => sink.write(chunk, (problem) => (problem ? fail(problem) : done())));
            return writePdf(document, fonts, write, { onPage: step, signal });
          },
          { signal, inFolder: true },
        );
        files.push({ path, name, pages, edition: index });
      }
      if (ask.kinds.includes('midi')) {
        const sounds = join(ask.folder, `${stems[index]}-midi`);
        const ready = await readyFolder(sounds);
        if (!ready.ok) return ready;
        const stemsOfLines = distinct(
          [...built.value.lines.values()].map(({ exercise }, i) => `${String(i + 1).padStart(3, '0')}-${slug(exercise.title)}`),
        );
        for (const [i, line] of [...built.value.lines.values()].entries()) {
          const sound = perform(line, { countIn: 1 });
          if (!sound.ok) return sound;
          path = join(sounds, `${stemsOfLines[i]}.mid`);
          await writeSafely(path, (sink) => void sink.end(midiExport(line.exercise.title, [sound.value])), { signal, inFolder: true });
        }
        files.push({ path: sounds, name: `${stems[index]}-midi`, pages: 0, edition: index });
      }
      if (ask.kinds.includes('svg')) {
        const pictures = join(ask.folder, `${stems[index]}-pages`);
        const ready = await readyFolder(pictures);
        if (!ready.ok) return ready;
        for (const [i, page] of document.pages.entries()) {
          path = join(pictures, `page-${String(i + 1).padStart(3, '0')}.svg`);
          await writeTextSafely(path, pageSvg(page, document, fonts, { title: `Page ${page.label}` }), { signal, inFolder: true });
          step(i + 1);
        }
        files.push({ path: pictures, name: `${stems[index]}-pages`, pages, edition: index });
      }
    }
  } catch (failure) {
    if (signal.aborted) return bad(stopped());
    const issue = fileIssue(failure, path);
    if (!issue) throw failure;
    return bad(...issues, issue);
  }
  return files.length > 0 ? good({ files }, issues) : bad(...issues);
}
