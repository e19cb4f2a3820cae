import type { ExportOptions } from '../export/export-options.js';
import { command, LEVEL, OUT } from './command.js';

export const exportExercises = command({
  usage: 'export <file>',
  words: 'write exercises as notation data, MIDI, sound, slides, braille or words, for a player or an ensemble',
  options: [
    { flags: '--to <format>', words: 'musicxml, mxl, midi, wav, svg, png, brf, braille or text', required: true },
    { flags: '--player <instrument>', words: 'the instrument of one player' },
    LEVEL,
    { flags: '--ensemble <file>', words: 'the score of this ensemble, as musicxml, mxl or midi' },
    { flags: '--part <chairs...>', words: 'ensemble: parts of these chairs instead of the score' },
    { flags: '--parts', words: 'ensemble: the parts of all chairs' },
    { flags: '--pitch <pitch>', words: 'ensemble: the score in concert or transposed pitch' },
    { flags: '--exercise <id>', words: 'one exercise' },
    { flags: '--chapter <id>', words: 'one chapter; the whole book if neither is given' },
    OUT,
    { flags: '--tempo <number>', words: 'beats a minute' },
    { flags: '--ladder <runs>', words: 'sound: so many runs, each faster' },
    { flags: '--count-in <bars>', words: 'bars of clicks first' },
    { flags: '--click', words: 'with a metronome' },
    { flags: '--drone', words: 'sound: hold the root of the key' },
    { flags: '--a4 <hertz>', words: 'sound: the pitch of A4, 415 to 466' },
    { flags: '--rate <samples>', words: 'sound: 44100 or 48000' },
    { flags: '--shape <shape>', words: 'slides: 16:9 or 9:16' },
    { flags: '--size <pixels>', words: 'slides: 1080 or 2160' },
    { flags: '--dark', words: 'slides: light on dark' },
    { flags: '--each-key', words: 'slides: one for each key' },
  ],
  run: async (terminal, file: string, options: ExportOptions) =>
    (await import('../export/export.js')).exportCommand(file, options, terminal),
});
