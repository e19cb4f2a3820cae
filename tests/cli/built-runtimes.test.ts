/**
 * The installed program writes the same bytes on each version of Node that it is promised for: the lowest, and the newest of
 * the later ones. `npm ci --prefix .ci/runtimes` installs them (150 MB, for Linux on x64; .ci/run does it); what is absent
 * is skipped and says so.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Installed, installed } from './package.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const { dependencies } = JSON.parse(readFileSync(join(root, '.ci/runtimes/package.json'), 'utf8')) as {
  readonly dependencies: Readonly<Record<string, string>>;
};
const RUNTIMES = Object.entries(dependencies).map(([name, version]) => ({
  version: version.split('@').at(-1) ?? '',
  node: join(root, '.ci/runtimes/node_modules', name, 'bin/node'),
}));

const BOOK = {
  format: 'twelvefold',
  version: 1,
  title: 'One Walk',
  date: '2026-03-01',
  // With an accent, and a word that is divided at the end of a line.
  preface: 'Ça va. '.repeat(20) + 'Incomprehensibilities are divided. '.repeat(9),
  editions: ['flute'],
  chapters: [
    {
      title: 'Steps',
      exercises: [
        { id: 'walk', title: 'A walk', figure: '1 2 3 5', order: 'fourths', tempo: { from: 60, to: 90 }, misfit: 'leave-out', passes: 2 },
      ],
    },
  ],
};

const COMMANDS = [
  ['build', 'book.twelvefold'],
  ['build', 'book.twelvefold', '--archive'],
  ...['midi', 'musicxml', 'mxl', 'wav', 'svg', 'png', 'brf', 'text'].map((format) => [
    'export',
    'book.twelvefold',
    '--player',
    'flute',
    '--to',
    format,
  ]),
];

let program: Installed;
beforeAll(async () => {
  program = await installed({ window: false });
  writeFileSync(join(program.folder, 'book.twelvefold'), JSON.stringify(BOOK));
});
afterAll(() => program.clear());

/** Every file that the commands write, by its name: the bytes as text. */
function written(name: string, node: string): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  for (const [i, command] of COMMANDS.entries()) {
    const out = `${name}-${i}`;
    expect(program.run([...command, '--out', out], node)).toMatchObject({ code: 0, err: '' });
    for (const file of readdirSync(join(program.folder, out)))
      files.set(`${command.slice(2).join(' ')} ${file}`, readFileSync(join(program.folder, out, file), 'latin1'));
  }
  return files;
}

describe('the runtimes', () => {
  it('are of the lowest version that package.json promises, and of two later ones', () => {
    const { engines } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { readonly engines: { readonly node: string } };
    const [lowest, ...later] = RUNTIMES.map(({ version }) => version);
    expect(`>=${lowest}`).toBe(`${engines.node}.0`);
    expect(later.map((version) => version.split('.')[0])).toEqual(['22', '24']);
  });
});

describe('the same bytes as on the Node of this test', () => {
  let own: ReadonlyMap<string, string>;
  beforeAll(() => {
    own = written('own', process.execPath);
  });

  for (const { version, node } of RUNTIMES) {
    const absent = existsSync(node) ? '' : ` (skipped: ${node} is not installed; npm ci --prefix .ci/runtimes installs it)`;
    it.skipIf(absent !== '')(`on Node ${version}${absent}`, () => {
      const files = written(`node-${version}`, node);
      expect([...files.keys()]).toEqual([...own.keys()]);
      // The pictures are two each.
      expect(files.size).toBe(COMMANDS.length + 2);
      const other = [...files].filter(([name, bytes]) => bytes !== own.get(name)).map(([name]) => name);
      expect(other).toEqual([]);
    });
  }
});
