/** Words of a book stay words in every output: no element, attribute, action or script comes out of a title or a text. */
import { JSDOM } from 'jsdom';
import { type XmlAttribute, XmlDocument, type XmlElement } from 'libxml2-wasm';
import { parseMidi } from 'midi-file';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Book, EditionSpec } from '../../core/book/book.js';
import { readBook } from '../../core/book/read.js';
import { type BuiltEdition, buildEdition } from '../../core/build/edition.js';
import { musicXml } from '../../core/output/musicxml/musicxml.js';
import { exerciseSlides } from '../../core/output/picture/slides.js';
import { pageSvg } from '../../core/output/picture/svg.js';
import { midiExport } from '../../core/output/sound/midi.js';
import { perform } from '../../core/output/sound/performance.js';
import { testFonts } from '../fonts.js';
import { pieceOf } from '../output/exported.js';
import { opened, pdfOf } from '../output/read-pdf.js';
import { MARKDOWN, TEXTS } from './hostile.js';

type Made = { readonly book: Book; readonly edition: BuiltEdition };

/** A book that says `text` wherever a line of text may stand, and `prose` wherever Markdown may. */
function made(text: string, prose: string): Made {
  const read = readBook(
    JSON.stringify({
      format: 'twelvefold',
      version: 1,
      title: text,
      subtitle: text,
      author: text,
      publisher: text,
      copyright: text,
      date: '2026-03-01',
      preface: prose,
      howToUse: prose,
      editions: ['flute'],
      extras: { figureIndex: true, keyIndex: true, contentsGrid: true, keyChart: false, compassChart: false },
      chapters: [
        {
          title: text,
          text: prose,
          exercises: [{ title: text, instruction: prose, figure: '1 2 3', order: ['C', 'F'], tempo: { from: 60, to: 80 } }],
        },
      ],
    }),
  );
  if (!read.ok) throw new Error(read.issues.map((issue) => issue.message).join('\n'));
  const edition = buildEdition(read.value, read.value.editions[0] as EditionSpec, testFonts());
  if (!edition.ok) throw new Error(edition.issues.map((issue) => issue.message).join('\n'));
  return { book: read.value, edition: edition.value };
}

const pages = ({ edition }: Made, text: 'outlines' | 'live'): string[] =>
  edition.document.pages.map((page) => pageSvg(page, edition.document, testFonts(), { text, title: edition.document.info.title }));

const lineOf = ({ edition }: Made) => [...edition.lines.values()][0] as NonNullable<ReturnType<typeof edition.lines.get>>;

const slides = (it: Made): string[] => exerciseSlides(pieceOf(lineOf(it)).lines[0]!, testFonts()).map(({ svg }) => svg);

const exchange = (it: Made): string => {
  const { title, author, copyright, date } = it.book;
  return musicXml([pieceOf(lineOf(it))], { work: title, title, author, copyright, date });
};

/** Names of elements, and of their attributes. Throws on what is not well-formed (libxml2). */
function names(xml: string): Set<string> {
  const document = XmlDocument.fromString(xml);
  try {
    const found = document.find('//* | //@*').map((node) => (node as XmlElement | XmlAttribute).name);
    return new Set(found);
  } finally {
    document.dispose();
  }
}

/** The same as a browser sees it, when the picture stands inside an HTML page. */
function namesInHtml(svg: string): Set<string> {
  const { document } = new JSDOM(`<!DOCTYPE html><body>${svg}</body>`).window;
  return new Set([...document.querySelectorAll('body *')].flatMap((element) => [element.localName, ...element.getAttributeNames()]));
}

const rawOf = (metadata: unknown): string => (metadata as { getRaw(): string }).getRaw();

const union = (sets: readonly Set<string>[]): Set<string> => new Set(sets.flatMap((set) => [...set]));
const beyond = (all: Set<string>, known: Set<string>): string[] => [...all].filter((name) => !known.has(name));

/** As XML can say it: without what XML forbids. */
const sayable = (text: string): string => text.replace(/[\ufffe\uffff]/g, '');

