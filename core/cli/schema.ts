/** `twelvefold schema`: the JSON Schema of book, roster and ensemble files, for text editors. */

import { editorSchema } from '../book/json-schema.js';
import { book } from '../book/schema.js';
import { ensembleShape } from '../ensemble/schema.js';
import { rosterShape } from '../people/schema.js';
import { EXIT, type ExitCode, type Terminal, tellJson } from './terminal.js';

const SHAPES = { book, roster: rosterShape, ensemble: ensembleShape } as const;

export type FileKind = keyof typeof SHAPES;

/** Prints the schema itself; with `--json` in an answer like those of the other commands. */
export function schemaCommand(kind: FileKind, options: { readonly json?: boolean }, terminal: Terminal): ExitCode {
  const schema = editorSchema(SHAPES[kind], `Twelvefold ${kind}`);
  tellJson(terminal, options.json ? { ok: true, issues: [], kind, schema } : schema);
  return EXIT.ok;
}
