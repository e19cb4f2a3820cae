/** A command as it declares itself: what is typed, what the help says of it, and what it does. */

import { LEVELS } from '../../player/catalogue.js';
import type { ExitCode, Terminal } from '../terminal.js';

export type OptionSpec = {
  /** `--out <folder>`, `--archive` */
  readonly flags: string;
  readonly words: string;
  /** The command does nothing without it. */
  readonly required?: boolean;
  /** The only words that it takes. */
  readonly choices?: readonly string[];
  /** What holds when it is not given. */
  readonly standard?: string;
};

export type CommandSpec<Given extends unknown[]> = {
  /** Its name and what must follow it: `build <file>`. */
  readonly usage: string;
  readonly words: string;
  /** An argument that takes one of a few words; the first of them when it is not given. */
  readonly argument?: { readonly name: string; readonly words: string; readonly choices: readonly [string, ...string[]] };
  /** Those of its own; every command has `--json`. */
  readonly options: readonly OptionSpec[];
  /** `given`: its arguments in order, then its options by name. What lays out pages takes a while to load, so it is imported here. */
  readonly run: (terminal: Terminal, ...given: Given) => ExitCode | Promise<ExitCode>;
};

/** A command whose arguments and options are its own business. */
export type DeclaredCommand = (declare: <Given extends unknown[]>(spec: CommandSpec<Given>) => void) => void;

export const command =
  <Given extends unknown[]>(spec: CommandSpec<Given>): DeclaredCommand =>
  (declare) =>
    declare(spec);

export type JsonOption = { readonly json?: boolean };

// Options that several commands share.
export const OUT: OptionSpec = { flags: '--out <folder>', words: 'where the files go', standard: '.' };
export const LEVEL: OptionSpec = { flags: '--level <level>', words: 'the reading level', choices: LEVELS };
export const DATE: OptionSpec = { flags: '--date <date>', words: 'date of the printing, such as 2026-03-01' };
export const EXERCISE: OptionSpec = { flags: '--exercise <id>', words: 'the exercise', required: true };
export const PLAYER: OptionSpec = { flags: '--player <instrument>', words: 'the instrument', required: true };
