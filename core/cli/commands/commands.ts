/** All commands, in the order of the help. */

import { booklets } from './booklets.js';
import { breath } from './breath.js';
import { build } from './build.js';
import { check } from './check.js';
import type { DeclaredCommand } from './command.js';
import { ensemble } from './ensemble.js';
import { exportExercises } from './export.js';
import { importFigure } from './import-figure.js';
import { figures, instruments, keyOrders } from './lists.js';
import { newBook } from './new.js';
import { progress } from './progress.js';
import { schema } from './schema.js';
import { show } from './show.js';
import { summary } from './summary.js';

export const COMMANDS: readonly DeclaredCommand[] = [
  build,
  check,
  show,
  breath,
  exportExercises,
  importFigure,
  booklets,
  summary,
  progress,
  ensemble,
  newBook,
  instruments,
  figures,
  keyOrders,
  schema,
];
