/** What the commands say, as it was: lists, notes, breaths, faults, and a band's export with its breaths. */
import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { workbench } from './run.js';

const bench = workbench();
afterAll(bench.clear);
for (const name of ['small-wheels.twelvefold', 'harrow-lane.roster', 'harrow-lane-band.ensemble'])
  copyFileSync(`assets/books/${name}`, join(bench.folder, name));
bench.write('little.ensemble', {
  format: 'twelvefold-ensemble',
  version: 1,
  name: 'Little band',
  level: 'beginner',
  misfit: 'hold-root',
  exercises: ['five-up'],
  breathing: { plan: 'staggered', tempo: 92 },
  chairs: [
    { id: 'flute', instrument: 'flute', players: 2, group: 'winds', breath: { longTone: 12 } },
    { id: 'clarinet', instrument: 'clarinet-in-bb', players: 2, group: 'winds', breath: { longTone: 14 } },
    { id: 'horn', instrument: 'horn-in-f', breath: { longTone: 14 } },
    { id: 'tuba', instrument: 'tuba', breath: { longTone: 13 } },
  ],
});
bench.write('together.ensemble', {
  format: 'twelvefold-ensemble',
  version: 1,
  name: 'Together',
  level: 'beginner',
  exercises: ['five-three'],
  breathing: { plan: 'together', tempo: 72 },
  score: { order: 'orchestra', pitch: 'transposed' },
  chairs: [{ instrument: 'oboe' }, { instrument: 'alto-saxophone' }, { instrument: 'trombone' }],
});

const BOOK = 'small-wheels.twelvefold';
const said = async (...args: string[]): Promise<string> => {
  const { code, out, err } = await bench.run(args);
  return [`$ ${args.join(' ')} → ${code}`, out.trimEnd(), err.trimEnd()]
    .filter((part) => part !== '')
    .join('\n')
    .replaceAll(bench.folder, '.');
};

