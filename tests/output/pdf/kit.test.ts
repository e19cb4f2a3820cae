/** The parts of PDFKit that are used without being documented are those that the painter was written for. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import PDFDocument from 'pdfkit';
import { expect, it } from 'vitest';
import { openKit } from '../../../core/output/pdf/kit.js';
import { xmpMetadata } from '../../../core/output/pdf/metadata.js';
import { packObjects } from '../../../core/output/pdf/pack.js';

const WRITTEN_FOR = '0.20.2';

/** What core/output/pdf/kit.ts names, where it stands in PDFKit, and the first digits of the SHA-256 of its source text. */
const RELIED_ON = {
  'the document: ref, push through _write, _refEnd, end and _finalize, _root, _info, _id, _waiting': [
    'class PDFDocument',
    'ba177546de05c065',
  ],
  'an object: write and finalize, in three lines or six': ['class PDFReference', '1d00fc2f22a3e876'],
  'metadata: _addInfo and endMetadata, of info and metadata': ['var MetadataMixin', '3bf70368be0bc2ca'],
  'the packet: append, end, getXML and getLength': ['class PDFMetadata', 'effea028c233fd8e'],
  'archives: metadata and the output intent with its profile': ['var PDFA', 'ef1d2b19aaf14fc7'],
  'texts: a String object is written as a string': ['class PDFObject', '8113456ec5e2a9c1'],
  'the number of the file, of info': ['static generateFileID', '6f0b457c203856ec'],
  'name and number trees: limits': ['class PDFTree', '7dd57acb7aa5f873'],
  'bookmarks: outlineData and addItem': ['class PDFOutline', '48358c9b61fc31a6'],
  'fonts: subset, widths and unicode': ['class EmbeddedFont', '5f911b0d4aff4986'],
  'marked content and its structure': ['var MarkingsMixin', '4be3447a686a0a5b'],
  'an element of the structure: dictionary, add and end': ['class PDFStructureElement', 'ca2965ea92ad4152'],
} as const;

const library = createRequire(import.meta.url).resolve('pdfkit');
const folder = join(library, '..', '..');
const source = readFileSync(join(folder, 'js', 'pdfkit.node.mjs'), 'utf8');

/** A declaration, from its own line to the first line that ends it at the same depth. */
function declaration(begin: string): string {
  const lines = source.split('\n');
  const from = lines.findIndex((line) => new RegExp(`^\\s*${begin}\\b`).test(line));
  const indent = /^\s*/.exec(lines[from] ?? '')?.[0] ?? '';
  const length = lines.slice(from).findIndex((line) => line === `${indent}}` || line === `${indent}};`);
  return lines.slice(from, from + length + 1).join('\n');
}

const WHAT_TO_DO = `PDFKit is not the one that core/output/pdf/kit.ts was written for. Read in its source whether what the head of that file
lists still works so; run the tests of tests/output/pdf and compare the bytes of the demo with those before; then write the new
version and texts into this test.`;

it('the version is the one that the door was written for', () => {
  const { version } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as { readonly version: string };
  expect(version, WHAT_TO_DO).toBe(WRITTEN_FOR);
});

it.each(Object.entries(RELIED_ON))('%s', (_what, [begin, hash]) => {
  const text = declaration(begin);
  expect(text.split('\n').length, WHAT_TO_DO).toBeGreaterThan(5);
  expect(createHash('sha256').update(text).digest('hex').slice(0, 16), `${begin}: ${WHAT_TO_DO}`).toBe(hash);
});

it('no method of the library is replaced, but the one of the stream that the packed objects go through', () => {
  const info = { title: 'A & B', author: '', subject: '', keywords: '', language: 'en', date: '2026-03-01' };
  const kit = openKit({ size: [100, 100], info, compress: true, archive: false });
  /** Of a document itself, beside those of its class. */
  const methods = (document: object): string[] =>
    Object.entries(document).flatMap(([name, value]) => (typeof value === 'function' && name in PDFDocument.prototype ? [name] : []));
  const plain = methods(new PDFDocument({ autoFirstPage: false, font: '' }));
  expect(methods(kit)).toEqual(plain);
  packObjects(kit);
  expect(methods(kit)).toEqual([...plain, 'push']);
});

it.each([
  ['all', { title: 'One', author: 'Two', subject: 'Three', keywords: 'four, five' }],
  ['none', { title: '', author: '', subject: '', keywords: '' }],
  ['some', { title: 'One', author: '', subject: 'Three', keywords: '' }],
])('our metadata hold what PDFKit would tell of %s of the texts, and more behind it', (_which, texts) => {
  const info = { ...texts, language: 'en', date: '2026-03-01' };
  const date = new Date('2026-03-01T00:00:00Z');
  const ours = xmpMetadata({ info, creator: 'Someone', producer: 'PDFKit', date, archive: false });
  const { title: Title, author: Author, subject: Subject, keywords: Keywords } = texts;
  const theirs = new PDFDocument({ autoFirstPage: false, font: '', pdfVersion: '1.7', compress: false });
  Object.assign(theirs.info, { Title, Author, Subject, Keywords, Creator: 'Someone', CreationDate: date });
  theirs.end();
  const file = Buffer.from(theirs.read()).toString('utf8');
  const told = /<\?xpacket begin[\s\S]*?<\?xpacket end="w"\?>/.exec(file)?.[0] ?? '';
  const end = told.indexOf('</rdf:RDF>');
  expect(ours.slice(0, told.slice(0, end).trimEnd().length)).toBe(told.slice(0, end).trimEnd());
  expect(ours.endsWith(told.slice(end))).toBe(true);
});
