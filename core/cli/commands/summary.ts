import type { BatchOptions } from '../batch.js';
import { command, DATE, OUT } from './command.js';

export const summary = command({
  usage: 'summary <file> <roster>',
  words: 'write the table of students, exercises and tempos',
  options: [DATE, { ...OUT, words: 'where the file goes' }],
  run: async (terminal, file: string, roster: string, options: BatchOptions & { readonly date?: string }) =>
    (await import('../summary.js')).summaryCommand(file, roster, options, terminal),
});
