/** Copies of what is not saved yet, from which it is recovered. */
import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { bad, error, good, type Issue, type Result } from '../../../core/base/issue.js';
import { checkShape } from '../../../core/book/schema.js';
import type { OpenedCompanion, OpenedRecovery, Recovered, RecoveredCompanion } from '../contract/answers/files.js';
import { fields } from '../contract/fields.js';
import type { Ask, Nothing } from '../contract/questions.js';
import { readOwn, type WriteOwn } from './own-files.js';
import { type Queue, stampOnDisk } from './text-files.js';

const source = z.looseObject({});
const keptShape = z.strictObject({ kind: fields.companionKind, path: z.string().optional(), name: z.string(), source });
const recoveryShape = z.strictObject({
  document: z.string(),
  path: z.string().optional(),
  name: z.string(),
  time: z.string(),
  source,
  companions: z.array(keptShape).max(2).optional(),
});

type Kept = z.output<typeof keptShape>;

const badDocument = (): Issue => error('unknown-document', [], 'There is no such book in this window; open it again.');
const isDocument = (name: string): boolean => fields.document.safeParse(name).success;

const stampOf = async (path: string | undefined): Promise<string | undefined> => (path === undefined ? undefined : stampOnDisk(path));

/** As the window held it and took it for one of its kind, with its faults: half a line that was being typed is not lost. */
const openedCompanion = async ({ kind, path, name, source: file }: Kept): Promise<RecoveredCompanion> => ({
  kind,
  opened: { source: file as OpenedCompanion['source'], path, name, stamp: await stampOf(path) },
});

/** What waits to be written is written in the order of `inTurn`; `now` gives ISO times. */
export function recoveryCopies(folder: string, now: () => string, inTurn: Queue, writeOwn: WriteOwn) {
  const recoveryFolder = join(folder, 'recovery');
  const fileOf = (document: string): string => join(recoveryFolder, `${document}.json`);

  return {
    async keepRecovery(ask: Ask<'recovery-keep'>): Promise<Result<Nothing>> {
      if (!isDocument(ask.document)) return bad(badDocument());
      return writeOwn(fileOf(ask.document), { ...ask, time: now() });
    },

    async dropRecovery(document: string): Promise<Result<Nothing>> {
      if (!isDocument(document)) return bad(badDocument());
      return inTurn(async () => {
        await rm(fileOf(document), { force: true });
        return good({});
      });
    },

    async recoveries(): Promise<Result<readonly Recovered[]>> {
      const names = await readdir(recoveryFolder).catch((): string[] => []);
      const found: Recovered[] = [];
      for (const name of names.filter((it) => it.endsWith('.json')).sort()) {
        const copy = await readOwn(join(recoveryFolder, name), recoveryShape);
        if (copy) found.push({ document: copy.document, path: copy.path, name: copy.name, time: copy.time });
      }
      return good(found.sort((a, b) => b.time.localeCompare(a.time)));
    },

    async openRecovery(document: string): Promise<Result<OpenedRecovery>> {
      if (!isDocument(document)) return bad(badDocument());
      const copy = await readOwn(fileOf(document), recoveryShape);
      const shape = copy && checkShape(copy.source);
      if (!copy || !shape?.ok)
        return bad(error('recovery-damaged', [], 'The recovery copy cannot be read any more; open the book itself.'));
      const companions = await Promise.all((copy.companions ?? []).map(openedCompanion));
      return good({ source: shape.value, path: copy.path, name: copy.name, stamp: await stampOf(copy.path), companions });
    },
  };
}
