/** Files that stand beside a book, such as rosters and ensembles: JSON text with a format and a version of its own. */
import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { type JsonObject, parseJson } from './json.js';

export type Companion = {
  /** `twelvefold-roster` */
  readonly format: string;
  readonly version: number;
  /** `a roster` */
  readonly what: string;
};

/** The faults of the text, told of this kind of file. */
function reworded(issue: Issue, what: string): Issue {
  const words: Readonly<Record<string, string>> = {
    'file-too-large': `The file is larger than 4 MB, so it is not ${what}; choose another file.`,
    'file-empty': 'The file is empty; choose another file.',
  };
  const message =
    words[issue.code] ??
    issue.message
      .replaceAll('a book file', `${what} file`)
      .replaceAll('the book file', 'the file')
      .replaceAll('before the book is', 'before it is');
  return { ...issue, message };
}

/** Text → the fields of a file of this kind and version, not yet checked. */
export function readCompanion(text: string, { format, version, what }: Companion): Result<JsonObject> {
  const json = parseJson(text);
  if (!json.ok) return { ok: false, issues: json.issues.map((issue) => reworded(issue, what)) };
  const file = json.value;
  if (file.format !== format) {
    const words = `This JSON file is not ${what}; ${what} file begins with "format": "${format}", so choose another file or add that field.`;
    return bad(error('not-this-format', ['format'], words));
  }
  const found = file.version;
  if (typeof found !== 'number' || !Number.isInteger(found) || found < 1) {
    return bad(error('unknown-version', ['version'], `The version of the file is missing or unknown; write "version": ${version}.`));
  }
  if (found > version) {
    const words = `The file was saved by a newer Twelvefold (file version ${found}; this one reads up to ${version}); install the newer program to open it.`;
    return bad(error('newer-version', ['version'], words));
  }
  return good(file);
}
