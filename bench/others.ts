/** Two more ways to the same pages: a browser's print to PDF, and an independent engraver. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { barsOf } from '../core/engrave/bars.js';
import type { Fonts } from '../core/engrave/metrics.js';
import { musicXml } from '../core/output/musicxml/musicxml.js';
import type { NaivePage } from './naive.js';
import { childCpuNow, cpuNow } from './timing.js';

const BROWSERS = ['chromium', 'chromium-browser', 'google-chrome'];

export type Printed = { readonly cpu: number | undefined; readonly wall: number; readonly bytes: number };

/** Headless Chromium printing these SVG pages; undefined where there is none. */
export function printed(svgs: readonly string[], fonts: Fonts): Printed | undefined {
  const browser = BROWSERS.find((name) => spawnSync(name, ['--version']).status === 0);
  if (!browser) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'twelvefold-bench-'));
  try {
    writeFileSync(join(folder, 'music.otf'), fonts.files.music);
    const style = `@font-face{font-family:Bravura;src:url(music.otf)}@page{margin:0;size:190mm 270mm}body{margin:0}div{break-after:page}`;
    const html = `<!doctype html><style>${style}</style>${svgs.map((svg) => `<div>${svg}</div>`).join('\n')}`;
    writeFileSync(join(folder, 'pages.html'), html);
    const pdf = join(folder, 'pages.pdf');
    const url = pathToFileURL(join(folder, 'pages.html')).href;
    const [cpu, wall] = [childCpuNow(), performance.now()];
    const flags = ['--headless', '--no-sandbox', '--disable-gpu', `--user-data-dir=${folder}/profile`, '--no-pdf-header-footer'];
    const { status } = spawnSync(browser, [...flags, `--print-to-pdf=${pdf}`, url], { stdio: 'ignore' });
    if (status !== 0) return undefined;
    const after = childCpuNow();
    return {
      cpu: cpu === undefined || after === undefined ? undefined : after - cpu,
      wall: performance.now() - wall,
      bytes: statSync(pdf).size,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The engraver verovio: MusicXML in, SVG out, its start not counted. Returns milliseconds of CPU in all. */
export async function verovio(pages: readonly NaivePage[]): Promise<number> {
  const info = { title: 'Measured Pages', work: 'Measured Pages', author: '', copyright: '', date: '2026-03-01' };
  const sources = pages
    .flat()
    .map(({ line, systems }) => musicXml([{ title: line.exercise.title, lines: [{ line, score: barsOf(line) }], systems }], info));
  const toolkit = new VerovioToolkit(await createVerovioModule());
  toolkit.setOptions({ pageWidth: 2100, pageHeight: 2970, breaks: 'encoded', scale: 40 });
  const run = (source: string): void => {
    if (!toolkit.loadData(source)) throw new Error('verovio did not read the MusicXML');
    for (let page = 1; page <= toolkit.getPageCount(); page++) toolkit.renderToSVG(page);
  };
  for (const source of sources.slice(0, 4)) run(source);
  const start = cpuNow();
  for (const source of sources) run(source);
  const cpu = cpuNow() - start;
  toolkit.destroy();
  return cpu;
}
