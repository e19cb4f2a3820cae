/** What came of a run: counts by folder, and every fault that no test noticed, by its place. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Mutant } from './mutants.js';

export type Verdict = { readonly mutant: Mutant; readonly noticedBy: string | undefined; readonly tests: number };

const FOLDER = resolve('out');
const FILE = `${FOLDER}/mutants`;

const short = (text: string): string => {
  const line = text.replace(/\s+/g, ' ');
  return line.length > 70 ? `${line.slice(0, 69)}…` : line;
};

const place = ({ file, line, kind, was, text }: Mutant): string => `${file}:${line} ${kind}: ${short(was)} → ${short(text)}`;

const share = (verdicts: readonly Verdict[]): string => {
  const noticed = verdicts.filter(({ noticedBy }) => noticedBy !== undefined).length;
  return `${noticed} of ${verdicts.length} (${Math.round((100 * noticed) / Math.max(1, verdicts.length))} %)`;
};

export function told(verdicts: readonly Verdict[], refused: number): string {
  const folders = [...new Set(verdicts.map(({ mutant }) => mutant.file.split('/')[1] as string))].sort();
  const rows = folders.map((folder) => `${folder}: ${share(verdicts.filter(({ mutant }) => mutant.file.split('/')[1] === folder))}`);
  const survivors = verdicts.filter(({ noticedBy }) => noticedBy === undefined).map(({ mutant }) => place(mutant));
  return [`Noticed ${share(verdicts)}; ${refused} more did not compile.`, '', ...rows, '', 'Not noticed:', ...survivors.sort(), ''].join(
    '\n',
  );
}

export function keep(verdicts: readonly Verdict[], refused: number): void {
  mkdirSync(FOLDER, { recursive: true });
  writeFileSync(`${FILE}.txt`, told(verdicts, refused));
  writeFileSync(`${FILE}.json`, JSON.stringify(verdicts, null, 1));
}

/** Faults of the last run that no test noticed. */
export function survivors(): Mutant[] {
  if (!existsSync(`${FILE}.json`)) return [];
  const verdicts = JSON.parse(readFileSync(`${FILE}.json`, 'utf8')) as Verdict[];
  return verdicts.filter(({ noticedBy }) => noticedBy === undefined).map(({ mutant }) => mutant);
}

/** Seconds of each test file, as measured before. */
export const secondsKnown = (): Map<string, number> =>
  new Map(
    existsSync(`${FOLDER}/test-seconds.json`)
      ? (JSON.parse(readFileSync(`${FOLDER}/test-seconds.json`, 'utf8')) as [string, number][])
      : [],
  );

export function keepSeconds(seconds: ReadonlyMap<string, number>): void {
  mkdirSync(FOLDER, { recursive: true });
  writeFileSync(`${FOLDER}/test-seconds.json`, JSON.stringify([...seconds]));
}
