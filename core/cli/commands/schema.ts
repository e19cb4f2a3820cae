import type { FileKind } from '../schema.js';
import { command, type JsonOption } from './command.js';

const KINDS = ['book', 'roster', 'ensemble'] as const satisfies readonly FileKind[];

export const schema = command({
  usage: 'schema',
  words: 'print the JSON Schema of a kind of file, for text editors',
  argument: { name: 'kind', words: 'the kind of file', choices: KINDS },
  options: [],
  run: async (terminal, kind: FileKind, options: JsonOption) => (await import('../schema.js')).schemaCommand(kind, options, terminal),
});
