#!/usr/bin/env node
/** The command line: the only import of commander. The commands themselves stand in core/cli/. */
import { realpathSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Command, CommanderError, Option } from 'commander';
import { removeUnfinished } from '../disk/files.js';
import { LEVELS } from '../player/catalogue.js';
import type { BatchOptions } from './batch.js';
import type { BookletOptions } from './booklets.js';
import type { BreathCommandOptions } from './breath.js';
import type { BuildOptions } from './build.js';
import type { EnsembleOptions } from './ensemble.js';
import type { ExportOptions } from './export-options.js';
import { growGently, optimiseLater } from './gentle-heap.js';
import { figuresCommand, instrumentsCommand, keyOrdersCommand } from './lists.js';
import { NEW_NAME, newCommand } from './new.js';
import type { ProgressOptions } from './progress.js';
import type { ShowOptions } from './show.js';
import { EXIT, type ExitCode, type Terminal } from './terminal.js';

const REPORT = 'This is a fault of Twelvefold, not of your book; please report it with the book file and this line';

function program(terminal: Terminal, finish: (code: ExitCode) => void): Command {
  const root = new Command('twelvefold')
    .description('Builds books of cycle exercises for wind players from a book file.')
    .exitOverride()
    .configureOutput({ writeOut: terminal.out, writeErr: terminal.err })
    .showHelpAfterError('(twelvefold --help shows the commands)')
    .addHelpText(
      'after',
      '\nExit codes: 0 done, 1 faults in the book or its files, 2 wrong command, 3 built with proof faults, 70 a fault of Twelvefold, 130 stopped.',
    );
  const command = (usage: string, words: string) => root.command(usage).description(words).option('--json', 'answer in JSON');

  // What lays out pages takes a while to load, so the short commands do without it.
  command('build <file>', 'write a PDF for each edition of a book')
    .option('--edition <instruments...>', 'only the editions for these instruments')
    .option('--out <folder>', 'where the files go', '.')
    .option('--archive', 'write PDF/A-1b, for libraries and archives')
    .action(async (file: string, options: BuildOptions) => {
      const { buildCommand } = await import('./build.js');
      finish(await buildCommand(file, options, terminal));
    });
  command('check <file>', 'look for faults in a book, and write nothing').action(async (file: string, options: { json?: boolean }) => {
    const { checkCommand } = await import('./check.js');
    finish(await checkCommand(file, options, terminal));
  });
  command('show <file>', 'list every note of one exercise for one player')
    .requiredOption('--exercise <id>', 'the exercise')
    .requiredOption('--player <instrument>', 'the instrument')
    .addOption(new Option('--level <level>', 'the reading level').choices(LEVELS))
    .action(async (file: string, options: ShowOptions) => {
      const { showCommand } = await import('./show.js');
      finish(await showCommand(file, options, terminal));
    });
  command('breath <file>', 'plan the breaths of one exercise for one player')
    .requiredOption('--exercise <id>', 'the exercise')
    .requiredOption('--player <instrument>', 'the instrument')
    .addOption(new Option('--level <level>', 'the reading level').choices(LEVELS))
    .option('--tempo <number>', 'beats a minute; the slowest of the exercise if not given')
    .option('--lung-time <seconds>', 'seconds of playing from one breath, as you know them')
    .option('--long-tone <seconds>', 'the longest of three measured long tones')
    .option('--age <years>', 'for an estimate, with the height')
    .option('--height <centimeters>', 'for an estimate, with the age')
    .addOption(new Option('--sex <sex>', 'for an estimate; may be left out').choices(['female', 'male']))
    .action(async (file: string, options: BreathCommandOptions) => {
      const { breathCommand } = await import('./breath.js');
      finish(await breathCommand(file, options, terminal));
    });
  command('export <file>', 'write exercises as notation data, MIDI, sound, slides, braille or words, for a player or an ensemble')
    .requiredOption('--to <format>', 'musicxml, mxl, midi, wav, svg, png, brf, braille or text')
    .option('--player <instrument>', 'the instrument of one player')
    .addOption(new Option('--level <level>', 'the reading level').choices(LEVELS))
    .option('--ensemble <file>', 'the score of this ensemble, as musicxml, mxl or midi')
    .option('--part <chairs...>', 'ensemble: parts of these chairs instead of the score')
    .option('--parts', 'ensemble: the parts of all chairs')
    .option('--pitch <pitch>', 'ensemble: the score in concert or transposed pitch')
    .option('--exercise <id>', 'one exercise')
    .option('--chapter <id>', 'one chapter; the whole book if neither is given')
    .option('--out <folder>', 'where the files go', '.')
    .option('--tempo <number>', 'beats a minute')
    .option('--ladder <runs>', 'sound: so many runs, each faster')
    .option('--count-in <bars>', 'bars of clicks first')
    .option('--click', 'with a metronome')
    .option('--drone', 'sound: hold the root of the key')
    .option('--a4 <hertz>', 'sound: the pitch of A4, 415 to 466')
    .option('--rate <samples>', 'sound: 44100 or 48000')
    .option('--shape <shape>', 'slides: 16:9 or 9:16')
    .option('--size <pixels>', 'slides: 1080 or 2160')
    .option('--dark', 'slides: light on dark')
    .option('--each-key', 'slides: one for each key')
    .action(async (file: string, options: ExportOptions) => {
      const { exportCommand } = await import('./export.js');
      finish(await exportCommand(file, options, terminal));
    });
  command('import-figure <file>', 'read the degrees and rhythm of a phrase in MusicXML or MIDI')
    .option('--key <key>', 'the key, such as Bb or F#m; guessed if not given')
    .action(async (file: string, options: { key?: string; json?: boolean }) => {
      const { importFigureCommand } = await import('./import-figure.js');
      finish(await importFigureCommand(file, options, terminal));
    });
  command('booklets <file> <roster>', 'write a PDF for each student of a roster')
    .option('--student <names...>', 'only these students')
    .option('--date <date>', 'date of the printing, such as 2026-03-01')
    .option('--out <folder>', 'where the files go', '.')
    .option('--prove', 'prove each booklet, and tell every fault')
    .action(async (file: string, roster: string, options: BookletOptions) => {
      const { bookletsCommand } = await import('./booklets.js');
      finish(await bookletsCommand(file, roster, options, terminal));
    });
  command('summary <file> <roster>', 'write the table of students, exercises and tempos')
    .option('--date <date>', 'date of the printing, such as 2026-03-01')
    .option('--out <folder>', 'where the file goes', '.')
    .action(async (file: string, roster: string, options: BatchOptions & { date?: string }) => {
      const { summaryCommand } = await import('./summary.js');
      finish(await summaryCommand(file, roster, options, terminal));
    });
  command('progress <file> <roster>', 'write a tempo that a student reached into a roster')
    .requiredOption('--student <name>', 'the student')
    .requiredOption('--exercise <id>', 'the exercise')
    .requiredOption('--tempo <number>', 'beats a minute')
    .option('--date <date>', 'the day it was reached, such as 2026-03-01')
    .action(async (file: string, roster: string, options: ProgressOptions) => {
      const { progressCommand } = await import('./progress.js');
      finish(await progressCommand(file, roster, options, terminal));
    });
  command('ensemble <file> <ensemble>', 'write matched parts and a score for a set of players')
    .option('--out <folder>', 'where the files go', '.')
    .option('--prove', 'prove the parts, all of them together, and tell every fault')
    .action(async (file: string, ensemble: string, options: EnsembleOptions) => {
      const { ensembleCommand } = await import('./ensemble.js');
      finish(await ensembleCommand(file, ensemble, options, terminal));
    });
  command('new [file]', 'write a small book to begin from').action(async (file: string | undefined, options: { json?: boolean }) =>
    finish(await newCommand(file ?? NEW_NAME, options, terminal)),
  );
  command('instruments', 'list the instruments and their written compass').action((options: { json?: boolean }) =>
    finish(instrumentsCommand(options, terminal)),
  );
  command('figures', 'list the figures of the library').action((options: { json?: boolean }) => finish(figuresCommand(options, terminal)));
  command('key-orders', 'list the key orders, from C').action((options: { json?: boolean }) => finish(keyOrdersCommand(options, terminal)));
  return root;
}

