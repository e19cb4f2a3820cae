import { command, type JsonOption } from './command.js';

export const newBook = command({
  usage: 'new [file]',
  words: 'write a small book to begin from',
  options: [],
  run: async (terminal, file: string | undefined, options: JsonOption) => {
    const { NEW_NAME, newCommand } = await import('../new.js');
    return newCommand(file ?? NEW_NAME, options, terminal);
  },
});
