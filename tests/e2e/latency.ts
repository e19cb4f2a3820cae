/**
 * How long from a key press in a figure to the new page on the screen, in the larger demo book. Run by hand:
 * `npx tsx tests/e2e/latency.ts [keys]`. Prints milliseconds; asserts nothing, since machines differ.
 */
import { readFileSync } from 'node:fs';
import { copyFile } from 'node:fs/promises';
import { join } from 'node:path';
import { press, startApp } from './app.js';
import { program } from './built.js';

const KEYS = Number(process.argv[2] ?? 60);

/** In the page: notes the time of every input, and of the first frame in which the page beside it is a new one. */
const WATCH = `(() => {
  const seen = { pressed: [], shown: [], long: [] };
  window.seen = seen;
  document.getElementById('figure').addEventListener('input', () => seen.pressed.push(performance.now()), true);
  let last;
  const look = () => {
    const now = document.querySelector('.beside .drawing')?.shadowRoot?.firstChild;
    if (now !== last) { last = now; seen.shown.push(performance.now()); }
    requestAnimationFrame(look);
  };
  look();
  new PerformanceObserver((list) => { for (const entry of list.getEntries()) seen.long.push(Math.round(entry.duration)); }).observe({ type: 'longtask' });
})()`;

const at = (sorted: readonly number[], share: number): number =>
  Math.round(sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN);

/** Milliseconds of processor time that a process has used, all its threads together. (Linux: ticks of 10 ms.) */
function processorTime(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ');
  return 10 * (Number(fields[11]) + Number(fields[12]));
}

const app = await startApp();
// The host and browser that the tests share come to rest first.
await new Promise((resolve) => setTimeout(resolve, 3000));
try {
  const book = join(app.root, 'daybook.twelvefold');
  await copyFile(join(program, 'assets', 'books', 'keywrights-daybook.twelvefold'), book);
  const began = performance.now();
  const page = await app.open({ book });
  process.stdout.write(`host, window and first page: ${Math.round(performance.now() - began)} ms\n`);
  process.stdout.write(
    `first page after the start of the window: ${Math.round((await page.evaluate('performance.now()')) as number)} ms\n`,
  );
  // The driver looks now and then; the window has the page as soon as its question is answered.
  const answered = await page.evaluate(
    `Math.round(performance.getEntriesByType('resource').find((it) => it.name.endsWith('/call/show'))?.responseEnd ?? 0)`,
  );
  process.stdout.write(`of that, until the first page was answered: ${answered} ms\n`);
  await press(page, 'Alt+2');
  await page.locator('#figure').fill('1 2 3 5');
  await page.waitForTimeout(1500);
  await page.evaluate(WATCH);
  // Processor time does not depend on what else the machine does, as the clock on the wall does.
  const session = await page.context().newCDPSession(page);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  const windowTime = async () =>
    1000 * ((await session.send('Performance.getMetrics')).metrics.find((it) => it.name === 'TaskDuration')?.value ?? 0);
  const host = app.hosts.at(-1) as number;
  const used = { window: await windowTime(), host: processorTime(host) };
  const delays: number[] = [];
  const degrees = ['1', '3', '2', '5', '4', '6'];
  for (let i = 0; i < KEYS; i++) {
    // Up to sixteen tones, then back.
    const back = i % 24 >= 12;
    const before = ((await page.evaluate('window.seen.shown.length')) as number) ?? 0;
    if (back) await press(page, 'Backspace', 'Backspace');
    else await page.keyboard.type(` ${degrees[i % 6]}`);
    while (((await page.evaluate('window.seen.shown.length')) as number) <= before) await page.waitForTimeout(10);
    await page.waitForTimeout(120);
    const { pressed, shown } = (await page.evaluate('window.seen')) as { pressed: number[]; shown: number[] };
    delays.push((shown.at(-1) as number) - (pressed.at(-1) as number));
  }
  const each = (before: number, after: number) => ((after - before) / KEYS).toFixed(1);
  process.stdout.write(
    `processor time for a change: window ${each(used.window, await windowTime())} ms, host ${each(used.host, processorTime(host))} ms\n`,
  );
  const sorted = [...delays].sort((a, b) => a - b);
  const { long } = (await page.evaluate('window.seen')) as { long: number[] };
  process.stdout.write(
    `key to page, ${KEYS} changes: median ${at(sorted, 0.5)} ms, 95 % ${at(sorted, 0.95)} ms, longest ${at(sorted, 1)} ms\n`,
  );
  process.stdout.write(`tasks over 50 ms on the window's thread: ${long.length}${long.length > 0 ? ` (${long.join(', ')} ms)` : ''}\n`);
} finally {
  await app.close();
}
