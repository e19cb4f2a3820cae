/** DEVELOPERS.md followed to the letter, in a copy of the sources: what it says of an instrument and of a setting is enough. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { smallBook } from '../book/small-book.js';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

type Step = { readonly file: string; readonly side: string; readonly line: string; readonly text: string };

/** The steps below a heading of the guide: a file, the line after or before which the text goes, the text. */
function stepsOf(heading: string): Step[] {
  const guide = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');
  const [, below = ''] = guide.split(`\n### ${heading}\n`);
  const [section = ''] = below.split('\n### ');
  return [...section.matchAll(/^In `([^`]+)`, (after|before) `([^`]+)`:\n\n```ts\n([\s\S]*?)```$/gm)].map(
    ([, file = '', side = '', line = '', text = '']): Step => ({ file, side, line, text }),
  );
}

const folder = realpathSync(mkdtempSync(join(tmpdir(), 'twelvefold-guide-')));
const inCopy = (command: string, ...args: string[]) => spawnSync(command, args, { cwd: folder, encoding: 'utf8' });
const twelvefold = (...args: string[]) => inCopy(process.execPath, join(folder, 'dist', 'cli', 'cli.js'), ...args);

function follow({ file, side, line, text }: Step): void {
  const before = readFileSync(join(folder, file), 'utf8');
  const parts = before.split(`${line}\n`);
  expect(parts, `${file} has the line ${line} once`).toHaveLength(2);
  writeFileSync(join(folder, file), parts.join(side === 'after' ? `${line}\n${text}` : `${text}${line}\n`));
}

beforeAll(() => {
  for (const name of ['core', 'assets', 'bundle.mjs', 'package.json', 'tsconfig.json'])
    cpSync(join(ROOT, name), join(folder, name), { recursive: true });
  symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
  for (const heading of ['An instrument', 'A setting of an exercise']) for (const step of stepsOf(heading)) follow(step);
  const book = smallBook();
  const exercise = { id: 'a', title: 'A walk', figure: '1 2 3 5', swing: true, misfit: 'leave-out' };
  const one = { ...book, editions: ['contrabassoon'], chapters: [{ title: 'One', exercises: [exercise] }] };
  writeFileSync(join(folder, 'book.twelvefold'), JSON.stringify(one));
  const chairs = ['trombone', 'contrabassoon', 'clarinet-in-bb', 'bassoon'].map((instrument) => ({ instrument }));
  const ensemble = { format: 'twelvefold-ensemble', version: 1, name: 'Low', misfit: 'leave-out', chairs };
  writeFileSync(join(folder, 'low.ensemble'), JSON.stringify(ensemble));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('the guide for contributors', { timeout: 600_000 }, () => {
  it('has one step for an instrument and four for a setting', () => {
    expect(stepsOf('An instrument').map(({ file }) => file)).toEqual(['core/player/instruments/woodwinds.ts']);
    expect(stepsOf('A setting of an exercise')).toHaveLength(4);
  });

  it('names all that the compiler asks for, and the program is built', () => {
    const compiler = join(ROOT, 'node_modules', 'typescript', 'bin', 'tsc');
    expect(inCopy(process.execPath, compiler, '--noEmit', '-p', '.')).toMatchObject({ status: 0, stdout: '' });
    expect(inCopy(process.execPath, 'bundle.mjs')).toMatchObject({ status: 0, stderr: '' });
  });

  it('gives an instrument that is listed, has an edition, and stands in a score below its kin', () => {
    expect(twelvefold('instruments').stdout).toMatch(/^contrabassoon +Contrabassoon +bass +-12 /m);
    const built = twelvefold('build', 'book.twelvefold', '--out', 'out');
    expect(built).toMatchObject({ status: 0, stderr: '' });
    expect(built.stdout).toMatch(/contrabassoon\.pdf \(\d+ pages, proved\)/);
    expect(twelvefold('ensemble', 'book.twelvefold', 'low.ensemble', '--out', 'out')).toMatchObject({ status: 0 });
    const score = ['--to', 'musicxml', '--ensemble', 'low.ensemble', '--exercise', 'a', '--out', 'score', '--json'];
    const written = twelvefold('export', 'book.twelvefold', ...score);
    expect(written).toMatchObject({ status: 0 });
    const [name = ''] = /[\w./-]+\.musicxml/.exec(written.stdout) ?? [];
    const text = readFileSync(join(folder, name.startsWith('score') ? name : join('score', name)), 'utf8');
    const names = [...text.matchAll(/<part-name>([^<]*)<\/part-name>/g)].map(([, part]) => part);
    expect(names).toEqual(['Bassoon', 'Contrabassoon', 'Clarinet in B♭', 'Trombone']);
  });

  it('gives a setting that a book may state, and that the schema describes', () => {
    expect(twelvefold('check', 'book.twelvefold')).toMatchObject({ status: 0, stderr: '' });
    const schema = JSON.parse(twelvefold('schema', 'book').stdout);
    expect(schema.properties.defaults.properties.swing).toEqual({
      description: 'Eighths are played long and short.',
      default: false,
      examples: [true],
      type: 'boolean',
    });
  });
});
