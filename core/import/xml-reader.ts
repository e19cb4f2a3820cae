/** XML from outside → a tree (the only import of saxes). Nothing is fetched, no entity is defined, size and depth are bounded. */
import { SaxesParser } from 'saxes';
import { bad, error, good, type Issue, type Result } from '../base/issue.js';

export type XmlNode = {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlNode[];
  /** Its own text, children's not included. */
  readonly text: string;
};

/** House limits: far above any exercise, far below what fills the memory. */
const MOST = { depth: 48, elements: 400_000, attributes: 100, bytes: 32 * 1024 * 1024 } as const;

/** Characters handed to the parser at a time, so that a fault ends the work early. */
const STEP = 1 << 16;

/** Thrown and caught inside this file only. */
class Refusal extends Error {
  constructor(readonly issue: Issue) {
    super(issue.message);
  }
}

const refuse = (code: string, message: string): never => {
  throw new Refusal(error(code, [], message));
};

/** The encoding by its byte order mark, else as the file declares it, else UTF-8 (XML 1.0, appendix F). */
function encodingOf(bytes: Uint8Array): string {
  const [a, b] = bytes;
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0 && b === 0x3c) return 'utf-16be';
  if (a === 0x3c && b === 0) return 'utf-16le';
  const start = String.fromCharCode(...bytes.subarray(0, 200));
  return /^[^>]*\bencoding\s*=\s*["']([\w.-]+)["']/.exec(start)?.[1] ?? 'utf-8';
}

function decoded(bytes: Uint8Array): Result<string> {
  const encoding = encodingOf(bytes);
  try {
    return good(new TextDecoder(encoding, { fatal: true }).decode(bytes));
  } catch (failure) {
    if (failure instanceof RangeError) {
      return bad(
        error('xml-encoding', [], `The file says it is written in "${encoding.slice(0, 40)}", which is not known here; save it as UTF-8.`),
      );
    }
    return bad(error('xml-encoding', [], 'The file holds bytes that are no text in its encoding; save it again as UTF-8.'));
  }
}

type Open = { name: string; attributes: Record<string, string>; children: XmlNode[]; text: string };

function parse(text: string): XmlNode {
  const parser = new SaxesParser({ xmlns: false, position: true });
  const open: Open[] = [];
  let root: XmlNode | undefined;
  let elements = 0;
  let attributes = 0;
  parser.on('error', (failure) => {
    // The parser puts line and column in front of its words.
    const place = /^(\d+):(\d+): /.exec(failure.message);
    const where = place ? ` (line ${place[1]})` : '';
    refuse('xml-broken', `The file is not well-formed XML${where}; save or copy it again.`);
  });
  parser.on('doctype', (doctype) => {
    if (/\[|<!/.test(doctype))
      refuse(
        'xml-entities',
        'The file defines entities of its own, which a score does not need; it is not read. Save it again without them.',
      );
  });
  parser.on('attribute', () => {
    attributes++;
    if (attributes > MOST.attributes)
      refuse('file-too-large', `An element of the file has more than ${MOST.attributes} attributes, as no score has; choose another file.`);
  });
  parser.on('opentag', ({ name, attributes: own }) => {
    attributes = 0;
    elements++;
    if (elements > MOST.elements)
      refuse('file-too-large', `The file has more than ${MOST.elements} elements; choose a file that holds a single phrase.`);
    if (open.length >= MOST.depth)
      refuse('xml-too-deep', 'The elements of the file are nested too deeply for a score; choose another file.');
    open.push({ name, attributes: { ...own }, children: [], text: '' });
  });
  parser.on('text', (part) => {
    const top = open.at(-1);
    if (top) top.text += part;
  });
  parser.on('cdata', (part) => {
    const top = open.at(-1);
    if (top) top.text += part;
  });
  parser.on('closetag', () => {
    const node = open.pop() as Open;
    const parent = open.at(-1);
    if (parent) parent.children.push(node);
    else root = node;
  });
  for (let at = 0; at < text.length; at += STEP) parser.write(text.slice(at, at + STEP));
  parser.close();
  return root ?? refuse('xml-broken', 'The file holds no XML element; choose another file.');
}

/** Bytes of an XML file → its root. Issues `xml-…` and `file-too-large`. */
export function readXml(bytes: Uint8Array): Result<XmlNode> {
  if (bytes.length > MOST.bytes) {
    return bad(
      error('file-too-large', [], `The file is larger than ${MOST.bytes / 1024 / 1024} MB; choose a file that holds a single phrase.`),
    );
  }
  const text = decoded(bytes);
  if (!text.ok) return text;
  try {
    return good(parse(text.value));
  } catch (failure) {
    if (failure instanceof Refusal) return bad(failure.issue);
    throw failure;
  }
}

export const childrenOf = (node: XmlNode | undefined, name: string): readonly XmlNode[] =>
  node?.children.filter((child) => child.name === name) ?? [];
export const childOf = (node: XmlNode | undefined, name: string): XmlNode | undefined =>
  node?.children.find((child) => child.name === name);

/** The trimmed text of the first child of this name; undefined if there is no such child. */
export const textOf = (node: XmlNode | undefined, name: string): string | undefined => childOf(node, name)?.text.trim();
