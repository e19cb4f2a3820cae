import type { BreathCommandOptions } from '../breath.js';
import { command, EXERCISE, LEVEL, PLAYER } from './command.js';

export const breath = command({
  usage: 'breath <file>',
  words: 'plan the breaths of one exercise for one player',
  options: [
    EXERCISE,
    PLAYER,
    LEVEL,
    { flags: '--tempo <number>', words: 'beats a minute; the slowest of the exercise if not given' },
    { flags: '--lung-time <seconds>', words: 'seconds of playing from one breath, as you know them' },
    { flags: '--long-tone <seconds>', words: 'the longest of three measured long tones' },
    { flags: '--age <years>', words: 'for an estimate, with the height' },
    { flags: '--height <centimeters>', words: 'for an estimate, with the age' },
    { flags: '--sex <sex>', words: 'for an estimate; may be left out', choices: ['female', 'male'] },
  ],
  run: async (terminal, file: string, options: BreathCommandOptions) =>
    (await import('../breath.js')).breathCommand(file, options, terminal),
});
