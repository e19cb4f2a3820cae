/** Text inside XML, for every painter and writer that makes some. */

const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&apos;' };

/** What XML 1.0 forbids or discourages everywhere, even as references (section 2.2): controls, lone surrogates, non-characters. */
const FORBIDDEN = /[^\P{Cc}\t\n\r]|\p{Cs}|[\ufffe\uffff]/gu;

/** Safe as element content and between double or single quotes. Characters that XML forbids are dropped. */
export function escapeXml(text: string): string {
  return text.replace(FORBIDDEN, '').replace(/[&<>"']/g, (c) => ESCAPES[c] as string);
}
