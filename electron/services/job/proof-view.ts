/** The proof of one edition, with places that the window can jump to. */

import { bad, good, type Result } from '../../../core/base/issue.js';
import type { Workshop } from '../../../core/build/workshop.js';
import type { Fonts } from '../../../core/engrave/metrics.js';
import type { Fault } from '../../../core/proof/fault.js';
import { proveEdition } from '../../../core/proof/proof.js';
import { ruleResults } from '../../../core/proof/report.js';
import type { ProofView } from '../contract/answers/proof.js';
import { stopped } from './progress.js';

export async function proofView(
  source: unknown,
  edition: number,
  { shop, fonts }: { readonly shop: Workshop; readonly fonts: Fonts },
  signal: AbortSignal,
  tell: (done: number, total: number, words: string) => void,
): Promise<Result<ProofView>> {
  const read = shop.read(source);
  const index = read.editions[edition];
  if (!read.book || index === undefined) return bad(...read.issues);
  tell(0, 100, read.book.editions[index]?.instrument ?? '');
  await new Promise((turn) => setImmediate(turn));
  if (signal.aborted) return bad(stopped());
  const set = shop.build(read, index);
  if (!set.ok) return set;
  const { document } = set.value;
  const onPage = (done: number, total: number) => tell(Math.round((100 * done) / total), 100, set.value.player.instrument.name);
  const proof = proveEdition(set.value, read.book, fonts, { onPage });
  const titles = new Map(read.book.chapters.flatMap((chapter) => chapter.exercises.map((it) => [it.id, it.title] as const)));
  const results = ruleResults(proof);
  const rules = results.map(({ rule, title, checked, faults }) => ({ number: rule, title, checked, faults: faults.length }));
  const placed = (title: string, fault: Fault) => {
    const pageIndex = fault.page === undefined ? -1 : document.pages.findIndex((page) => page.label === fault.page);
    return {
      rule: title,
      what: fault.what,
      page: fault.page,
      pageIndex: pageIndex < 0 ? undefined : pageIndex,
      place: fault.exercise === undefined ? undefined : read.places.get(fault.exercise),
      exercise: fault.exercise === undefined ? undefined : titles.get(fault.exercise),
    };
  };
  const faults = results.flatMap((result) => result.faults.map((fault) => placed(result.title, fault)));
  return good({ pages: proof.pages, rules, faults });
}
