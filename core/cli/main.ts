#!/usr/bin/env node
/** The command line: the only import of commander. Each command declares itself in core/cli/commands/. */
import { realpathSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Argument, Command, CommanderError, Option } from 'commander';
import { removeUnfinished } from '../disk/files.js';
import type { CommandSpec, OptionSpec } from './commands/command.js';
import { COMMANDS } from './commands/commands.js';
import { growGently, optimiseLater } from './gentle-heap.js';
import { EXIT, type ExitCode, type Terminal } from './terminal.js';

const REPORT = 'This is a fault of Twelvefold, not of your book; please report it with the book file and this line';

function optionOf({ flags, words, required, choices, standard }: OptionSpec): Option {
  const option = new Option(flags, words).default(standard).makeOptionMandatory(required === true);
  return choices ? option.choices(choices) : option;
}

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
  function declare<Given extends unknown[]>({ usage, words, argument, options, run }: CommandSpec<Given>): void {
    const command = root.command(usage).description(words).option('--json', 'answer in JSON');
    if (argument) {
      const { name, choices } = argument;
      command.addArgument(new Argument(`[${name}]`, argument.words).choices(choices).default(choices[0]));
    }
    for (const option of options) command.addOption(optionOf(option));
    command.action(async (...given: Given) => finish(await run(terminal, ...given)));
  }
  for (const command of COMMANDS) command(declare);
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
