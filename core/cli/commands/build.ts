import type { BuildOptions } from '../build.js';
import { command, OUT } from './command.js';

export const build = command({
  usage: 'build <file>',
  words: 'write a PDF for each edition of a book',
  options: [
    { flags: '--edition <instruments...>', words: 'only the editions for these instruments' },
    OUT,
    { flags: '--archive', words: 'write PDF/A-1b, for libraries and archives' },
  ],
  run: async (terminal, file: string, options: BuildOptions) => (await import('../build.js')).buildCommand(file, options, terminal),
});
