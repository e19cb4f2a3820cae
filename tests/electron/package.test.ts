/** The package: built offline around a stand-in for Electron's runtime, then taken apart and run. */
import { execFile } from 'node:child_process';
import { appendFile, chmod, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { extractAll, listPackage } from '@electron/asar';
import { beforeAll, describe, expect, it } from 'vitest';
import { threadsFor } from '../../core/batch/pool.js';
import { threadJob } from '../../electron/loopback/thread-job.js';
import { jobClient } from '../../electron/services/host/job-client.js';
import { LIGHT } from '../../electron/services/job/build-files.js';
import { builtProgram, program } from '../e2e/built.js';

const run = promisify(execFile);
let unpacked = '';
let archive = '';

/** A runtime that is none: enough files for the packer to do its work. */
async function standInRuntime(folder: string): Promise<string> {
  await mkdir(join(folder, 'locales'), { recursive: true });
  await mkdir(join(folder, 'resources'));
  await writeFile(join(folder, 'electron'), '#!/bin/sh\necho stand-in\n');
  await chmod(join(folder, 'electron'), 0o755);
  for (const name of ['version', 'LICENSE', 'LICENSES.chromium.html', 'locales/en-US.pak']) await writeFile(join(folder, name), '45.0.0');
  return folder;
}

const config = await readFile(join(program, 'electron', 'builder.yml'), 'utf8');

beforeAll(async () => {
  await builtProgram();
  const work = await mkdtemp(join(tmpdir(), 'twelvefold-package-'));
  const runtime = await standInRuntime(join(work, 'runtime'));
  // The stand-in has no fuses to be set; everything else is the real configuration.
  const tested = `${config.replace(/^electronFuses:\n( {2}.*\n)+/m, '')}electronDist: ${runtime}\n`.replace(
    'out/packages',
    join(work, 'out'),
  );
  await writeFile(join(work, 'builder.yml'), tested);
  const builder = join(program, 'node_modules', 'electron-builder', 'cli.js');
  await run(process.execPath, [builder, '--linux', '--dir', '--config', join(work, 'builder.yml')], { cwd: program, maxBuffer: 1e8 });
  unpacked = join(work, 'out', 'linux-unpacked');
  archive = join(unpacked, 'resources', 'app.asar');
});

describe('the configuration', () => {
  it.each([
    ['runAsNode', false],
    ['enableNodeOptionsEnvironmentVariable', false],
    ['enableNodeCliInspectArguments', false],
    ['enableEmbeddedAsarIntegrityValidation', true],
    ['onlyLoadAppFromAsar', true],
    ['grantFileProtocolExtraPrivileges', false],
  ])('19 the fuse %s is %s', (fuse, on) => {
    expect(config).toMatch(new RegExp(`^electronFuses:\\n(?:  .*\\n)*  ${fuse}: ${on}\\n`, 'm'));
  });

  it('has an icon for every system, and each is what its ending says', async () => {
    const magic = { png: '89504e47', ico: '00000100', icns: '69636e73' };
    for (const [ending, start] of Object.entries(magic)) {
      expect(config).toContain(`icon: assets/icons/icon.${ending}`);
      const bytes = await readFile(join(program, 'assets', 'icons', `icon.${ending}`));
      expect(bytes.subarray(0, 4).toString('hex'), ending).toBe(start);
    }
  });

  it('associates the files of books', () => expect(config).toMatch(/fileAssociations:\n {2}- ext: twelvefold\n/));
});

describe('the archive', () => {
  it('holds everything that the program needs, and nothing else', () => {
    const files = listPackage(archive, { isPack: false }).map((name) => name.replaceAll('\\', '/'));
    const shape = files
      .filter((name) => !files.some((other) => other.startsWith(`${name}/`)))
      .map((name) => name.replace(/-[\w-]{8}\.(js|css|otf|js\.LEGAL\.txt)$/, '-*.$1'));
    expect([...new Set(shape)].sort()).toEqual([
      '/LICENSE',
      '/THIRD-PARTY.md',
      '/assets/books/harrow-lane-band.ensemble',
      '/assets/books/harrow-lane.roster',
      '/assets/books/keywrights-daybook.twelvefold',
      '/assets/books/small-wheels.twelvefold',
      '/assets/fonts/Sebastian-LICENSE.txt',
      '/assets/fonts/Sebastian.otf',
      '/assets/fonts/SourceSerif4-Bold.otf',
      '/assets/fonts/SourceSerif4-BoldIt.otf',
      '/assets/fonts/SourceSerif4-It.otf',
      '/assets/fonts/SourceSerif4-LICENSE.md',
      '/assets/fonts/SourceSerif4-Regular.otf',
      '/assets/fonts/SourceSerif4Display-Regular.otf',
      '/dist/electron/index_bg.wasm',
      '/dist/electron/job.js',
      '/dist/electron/main.js',
      '/dist/electron/part-*.js',
      '/dist/electron/part-*.js.LEGAL.txt',
      '/dist/electron/preload.cjs',
      '/dist/electron/sRGB_IEC61966_2_1.icc',
      '/dist/electron/worker.js',
      '/dist/renderer/assets/SourceSerif4-Bold-*.otf',
      '/dist/renderer/assets/SourceSerif4-Regular-*.otf',
      '/dist/renderer/assets/SourceSerif4Display-Regular-*.otf',
      '/dist/renderer/assets/index-*.css',
      '/dist/renderer/assets/index-*.js',
      '/dist/renderer/index.html',
      '/package.json',
    ]);
  });

  it('starts at the main process, and names the real version', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
    extractAll(archive, folder);
    const { main, version, type } = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
    const own = JSON.parse(await readFile(join(program, 'package.json'), 'utf8'));
    expect({ main, version, type }).toEqual({ main: 'dist/electron/main.js', version: own.version, type: 'module' });
  });

  it('the preload script asks for nothing but Electron', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
    extractAll(archive, folder);
    const text = await readFile(join(folder, 'dist', 'electron', 'preload.cjs'), 'utf8');
    expect([...text.matchAll(/require\("([^"]+)"\)/g)].map((found) => found[1])).toEqual(['electron']);
  });

  it('the packed core builds a book under plain Node, far from any modules', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
    extractAll(archive, folder);
    const job = jobClient(() => threadJob(pathToFileURL(join(folder, 'dist', 'electron', 'job.js'))), {
      progress: () => undefined,
      restarted: () => undefined,
    });
    const source = JSON.parse(await readFile(join(folder, 'assets', 'books', 'small-wheels.twelvefold'), 'utf8'));
    const out = join(folder, 'out');
    const answer = await job.ask({ channel: 'build', ask: { source, editions: [0], folder: out, kinds: ['pdf'], ticket: 't' } });
    const slides = join(folder, 'slides');
    const plain = { source, edition: 0, focus: { chapter: 0, exercise: 0 }, click: false, drone: false, dark: false, eachKey: false };
    await job.ask({ channel: 'export', ask: { ...plain, format: 'png', folder: slides, ticket: 'e' } });
    job.stop();
    // The painter of pictures is packed too.
    const [slide] = await readdir(slides);
    expect((await readFile(join(slides, slide ?? ''))).subarray(1, 4).toString()).toBe('PNG');
    expect(answer.issues.filter((issue) => issue.severity === 'error')).toEqual([]);
    expect(await readdir(out)).toEqual(['small-wheels-flute.pdf']);
    expect((await readFile(join(out, 'small-wheels-flute.pdf'))).subarray(0, 5).toString()).toBe('%PDF-');
  });

  it.each([
    ['on the packed threads', false],
    ['without them, where none can be started', true],
  ])('many files are made %s', async (_name, without) => {
    const folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
    extractAll(archive, folder);
    const worker = join(folder, 'dist', 'electron', 'worker.js');
    // A thread that is ready writes it down, as its last line: from there on its jobs are done by it or not at all.
    const ready = join(folder, 'ready');
    if (without) await rm(worker);
    else await appendFile(worker, `\n(await import('node:fs')).appendFileSync(${JSON.stringify(ready)}, '.');\n`);
    const job = jobClient(() => threadJob(pathToFileURL(join(folder, 'dist', 'electron', 'job.js'))), {
      progress: () => undefined,
      restarted: () => undefined,
    });
    const demo = JSON.parse(await readFile(join(folder, 'assets', 'books', 'small-wheels.twelvefold'), 'utf8'));
    // Short exercises, just enough of them for threads.
    const editions = [0, 1, 2, 3];
    const exercises = Array.from({ length: LIGHT / editions.length + 1 }, (_, i) => ({ id: `e${i}`, figure: '1 2 3', order: ['C'] }));
    const source = { ...demo, chapters: [{ title: 'Many', exercises }] };
    const out = join(folder, 'out');
    const answer = await job.ask({ channel: 'build', ask: { source, editions, folder: out, kinds: ['pdf'], ticket: 't' } });
    job.stop();
    expect(answer.issues.filter((issue) => issue.severity === 'error')).toEqual([]);
    expect((await readdir(out)).filter((name) => name.endsWith('.pdf'))).toHaveLength(editions.length);
    const threads = await readFile(ready, 'utf8').catch(() => '');
    expect(threads.length).toBe(without ? 0 : threadsFor(editions.length));
  });

  it('the program beside it carries its own name', async () => {
    expect(await readdir(unpacked)).toContain('twelvefold');
  });
});
