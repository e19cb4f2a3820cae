import type { ProgressOptions } from '../progress.js';
import { command, DATE, EXERCISE } from './command.js';

export const progress = command({
  usage: 'progress <file> <roster>',
  words: 'write a tempo that a student reached into a roster',
  options: [
    { flags: '--student <name>', words: 'the student', required: true },
    EXERCISE,
    { flags: '--tempo <number>', words: 'beats a minute', required: true },
    { ...DATE, words: 'the day it was reached, such as 2026-03-01' },
  ],
  run: async (terminal, file: string, roster: string, options: ProgressOptions) =>
    (await import('../progress.js')).progressCommand(file, roster, options, terminal),
});
