/** The fields of a file as its described JSON Schema has them: the common ground of the guide and of the test of its examples. */
import { isObject, type JsonObject } from '../../core/book/json.js';

export type Field = {
  readonly name: string;
  readonly schema: JsonObject;
  readonly required: boolean;
};

export const objectOf = (value: unknown): JsonObject => {
  if (!isObject(value)) throw new Error(`${JSON.stringify(value)} is no object`);
  return value;
};

export const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** Of the forms that a value may take, the object; the schema itself where there is one form only. */
export function objectForm(schema: JsonObject): JsonObject | undefined {
  if (schema.type === 'object') return schema;
  return listOf(schema.anyOf)
    .map(objectOf)
    .find((form) => form.type === 'object');
}

export function fieldsOf(schema: JsonObject): Field[] {
  const needed = listOf(schema.required);
  return Object.entries(objectOf(schema.properties ?? {})).map(([name, field]) => ({
    name,
    schema: objectOf(field),
    required: needed.includes(name),
  }));
}

/** The schema at a path of field names; `[]` goes into the items of a list. */
export function schemaAt(schema: JsonObject, path: readonly string[]): JsonObject {
  return path.reduce((at, name) => {
    if (name === '[]') return objectOf(at.items);
    const form = objectForm(at);
    return objectOf(objectOf(form?.properties)[name]);
  }, schema);
}
