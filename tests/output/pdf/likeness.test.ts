/** A PDF file as it was, object by object: written without compression, so that no version of zlib has a say in it. */
import { createHash } from 'node:crypto';
import { expect, it } from 'vitest';
import { pdfOf } from '../read-pdf.js';
import { sample } from '../sample.js';

const sum = (text: string): string => createHash('sha256').update(text, 'latin1').digest('hex').slice(0, 16);

/** Bytes that are no text by their sum. */
const readable = (bytes: Buffer): string =>
  bytes
    .toString('latin1')
    .replace(/(?<=stream\n)[\s\S]*?(?=\nendstream)/g, (content) =>
      /^[\s -~]*$/.test(content.slice(0, 2000)) ? content : `(${content.length} bytes, ${sum(content)})`,
    )
    .replace(/[^\s -~]+/g, (other) => `(${sum(other)})`);

it.each([
  ['plain', {}],
  ['archive', { archive: true }],
] as const)('%s', async (name, options) => {
  const bytes = await pdfOf(sample, { compress: false, ...options });
  await expect(readable(bytes)).toMatchFileSnapshot(`likeness/${name}.txt`);
});
