/** Every English word of the window, by place, ready to be translated. Messages about books come from the core. */
import { BOOK } from './texts/book.js';
import { ENSEMBLE } from './texts/ensemble.js';
import { EXPORT, IMPORT } from './texts/exchange.js';
import { EXERCISE } from './texts/exercise.js';
import { PAGES } from './texts/pages.js';
import { PLAYERS } from './texts/players.js';
import { PRINT } from './texts/print.js';
import { SOUND } from './texts/sound.js';
import { STUDENTS } from './texts/students.js';
import { WINDOW } from './texts/window.js';

export const T = {
  ...WINDOW,
  book: BOOK,
  exercise: EXERCISE,
  export: EXPORT,
  import: IMPORT,
  pages: PAGES,
  players: PLAYERS,
  students: STUDENTS,
  ensemble: ENSEMBLE,
  print: PRINT,
  sound: SOUND,
} as const;

export { CHANGE } from './texts/changes.js';
export { COMMAND_WORDS, COMMANDS, type CommandId, MENUS } from './texts/commands.js';
