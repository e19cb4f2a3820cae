/**
 * Many outputs at once: an ensemble, a class, all editions of the large demo book. Alone: `node dist/bench/batch.js`.
 *
 * The goal for an ensemble and a class is 1.3 × (pages × cost of a page ÷ cores), from the start of the program to its end;
 * the cost of a page is what it takes a program that has long been running, on one core, in the same run: either that of a
 * page of an edition for all pages alike, or that of a page of its kind. The time on the clock says little while others use
 * the machine, so the CPU time, over pages × cost, stands beside it: with no idle core both are the same.
 */
import { spawnSync } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import type { Result } from '../core/base/issue.js';
import { doJob, type Job } from '../core/batch/work.js';
import { readBook } from '../core/book/read.js';
import { copyExercises, type ExerciseLayout } from '../core/build/ensemble-layout.js';
import { fitHere } from '../core/build/score.js';
import { scorePlan } from '../core/build/score-staves.js';
import { sharedPages } from '../core/build/shared-pages.js';
import { ensembleBookOf } from '../core/ensemble/ensemble-book.js';
import { readEnsemble } from '../core/ensemble/read.js';
import { readRoster } from '../core/people/read.js';
import { build, openAllFonts, paint } from './own.js';
import { bandSource, classSource, EXERCISES, setSource } from './people.js';
import { cpuNow } from './timing.js';

type Run = { readonly pages: number; readonly outputs: number; readonly cpu: number; readonly wall: number; readonly peak: number };
export type BatchGoal = readonly [string, number, 'most' | 'least', number];
type Print = (...words: readonly string[]) => void;

const value = <T>(found: Result<T>): T => {
  if (!found.ok) throw new Error(found.issues.map(({ message }) => message).join('\n'));
  return found.value;
};

