/**
 * PDF/A-1b: what ISO 19005-1 asks for, read in the file itself, and the verdict of a validator, PDFBox Preflight. The whole
 * edition is the one that the installed program writes. Where Java or its jars are not installed, the validator's tests are
 * skipped and say so.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Document } from '../../../core/layout/page/page.js';
import { type Installed, installed } from '../../cli/package.js';
import { hasTool, opened, pdfOf, run, withTool } from '../read-pdf.js';
import { realEdition } from '../real-edition.js';
import { sample, withPage } from '../sample.js';

/** Debian's packages libpdfbox2-java, libactivation-java and libjaxb-api-java put them there. */
const JAR_FOLDER = '/usr/share/java';
const JARS = ['preflight', 'pdfbox2', 'xmpbox', 'fontbox2', 'commons-logging', 'javax.activation', 'jaxb-api'].map((name) =>
  join(JAR_FOLDER, `${name}.jar`),
);

function missing(): string | undefined {
  if (!hasTool('java')) return 'java is not installed';
  const jar = JARS.find((path) => !existsSync(path));
  return jar === undefined ? undefined : `${jar} is not installed`;
}
const reason = missing();
function validated(title: string, test: () => void | Promise<void>): void {
  it.skipIf(reason !== undefined)(reason === undefined ? title : `${title} (skipped: ${reason})`, test);
}

/** `valid`, or the faults that the validator names. */
function preflight(bytes: Uint8Array): string {
  const { out, err, status } = run('java', ['-cp', JARS.join(':'), 'org.apache.pdfbox.preflight.Validator_A1b', 'FILE'], bytes);
  return status === 0 && out.includes('is a valid PDF/A-1b file') ? 'valid' : `${out}${err}`;
}

let program: Installed;
let edition: Document;
/** As the program writes it that is installed. */
let whole: Buffer;
let plain: Buffer;
let plainEdition: Buffer;
beforeAll(async () => {
  edition = realEdition('small-wheels', 'trombone').document;
  program = await installed({ window: false });
  const book = join(program.program, 'assets', 'books', 'small-wheels.twelvefold');
  expect(program.run(['build', book, '--edition', 'trombone', '--archive'])).toMatchObject({ code: 0, err: '' });
  whole = readFileSync(join(program.folder, 'small-wheels-trombone.pdf'));
  plain = await pdfOf(sample, { archive: true, compress: false });
  plainEdition = await pdfOf(edition, { archive: true, compress: false });
});
afterAll(() => program.clear());

/** The file with some of its bytes replaced by as many others, so that every object stays in its place. */
function altered(from: string, to: string): Buffer {
  expect(to).toHaveLength(from.length);
  const text = plain.toString('latin1');
  expect(text).toContain(from);
  return Buffer.from(text.replaceAll(from, to), 'latin1');
}

describe('the validator', () => {
  validated('finds nothing wrong in the sample, compressed or not', async () => {
    expect(preflight(await pdfOf(sample, { archive: true }))).toBe('valid');
    expect(preflight(plain)).toBe('valid');
  });

  validated('finds nothing wrong in a whole edition', () => {
    expect(preflight(whole)).toBe('valid');
  });

  validated('finds nothing wrong in a page without any ink', async () => {
    expect(preflight(await pdfOf({ ...withPage([]), pages: [{ ...sample.pages[0]!, items: [] }] }, { archive: true }))).toBe('valid');
  });

  validated('finds what is wrong in an ordinary file', async () => {
    const faults = preflight(await pdfOf(sample));
    expect(faults).toContain('/DeviceGray default for operator "Tj" can\'t be used without Color Profile');
    expect(faults).toContain('The CIDSet entry is missing');
  });

  for (const [what, from, to, fault] of [
    ['another output intent', '/S /GTS_PDFA1', '/S /GTS_PDFX1', "The S entry of the OutputIntent isn't GTS_PDFA1"],
    ['another part of the standard', '<pdfaid:part>1<', '<pdfaid:part>2<', 'part must be 1'],
    ['fonts that do not name their glyphs', '/CIDSet', '/CIDSat', 'The CIDSet entry is missing'],
    ['metadata that are no XML', 'Scales &amp; Arp', 'Scales &     Arp', 'Failed to parse'],
    ['another title in the metadata', 'Scales &amp; Arp', 'Staffs &amp; Arp', 'Title present in the document catalog dictionary'],
    ['links that are not printed', '/F 4', '/F 0', 'Flags of Link annotation are invalid'],
  ] as const) {
    validated(`refuses ${what}`, () => {
      expect(preflight(altered(from, to))).toContain(fault);
    });
  }
});

