/**
 * The author's Markdown → blocks of plain values (the only import of the parser). Emphasis, lists, headings, quotations
 * and code spans have a meaning; everything else (HTML, images, links) becomes the text it is written with.
 */
import type { Nodes, PhrasingContent } from 'mdast';
import { fromMarkdown } from 'mdast-util-from-markdown';

/** `code`: printed as typed, but for the signs of degrees and note names. */
export type Inline = { readonly text: string; readonly italic: boolean; readonly bold: boolean; readonly code: boolean };

export type Block =
  | { readonly kind: 'paragraph'; readonly inlines: readonly Inline[] }
  | { readonly kind: 'heading'; readonly inlines: readonly Inline[] }
  | { readonly kind: 'list'; readonly start: number | undefined; readonly items: readonly (readonly Block[])[] }
  | { readonly kind: 'quote'; readonly blocks: readonly Block[] }
  /** A fenced block with the word `figure`: scale degrees on a line of their own. */
  | { readonly kind: 'figure'; readonly text: string }
  | { readonly kind: 'rule' };

type Look = { readonly italic: boolean; readonly bold: boolean };

/** Straight quotation marks → curved ones, given the character before the text. */
export function curved(text: string, before = ''): string {
  let previous = before;
  let out = '';
  for (const character of text) {
    const opens = previous === '' || /[\s([{—–“‘]/u.test(previous);
    const set = character === '"' ? (opens ? '“' : '”') : character === "'" ? (opens ? '‘' : '’') : character;
    out += set;
    previous = set;
  }
  return out;
}

const inlinesOf = (nodes: readonly PhrasingContent[], look: Look): Inline[] => nodes.flatMap((node) => inlinesOfNode(node, look));

function inlinesOfNode(node: PhrasingContent, look: Look): Inline[] {
  const plain = (text: string): Inline[] => [{ text, ...look, code: false }];
  const asTyped = (text: string): Inline[] => [{ text, ...look, code: true }];
  switch (node.type) {
    case 'text':
      return plain(node.value);
    case 'html':
    case 'inlineCode':
      return asTyped(node.value);
    case 'emphasis':
      return inlinesOf(node.children, { ...look, italic: !look.italic });
    case 'strong':
      return inlinesOf(node.children, { ...look, bold: true });
    case 'break':
      return plain(' ');
    case 'image':
    case 'imageReference':
      return plain(node.alt ?? '');
    case 'link': {
      const words = inlinesOf(node.children, look);
      const address = node.url.replace(/^mailto:/, '');
      // On paper an address can only be read, so it follows the words unless it is the words.
      return words.map((w) => w.text).join('') === address ? words : [...words, ...plain(' ('), ...asTyped(address), ...plain(')')];
    }
    case 'linkReference':
    case 'delete':
      return inlinesOf(node.children, look);
    case 'footnoteReference':
      return plain(`[${node.identifier}]`);
  }
}

/** Curves the quotation marks of a whole paragraph, across changes of font; code spans stay as written. */
function withCurvedQuotes(inlines: readonly Inline[]): Inline[] {
  let before = '';
  return inlines.map((inline) => {
    const text = inline.code ? inline.text : curved(inline.text, before);
    before = text.at(-1) ?? before;
    return { ...inline, text };
  });
}

const PLAIN: Look = { italic: false, bold: false };
/** A line that is printed as it was typed. */
const verbatim = (text: string): Block => ({ kind: 'paragraph', inlines: [{ text, ...PLAIN, code: true }] });

function blocksFrom(nodes: readonly Nodes[]): Block[] {
  return nodes.flatMap((node): Block[] => {
    switch (node.type) {
      case 'paragraph':
        return [{ kind: 'paragraph', inlines: withCurvedQuotes(inlinesOf(node.children, PLAIN)) }];
      case 'heading':
        return [{ kind: 'heading', inlines: withCurvedQuotes(inlinesOf(node.children, PLAIN)) }];
      case 'list':
        return [
          {
            kind: 'list',
            start: node.ordered ? (node.start ?? 1) : undefined,
            items: node.children.map((item) => blocksFrom(item.children)),
          },
        ];
      case 'blockquote':
        return [{ kind: 'quote', blocks: blocksFrom(node.children) }];
      case 'code':
        return node.lang === 'figure' ? [{ kind: 'figure', text: node.value }] : node.value.split('\n').filter(Boolean).map(verbatim);
      case 'html':
        return [verbatim(node.value)];
      case 'thematicBreak':
        return [{ kind: 'rule' }];
      case 'definition':
        return [verbatim(`[${node.label ?? node.identifier}]: ${node.url}`)];
      default:
        return [];
    }
  });
}

/** One line in which nothing can mean anything but itself: most instructions. The parser would give one paragraph of one text. */
const PLAIN_LINE = /^[^\s\0\\`*_[\]<>&~#+\-=|:\d][^\\`*_[\]<>&~\n\r\t\0]*(?<!\s)$/;

/** Markdown → blocks in reading order. Never fails: every text is some Markdown. */
export function blocksOf(markdown: string): Block[] {
  if (PLAIN_LINE.test(markdown)) return [{ kind: 'paragraph', inlines: [{ text: curved(markdown), ...PLAIN, code: false }] }];
  return blocksFrom(fromMarkdown(markdown).children);
}
