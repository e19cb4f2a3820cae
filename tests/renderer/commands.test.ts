/** Commands: each has a name, no two the same keys, and the keys are what they say on every keyboard. */
import { beforeAll, describe, expect, it, vi } from 'vitest';

beforeAll(() => {
  vi.stubGlobal('window', { twelvefold: { call: async () => ({ ok: false, issues: [] }), on: () => () => undefined } });
});

describe('commands', () => {
  it('every command has a function, and no two have the same keys', async () => {
    const { ALL_COMMANDS } = await import('../../renderer/commands/command-table.js');
    const { COMMANDS } = await import('../../renderer/texts/texts.js');
    expect(ALL_COMMANDS.map((command) => command.id).sort()).toEqual(Object.keys(COMMANDS).sort());
    const keys = ALL_COMMANDS.flatMap((command) => command.keys ?? []);
    expect(keys.length).toBe(new Set(keys).size);
  });

  it.each([
    ['', 'book.new'],
    ['chapter', 'chapter.add'],
    ['PDF', 'print.build'],
    ['new exercise', 'exercise.add'],
    ['zoom', 'look.bigger'],
    ['dark colours', 'look.dark'],
    ['chapter zoom', undefined],
  ])('looking for "%s" finds %s first', async (words, id) => {
    const { commandsWith } = await import('../../renderer/commands/command-table.js');
    expect(commandsWith(words)[0]?.id).toBe(id);
  });

  it.each([
    [{ code: 'KeyS', ctrlKey: true }, false, 'Mod+S'],
    [{ code: 'KeyS', metaKey: true }, true, 'Mod+S'],
    [{ code: 'KeyS', ctrlKey: true }, true, 'S'],
    // On a Mac the option key changes the letter; the place on the keyboard stays.
    [{ code: 'KeyF', key: 'ƒ', altKey: true }, true, 'Alt+F'],
    [{ code: 'Digit3', altKey: true }, false, 'Alt+3'],
    [{ code: 'ArrowUp', ctrlKey: true, shiftKey: true }, false, 'Mod+Shift+ArrowUp'],
  ])('%j on a Mac %s is %s', async (event, mac, wanted) => {
    const { pressOf } = await import('../../renderer/commands/command-table.js');
    const plain = { key: '', ctrlKey: false, metaKey: false, altKey: false, shiftKey: false };
    expect(pressOf({ ...plain, ...event }, mac)).toBe(wanted);
  });
});
