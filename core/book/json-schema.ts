/** The JSON Schema of a kind of file (draft 2020-12), for editors that complete and check what is typed. */
import { z } from 'zod';
import { isObject } from './json.js';

/** A JSON Schema as plain data. */
export type JsonSchema = { readonly [keyword: string]: unknown };

/**
 * The schema with every word about the fields: `description`, `default`, `examples`, `enumDescriptions` for the words of a
 * choice, and `leftOut`, a keyword of our own: in words what holds without the field.
 */
export const describedSchema = (shape: z.ZodType): JsonSchema => ({ ...z.toJSONSchema(shape, { io: 'input' }) });

/** `leftOut` as a part of the description: no editor knows that keyword. */
function withoutOwnWords(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutOwnWords);
  if (!isObject(value)) return value;
  const { leftOut, ...rest } = value;
  const words =
    typeof leftOut === 'string' && typeof rest.description === 'string' ? `${rest.description} Left out: ${leftOut}.` : undefined;
  return Object.fromEntries(
    Object.entries(words === undefined ? rest : { ...rest, description: words }).map(([name, item]) => [name, withoutOwnWords(item)]),
  );
}

/** The schema that `twelvefold schema` prints. `title` names the kind of file: `Twelvefold book`. */
export function editorSchema(shape: z.ZodType, title: string): JsonSchema {
  const { $schema, ...rest } = describedSchema(shape);
  const plain = withoutOwnWords(rest);
  return { $schema, title, ...(isObject(plain) ? plain : {}) };
}
