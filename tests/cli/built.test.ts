/** The built program, as it is started by its name, writes what its sources write. (`npm test` builds it first.) */
import { spawnSync } from 'node:child_process';
import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { workbench } from './run.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const { bin } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { bin: { twelvefold: string } };
const bench = workbench();
afterAll(bench.clear);
copyFileSync(join(root, 'assets/books/small-wheels.twelvefold'), join(bench.folder, 'book.twelvefold'));

const built = (...args: string[]) => spawnSync(join(root, bin.twelvefold), args, { cwd: bench.folder, encoding: 'utf8' });
const bytes = (...name: string[]) => readFileSync(join(bench.folder, ...name));

it('tells of its commands, and of a wrong one', () => {
  expect(built('--help')).toMatchObject({ status: 0, stdout: expect.stringContaining('ensemble') });
  expect(built('compose')).toMatchObject({ status: 2, stderr: expect.stringContaining('unknown command') });
});

it('writes the same edition, with words divided in the same places', async () => {
  const args = ['build', 'book.twelvefold', '--edition', 'flute', '--out'];
  expect(built(...args, 'built')).toMatchObject({ status: 0, stderr: '' });
  expect((await bench.run([...args, 'here'])).code).toBe(0);
  const [name] = bench.names().filter((path) => path.startsWith('built/'));
  expect(name).toMatch(/\.pdf$/);
  expect(bytes(name as string)).toEqual(bytes((name as string).replace('built', 'here')));
});

it('paints the same picture on its threads', async () => {
  const args = ['export', 'book.twelvefold', '--to', 'png', '--exercise', 'last-wheel', '--player', 'flute', '--out'];
  expect(built(...args, 'seen')).toMatchObject({ status: 0 });
  expect((await bench.run([...args, 'own'])).code).toBe(0);
  const pictures = bench.names().filter((path) => path.startsWith('seen/') && path.endsWith('.png'));
  expect(pictures).not.toEqual([]);
  for (const name of pictures) expect(bytes(name)).toEqual(bytes(name.replace('seen', 'own')));
});
