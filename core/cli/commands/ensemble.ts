import type { EnsembleOptions } from '../ensemble.js';
import { command, OUT } from './command.js';

export const ensemble = command({
  usage: 'ensemble <file> <ensemble>',
  words: 'write matched parts and a score for a set of players',
  options: [OUT, { flags: '--prove', words: 'prove the parts, all of them together, and tell every fault' }],
  run: async (terminal, file: string, chairs: string, options: EnsembleOptions) =>
    (await import('../ensemble.js')).ensembleCommand(file, chairs, options, terminal),
});
