/** `twelvefold instruments`, `figures`, `key-orders`: what a book may name. */

import { assert } from '../base/issue.js';
import { FIGURE_LIBRARY } from '../exercise/figure-library.js';
import { KEY_ORDER_NAMES, type KeyOrderSpec, keyOrder, orderList } from '../exercise/key-order.js';
import { INSTRUMENTS, LEVELS } from '../player/catalogue.js';
import { compassText } from '../player/compass.js';
import { EXIT, type ExitCode, type Terminal, table, tellJson } from './terminal.js';

type ListOptions = { readonly json?: boolean };

function tellList(
  terminal: Terminal,
  options: ListOptions,
  head: readonly string[],
  entries: readonly Readonly<Record<string, unknown>>[],
): ExitCode {
  if (options.json) {
    tellJson(terminal, entries);
  } else {
    const cell = (value: unknown) => (value === undefined ? '' : String(value));
    terminal.out(table([head, ...entries.map((entry) => head.map((name) => cell(entry[name])))]));
  }
  return EXIT.ok;
}

/** Written compass by level; `sounds` is what is added to the written pitch, in semitones. */
export function instrumentsCommand(options: ListOptions, terminal: Terminal): ExitCode {
  const entries = INSTRUMENTS.map((one) => ({
    id: one.id,
    name: one.name,
    clef: one.clef,
    sounds: one.transposition.semitones,
    ...Object.fromEntries(LEVELS.map((level) => [level, compassText(one.compass[level])])),
  }));
  return tellList(terminal, options, ['id', 'name', 'clef', 'sounds', ...LEVELS], entries);
}

export function figuresCommand(options: ListOptions, terminal: Terminal): ExitCode {
  const entries = FIGURE_LIBRARY.map(({ id, title, group, scale, text }) => ({ id, title, group, scale, degrees: text }));
  return tellList(terminal, options, ['id', 'title', 'group', 'scale', 'degrees'], entries);
}

/** The keys of each order from C. `custom` is the author's own list; `shuffle` is shown for the seed 1. */
export function keyOrdersCommand(options: ListOptions, terminal: Terminal): ExitCode {
  const entries = KEY_ORDER_NAMES.map((name) => {
    if (name === 'custom') return { name, set: '', keys: 'the keys that you list, such as ["Bb", "Eb", "F"]' };
    const spec: KeyOrderSpec = name === 'shuffle' ? { name, seed: 1 } : { name };
    const order = keyOrder(spec);
    assert(order.ok, `the order ${name} needs nothing more`);
    return { name, set: order.value.setSize, keys: orderList(order.value, 0).join(' ') };
  });
  return tellList(terminal, options, ['name', 'set', 'keys'], entries);
}
