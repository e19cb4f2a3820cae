/** Everything that can be done, with its name and its keys: for the keyboard, the menus and the search. */

import { guarded, open, openDemo, save, saveBook } from '../files/book-files.js';
import { openCompanion, saveCompanion, startCompanion } from '../files/companion-files.js';
import { play, stepTempo } from '../sound/play.js';
import { redo, undo } from '../state/history.js';
import { change, now, type PlaceName } from '../state/state.js';
import { COMMAND_WORDS, COMMANDS, type CommandId } from '../texts/texts.js';
import { prove } from './long-jobs.js';
import * as work from './work.js';

export type Command = {
  readonly id: CommandId;
  readonly title: string;
  /** `Mod` is Ctrl, or Command on a Mac. */
  readonly keys?: string;
  readonly run: () => void;
};

const go = (place: PlaceName) => () => work.goTo(place);

const table: readonly (readonly [CommandId, string | undefined, () => void])[] = [
  ['book.new', 'Mod+Alt+N', () => guarded(() => change({ dialog: { kind: 'start' } }))],
  ['book.open', 'Mod+O', open],
  ['book.demo', undefined, () => guarded(() => void openDemo())],
  ['book.save', 'Mod+S', () => void save()],
  ['book.saveAs', 'Mod+Shift+S', () => void saveBook(true)],
  ['edit.undo', 'Mod+Z', undo],
  ['edit.redo', 'Mod+Shift+Z', redo],
  ['go.book', 'Alt+1', go('book')],
  ['go.exercise', 'Alt+2', go('exercise')],
  ['go.pages', 'Alt+3', go('pages')],
  ['go.players', 'Alt+4', go('players')],
  ['go.print', 'Alt+5', go('print')],
  ['exercise.next', 'Alt+ArrowDown', () => work.stepExercise(1)],
  ['exercise.previous', 'Alt+ArrowUp', () => work.stepExercise(-1)],
  ['exercise.add', 'Mod+Enter', work.newExercise],
  ['exercise.duplicate', 'Mod+Shift+D', work.duplicateInFocus],
  ['exercise.remove', 'Mod+Shift+Backspace', work.removeInFocus],
  ['exercise.up', 'Mod+Shift+ArrowUp', () => work.moveInFocus(-1)],
  ['exercise.down', 'Mod+Shift+ArrowDown', () => work.moveInFocus(1)],
  ['exercise.figure', 'Alt+F', () => work.toFigure()],
  ['exercise.library', 'Alt+L', () => change({ place: 'exercise', dialog: { kind: 'library' } })],
  ['exercise.import', 'Alt+I', () => change({ place: 'exercise', dialog: { kind: 'import', file: undefined } })],
  ['exercise.export', 'Alt+X', () => change({ place: 'exercise', dialog: { kind: 'export' } })],
  ['breath.print', undefined, work.printBreaths],
  ['go.instruments', undefined, () => change({ place: 'players', company: 'instruments' })],
  ['go.students', undefined, () => change({ place: 'players', company: 'students' })],
  ['go.ensemble', undefined, () => change({ place: 'players', company: 'ensemble' })],
  ['roster.new', undefined, () => startCompanion('roster')],
  ['roster.open', undefined, () => openCompanion('roster')],
  ['roster.save', undefined, () => void saveCompanion('roster')],
  ['roster.saveAs', undefined, () => void saveCompanion('roster', true)],
  ['ensemble.new', undefined, () => startCompanion('ensemble')],
  ['ensemble.open', undefined, () => openCompanion('ensemble')],
  ['ensemble.save', undefined, () => void saveCompanion('ensemble')],
  ['ensemble.saveAs', undefined, () => void saveCompanion('ensemble', true)],
  ['chapter.add', 'Mod+Shift+Enter', work.newChapter],
  ['edition.next', 'Alt+ArrowRight', () => work.stepEdition(1)],
  ['edition.previous', 'Alt+ArrowLeft', () => work.stepEdition(-1)],
  ['pages.next', 'Alt+PageDown', () => work.turn(1)],
  ['pages.previous', 'Alt+PageUp', () => work.turn(-1)],
  ['sound.play', 'Mod+Space', () => void play()],
  ['sound.loop', undefined, () => change(({ loop }) => ({ loop: !loop }))],
  ['sound.slower', 'Alt+Comma', () => stepTempo(-1)],
  ['sound.faster', 'Alt+Period', () => stepTempo(1)],
  ['sound.click', undefined, () => change(({ click }) => ({ click: !click }))],
  ['print.proof', undefined, () => void prove()],
  ['print.build', 'Mod+P', work.toWriting],
  ['look.light', undefined, () => work.prefer({ theme: 'light' })],
  ['look.dark', undefined, () => work.prefer({ theme: 'dark' })],
  ['look.system', undefined, () => work.prefer({ theme: 'system' })],
  ['look.bigger', 'Mod+Alt+Equal', () => work.scaleText(10)],
  ['look.smaller', 'Mod+Alt+Minus', () => work.scaleText(-10)],
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