function child(...args: readonly (string | number)[]): Run {
  const path = fileURLToPath(new URL('batch-child.js', import.meta.url));
  const { status, stdout, stderr } = spawnSync(process.execPath, [path, ...args.map(String)], { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as Run;
}

/** CPU in ms for a page, the last of the rounds. */
async function settled(rounds: number, work: () => Promise<number>): Promise<number> {
  let cost = 0;
  for (let i = 0; i < rounds; i++) {
    const start = cpuNow();
    const pages = await work();
    cost = (cpuNow() - start) / pages;
  }
  return cost;
}

export type PageCosts = { readonly edition: number; readonly booklet: number; readonly part: number; readonly score: number };

/** Costs of a page on one core, the engine warm; with its share of the layout that all parts have in common. */
async function pageCosts(chairs: number): Promise<PageCosts & { readonly scorePages: number }> {
  const fonts = openAllFonts();
  const book = value(readBook(setSource()));
  const edition = await settled(6, async () => {
    const { document } = build(book, fonts);
    await paint(document, fonts);
    return document.pages.length;
  });
  const roster = value(readRoster(classSource(20), book));
  const classroom = { kind: 'booklets', book, roster, date: '2026-03-01' } as const;
  const booklet = await settled(3, async () => {
    let pages = 0;
    for (let student = 0; student < 20; student++) pages += (await doJob(classroom, { kind: 'booklet', student }, fonts, () => {})).pages;
    return pages;
  });
  const ensemble = value(readEnsemble(bandSource(chairs), book));
  const ensembleBook = ensembleBookOf(book, ensemble);
  const make = async (job: Job): Promise<number> => (await doJob({ kind: 'ensemble', book, ensemble }, job, fonts, () => {})).pages;
  let layouts: ExerciseLayout[] = [];
  const part = await settled(2, async () => {
    layouts = [];
    for (let index = 0; index < EXERCISES; index++) {
      const { layout } = await doJob({ kind: 'ensemble', book, ensemble }, { kind: 'exercise', index }, fonts, () => {});
      if (layout) layouts.push(layout);
    }
    const pages = sharedPages(ensembleBook, layouts, fonts);
    let made = 0;
    for (const copy of ensembleBook.copies)
      made += await make({ kind: 'part', copy: copy.id, exercises: copyExercises(layouts, copy), pages });
    return made;
  });
  const plans = layouts.map((layout) => scorePlan(layout, ensemble));
  let scorePages = 0;
  const score = await settled(2, async () => {
    scorePages = await make({ kind: 'score', plans, fitted: fitHere(ensembleBook, plans, fonts) });
    return scorePages;
  });
  return { edition, booklet, part, score, scorePages };
}

const wide = (text: string): string => text.padEnd(52);
const number = (n: number, digits = 1): string => n.toFixed(digits).padStart(10);

/** Measures, prints, and gives the goals. `quick`: a smaller band and class, and fewer editions. */
export async function batchFigures(say: Print, quick = false): Promise<BatchGoal[]> {
  const cores = availableParallelism();
  const bands = quick ? [10] : [10, 20, 30];
  const classes = quick ? [10, 30] : [10, 30, 60];
  const costs = await pageCosts(bands.at(-1) as number);
  say(wide('ms a page, warm, one core: edition, booklet, part'), `${number(costs.edition)}${number(costs.booklet)}${number(costs.part)}`);
  say(wide(`    score of ${bands.at(-1)} staves`), number(costs.score));

  const head = ['pages', 'CPU s', 'time s', 'peak MB', 'CPU/flat', 'CPU/kind', 'time/flat', 'time/kind'];
  say(wide(`outputs on ${cores} threads, a process each`), head.map((word) => word.padStart(10)).join(''));
  function row(
    name: string,
    made: Run,
    byKind: number | undefined,
  ): { readonly flat: number; readonly kind: number; readonly cpu: number } {
    const flat = made.pages * costs.edition;
    const time = made.wall * cores;
    const of = [made.cpu / flat, byKind && made.cpu / byKind, time / flat, byKind && time / byKind];
    const figures = [number(made.pages, 0), number(made.cpu / 1000), number(made.wall / 1000), number(made.peak, 0)];
    say(wide(name), [...figures, ...of.map((ratio) => (ratio === undefined ? '–'.padStart(10) : number(ratio, 2)))].join(''));
    return { flat: time / flat, kind: byKind === undefined ? Number.NaN : time / byKind, cpu: made.cpu / (byKind ?? flat) };
  }
  const goals: BatchGoal[] = [];
  const grown = (name: string, runs: readonly Run[]): void => {
    const [first, last] = [runs[0] as Run, runs.at(-1) as Run];
    goals.push([`${name}: peak, many to few`, last.peak / first.peak, 'most', 1.15]);
  };

  const sets = bands.map((size) => child('ensemble', size));
  sets.forEach((made, i) => {
    const last = i === sets.length - 1;
    const score = last ? costs.scorePages : 0;
    const ratio = row(
      `    ensemble of ${bands[i]} chairs`,
      made,
      last ? score * costs.score + (made.pages - score) * costs.part : undefined,
    );
    if (last)
      goals.push(
        ['ensemble: time / flat cost', ratio.flat, 'most', 1.3],
        ['ensemble: time / cost by kind', ratio.kind, 'most', 1.3],
        ['ensemble: CPU / cost by kind', ratio.cpu, 'most', 1.3],
      );
  });
  grown('ensembles', sets);
  const rooms = classes.map((size) => child('booklets', size));
  rooms.forEach((made, i) => {
    const ratio = row(`    ${classes[i]} booklets`, made, made.pages * costs.booklet);
    if (i === rooms.length - 1)
      goals.push(
        ['booklets: time / flat cost', ratio.flat, 'most', 1.3],
        ['booklets: time / cost by kind', ratio.kind, 'most', 1.3],
        ['booklets: CPU / cost by kind', ratio.cpu, 'most', 1.3],
      );
  });
  grown('booklets', rooms);

  const editions = quick ? 6 : 38;
  const [one, all] = [child('editions', editions, 1), child('editions', editions, cores)];
  const efficiency = one.wall / (cores * all.wall);
  say(wide(`${editions} editions, proved: time s on 1 and ${cores} threads`), `${number(one.wall / 1000)}${number(all.wall / 1000)}`);
  say(wide('    CPU s, peak MB of both'), [one.cpu / 1000, all.cpu / 1000, one.peak, all.peak].map((n) => number(n)).join(''));
  goals.push(
    ['editions: parallel efficiency', efficiency, 'least', 0.85],
    ['editions: CPU on 1 / on all', one.cpu / all.cpu, 'least', 0.85],
  );
  return goals;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const goals = await batchFigures((...words) => void process.stdout.write(`${words.join('')}\n`), process.argv.includes('--quick'));
  for (const [name, got, side, limit] of goals) {
    const reached = side === 'most' ? got <= limit : got >= limit;
    process.stdout.write(
      `${name.padEnd(36)}${number(got, 2)}   ${side === 'most' ? '≤' : '≥'} ${limit}   ${reached ? 'reached' : 'missed'}\n`,
    );
  }
}
