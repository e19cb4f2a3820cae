/** Text inside XML, for every painter and writer that makes some. */
import { mustGet } from '../base/list.js';

const ESCAPES: ReadonlyMap<string, string> = new Map([
  ['&', '&amp;'],
  ['<', '&lt;'],
  ['>', '&gt;'],
  ['"', '&quot;'],
  ["'", '&apos;'],
]);

/** What XML 1.0 forbids or discourages everywhere, even as references (section 2.2): controls, lone surrogates, non-characters. */
const FORBIDDEN = /[^\P{Cc}\t\n\r]|\p{Cs}|[\ufffe\uffff]/gu;

/** Safe as element content and between double or single quotes. Characters that XML forbids are dropped. */
export function escapeXml(text: string): string {
  return text.replace(FORBIDDEN, '').replace(/[&<>"']/g, (c) => mustGet(ESCAPES, c));
}
