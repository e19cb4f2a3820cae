/** Remedies of the core that speak of a command line, in words of a window. */
import type { Issue, Result } from '../../../core/base/issue.js';
import { FILE_KINDS, type FileKind } from '../contract/file-kinds.js';
import type { Channel } from '../contract/questions.js';

const CHOSEN: { readonly [C in Channel]?: FileKind } = {
  'book-open': 'book',
  'roster-open': 'roster',
  'ensemble-open': 'ensemble',
};

/** What to do about a folder that stands where a file is meant. */
function folderRemedy(channel: Channel): string {
  const kind = CHOSEN[channel];
  if (kind !== undefined) return `choose a file in it whose name ends in ${FILE_KINDS[kind].ending}`;
  return channel === 'build' || channel === 'export'
    ? 'give that folder another name, or choose another place for the files'
    : 'choose another name for the file';
}

const plainer = (channel: Channel, issue: Issue): Issue => ({
  ...issue,
  message: issue.message
    .replace(' with --out', '')
    .replace(', or begin a book with "twelvefold new"', '')
    .replace(/ is a folder; name a file\.$/, ` is a folder; ${folderRemedy(channel)}.`),
});

type Missing = { readonly issues: readonly Issue[] };
const withMissing = (value: unknown): value is { readonly missing: readonly Missing[] } =>
  typeof value === 'object' && value !== null && 'missing' in value && Array.isArray(value.missing);

/** The answer of a channel as a window tells it, with the reasons of files that could not be written. */
export function inWindowWords<T>(channel: Channel, result: Result<T>): Result<T> {
  const issues = result.issues.map((issue) => plainer(channel, issue));
  if (!result.ok || !withMissing(result.value)) return { ...result, issues };
  const missing = result.value.missing.map((it) => ({ ...it, issues: it.issues.map((issue) => plainer(channel, issue)) }));
  return { ...result, value: { ...result.value, missing }, issues };
}
