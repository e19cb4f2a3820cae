/** Draws the icons from assets/icons/icon.svg: PNG for Linux, ICO for Windows, ICNS for the Mac. Run when the drawing changes. */
import { readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { initWasm, Resvg } from '@resvg/resvg-wasm';

const folder = new URL('../assets/icons/', import.meta.url);
await initWasm(await readFile(createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm')));
const drawing = await readFile(new URL('icon.svg', folder), 'utf8');
const png = (size) => Buffer.from(new Resvg(drawing, { fitTo: { mode: 'width', value: size } }).render().asPng());

/** Pictures as PNG inside the container, as Windows Vista and later read them. */
function ico(sizes) {
  const pictures = sizes.map((size) => ({ size, data: png(size) }));
  const head = Buffer.alloc(6 + 16 * pictures.length);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(pictures.length, 4);
  let at = head.length;
  pictures.forEach(({ size, data }, i) => {
    const entry = 6 + 16 * i;
    head.writeUInt8(size % 256, entry);
    head.writeUInt8(size % 256, entry + 1);
    head.writeUInt16LE(1, entry + 4);
    head.writeUInt16LE(32, entry + 6);
    head.writeUInt32LE(data.length, entry + 8);
    head.writeUInt32LE(at, entry + 12);
    at += data.length;
  });
  return Buffer.concat([head, ...pictures.map(({ data }) => data)]);
}

/** Types of the Mac's container that hold PNG, by size. */
function icns(types) {
  const parts = Object.entries(types).map(([type, size]) => {
    const data = png(size);
    const head = Buffer.alloc(8);
    head.write(type, 0, 'ascii');
    head.writeUInt32BE(data.length + 8, 4);
    return Buffer.concat([head, data]);
  });
  const all = Buffer.concat(parts);
  const head = Buffer.alloc(8);
  head.write('icns', 0, 'ascii');
  head.writeUInt32BE(all.length + 8, 4);
  return Buffer.concat([head, all]);
}

await writeFile(new URL('icon.png', folder), png(1024));
await writeFile(new URL('icon.ico', folder), ico([16, 24, 32, 48, 64, 128, 256]));
await writeFile(new URL('icon.icns', folder), icns({ icp4: 16, icp5: 32, ic07: 128, ic08: 256, ic09: 512, ic10: 1024 }));
process.stdout.write(`Icons are in ${fileURLToPath(folder)}\n`);
