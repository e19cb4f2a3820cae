/** Questions about files: books, rosters, ensembles, what is recovered, and how this person likes the window. */
import { dirname, join } from 'node:path';
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import { fields, type Preferences } from '../contract/fields.js';
import { PREFERENCES } from '../contract/preferences.js';
import type { ChannelOf } from '../contract/questions.js';
import type { BooksOnDisk } from '../disk/books.js';
import { companionsOnDisk } from '../disk/companions.js';
import { readOwn } from '../disk/own-files.js';
import type { Holders } from './holders.js';
import type { Access, Handlers } from './platform.js';

export const refused = (): Result<never> =>
  bad(
    error('not-allowed', [], 'This place was not chosen by you in a file window, so it is not touched; choose the file or folder again.'),
  );

type HandlersNamed<Name extends string> = Handlers<Extract<ChannelOf<'host'>, Name>>;

function bookHandlers(books: BooksOnDisk, holders: Holders, { mayUse, allow }: Access): HandlersNamed<`book-${string}`> {
  return {
    'book-demo': () => books.openDemo(),
    'book-open': async ({ path }, client) => ((await mayUse(path, client)) ? holders.hold(await books.open(path), client) : refused()),
    'book-save': async (ask, client) => {
      if (!(await mayUse(ask.path, client))) return refused();
      const saved = await books.save(ask);
      if (saved.ok) {
        holders.saved(saved.value.path, client);
        await books.dropRecovery(ask.document);
      }
      return saved;
    },
    'book-recent': async (_ask, client) => {
      const recent = await books.recent();
      if (recent.ok) for (const { path } of recent.value) allow(path, client);
      return recent;
    },
  };
}

function recoveryHandlers(books: BooksOnDisk, { allow }: Access): HandlersNamed<`recovery-${string}`> {
  return {
    'recovery-keep': (ask) => books.keepRecovery(ask),
    'recovery-drop': ({ document }) => books.dropRecovery(document),
    'recovery-list': () => books.recoveries(),
    'recovery-open': async ({ document }, client) => {
      const opened = await books.openRecovery(document);
      if (!opened.ok) return opened;
      for (const { path } of [opened.value, ...opened.value.companions.map((it) => it.opened)]) {
        if (path !== undefined) allow(path, client);
      }
      return opened;
    },
  };
}

function companionHandlers(demo: string, holders: Holders, { mayUse }: Access): HandlersNamed<`roster-${string}` | `ensemble-${string}`> {
  const companions = companionsOnDisk();
  return {
    'roster-open': async ({ path }, client) =>
      (await mayUse(path, client)) ? holders.hold(await companions.open('roster', path), client) : refused(),
    'ensemble-open': async ({ path }, client) =>
      (await mayUse(path, client)) ? holders.hold(await companions.open('ensemble', path), client) : refused(),
    'roster-demo': () => companions.openDemo('roster', join(dirname(demo), 'harrow-lane.roster')),
    'ensemble-demo': () => companions.openDemo('ensemble', join(dirname(demo), 'harrow-lane-band.ensemble')),
    'roster-save': async (ask, client) => ((await mayUse(ask.path, client)) ? companions.save('roster', ask) : refused()),
    'ensemble-save': async (ask, client) => ((await mayUse(ask.path, client)) ? companions.save('ensemble', ask) : refused()),
  };
}

/** What the program remembers from one time to the next. */
function memoryHandlers(
  folder: string,
  books: BooksOnDisk,
  { mayUse, allow }: Access,
): HandlersNamed<`beside-${string}` | `preferences-${string}`> {
  const preferencesFile = join(folder, 'preferences.json');
  return {
    'beside-read': async ({ book }, client) => {
      if (!(await mayUse(book, client))) return refused();
      const beside = await books.companionsOf(book);
      // Written only for files that the user had chosen.
      for (const path of [beside.roster, beside.ensemble]) if (path !== undefined) allow(path, client);
      return good(beside);
    },
    'beside-write': async ({ book, ...beside }, client) => {
      for (const path of [book, beside.roster, beside.ensemble]) {
        if (path !== undefined && !(await mayUse(path, client))) return refused();
      }
      return books.rememberCompanions(book, beside);
    },
    'preferences-read': async (_ask, client) => {
      const preferences: Preferences = (await readOwn(preferencesFile, fields.preferences)) ?? PREFERENCES;
      // Chosen by the user in an earlier session: only such a folder is ever written.
      if (preferences.folder !== undefined) allow(preferences.folder, client);
      return good(preferences);
    },
    'preferences-write': async (ask, client) => {
      if (ask.folder !== undefined && !(await mayUse(ask.folder, client))) return refused();
      return books.writeOwn(preferencesFile, ask);
    },
  };
}

export type FileChannel = Exclude<ChannelOf<'host'>, 'cancel'>;

export type FileHost = {
  /** Folder of the program's own files. */
  readonly folder: string;
  /** Path of the demo book; its roster and its ensemble lie beside it. */
  readonly demo: string;
  readonly books: BooksOnDisk;
  readonly holders: Holders;
  readonly access: Access;
};

export const fileHandlers = ({ folder, demo, books, holders, access }: FileHost): Handlers<FileChannel> => ({
  ...bookHandlers(books, holders, access),
  ...recoveryHandlers(books, access),
  ...companionHandlers(demo, holders, access),
  ...memoryHandlers(folder, books, access),
});
