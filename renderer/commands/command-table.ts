/** Everything that can be done, with its name and its keys: for the keyboard, the menus and the search. */

import { guarded, open, openDemo, save, saveBook } from '../files/book-files.js';
import { openCompanion, saveCompanion, startCompanion } from '../files/companion-files.js';
import { play, stepTempo } from '../sound/play.js';
import { redo, undo } from '../state/history.js';
import { change, now, type PlaceName } from '../state/state.js';
import { COMMAND_WORDS, COMMANDS, type CommandId } from '../texts/texts.js';
import * as go from './go.js';
import { prove } from './long-jobs.js';
import * as outline from './outline.js';
import { prefer, scaleText } from './preferences.js';
import { printBreaths } from './print-breaths.js';

export type Command = {
  readonly id: CommandId;
  readonly title: string;
  /** `Mod` is Ctrl, or Command on a Mac. */
  readonly keys?: string;
  readonly run: () => void;
};

const to = (place: PlaceName) => () => go.goTo(place);

const table: readonly (readonly [CommandId, string | undefined, () => void])[] = [
  ['book.new', 'Mod+Alt+N', () => guarded(() => change({ dialog: { kind: 'start' } }))],
  ['book.open', 'Mod+O', open],
  ['book.demo', undefined, () => guarded(() => void openDemo())],
  ['book.save', 'Mod+S', () => void save()],
  ['book.saveAs', 'Mod+Shift+S', () => void saveBook({ as: true })],
  ['edit.undo', 'Mod+Z', undo],
  ['edit.redo', 'Mod+Shift+Z', redo],
  ['go.book', 'Alt+1', to('book')],
  ['go.exercise', 'Alt+2', to('exercise')],
  ['go.pages', 'Alt+3', to('pages')],
  ['go.players', 'Alt+4', to('players')],
  ['go.print', 'Alt+5', to('print')],
  ['exercise.next', 'Alt+ArrowDown', () => go.stepExercise(1)],
  ['exercise.previous', 'Alt+ArrowUp', () => go.stepExercise(-1)],
  ['exercise.add', 'Mod+Enter', outline.newExercise],
  ['exercise.duplicate', 'Mod+Shift+D', outline.duplicateInFocus],
  ['exercise.remove', 'Mod+Shift+Backspace', outline.removeInFocus],
  ['exercise.up', 'Mod+Shift+ArrowUp', () => outline.moveInFocus(-1)],
  ['exercise.down', 'Mod+Shift+ArrowDown', () => outline.moveInFocus(1)],
  ['exercise.figure', 'Alt+F', () => go.toFigure()],
  ['exercise.library', 'Alt+L', () => change({ place: 'exercise', dialog: { kind: 'library' } })],
  ['exercise.import', 'Alt+I', () => change({ place: 'exercise', dialog: { kind: 'import', file: undefined } })],
  ['exercise.export', 'Alt+X', () => change({ place: 'exercise', dialog: { kind: 'export' } })],
  ['breath.print', undefined, printBreaths],
  ['go.instruments', undefined, () => change({ place: 'players', company: 'instruments' })],
  ['go.students', undefined, () => change({ place: 'players', company: 'students' })],
  ['go.ensemble', undefined, () => change({ place: 'players', company: 'ensemble' })],
  ['roster.new', undefined, () => startCompanion('roster')],
  ['roster.open', undefined, () => openCompanion('roster')],
  ['roster.save', undefined, () => void saveCompanion('roster')],
  ['roster.saveAs', undefined, () => void saveCompanion('roster', { as: true })],
  ['ensemble.new', undefined, () => startCompanion('ensemble')],
  ['ensemble.open', undefined, () => openCompanion('ensemble')],
  ['ensemble.save', undefined, () => void saveCompanion('ensemble')],
  ['ensemble.saveAs', undefined, () => void saveCompanion('ensemble', { as: true })],
  ['chapter.add', 'Mod+Shift+Enter', outline.newChapter],
  ['edition.next', 'Alt+ArrowRight', () => go.stepEdition(1)],
  ['edition.previous', 'Alt+ArrowLeft', () => go.stepEdition(-1)],
  ['pages.next', 'Alt+PageDown', () => go.turn(1)],
  ['pages.previous', 'Alt+PageUp', () => go.turn(-1)],
  ['sound.play', 'Mod+Space', () => void play()],
  ['sound.loop', undefined, () => change(({ loop }) => ({ loop: !loop }))],
  ['sound.slower', 'Alt+Comma', () => stepTempo(-1)],
  ['sound.faster', 'Alt+Period', () => stepTempo(1)],
  ['sound.click', undefined, () => change(({ click }) => ({ click: !click }))],
  ['print.proof', undefined, () => void prove()],
  ['print.build', 'Mod+P', go.toWriting],
  ['look.light', undefined, () => prefer({ theme: 'light' })],
  ['look.dark', undefined, () => prefer({ theme: 'dark' })],
  ['look.system', undefined, () => prefer({ theme: 'system' })],
  ['look.bigger', 'Mod+Alt+Equal', () => scaleText(10)],
  ['look.smaller', 'Mod+Alt+Minus', () => scaleText(-10)],
  ['help.commands', 'Mod+K', () => change({ dialog: { kind: 'search' } })],
  ['help.keys', 'Alt+H', () => change({ dialog: { kind: 'keys' } })],
];

export const ALL_COMMANDS: readonly Command[] = table.map(([id, keys, run]) => ({
  id,
  title: COMMANDS[id],
  run,
  ...(keys ? { keys } : {}),
}));

/** Commands with all of these words in their titles, or in what else one may call them. */
export function commandsWith(words: string): readonly Command[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  return ALL_COMMANDS.filter(({ id, title }) => {
    const text = `${title} ${COMMAND_WORDS[id] ?? ''}`.toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}

export const commandById = (id: string): Command | undefined => ALL_COMMANDS.find((command) => command.id === id);

/** `Mod+Shift+S` of a key press; by place on the keyboard, so that Alt combinations are the same everywhere. */
export function pressOf(event: Pick<KeyboardEvent, 'key' | 'code' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey'>, mac: boolean): string {
  const key = event.code.replace(/^Key|^Digit/, '');
  const parts = [
    ...((mac ? event.metaKey : event.ctrlKey) ? ['Mod'] : []),
    ...(event.altKey ? ['Alt'] : []),
    ...(event.shiftKey ? ['Shift'] : []),
    key,
  ];
  return parts.join('+');
}

/** As shown to the user. */
export const keysText = (keys: string, mac: boolean): string =>
  keys
    .replace('Mod', mac ? 'Cmd' : 'Ctrl')
    .replace('Arrow', '')
    .replaceAll('+', ' + ');

/** Runs the command of a key press; true when there was one. In a dialog only the dialog's own keys count. */
export function runPress(event: KeyboardEvent): boolean {
  const { about, dialog } = now();
  if (dialog) return false;
  const press = pressOf(event, about?.mac ?? false);
  const command = ALL_COMMANDS.find((it) => it.keys === press) ?? (press === 'Mod+Y' ? commandById('edit.redo') : undefined);
  if (!command) return false;
  command.run();
  return true;
}