/** Runs one command; `args` are the words after the program's name. Never rejects. */
export async function run(args: readonly string[], terminal: Terminal): Promise<ExitCode> {
  let code: ExitCode = EXIT.ok;
  try {
    await program(terminal, (finished) => {
      code = finished;
    }).parseAsync([...args], { from: 'user' });
    return code;
  } catch (failure) {
    if (failure instanceof CommanderError) return failure.exitCode === 0 ? EXIT.ok : EXIT.usage;
    if (terminal.signal.aborted) {
      terminal.err('Stopped; nothing half-written is left.\n');
      return EXIT.stopped;
    }
    const words = failure instanceof Error ? failure.message.split('\n')[0] : String(failure);
    terminal.err(`${REPORT}: ${words}\n`);
    return EXIT.bug;
  }
}

async function main(): Promise<void> {
  growGently();
  optimiseLater();
  const stop = new AbortController();
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.on(signal, () => {
      // The second wish to stop does not wait for the work to notice the first.
      if (stop.signal.aborted) {
        removeUnfinished();
        process.exit(EXIT.stopped);
      }
      stop.abort();
    });
  }
  // A reader such as `head` may close the pipe early; that is no fault.
  process.stdout.on('error', (failure: NodeJS.ErrnoException) => {
    if (failure.code !== 'EPIPE') throw failure;
    process.exit(EXIT.ok);
  });
  process.exitCode = await run(process.argv.slice(2), {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    cwd: process.cwd(),
    watched: process.stderr.isTTY === true,
    signal: stop.signal,
    today: new Date().toISOString().slice(0, 10),
  });
}

const started = process.argv[1];
if (started !== undefined && realpathSync(started) === fileURLToPath(import.meta.url)) await main();
