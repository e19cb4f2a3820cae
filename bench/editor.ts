/** How fast the editor follows: one character of a figure is changed in a long book; until the page that shows it is drawn. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import type { BookSource } from '../core/book/schema.js';
import { workshop } from '../core/build/workshop.js';
import type { Fonts } from '../core/engrave/metrics.js';
import { pageSvg } from '../core/output/picture/svg.js';
import { benchSource } from './book.js';
import { cpuNow } from './timing.js';

export type EditorSpeed = {
  readonly pages: number;
  /** Milliseconds by the clock and of the processor, from the changed text to the drawn pages of its exercise. */
  readonly median: number;
  readonly slow: number;
  readonly cpu: number;
  /** For one change, on average: notes found, exercises engraved, chapters put on pages, systems unpacked for drawing. */
  readonly lines: number;
  readonly blocks: number;
  readonly chapters: number;
  readonly systems: number;
};

const KINDS = ['line', 'block', 'music', 'drawing'];
const WARM = 40;
const CHANGES = 60;

/** A figure that grows by a degree with every key and is then cut short, never twice the same. */
function figures(count: number): string[] {
  const list: string[] = [];
  let tones = ['1', '2', '3'];
  for (let i = 0; i < count; i++) {
    tones = tones.length >= 14 ? ['1', `${2 + (i % 5)}`, '3'] : [...tones, `${1 + ((i * 5 + 3) % 7)}`];
    list.push(tones.join(' '));
  }
  return list;
}

function withFigure(source: BookSource, figure: string): BookSource {
  const [first, ...others] = source.chapters;
  if (!first) return source;
  const exercises = first.exercises.map((it, e) => (e === 5 ? { ...it, figure } : it));
  return { ...source, chapters: [{ ...first, exercises }, ...others] };
}

/** `pages`: of music in the book. */
export function editorSpeed(pages: number, fonts: Fonts): EditorSpeed {
  const made = new Map<string, number>();
  const shop = workshop(fonts, (key) => {
    const kind = key.find((it) => typeof it === 'string' && KINDS.includes(it)) as string | undefined;
    if (kind !== undefined) made.set(kind, (made.get(kind) ?? 0) + 1);
  });
  const source = JSON.parse(benchSource(pages)) as BookSource;
  const exercise = '1.6';
  const times: number[] = [];
  let cpu = 0;
  let count = 0;
  for (const [i, figure] of ['1 2 3', ...figures(WARM + CHANGES)].entries()) {
    // As it comes from the window: every part of it a new object.
    const asked = JSON.stringify(withFigure(source, figure));
    if (i === WARM + 1) made.clear();
    const [start, used] = [performance.now(), cpuNow()];
    const set = shop.build(shop.read(JSON.parse(asked)), 0, { hasty: i > 0 });
    if (!set.ok) throw new Error(set.issues.map((issue) => issue.message).join('\n'));
    const { document } = set.value;
    for (const page of document.pages) {
      if (page.items.some((item) => item.kind === 'drawing' && item.exercise === exercise))
        pageSvg(page, document, fonts, { glyphs: 'inline' });
    }
    count = document.pages.length;
    if (i <= WARM) continue;
    times.push(performance.now() - start);
    cpu += cpuNow() - used;
  }
  times.sort((a, b) => a - b);
  const at = (share: number): number => times[Math.floor(times.length * share)] as number;
  const each = (kind: string): number => (made.get(kind) ?? 0) / CHANGES;
  return {
    pages: count,
    median: at(0.5),
    slow: at(0.95),
    cpu: cpu / CHANGES,
    lines: each('line'),
    blocks: each('block'),
    chapters: each('music'),
    systems: each('drawing'),
  };
}

/** The same in the whole window, by a browser; words instead where there is none. */
export function windowSpeed(): string {
  const browser = process.env.CHROMIUM ?? '/usr/bin/chromium';
  if (!existsSync(browser)) return `the window: skipped: no Chromium at ${browser}`;
  const { status, stdout, stderr } = spawnSync('npx', ['tsx', 'tests/e2e/latency.ts'], { encoding: 'utf8' });
  return status === 0 ? stdout.trim() : `the window: not measured: ${stderr.trim()}`;
}

/** Lines to print, and the median that is held against the goal. */
export function editorReport(fonts: Fonts, withWindow: boolean): { readonly lines: readonly string[]; readonly median: number } {
  const speed = editorSpeed(50, fonts);
  const { pages, median, slow, cpu } = speed;
  const ms = (value: number): string => `${value.toFixed(1)} ms`;
  return {
    median,
    lines: [
      `one character changed in a book of ${pages} pages, until its page is drawn: median ${ms(median)}, 95 % ${ms(slow)}, processor ${ms(cpu)}`,
      `    made anew for it: ${speed.lines.toFixed(1)} lines, ${speed.blocks.toFixed(1)} exercises engraved, ${speed.chapters.toFixed(1)} chapters put on pages, ${speed.systems.toFixed(1)} systems drawn`,
      ...(withWindow ? windowSpeed().split('\n') : []),
    ],
  };
}
