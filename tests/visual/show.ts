/** `npm run look` writes what changed, side by side, into out/look; `npm run look:accept` takes the pages as they are now. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { PNG } from 'pngjs';
import { difference, manifest, nameOf, paint, sideBySide, store, stored, TOLERANCE } from './look.js';

const accept = process.argv.includes('--accept');
const folder = 'out/look';
rmSync(folder, { recursive: true, force: true });

let changed = 0;
for (const look of manifest) {
  const now = await paint(look);
  const before = stored(look);
  const found = before && difference(before, now);
  if (found && found.share <= TOLERANCE) continue;
  changed++;
  if (accept) store(look, now);
  else {
    mkdirSync(folder, { recursive: true });
    writeFileSync(`${folder}/${nameOf(look)}.png`, PNG.sync.write(before && found ? sideBySide([before, now, found.picture]) : now));
  }
  const share = found ? `${(100 * found.share).toFixed(2)} % of its dots` : 'a new page';
  process.stdout.write(`${accept ? 'accepted' : `${folder}/`}${accept ? ' ' : ''}${nameOf(look)}${accept ? '' : '.png'}: ${share}\n`);
}
process.stdout.write(`${manifest.length} pages, ${changed} ${accept ? 'accepted' : 'changed'}\n`);
