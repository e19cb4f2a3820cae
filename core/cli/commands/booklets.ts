import type { BookletOptions } from '../booklets.js';
import { command, DATE, OUT } from './command.js';

export const booklets = command({
  usage: 'booklets <file> <roster>',
  words: 'write a PDF for each student of a roster',
  options: [
    { flags: '--student <names...>', words: 'only these students' },
    DATE,
    OUT,
    { flags: '--prove', words: 'prove each booklet, and tell every fault' },
  ],
  run: async (terminal, file: string, roster: string, options: BookletOptions) =>
    (await import('../booklets.js')).bookletsCommand(file, roster, options, terminal),
});
