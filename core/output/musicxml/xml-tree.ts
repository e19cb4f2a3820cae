/** XML as a tree of plain values, and the one way to write it down. */
import { escapeXml } from '../xml.js';

export type XmlElement = {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number | undefined>>;
  /** Elements, or one text. */
  readonly children: readonly XmlElement[] | string;
};

type Child = XmlElement | undefined | false | readonly (XmlElement | undefined | false)[];

/** An element; children that are undefined or false are left out, lists are opened. A text or number alone is its content. */
export function el(
  name: string,
  attributes: XmlElement['attributes'] = {},
  ...content: readonly [string | number] | readonly Child[]
): XmlElement {
  const [only] = content;
  if (typeof only === 'string' || typeof only === 'number') return { name, attributes, children: String(only) };
  const children = content.flat().filter((child): child is XmlElement => typeof child === 'object');
  return { name, attributes, children };
}

function write(element: XmlElement, indent: string, out: string[]): void {
  const { name, attributes, children } = element;
  const written = Object.entries(attributes).map(([key, value]) => (value === undefined ? '' : ` ${key}="${escapeXml(String(value))}"`));
  const open = `${indent}<${name}${written.join('')}`;
  if (children.length === 0) out.push(`${open}/>\n`);
  else if (typeof children === 'string') out.push(`${open}>${escapeXml(children)}</${name}>\n`);
  else {
    out.push(`${open}>\n`);
    for (const child of children) write(child, `${indent} `, out);
    out.push(`${indent}</${name}>\n`);
  }
}

/** A whole file in UTF-8, one element a line. `doctype` is everything between `<!DOCTYPE ` and `>`. */
export function xmlFile(root: XmlElement, doctype?: string): string {
  const out = ['<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n', ...(doctype ? [`<!DOCTYPE ${doctype}>\n`] : [])];
  write(root, '', out);
  return out.join('');
}
