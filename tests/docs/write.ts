/** Writes the guides that are made from the schemas. Run by `npm run docs`. */
import { writeFileSync } from 'node:fs';
import { GUIDES } from './guides.js';

for (const [file, text] of Object.entries(GUIDES)) writeFileSync(new URL(`../../docs/${file}`, import.meta.url), text());
