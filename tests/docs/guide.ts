/** The guide to a kind of file, from its described JSON Schema: sections in the order in which an author meets the fields. */
import type { JsonSchema } from '../../core/book/json-schema.js';
import { type Field, fieldsOf, listOf, objectForm, objectOf, schemaAt } from './fields.js';

export type Section = {
  readonly title: string;
  readonly text: string;
  /** Where the object stands whose fields are told: names of fields, `[]` for an item of a list. */
  readonly at: readonly string[];
  /** These of its fields, in this order; all of them, in the order of the schema, when not said. */
  readonly fields?: readonly string[];
};

const json = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(json).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  return `{ ${Object.entries(value)
    .map(([name, item]) => `${JSON.stringify(name)}: ${json(item)}`)
    .join(', ')} }`;
};

/** As code, whatever backquotes it has itself. */
const code = (text: string): string => (text.includes('`') ? `\`\` ${text} \`\`` : `\`${text}\``);

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.?!]$/.test(text) ? '' : '.'}`;

/** Words of a choice with their meanings, from one form of a field. */
function wordsOf(schema: JsonSchema): readonly (readonly [word: unknown, meaning: unknown])[] {
  const meanings = listOf(schema.enumDescriptions);
  return listOf(schema.enum).map((word, i) => [word, meanings[i]] as const);
}

/** What may stand in a field, in a few words; empty for a choice, whose words are listed. */
function kindOf(schema: JsonSchema): string {
  const forms = listOf(schema.anyOf).map(objectOf);
  if (forms.length > 0) return [...new Set(forms.map(kindOf).filter((kind) => kind !== ''))].join(', or ');
  if (schema.const !== undefined) return schema.const === '' ? '' : `\`${json(schema.const)}\``;
  const words = listOf(schema.enum);
  if (schema.enumDescriptions !== undefined) return '';
  if (words.length > 0) return words.length > 8 ? 'one of the names' : words.map((word) => `\`${json(word)}\``).join(', ');
  switch (schema.type) {
    case 'boolean':
      return '`true` or `false`';
    case 'integer':
    case 'number': {
      const whole = schema.type === 'integer' ? 'a whole number' : 'a number';
      const { minimum, maximum } = schema;
      const limited = typeof minimum === 'number' && typeof maximum === 'number' && maximum < Number.MAX_SAFE_INTEGER;
      return limited ? `${whole} from ${minimum} to ${maximum}` : whole;
    }
    case 'string':
      return schema.minLength === undefined ? 'text' : `one line of at most ${String(schema.maxLength)} characters`;
    case 'array':
      return 'a list';
    default:
      return 'an object';
  }
}

function fieldText({ name, schema, required }: Field): string {
  const words = [schema, ...listOf(schema.anyOf).map(objectOf)].flatMap(wordsOf).filter(([, meaning]) => meaning !== undefined);
  const lines = [`**\`${name}\`**${required ? ' (always needed)' : ''}: ${sentence(String(schema.description))}`, ''];
  for (const [word, meaning] of words) lines.push(`- \`${json(word)}\`: ${String(meaning)}`);
  if (words.length > 0) lines.push('');
  const told: string[] = [];
  const kind = kindOf(schema);
  if (kind !== '') told.push(sentence(kind));
  if (schema.default !== undefined)
    told.push(`Default: \`${json(schema.default)}\`${schema.leftOut ? ` (${String(schema.leftOut)})` : ''}.`);
  else if (!required) told.push(`Left out: ${sentence(String(schema.leftOut)).replace(/^./, (first) => first.toLowerCase())}`);
  const examples = listOf(schema.examples).map((example) => code(`"${name}": ${json(example)}`));
  told.push(`Example${examples.length > 1 ? 's' : ''}: ${examples.join(' · ')}`);
  return [...lines, told.join(' '), ''].join('\n');
}

/** Fields of the objects of one section. Throws where the section names a field that there is not, or leaves out one. */
function sectionFields(schema: JsonSchema, section: Section): Field[] {
  const form = objectForm(schemaAt({ ...schema }, section.at));
  if (!form) throw new Error(`no object at ${section.at.join('.')}`);
  const all = fieldsOf(form);
  return (
    section.fields?.map((name) => {
      const found = all.find((field) => field.name === name);
      if (!found) throw new Error(`no field ${name} at ${section.at.join('.')}`);
      return found;
    }) ?? all
  );
}

export function guide(schema: JsonSchema, sections: readonly Section[], level = '##'): string {
  return sections
    .map((section) => [`${level} ${section.title}`, '', section.text, '', ...sectionFields(schema, section).map(fieldText)].join('\n'))
    .join('\n');
}

/** Places and names of all fields that the sections tell, to be held against the schema. */
export const toldFields = (schema: JsonSchema, sections: readonly Section[]): string[] =>
  sections.flatMap((section) => sectionFields(schema, section).map(({ name }) => [...section.at, name].join('.')));
