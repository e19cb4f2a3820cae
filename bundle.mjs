/**
 * Bundles the command line with what it uses → dist/cli: a few files are read several times faster than some hundred. Run by
 * `npm run build`; `node bundle.mjs FOLDER` writes elsewhere. electron/bundle.mjs bundles the shell in the same way.
 */
import { readFile, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { build, transform } from 'esbuild';

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

/** How a module names a file that it reads: beside itself, or in a package. */
const NAMED = /new URL\((['"])(\.[^'"]*)\1, import\.meta\.url\)|createRequire\(import\.meta\.url\)\.resolve\((['"])([^'"]+)\3\)/g;
const OWN_PLACE = /\b(?:__dirname|__filename|import\.meta|require\.resolve)\b/;

/** Of what looks for its own place otherwise: the fonts of every PDF reader, which PDFKit has as modules. This program brings its own. */
const NEVER_ASKED = { pdfkit: ['createRequire(import.meta.url)', "(() => { throw new Error('the program sets its own fonts'); })"] };

/**
 * Files that libraries and core/disk/ read from where they are installed are copied beside the bundle and read from there. A
 * library that seeks its files in a way unknown here stops the build, for its files would be missing where the program is installed.
 */
const filesBeside = {
  name: 'files beside',
  setup({ onLoad, onResolve }) {
    onResolve({ filter: /^beside:/ }, ({ path }) => ({ path: path.slice('beside:'.length), namespace: 'beside' }));
    onLoad({ filter: /./, namespace: 'beside' }, async ({ path }) => ({ contents: await readFile(join(root, path)), loader: 'file' }));
    onLoad({ filter: /[\\/]node_modules[\\/].*\.[cm]?js$|[\\/]core[\\/]disk[\\/][^\\/]+\.ts$/ }, async ({ path }) => {
      const source = await readFile(path, 'utf8');
      if (!OWN_PLACE.test(source)) return undefined;
      const library = /[\\/]node_modules[\\/]((?:@[^\\/]+[\\/])?[^\\/]+)[\\/](?!.*[\\/]node_modules[\\/])/.exec(path)?.[1];
      const imports = [];
      let contents = source.replace(NAMED, (whole, _quote, beside, _other, packed) => {
        // A folder is searched by core/disk/ itself.
        if (beside === '.') return whole;
        const file = beside === undefined ? createRequire(path).resolve(packed) : join(dirname(path), beside);
        imports.push(`import beside${imports.length} from ${JSON.stringify(`beside:${relative(root, file)}`)};`);
        return `new URL(beside${imports.length - 1}, IMPORT_META_URL)`;
      });
      if (library !== undefined) {
        const [seeks, instead] = NEVER_ASKED[library] ?? ['', ''];
        contents = contents.replace(seeks, instead);
        // Without its comments.
        const { code } = await transform(contents, { minifyWhitespace: true, legalComments: 'none' });
        if (OWN_PLACE.test(code)) throw new Error(`${path} seeks files beside itself in a way that bundle.mjs does not know`);
      }
      contents = `${imports.join('')}${contents.replaceAll('IMPORT_META_URL', 'import.meta.url')}`;
      return { contents, loader: path.endsWith('.ts') ? 'ts' : 'js' };
    });
  },
};

export const common = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  legalComments: 'linked',
  logLevel: 'warning',
  absWorkingDir: root,
  plugins: [tablesAsJson, tablesWhenNeeded, leftOut, filesBeside],
};

/** Several entries that share their parts. */
export const modules = {
  ...common,
  format: 'esm',
  banner: { js: banner },
  splitting: true,
  chunkNames: 'part-[hash]',
  assetNames: '[name]',
};

/** `out`: a folder two levels under the program's root, so that fonts and books are found from it. */
async function bundleCommandLine(out = join(root, 'dist', 'cli')) {
  await rm(out, { recursive: true, force: true });
  const entryPoints = { cli: 'core/cli/main.ts', worker: 'core/batch/worker.ts', 'picture-worker': 'core/batch/picture-worker.ts' };
  await build({ ...modules, entryPoints, outdir: out });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundleCommandLine(process.argv[2]);
