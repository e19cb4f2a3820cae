import type { ImportFigureOptions } from '../import-figure.js';
import { command } from './command.js';

export const importFigure = command({
  usage: 'import-figure <file>',
  words: 'read the degrees and rhythm of a phrase in MusicXML or MIDI',
  options: [{ flags: '--key <key>', words: 'the key, such as Bb or F#m; guessed if not given' }],
  run: async (terminal, file: string, options: ImportFigureOptions) =>
    (await import('../import-figure.js')).importFigureCommand(file, options, terminal),
});
