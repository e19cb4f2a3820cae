/**
 * Bundles the command line with what it uses → dist/cli: a few files are read several times faster than some hundred. Run by
 * `npm run build`. electron/bundle.mjs bundles the shell in the same way.
 */
import { rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { build } from 'esbuild';

export const root = fileURLToPath(new URL('.', import.meta.url));

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

export const common = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  legalComments: 'linked',
  logLevel: 'warning',
  absWorkingDir: root,
  plugins: [tablesAsJson, tablesWhenNeeded, leftOut],
};

/** Several entries that share their parts. */
export const modules = { ...common, format: 'esm', banner: { js: banner }, splitting: true, chunkNames: 'part-[hash]' };

/** `out`: a folder two levels under the program's root, so that fonts and books are found from it. */
async function bundleCommandLine(out = join(root, 'dist', 'cli')) {
  await rm(out, { recursive: true, force: true });
  const entryPoints = { cli: 'core/cli/main.ts', worker: 'core/batch/worker.ts', 'picture-worker': 'core/batch/picture-worker.ts' };
  await build({ ...modules, entryPoints, outdir: out });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundleCommandLine();
