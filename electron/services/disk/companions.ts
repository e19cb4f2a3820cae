/** Rosters and ensembles on the disk: the same files that the command line reads, opened and saved without loss. */
import { basename } from 'node:path';
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import { readCompanion } from '../../../core/book/companion.js';
import { writeJson } from '../../../core/book/write.js';
import { readText } from '../../../core/disk/files.js';
import { ENSEMBLE_FILE } from '../../../core/ensemble/read.js';
import { ROSTER_FILE } from '../../../core/people/read.js';
import type { CompanionSources, OpenedCompanion, Saved } from '../contract/answers/files.js';
import { type CompanionKind, FILE_KINDS } from '../contract/file-kinds.js';
import { companionShape } from './companion-shape.js';
import { pathOfKind } from './paths.js';
import { MOST_BYTES, queue, type SaveSource, saveText, stampOf } from './text-files.js';

const FILES = { roster: ROSTER_FILE, ensemble: ENSEMBLE_FILE } as const;

export function companionsOnDisk() {
  const inTurn = queue();

  async function open<K extends CompanionKind>(kind: K, path: string): Promise<Result<OpenedCompanion<K>>> {
    const full = pathOfKind(path, kind);
    if (!full.ok) return full;
    const name = basename(full.value);
    const text = await readText(full.value, MOST_BYTES, name, FILE_KINDS[kind].what);
    if (!text.ok) return text;
    const file = readCompanion(text.value, FILES[kind]);
    if (!file.ok) return file;
    const source = companionShape(kind, file.value);
    if (!source.ok) return source;
    // The file itself: what this version does not know is told, kept, and saved again.
    const kept = file.value as CompanionSources[K];
    return good({ source: kept, path: full.value, name, stamp: stampOf(text.value) }, source.issues);
  }

  /** The program's own file: a copy that has no place of its own yet. */
  async function openDemo<K extends CompanionKind>(kind: K, path: string): Promise<Result<OpenedCompanion<K>>> {
    const opened = await open(kind, path);
    return opened.ok ? good({ ...opened.value, path: undefined, stamp: undefined }, opened.issues) : opened;
  }

  async function save<K extends CompanionKind>(kind: K, ask: SaveSource): Promise<Result<Saved>> {
    const full = pathOfKind(ask.path, kind);
    if (!full.ok) return full;
    // Nothing is written that could not be opened again.
    const shape = companionShape(kind, ask.source);
    if (!shape.ok) {
      const words = `This cannot be saved as ${FILE_KINDS[kind].what} as it stands: ${shape.issues[0]?.message ?? ''}`;
      return bad(error('not-saveable', [], words), ...shape.issues);
    }
    return inTurn(() => saveText({ path: full.value, text: writeJson(ask.source), stamp: ask.stamp, force: ask.force }));
  }

  return { open, openDemo, save };
}
