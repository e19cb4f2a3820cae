/**
 * The window's host and its job from the installed program, away from modules and sources: the files of the window, and every
 * kind of file that the window writes, asked for as the window asks.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Result } from '../../core/base/issue.js';
import { FORMATS } from '../../core/export/format-names.js';
import type { Answer, Ask, Channel } from '../../electron/services/contract/questions.js';
import { type Installed, installed } from './package.js';

const SOURCE = {
  format: 'twelvefold',
  version: 1,
  title: 'One Walk',
  date: '2026-03-01',
  editions: ['flute'],
  chapters: [{ title: 'Steps', exercises: [{ id: 'walk', title: 'A walk', figure: '1 2 3', order: ['C', 'F'], misfit: 'leave-out' }] }],
};
const ROSTER = {
  format: 'twelvefold-roster',
  version: 1,
  title: 'One of one studio',
  students: [{ name: 'Ada', instrument: 'flute', assignments: [{ exercises: ['walk'] }] }],
};
const ENSEMBLE = {
  format: 'twelvefold-ensemble',
  version: 1,
  name: 'Two of one house',
  chairs: [{ instrument: 'flute' }, { instrument: 'clarinet-in-bb' }],
};

let program: Installed;
let host: ChildProcess;
let address: URL;
let listening: Response;
let headers: Record<string, string>;

beforeAll(async () => {
  program = await installed({ window: true });
  const script = join(program.program, 'dist', 'electron', 'loopback.js');
  host = spawn(process.execPath, [script, '--root', program.folder, '--data', join(program.folder, 'own')], {
    cwd: program.folder,
    env: { PATH: process.env.PATH, HOME: program.folder },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  address = await new Promise<URL>((resolve, reject) => {
    let text = '';
    host.stdout?.on('data', (chunk) => {
      text += chunk;
      const found = /http:\S+\n/.exec(text)?.[0];
      if (found) resolve(new URL(found.trim()));
    });
    host.once('exit', (code) => reject(new Error(`the host ended with ${code}: ${text}`)));
  });
  headers = { 'x-twelvefold-token': address.hash.slice(1), 'x-twelvefold-window': 'window-of-the-test' };
  // A window that does not listen is not answered, and one whose answer is forgotten listens no longer.
  listening = await fetch(new URL('/events', address), { headers });
  expect(listening.status).toBe(200);
});
afterAll(async () => {
  await listening.body?.cancel();
  const ended = new Promise((resolve) => host.once('exit', resolve));
  host.kill('SIGTERM');
  await ended;
  program.clear();
});

async function call<C extends Channel>(channel: C, ask: Ask<C>): Promise<Answer<C>> {
  const response = await fetch(new URL(`/call/${channel}`, address), {
    method: 'POST',
    headers: { ...headers, 'content-type': 'application/json' },
    body: JSON.stringify(ask),
  });
  expect([channel, response.status]).toEqual([channel, 200]);
  const answer = (await response.json()) as Result<Answer<C>>;
  return answer.ok ? answer.value : expect.fail(`${channel}: ${answer.issues.map(({ message }) => message).join(' ')}`);
}

it('serves the page of the window and every file that it names', async () => {
  const text = async (path: string): Promise<string> => {
    const response = await fetch(new URL(path, address));
    expect([path, response.status]).toEqual([path, 200]);
    return response.text();
  };
  const page = await text('/');
  const named = [...page.matchAll(/(?:src|href)="\.?(\/assets\/[^"]+)"/g)].map(([, path = '']) => path);
  expect(named.length).toBeGreaterThan(1);
  const fonts: string[] = [];
  for (const path of named) {
    const file = await text(path);
    if (path.endsWith('.css'))
      fonts.push(...[...file.matchAll(/url\(["']?(?:\.\/|\/assets\/)?([^"')]+\.otf)/g)].map(([, name = '']) => `/assets/${name}`));
  }
  expect(fonts.length).toBeGreaterThan(1);
  for (const path of fonts) await text(path);
});

it('opens the demo book with its roster and its ensemble', async () => {
  expect((await call('about', {})).host).toBe('loopback');
  expect((await call('lists', {})).instruments.length).toBeGreaterThan(30);
  expect((await call('book-demo', {})).source).toHaveProperty('chapters');
  expect((await call('roster-demo', {})).source).toHaveProperty('students');
  expect((await call('ensemble-demo', {})).source).toHaveProperty('chairs');
});

it('reads rosters and ensembles, draws figures and staves, and proves', async () => {
  expect((await call('roster-check', { source: SOURCE, roster: ROSTER })).students).toHaveLength(1);
  expect((await call('ensemble-check', { source: SOURCE, ensemble: ENSEMBLE })).chairs).toHaveLength(2);
  expect((await call('figure', { library: undefined, text: '1 2 3', clef: 'treble' })).svg).toMatch(/^<svg /);
  expect((await call('staff', { clef: 'bass', notes: ['C3'] })).svg).toMatch(/^<svg /);
  expect(await call('prove', { source: SOURCE, edition: 0, ticket: 'proof' })).toBeTypeOf('object');
});

it('builds editions, booklets, parts and the score', async () => {
  const folder = join(program.folder, 'built');
  const answer = await call('build', {
    source: SOURCE,
    editions: [0],
    kinds: ['pdf', 'svg', 'midi'],
    folder,
    booklets: { roster: ROSTER, students: [0], summary: true, date: '2026-03-02' },
    set: { ensemble: ENSEMBLE, chairs: [0, 1], score: true },
    ticket: 'build',
  });
  expect(answer.missing).toEqual([]);
  const endings = readdirSync(folder, { recursive: true })
    .map(String)
    .flatMap((name) => /\.\w+$/.exec(name) ?? []);
  expect(endings.filter((ending) => ending === '.pdf')).toHaveLength(6);
  expect(new Set(endings)).toEqual(new Set(['.pdf', '.svg', '.mid']));
});

it.each(FORMATS)('exports %s', async (format) => {
  const folder = join(program.folder, format);
  mkdirSync(folder);
  const plain = { source: SOURCE, edition: 0, focus: { chapter: 0, exercise: 0 }, click: true, drone: true, dark: true, eachKey: true };
  const answer = await call('export', { ...plain, format, folder, ticket: format });
  expect(answer.missing).toEqual([]);
  expect(readdirSync(folder).length).toBeGreaterThan(0);
  if (format !== 'mxl') return;
  const [name = ''] = readdirSync(folder);
  const bytes = readFileSync(join(folder, name)).toString('base64');
  expect((await call('import', { bytes, key: 'C' })).figure).toMatch(/^1 2 3/);
});
