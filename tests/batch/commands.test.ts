import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { bookletsCommand } from '../../core/cli/booklets.js';
import { ensembleCommand } from '../../core/cli/ensemble.js';
import { progressCommand } from '../../core/cli/progress.js';
import { summaryCommand } from '../../core/cli/summary.js';
import type { Terminal } from '../../core/cli/terminal.js';
import { bandFile } from '../ensemble/band.js';
import { rosterFile, student } from '../people/class.js';

let folder: string;
let said: { out: string; err: string };
let terminal: Terminal;
let stop: AbortController;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'twelvefold-people-'));
  said = { out: '', err: '' };
  stop = new AbortController();
  terminal = {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    cwd: folder,
    watched: true,
    signal: stop.signal,
    today: '2026-03-31',
  };
  writeFileSync(join(folder, 'book.twelvefold'), readFileSync('assets/books/small-wheels.twelvefold'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const put = (name: string, content: object | string): void =>
  writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content));
const pdfs = (): string[] =>
  readdirSync(folder, { recursive: true })
    .map(String)
    .filter((name) => name.endsWith('.pdf') || name.endsWith('.tmp'))
    .sort();

const two = rosterFile([student({ name: 'Zephyrine Oakley' }), student({ name: 'Ida P.', instrument: 'tuba' })]);

describe('booklets', () => {
  it('writes one for each student and tells no names', async () => {
    put('class.roster', two);
    expect(await bookletsCommand('book.twelvefold', 'class.roster', { out: 'out' }, terminal)).toBe(0);
    expect(pdfs()).toEqual([join('out', 'small-wheels-ida-p-tuba.pdf'), join('out', 'small-wheels-zephyrine-oakley-flute.pdf')]);
    expect(said.out).toMatch(/^Wrote booklet 1 \(\d pages\)\nWrote booklet 2 \(\d pages\)\n2 booklets in out, \d+ pages\.\n$/);
    expect(said.out + said.err).not.toMatch(/Zephyrine|zephyrine|Ida/);
  });

  it('proves them if that is wanted', async () => {
    put('class.roster', two);
    expect(await bookletsCommand('book.twelvefold', 'class.roster', { out: 'out', prove: true }, terminal)).toBe(0);
    expect(said.out).toMatch(/^Wrote booklet 1 \(\d pages, proved\)\nWrote booklet 2 \(\d pages, proved\)\n/);
  });

  it('writes those that are asked for, by number or by name', async () => {
    put('class.roster', two);
    expect(await bookletsCommand('book.twelvefold', 'class.roster', { student: ['2'] }, terminal)).toBe(0);
    expect(await bookletsCommand('book.twelvefold', 'class.roster', { student: ['Zephyrine Oakley'] }, terminal)).toBe(0);
    expect(pdfs().length).toBe(2);
    expect(await bookletsCommand('book.twelvefold', 'class.roster', { student: ['3'] }, terminal)).toBe(1);
    expect(said.err).toContain('give a number from 1 to 2');
  });

  it('writes nothing when the roster is wrong', async () => {
    put('class.roster', rosterFile([student(), student()]));
    expect(await bookletsCommand('book.twelvefold', 'class.roster', {}, terminal)).toBe(1);
    expect(said.err).toContain('error: student 2, name: Student 2 has the same name as student 1');
    put('class.roster', '{');
    expect(await bookletsCommand('book.twelvefold', 'class.roster', {}, terminal)).toBe(1);
    expect(await bookletsCommand('book.twelvefold', 'none.roster', {}, terminal)).toBe(1);
    expect(await bookletsCommand('none.twelvefold', 'class.roster', {}, terminal)).toBe(1);
    expect(await bookletsCommand('book.twelvefold', 'class.roster', { date: 'soon' }, terminal)).toBe(1);
    expect(pdfs()).toEqual([]);
  });

  it('answers in JSON', async () => {
    put('class.roster', two);
    expect(await bookletsCommand('book.twelvefold', 'class.roster', { json: true, student: ['2'] }, terminal)).toBe(0);
    expect(JSON.parse(said.out)).toMatchObject({
      ok: true,
      issues: [],
      outputs: [{ label: 'booklet 2', file: 'small-wheels-ida-p-tuba.pdf' }],
    });
    expect(said.err).toBe('');
  });

  it('can be stopped', async () => {
    put('class.roster', rosterFile(Array.from({ length: 30 }, (_, i) => student({ name: `N${i}` }))));
    const err = (text: string): void => {
      if (text.includes(': page ')) stop.abort();
    };
    await expect(bookletsCommand('book.twelvefold', 'class.roster', {}, { ...terminal, err })).rejects.toThrow(/abort/i);
    expect(pdfs().length).toBeLessThan(30);
    expect(pdfs().filter((name) => name.endsWith('.tmp'))).toEqual([]);
  });
});

describe('progress and summary', () => {
  it('write back, and print', async () => {
    put('class.roster', two);
    const options = { student: '1', exercise: 'three-steps', tempo: '72' };
    expect(await progressCommand('book.twelvefold', 'class.roster', options, terminal)).toBe(0);
    expect(said.out).toBe('Student 1: three-steps at 72 on 2026-03-31.\n');
    expect(JSON.parse(readFileSync(join(folder, 'class.roster'), 'utf8')).students[0].progress).toEqual([
      { exercise: 'three-steps', tempo: 72, date: '2026-03-31' },
    ]);
    expect(await summaryCommand('book.twelvefold', 'class.roster', {}, terminal)).toBe(0);
    expect(pdfs()).toEqual(['small-wheels-summary.pdf']);
  });

  it('leave the roster as it is when something is wrong', async () => {
    put('class.roster', two);
    const before = readFileSync(join(folder, 'class.roster'), 'utf8');
    for (const wrong of [{ tempo: 'fast' }, { student: '9' }, { exercise: 'none' }, { date: '2026-02-31' }]) {
      const options = { student: '1', exercise: 'three-steps', tempo: '72', ...wrong };
      expect(await progressCommand('book.twelvefold', 'class.roster', options, terminal)).toBe(1);
    }
    expect(readFileSync(join(folder, 'class.roster'), 'utf8')).toBe(before);
    expect(said.err).not.toMatch(/Zephyrine/);
  });
});

describe('ensemble', () => {
  it('writes a score and a part for each chair', async () => {
    put('band.ensemble', bandFile('flute clarinet-in-bb tuba', { exercises: ['three-steps', 'last-wheel'] }));
    expect(await ensembleCommand('book.twelvefold', 'band.ensemble', {}, terminal)).toBe(0);
    expect(pdfs()).toEqual(['clarinet-in-b-flat', 'flute', 'score', 'tuba'].map((name) => `small-wheels-test-band-${name}.pdf`));
    expect(said.out).toMatch(/4 files in \., \d+ pages\.\n$/);
  });

  it('writes nothing when a key cannot be solved, and says where', async () => {
    const report = JSON.parse(readFileSync(join(folder, 'book.twelvefold'), 'utf8'));
    put('book.twelvefold', { ...report, defaults: { ...report.defaults, misfit: 'report' } });
    const chairs = [{ instrument: 'flute' }, { instrument: 'horn-in-f', compass: { low: 'C4', high: 'E4' } }];
    put('band.ensemble', { ...bandFile('flute'), chairs });
    expect(await ensembleCommand('book.twelvefold', 'band.ensemble', {}, terminal)).toBe(1);
    expect(said.err).toMatch(
      /error: chapter 2, exercise 1, figure: The exercise "Up to five" needs a fifth and does not fit, in concert keys: Horn in F in/,
    );
    expect(pdfs()).toEqual([]);
  });
});
