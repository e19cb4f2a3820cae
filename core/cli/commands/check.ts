import { command, type JsonOption } from './command.js';

export const check = command({
  usage: 'check <file>',
  words: 'look for faults in a book, and write nothing',
  options: [],
  run: async (terminal, file: string, options: JsonOption) => (await import('../check.js')).checkCommand(file, options, terminal),
});
