/** Builds everything the demo shows into out/: both books in all editions, a band, students, one exercise in every exchange format, and the band's score and a part. */
import { spawnSync } from 'node:child_process';

const CLI = 'dist/cli/cli.js';
const BOOK = 'assets/books/keywrights-daybook.twelvefold';
const SMALL = 'assets/books/small-wheels.twelvefold';
const BAND = 'assets/books/harrow-lane-band.ensemble';
const FORMATS = ['musicxml', 'mxl', 'midi', 'wav', 'svg', 'png', 'brf', 'braille', 'text'];

const COMMANDS = [
  ['build', BOOK, '--out', 'out'],
  ['build', SMALL, '--out', 'out'],
  ['ensemble', SMALL, BAND, '--prove', '--out', 'out/band'],
  ['booklets', SMALL, 'assets/books/harrow-lane.roster', '--date', '2026-03-01', '--prove', '--out', 'out/students'],
  ['summary', SMALL, 'assets/books/harrow-lane.roster', '--date', '2026-03-01', '--out', 'out/students'],
  ...FORMATS.map((to) => ['export', BOOK, '--to', to, '--exercise', 'scale-fours', '--player', 'alto-saxophone', '--out', 'out/exchange']),
  ...['musicxml', 'midi'].flatMap((to) =>
    [[], ['--part', 'baritone-saxophone']].map((part) => [
      ...['export', SMALL, '--ensemble', BAND, ...part, '--to', to],
      ...['--exercise', 'last-wheel', '--out', 'out/exchange'],
    ]),
  ),
];

for (const args of COMMANDS) {
  const { status } = spawnSync(process.execPath, [CLI, ...args], { stdio: ['ignore', 'inherit', 'inherit'] });
  if (status !== 0) process.exit(status ?? 1);
}