const PLAIN_PROSE = '# Words\n\nPlain *words* and **words** and `words`.\n\n* one\n* two\n\n> said\n\n```\n1 2 3\n```';
let plain: Made;
let known: { readonly svg: Set<string>; readonly html: Set<string>; readonly exchange: Set<string>; readonly metadata: Set<string> };
beforeAll(async () => {
  plain = made('Plain words', PLAIN_PROSE);
  const pictures = [...pages(plain, 'outlines'), ...pages(plain, 'live'), ...slides(plain)];
  const { metadata } = await (await opened(await pdfOf(plain.edition.document))).getMetadata();
  known = {
    svg: union(pictures.map(names)),
    html: union(pictures.map(namesInHtml)),
    exchange: names(exchange(plain)),
    metadata: names(rawOf(metadata)),
  };
});

/** Every line with a Markdown text, and every Markdown text with a line. */
const PAIRS = TEXTS.map((text, i) => [text, MARKDOWN[i % MARKDOWN.length] as string] as const);

describe.each(PAIRS)('%j', (text, prose) => {
  let hostile: Made;
  beforeAll(() => {
    hostile = made(text, `${prose}\n\n${text}`);
  });

  it('in pictures of pages and in slides', () => {
    for (const svg of [...pages(hostile, 'outlines'), ...pages(hostile, 'live'), ...slides(hostile)]) {
      expect(beyond(names(svg), known.svg)).toEqual([]);
      expect(beyond(namesInHtml(svg), known.html)).toEqual([]);
    }
  });

  it('in MusicXML', () => {
    const xml = exchange(hostile);
    expect(beyond(names(xml), known.exchange)).toEqual([]);
    const document = XmlDocument.fromString(xml);
    expect(document.get('//work-title')?.content).toBe(sayable(text));
    expect(document.get('//rights')?.content).toBe(sayable(text));
    document.dispose();
  });

  it('in the PDF and its metadata', async () => {
    const pdf = await opened(await pdfOf(hostile.edition.document));
    const { info, metadata } = await pdf.getMetadata();
    const said = info as { readonly Title: string; readonly Author: string };
    expect([said.Title, said.Author]).toEqual([hostile.edition.document.info.title, text]);
    expect(said.Title).toContain(text);
    const raw = rawOf(metadata);
    expect(beyond(names(raw), known.metadata)).toEqual([]);
    expect(await pdf.getJSActions()).toBeNull();
    expect(await pdf.getOpenAction()).toBeNull();
    expect(await pdf.getAttachments()).toBeNull();
    for (let number = 1; number <= pdf.numPages; number++) {
      for (const annotation of await (await pdf.getPage(number)).getAnnotations()) {
        expect([annotation.subtype, annotation.url, annotation.unsafeUrl, annotation.action]).toEqual([
          'Link',
          undefined,
          undefined,
          undefined,
        ]);
      }
    }
  });

  it('in MIDI', () => {
    const run = perform(lineOf(hostile), {});
    if (!run.ok) throw new Error('the line cannot be performed');
    const events = (title: string) => parseMidi(midiExport(title, [run.value])).tracks.map((track) => track.map(({ type }) => type));
    expect(events(text)).toEqual(events('Plain words'));
  });
});

it.each(['title', 'author', 'preface'])('half of a character is no %s', (field) => {
  const book = { format: 'twelvefold', version: 1, title: 'A', date: '2026-03-01', editions: ['flute'], chapters: [] };
  const answer = readBook(JSON.stringify({ ...book, [field]: 'a \ud800 b' }));
  expect(answer.issues[0]).toMatchObject({ path: [field], message: expect.stringContaining('This text has half of a character') });
});

describe('the check sees', () => {
  it('an element, an attribute and a picture that is not well-formed', () => {
    const [svg = ''] = pages(plain, 'live');
    expect(beyond(names(svg.replace('</svg>', '<script/></svg>')), known.svg)).toEqual(['script']);
    expect(beyond(names(svg.replace('<svg ', '<svg onload="x" ')), known.svg)).toEqual(['onload']);
    expect(beyond(namesInHtml(svg.replace('</svg>', '</svg><img src=x>')), known.html)).toEqual(['img', 'src']);
    expect(() => names(svg.replace('</svg>', '&x;</svg>'))).toThrow();
  });
});