describe('the commands', () => {
  it('list', async () => {
    const lists = [await said('instruments'), await said('figures'), await said('key-orders')];
    await expect(`${lists.join('\n\n')}\n`).toMatchFileSnapshot('likeness/lists.txt');
  });

  it('help', async () => {
    const commands = ['build', 'check', 'show', 'breath', 'export', 'import-figure', 'booklets', 'summary', 'progress', 'ensemble', 'new'];
    const helps = [await said('--help')];
    for (const command of commands) helps.push(await said(command, '--help'));
    await expect(`${helps.join('\n\n')}\n`).toMatchFileSnapshot('likeness/help.txt');
  });

  it('show and plan', async () => {
    const flute = ['--exercise', 'five-up', '--player', 'flute'];
    const horn = ['--exercise', 'triad-first', '--player', 'horn-in-f', '--level', 'beginner'];
    const answers = [
      await said('show', BOOK, ...flute),
      await said('show', BOOK, ...horn, '--json'),
      await said('breath', BOOK, ...flute, '--lung-time', '6'),
      await said('breath', BOOK, ...flute, '--long-tone', '11', '--tempo', '80', '--json'),
      await said('breath', BOOK, ...flute, '--age', '12', '--height', '150', '--sex', 'female'),
      await said('breath', BOOK, ...flute, '--age', '12'),
      await said('breath', BOOK, ...flute, '--lung-time', '0.5'),
      await said('breath', BOOK, ...flute, '--lung-time', 'six'),
      await said('breath', BOOK, '--exercise', 'five-up', '--player', 'violin'),
      await said('show', BOOK, '--exercise', 'five-upp', '--player', 'flute'),
      await said('show', BOOK, '--exercise', 'five-up', '--player', 'flut'),
    ];
    await expect(`${answers.join('\n\n')}\n`).toMatchFileSnapshot('likeness/answers.txt');
  });

  it('export in words, and a band with its breaths', async () => {
    const answers = [
      await said('export', BOOK, '--to', 'text', '--exercise', 'five-three', '--player', 'clarinet-in-bb', '--out', 'a'),
      await said('export', BOOK, '--to', 'braille', '--exercise', 'five-three', '--player', 'tuba', '--out', 'a'),
      await said('export', BOOK, '--to', 'musicxml', '--ensemble', 'little.ensemble', '--out', 'b'),
      await said('export', BOOK, '--to', 'musicxml', '--ensemble', 'little.ensemble', '--part', 'flute', 'tuba', '--out', 'c'),
      await said('export', BOOK, '--to', 'musicxml', '--ensemble', 'together.ensemble', '--out', 'd', '--json'),
      await said('export', BOOK, '--to', 'mxl', '--chapter', 'home', '--player', 'flute', '--out', 'e'),
      await said('export', BOOK, '--to', 'midi', '--exercise', 'five-up', '--player', 'flute', '--out', 'e'),
      await said('export', BOOK, '--to', 'brf', '--exercise', 'five-up', '--player', 'flute', '--out', 'e'),
      await said('export', BOOK, '--to', 'svg', '--exercise', 'long-home', '--player', 'flute', '--each-key', '--out', 'e'),
      await said('export', BOOK, '--to', 'wav', '--exercise', 'long-home', '--player', 'flute', '--tempo', '400', '--out', 'e'),
      await said('export', BOOK, '--to', 'nothing', '--player', 'flute'),
      await said('export', BOOK, '--to', 'midi'),
      await said('export', BOOK, '--to', 'wav', '--ensemble', 'little.ensemble'),
      await said('export', BOOK, '--to', 'midi', '--player', 'flute', '--count-in', '9'),
      await said('export', BOOK, '--to', 'wav', '--player', 'flute', '--exercise', 'five-up', '--a4', '400'),
      await said('export', BOOK, '--to', 'midi', '--player', 'flute', '--exercise', 'none'),
    ];
    const files = bench.names().filter((name) => /^[abcd]\//.test(name));
    const texts = files.map((name) => `— ${name}\n${readFileSync(join(bench.folder, name), 'utf8')}`);
    await expect(`${answers.join('\n\n')}\n\n${texts.join('\n')}\n`).toMatchFileSnapshot('likeness/exports.txt');
  });

  it('import a figure', async () => {
    bench.write(
      'phrase.musicxml',
      '<score-partwise><part-list/><part id="P"><measure number="1"><attributes><divisions>2</divisions></attributes>'.concat(
        ...['C', 'D', 'E', 'G'].map((step) => `<note><pitch><step>${step}</step><octave>4</octave></pitch><duration>1</duration></note>`),
        '</measure></part></score-partwise>',
      ),
    );
    bench.write('letter.txt', 'a letter to a friend');
    const answers = [
      await said('import-figure', 'phrase.musicxml'),
      await said('import-figure', 'phrase.musicxml', '--key', 'G', '--json'),
      await said('import-figure', 'phrase.musicxml', '--key', 'H', '--json'),
      await said('import-figure', 'letter.txt', '--json'),
      await said('import-figure', 'letter.txt'),
      await said('import-figure', 'none.mid'),
    ];
    await expect(`${answers.join('\n\n')}\n`).toMatchFileSnapshot('likeness/imports.txt');
  });

  it('build and check a book whose margins are too narrow: built, and told with exit code 3', async () => {
    const margins = { top: 10, bottom: 15, inner: 15, outer: 15 };
    const chapters = [{ title: 'One', exercises: [{ title: 'Up', figure: '1 2 3 5', order: ['C', 'F'] }] }];
    bench.write('narrow.twelvefold', {
      format: 'twelvefold',
      version: 1,
      title: 'Narrow',
      date: '2026-03-01',
      house: { margins },
      editions: ['flute'],
      chapters,
    });
    const answers = [await said('build', 'narrow.twelvefold', '--out', 'f'), await said('check', 'narrow.twelvefold')];
    expect(answers[0]).toMatch(/→ 3$/m);
    await expect(`${answers.join('\n\n')}\n`).toMatchFileSnapshot('likeness/narrow.txt');
  });

  it('progress', async () => {
    const who = ['--exercise', 'three-steps', '--date', '2026-03-24'];
    const answers = [
      await said('progress', BOOK, 'harrow-lane.roster', '--student', 'J. T.', '--tempo', '64', ...who),
      await said('progress', BOOK, 'harrow-lane.roster', '--student', '2', '--tempo', '70', ...who, '--json'),
      await said('progress', BOOK, 'harrow-lane.roster', '--student', 'Nobody', '--tempo', '500', ...who),
      await said('progress', BOOK, 'harrow-lane.roster', '--student', '1', '--tempo', '60', '--exercise', 'walk', '--date', 'today'),
    ];
    const roster = readFileSync(join(bench.folder, 'harrow-lane.roster'), 'utf8');
    await expect(`${answers.join('\n\n')}\n\n${roster}`).toMatchFileSnapshot('likeness/progress.txt');
  });
});
