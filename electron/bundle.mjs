/** Bundles the shell: main process, preload script, job and its threads, loopback host → dist/electron. Run by `npm run app:build`; takes a FOLDER too. */
import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { common, modules, root } from '../bundle.mjs';

/** `out`: a folder two levels under the program's root, so that fonts and books are found from it. */
async function bundleShell(out = join(root, 'dist', 'electron')) {
  await rm(out, { recursive: true, force: true });
  await mkdir(out, { recursive: true });
  const esm = { ...modules, splitting: false, external: ['electron'] };
  await Promise.all([
    // The job's threads look for it beside the job, and both share their parts.
    build({
      ...esm,
      entryPoints: { job: 'electron/job-entry.ts', worker: 'core/batch/worker.ts' },
      outdir: out,
      splitting: true,
    }),
    // The job is started before the rest of the host is read.
    build({ ...esm, entryPoints: { loopback: 'electron/loopback/main.ts' }, outdir: out, splitting: true, chunkNames: 'loopback-[hash]' }),
    build({ ...esm, entryPoints: { main: 'electron/main/main.ts' }, outdir: out }),
    // A sandboxed preload script is one CommonJS file.
    build({
      ...common,
      format: 'cjs',
      external: ['electron'],
      entryPoints: { preload: 'electron/preload.ts' },
      outdir: out,
      outExtension: { '.js': '.cjs' },
    }),
  ]);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundleShell(process.argv[2]);
