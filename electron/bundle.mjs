/** Bundles the shell: main process, preload script, job and its threads, loopback host → dist/electron. Run by `npm run app:build`. */
import { copyFile, mkdir, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('../', import.meta.url));

/** Some libraries are CommonJS inside and ask for `require`; an ES module has none by itself. */
const banner = "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);";

/** Patterns of hyphenation are large tables: as JSON in a string they are read several times faster than as a program. */
const tablesAsJson = {
  name: 'tables as JSON',
  setup({ onLoad }) {
    const require = createRequire(import.meta.url);
    onLoad({ filter: /[\\/]hyphen[\\/]patterns[\\/][^\\/]+\.js$/ }, ({ path }) => {
      const table = require(path);
      const json = JSON.stringify(table);
      if (!isDeepStrictEqual(JSON.parse(json), table)) throw new Error(`${path} holds more than JSON can`);
      return { contents: `module.exports = JSON.parse(${JSON.stringify(json)});`, loader: 'js' };
    });
  },
};

/** Each language's table is read when a word of it is divided first. */
const tablesWhenNeeded = {
  name: 'tables when needed',
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]hyphen[\\/][^\\/]+[\\/]index\.js$/ }, ({ path }) => {
      const language = basename(dirname(path));
      const contents = `
        let made;
        const table = () => (made ??= require('../export-contract.js')(require('../patterns/${language}.js')));
        exports.hyphenateSync = (...asked) => table().hyphenateSync(...asked);`;
      return { contents, loader: 'js' };
    });
  },
};

/** Parts of libraries that the program never comes to: compressed web fonts, and error messages in other languages. */
const leftOut = {
  name: 'left out',
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]brotli[\\/]decompress\.js$/ }, () => ({
      contents: "module.exports = () => { throw new Error('the fonts of this program are not compressed'); };",
      loader: 'js',
    }));
    onLoad({ filter: /[\\/]zod[\\/]v4[\\/]locales[\\/]index\.js$/ }, () => ({
      contents: "export { default as en } from './en.js';",
      loader: 'js',
    }));
  },
};

const common = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  legalComments: 'linked',
  logLevel: 'warning',
  absWorkingDir: root,
  plugins: [tablesAsJson, tablesWhenNeeded, leftOut],
};

/** `out`: a folder two levels under the program's root, so that fonts and books are found from it. */
export async function bundleShell(out = join(root, 'dist', 'electron')) {
  await rm(out, { recursive: true, force: true });
  await mkdir(out, { recursive: true });
  const esm = { ...common, format: 'esm', banner: { js: banner }, external: ['electron'] };
  await Promise.all([
    // The job's threads look for it beside the job, and both share their parts.
    build({
      ...esm,
      entryPoints: { job: 'electron/job-entry.ts', worker: 'core/batch/worker.ts' },
      outdir: out,
      splitting: true,
      chunkNames: 'part-[hash]',
    }),
    build({ ...esm, entryPoints: { loopback: 'electron/loopback/main.ts' }, outdir: out }),
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
    // What paints PNG pictures is data, which no bundler takes in.
    copyFile(createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm'), join(out, 'rasteriser.wasm')),
  ]);
  return out;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundleShell();
