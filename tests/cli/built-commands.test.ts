/**
 * Every command of the installed program with each of its options, once: which there are, the program itself is asked. What
 * an answer must be, the other tests say of the sources; here nothing may be missing that they had.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Installed, installed } from './package.js';

const BOOK = {
  format: 'twelvefold',
  version: 1,
  title: 'One Walk',
  date: '2026-03-01',
  editions: ['flute', 'clarinet-in-bb'],
  chapters: [
    {
      id: 'steps',
      title: 'Steps',
      exercises: [{ id: 'walk', title: 'A walk', figure: '1 2 3', order: ['C', 'F'], tempo: { from: 60, to: 90 }, misfit: 'leave-out' }],
    },
  ],
};
const ROSTER = {
  format: 'twelvefold-roster',
  version: 1,
  title: 'Two of one studio',
  begins: '2026-03-03',
  weeks: 1,
  students: ['Ada', 'Ben'].map((name) => ({ name, instrument: 'flute', assignments: [{ exercises: ['walk'] }] })),
};
const ENSEMBLE = {
  format: 'twelvefold-ensemble',
  version: 1,
  name: 'Two of one house',
  chairs: [
    { id: 'upper', instrument: 'flute' },
    { id: 'lower', instrument: 'clarinet-in-bb' },
  ],
};

/** How a whole file of a kind begins and ends. */
const SHAPES: Readonly<Record<string, readonly [begin: string, end: string]>> = {
  pdf: ['%PDF-1.7\n', '%%EOF\n'],
  musicxml: ['<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n<!DOCTYPE score-partwise', '</score-partwise>\n'],
  mxl: ['PK\x03\x04', '\0\0'],
  // The end of a track, and no byte more.
  mid: ['MThd\0\0\0\x06', '\xff\x2f\0'],
  wav: ['RIFF', ''],
  svg: ['<svg ', '</svg>\n'],
  png: ['\x89PNG\r\n\x1a\n', 'IEND\xae\x42\x60\x82'],
  brf: [',A WALK\r\n', ''],

  'braille.txt': ['\xe2\xa0\xa0\xe2\xa0\x81', '\n'],
  txt: ['A walk.\n', '\n'],
};

type Case = {
  readonly title: string;
  readonly args: readonly string[];
  /** Names of the files in the folder `--out`. */
  readonly files?: readonly string[];
  readonly archive?: true;
  /** In the answer. */
  readonly tells?: RegExp;
};

const one = (...more: string[]): string[] => ['export', 'book.twelvefold', '--exercise', 'walk', ...more];
const flute = (format: string, ...more: string[]): string[] => one('--player', 'flute', '--to', format, ...more);
const band = (format: string, ...more: string[]): string[] => one('--ensemble', 'two.ensemble', '--to', format, ...more);

