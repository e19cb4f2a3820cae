/** Pages as small gray pictures, and their stored likenesses: one picture for each line of `manifest.json`. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { bookNamed, build, bytesOf } from '../build/editions.js';

/** A page by the label that is printed on it. */
export type Look = { readonly book: string; readonly edition: string; readonly page: string };

/** Dots an inch: enough to see a moved accidental, small enough to keep. */
const DPI = 50;

/** Share of a page's dots that may differ: versions of the painter round differently at edges. A sharp sign has more dots. */
export const TOLERANCE = 0.0002;

export const manifest = JSON.parse(readFileSync(new URL('manifest.json', import.meta.url), 'utf8')) as readonly Look[];

export const nameOf = ({ book, edition, page }: Look): string => `${book}--${edition}--${page}`;

const pathOf = (look: Look): string => fileURLToPath(new URL(`pages/${nameOf(look)}.png`, import.meta.url));

const painted = new Map<string, Promise<{ bytes: Buffer; labels: readonly string[] }>>();

async function editionOf({ book, edition }: Look): Promise<{ bytes: Buffer; labels: readonly string[] }> {
  const built = build(bookNamed(book), edition);
  return { bytes: await bytesOf(built), labels: built.document.pages.map((page) => page.label) };
}

/** The page as poppler paints it. Throws if the edition has no such page. */
export async function paint(look: Look): Promise<PNG> {
  const id = `${look.book} ${look.edition}`;
  if (!painted.has(id)) painted.set(id, editionOf(look));
  const { bytes, labels } = (await painted.get(id)) as { bytes: Buffer; labels: readonly string[] };
  const number = labels.indexOf(look.page) + 1;
  if (number === 0) throw new Error(`${id} has no page ${look.page}; change tests/visual/manifest.json`);
  const folder = mkdtempSync(join(tmpdir(), 'twelvefold-look-'));
  try {
    writeFileSync(join(folder, 'edition.pdf'), bytes);
    const only = ['-singlefile', '-f', `${number}`, '-l', `${number}`];
    const args = ['-r', `${DPI}`, '-gray', '-png', ...only, join(folder, 'edition.pdf'), join(folder, 'page')];
    const { status, stderr } = spawnSync('pdftoppm', args, { encoding: 'utf8' });
    if (status !== 0) throw new Error(`pdftoppm: ${stderr}`);
    return PNG.sync.read(readFileSync(join(folder, 'page.png')));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

export function stored(look: Look): PNG | undefined {
  const path = pathOf(look);
  return existsSync(path) ? PNG.sync.read(readFileSync(path)) : undefined;
}

export function store(look: Look, picture: PNG): void {
  const path = pathOf(look);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, PNG.sync.write(picture, { colorType: 0, inputColorType: 6, bitDepth: 8 }));
}

export type Difference = { readonly share: number; readonly picture: PNG };

/** Share of dots that differ, and a picture of where. A page of another size differs everywhere. */
export function difference(before: PNG, now: PNG): Difference {
  const { width, height } = now;
  const picture = new PNG({ width, height });
  if (before.width !== width || before.height !== height) return { share: 1, picture };
  const count = pixelmatch(before.data, now.data, picture.data, width, height, { threshold: 0.15 });
  return { share: count / (width * height), picture };
}

/** Before, now and the difference on one sheet. */
export function sideBySide(pictures: readonly PNG[]): PNG {
  const width = pictures.reduce((sum, p) => sum + p.width, 0) + 10 * (pictures.length - 1);
  const sheet = new PNG({ width, height: Math.max(...pictures.map((p) => p.height)), fill: true });
  sheet.data.fill(0x80);
  let x = 0;
  for (const picture of pictures) {
    PNG.bitblt(picture, sheet, 0, 0, picture.width, picture.height, x, 0);
    x += picture.width + 10;
  }
  return sheet;
}
