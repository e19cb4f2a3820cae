import type { ShowOptions } from '../show.js';
import { command, EXERCISE, LEVEL, PLAYER } from './command.js';

export const show = command({
  usage: 'show <file>',
  words: 'list every note of one exercise for one player',
  options: [EXERCISE, PLAYER, LEVEL],
  run: async (terminal, file: string, options: ShowOptions) => (await import('../show.js')).showCommand(file, options, terminal),
});