/** In this order: a figure is read from a file that was exported. */
const CASES: readonly Case[] = [
  { title: 'new', args: ['new', 'begun', '--json'], tells: /"begun\.twelvefold"/ },
  { title: 'check', args: ['check', 'book.twelvefold', '--json'], tells: /"ok": true/ },
  {
    title: 'build',
    args: ['build', 'begun.twelvefold', '--edition', 'flute', '--json'],
    files: ['my-book-of-figures-flute.pdf'],
    tells: /"ok": true/,
  },
  { title: 'build on threads', args: ['build', 'book.twelvefold'], files: ['one-walk-clarinet-in-bb.pdf', 'one-walk-flute.pdf'] },
  {
    title: 'build for an archive',
    args: ['build', 'book.twelvefold', '--edition', 'flute', 'clarinet-in-bb', '--archive'],
    files: ['one-walk-clarinet-in-bb.pdf', 'one-walk-flute.pdf'],
    archive: true,
  },
  {
    title: 'show',
    args: ['show', 'book.twelvefold', '--exercise', 'walk', '--player', 'flute', '--level', 'beginner', '--json'],
    tells: /"walk"/,
  },
  {
    title: 'breath, from what is known',
    args: ['breath', 'book.twelvefold', '--exercise', 'walk', '--player', 'flute', '--tempo', '60', '--lung-time', '6', '--json'],
    tells: /"origin": "set"/,
  },
  {
    title: 'breath, measured',
    args: ['breath', 'book.twelvefold', '--exercise', 'walk', '--player', 'flute', '--level', 'advanced', '--long-tone', '6'],
    tells: /breath/i,
  },
  {
    title: 'breath, estimated',
    args: ['breath', 'book.twelvefold', '--exercise', 'walk', '--player', 'flute', '--age', '14', '--height', '160', '--sex', 'female'],
    tells: /breath/i,
  },
  { title: 'export musicxml', args: flute('musicxml', '--level', 'advanced', '--json'), files: ['one-walk-flute-walk.musicxml'] },
  { title: 'export mxl', args: flute('mxl'), files: ['one-walk-flute-walk.mxl'] },
  { title: 'export midi', args: flute('midi', '--tempo', '80', '--count-in', '1', '--click'), files: ['one-walk-flute-walk.mid'] },
  {
    title: 'export wav',
    args: flute('wav', '--ladder', '2', '--drone', '--a4', '442', '--rate', '44100'),
    files: ['one-walk-flute-walk.wav'],
  },
  { title: 'export svg', args: flute('svg', '--shape', '9:16', '--dark'), files: ['one-walk-flute-walk.svg'] },
  {
    title: 'export png on threads',
    args: ['export', 'book.twelvefold', '--chapter', 'steps', '--player', 'flute', '--to', 'png', '--size', '1080', '--each-key'],
    files: ['one-walk-flute-steps-walk-01.png', 'one-walk-flute-steps-walk-02.png'],
  },
  { title: 'export brf', args: flute('brf'), files: ['one-walk-flute-walk.brf'] },
  { title: 'export braille', args: flute('braille'), files: ['one-walk-flute-walk.braille.txt'] },
  { title: 'export text', args: flute('text'), files: ['one-walk-flute-walk.txt'] },
  { title: 'export a score', args: band('musicxml', '--pitch', 'transposed'), files: ['one-walk-two-of-one-house-score-walk.musicxml'] },
  { title: 'export a part', args: band('midi', '--part', 'upper'), files: ['one-walk-two-of-one-house-flute-walk.mid'] },
  {
    title: 'export all parts',
    args: band('mxl', '--parts'),
    files: ['one-walk-two-of-one-house-clarinet-in-b-flat-walk.mxl', 'one-walk-two-of-one-house-flute-walk.mxl'],
  },
  {
    title: 'import-figure',
    args: ['import-figure', join('export-mxl', 'one-walk-flute-walk.mxl'), '--key', 'C', '--json'],
    tells: /1 2 3/,
  },
  {
    title: 'booklets',
    args: ['booklets', 'book.twelvefold', 'two.roster', '--student', 'Ben', '--date', '2026-03-02', '--prove', '--json'],
    files: ['one-walk-ben-flute.pdf'],
  },
  {
    title: 'booklets on threads',
    args: ['booklets', 'book.twelvefold', 'two.roster'],
    files: ['one-walk-ada-flute.pdf', 'one-walk-ben-flute.pdf'],
  },
  {
    title: 'summary',
    args: ['summary', 'book.twelvefold', 'two.roster', '--date', '2026-03-02', '--json'],
    files: ['one-walk-summary.pdf'],
  },
  {
    title: 'progress',
    args: [
      'progress',
      'book.twelvefold',
      'two.roster',
      '--student',
      'Ada',
      '--exercise',
      'walk',
      '--tempo',
      '66',
      '--date',
      '2026-03-09',
      '--json',
    ],
    tells: /66/,
  },
  {
    title: 'ensemble',
    args: ['ensemble', 'book.twelvefold', 'two.ensemble', '--prove', '--json'],
    files: [
      'one-walk-two-of-one-house-clarinet-in-b-flat.pdf',
      'one-walk-two-of-one-house-flute.pdf',
      'one-walk-two-of-one-house-score.pdf',
    ],
  },
  { title: 'schema', args: ['schema', 'roster', '--json'], tells: /"kind": "roster"/ },
  ...['instruments', 'figures', 'key-orders'].map((title) => ({ title, args: [title, '--json'], tells: /^\[/ })),
];

let program: Installed;
beforeAll(async () => {
  program = await installed({ window: false });
  for (const [name, content] of [
    ['book.twelvefold', BOOK],
    ['two.roster', ROSTER],
    ['two.ensemble', ENSEMBLE],
  ] as const)
    writeFileSync(join(program.folder, name), JSON.stringify(content));
});
afterAll(() => program.clear());

const folderOf = ({ title }: Case): string => title.replaceAll(/\W+/g, '-');

it.each(CASES)('$title', (one) => {
  const { args, files = [], archive, tells = /(?:)/ } = one;
  const out = folderOf(one);
  const answer = program.run(files.length > 0 ? [...args, '--out', out] : args);
  expect(answer).toMatchObject({ code: 0, err: '' });
  expect(answer.out).toMatch(tells);
  if (files.length === 0) return;
  expect(readdirSync(join(program.folder, out)).sort()).toEqual(files);
  for (const name of files) {
    const text = readFileSync(join(program.folder, out, name), 'latin1');
    const [begin, end] = SHAPES[name.slice(name.indexOf('.') + 1)] ?? expect.fail(`${name} is of a kind that has its shape above`);
    expect(text.slice(0, begin.length)).toBe(archive ? begin.replace('1.7', '1.4') : begin);
    expect(text.slice(text.length - end.length)).toBe(end);
    expect(text.includes('<pdfaid:part>1<')).toBe(archive === true);
  }
});

describe('the list above', () => {
  /** Names at the beginning of the lines below a heading of a help text. */
  function listed(help: string, heading: string): string[] {
    const [, below = ''] = help.split(`\n${heading}:\n`);
    const [section = ''] = below.split('\n\n');
    return [...section.matchAll(/^ {2}(?:-\w, )?([\w-]+)/gm)].map(([, name = '']) => name);
  }

  it('has every command that the program tells of, and each of its options', () => {
    const told = listed(program.run(['--help']).out, 'Commands').filter((name) => name !== 'help');
    const pairs = told.flatMap((command) => [
      command,
      ...listed(program.run([command, '--help']).out, 'Options')
        .filter((option) => option !== '--help')
        .map((option) => `${command} ${option}`),
    ]);
    expect(pairs.length).toBeGreaterThan(75);
    const run = CASES.flatMap(({ args, files }) => [
      args[0] ?? '',
      ...[...args, ...(files ? ['--out'] : [])].filter((arg) => arg.startsWith('--')).map((option) => `${args[0]} ${option}`),
    ]);
    expect([...new Set(run)].sort()).toEqual(pairs.sort());
  });

  it('is run where there are no modules and no sources', () => {
    const names = readdirSync(program.program, { recursive: true }).map(String);
    expect(names).toContain(join('dist', 'cli', 'cli.js'));
    expect(names.filter((name) => /node_modules|\.ts$/.test(name))).toEqual([]);
  });
});