describe('an archive file', () => {
  it('is of version 1.4 and says which part and level it follows', async () => {
    expect(whole.subarray(0, 9).toString()).toBe('%PDF-1.4\n');
    const text = whole.toString('latin1');
    expect(text).toContain('<pdfaid:part>1</pdfaid:part>');
    expect(text).toContain('<pdfaid:conformance>B</pdfaid:conformance>');
    expect((await pdfOf(sample)).toString('latin1')).not.toContain('pdfaid');
  });

  it('has the same bytes each time, and from the sources', async () => {
    const again = await pdfOf(edition, { archive: true });
    expect(again.equals(whole)).toBe(true);
    expect((await pdfOf(edition, { archive: true })).equals(again)).toBe(true);
  });

  it('paints what the ordinary file paints: black alone', async () => {
    const painted = (file: Buffer): string[] =>
      [...file.toString('latin1').matchAll(/stream\n(1 0 0 -1 0 [\s\S]*?)\nendstream/g)].map(([, page]) => page!);
    expect(painted(plain)).toHaveLength(sample.pages.length);
    expect(painted(plain)).toEqual(painted(await pdfOf(sample, { compress: false })));
    expect(painted(plainEdition).join('\n')).not.toMatch(/ (rg|RG|k|K|cs|CS|scn|SCN|gs)$/m);
  });

  it('is tagged as the ordinary file is', async () => {
    const [kept, ordinary] = await Promise.all([opened(whole), opened(await pdfOf(edition))]);
    expect(await kept.getMarkInfo()).toMatchObject({ Marked: true });
    for (let page = 1; page <= kept.numPages; page++) {
      const tree = await (await kept.getPage(page)).getStructTree();
      expect(tree).toEqual(await (await ordinary.getPage(page)).getStructTree());
    }
  });

  // ISO 19005-1, 6.1.12, by the table of PDF Reference 1.4, appendix C; the validator does not look at it.
  withTool('qpdf', 'keeps the limits of version 1.4', () => {
    type Value = { readonly [key: string]: Value } | readonly Value[] | string | number | boolean | null;
    const { out, status } = run('qpdf', ['--json', '--json-key=qpdf', 'FILE'], whole);
    expect(status).toBe(0);
    const longest = { array: 0, dictionary: 0, text: 0, name: 0 };
    function measure(value: Value): void {
      if (typeof value === 'string') {
        if (value.startsWith('/')) longest.name = Math.max(longest.name, value.length - 1);
        else longest.text = Math.max(longest.text, value.length);
      } else if (Array.isArray(value)) {
        longest.array = Math.max(longest.array, value.length);
        value.forEach(measure);
      } else if (typeof value === 'object' && value !== null) {
        longest.dictionary = Math.max(longest.dictionary, Object.keys(value).length);
        Object.values(value).forEach(measure);
      }
    }
    const [, objects] = JSON.parse(out).qpdf as [unknown, { readonly [object: string]: Value }];
    Object.values(objects).forEach(measure);
    expect(longest.array).toBeGreaterThan(50);
    expect(longest.array).toBeLessThanOrEqual(8191);
    expect(longest.dictionary).toBeLessThanOrEqual(4095);
    expect(longest.name).toBeLessThanOrEqual(127);
    // A string of 65535 bytes, two for each character.
    expect(longest.text).toBeLessThanOrEqual(32767);
  });
});

describe('the command line', () => {
  it('writes an archive file when asked, and only then', () => {
    expect(program.run(['new', 'mine'])).toMatchObject({ code: 0, err: '' });
    const file = (folder: string, ...more: string[]): string => {
      const { code, out } = program.run(['build', 'mine.twelvefold', '--edition', 'flute', '--out', folder, '--json', ...more]);
      expect(code).toBe(0);
      return readFileSync(join(program.folder, JSON.parse(out).editions[0].file), 'latin1');
    };
    expect(file('kept', '--archive')).toMatch(/^%PDF-1\.4\n[\s\S]*<pdfaid:part>1</);
    expect(file('plain')).toMatch(/^%PDF-1\.7\n/);
  });
});
