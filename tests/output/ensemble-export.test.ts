/** A band's parts and score as MusicXML and MIDI, read by independent readers and held against each other. */
import toneMidi from '@tonejs/midi';
import { beforeAll, describe, expect, it } from 'vitest';
import { copyExercises, type ExerciseLayout } from '../../core/build/ensemble-layout.js';
import { buildScore } from '../../core/build/score.js';
import { scorePlan } from '../../core/build/score-staves.js';
import type { Ensemble } from '../../core/ensemble/ensemble.js';
import { type EnsembleBook, ensembleBookOf } from '../../core/ensemble/ensemble-book.js';
import { scoreOrder } from '../../core/ensemble/score-order.js';
import { ensemblePerformances } from '../../core/export/ensemble-performance.js';
import { partPaper, partPieces, scoreInfo, scorePaper, scorePieces } from '../../core/export/ensemble-pieces.js';
import { type Breaks, breaksOf } from '../../core/output/breaks.js';
import { musicXml } from '../../core/output/musicxml/musicxml.js';
import type { NotatedExercise, NotatedStaff } from '../../core/output/notated-exercise.js';
import { channelsOf } from '../../core/output/sound/channels.js';
import { midiExport } from '../../core/output/sound/midi.js';
import type { Line } from '../../core/player/line.js';
import { midi, parsePitch, pitchName } from '../../core/theory/pitch.js';
import { band, demoBook, FULL_BAND, SOUNDS } from '../ensemble/band.js';
import { builtParts, laidOut } from '../ensemble/laid-out.js';
import { testFonts } from '../fonts.js';
import { value } from '../player/fixture.js';
import { openSchema } from './musicxml-schema.js';
import { expectSame, type Heard, openReader, type Reader } from './verovio-notes.js';

const { Midi } = toneMidi;
const book = demoBook('small-wheels');
const SOME = { exercises: ['three-steps', 'five-up', 'five-three', 'last-wheel'] };
/** Beginners: the horn cannot play every key and holds roots; flutes breathe by turns, each player from a copy. */
const ensemble = band(book, 'piccolo flute*2 alto-saxophone:advanced clarinet-in-bb clarinet-in-bb horn-in-f tuba', {
  ...SOME,
  level: 'beginner',
  misfit: 'hold-root',
  breathing: { plan: 'staggered', tempo: 92 },
});
const INFO = { title: 'Small Wheels', date: '2026-03-01' };

type Made = {
  readonly ensembleBook: EnsembleBook;
  readonly layouts: readonly ExerciseLayout[];
  /** By copy. */
  readonly breaks: readonly ReadonlyMap<string, Breaks>[];
  readonly parts: readonly (readonly NotatedExercise[])[];
};

function make(ensemble: Ensemble): Made {
  const ensembleBook = ensembleBookOf(book, ensemble);
  const layouts = laidOut(ensembleBook);
  const breaks = builtParts(ensembleBook, layouts).map(({ document }) => breaksOf(document));
  const parts = ensembleBook.copies.map((copy) => partPieces(ensembleBook, { copy, exercises: copyExercises(layouts, copy) }, breaks[0]!));
  return { ensembleBook, layouts, breaks, parts };
}

function scoreOf(ensemble: Ensemble, layouts: readonly ExerciseLayout[]): { pieces: readonly NotatedExercise[]; xml: string } {
  const ensembleBook = ensembleBookOf(book, ensemble);
  const plans = layouts.map((layout) => scorePlan(layout, ensemble));
  const document = value(buildScore(ensembleBook, plans, testFonts()));
  const pieces = scorePieces(ensembleBook, plans, breaksOf(document));
  return { pieces, xml: musicXml(pieces, { ...INFO, ...scoreInfo(ensemble), paper: scorePaper(ensembleBook, document) }) };
}

const inPitch = (pitch: 'concert' | 'transposed'): Ensemble => ({ ...ensemble, score: { ...ensemble.score, pitch } });

const made = make(ensemble);
const scores = {
  concert: scoreOf(inPitch('concert'), made.layouts),
  transposed: scoreOf(inPitch('transposed'), made.layouts),
};
const { copies } = made.ensembleBook;
const partXml = made.parts.map((pieces, i) => musicXml(pieces, { ...INFO, paper: partPaper(book, copies[i]!.chair) }));

const quarters = ({ n, d }: { n: number; d: number }): number => (4 * n) / d;

/** Notes of a staff through all pieces of a file. */
function ours(pieces: readonly NotatedExercise[], staff: number): Heard[] {
  let start = 0;
  return pieces.flatMap(({ lines }) => {
    const { line } = lines[staff] as NotatedStaff;
    const from = start;
    start += quarters(line.duration);
    return line.events.flatMap((event) =>
      event.kind === 'rest'
        ? []
        : [{ name: pitchName(event.written), onset: from + quarters(event.onset), duration: quarters(event.duration) }],
    );
  });
}

it('someone holds a root, and someone has a copy of his own', () => {
  expect(made.parts.flat().some(({ lines }) => lines[0]?.line.statements.some(({ held }) => held))).toBe(true);
  expect(copies.map(({ name }) => name)).toContain('Flute, player 2');
});

describe('the W3C schema', () => {
  const faults = openSchema();

  it('parts are valid', () => {
    for (const xml of partXml) expect(faults(xml)).toEqual([]);
  });

  it('scores are valid, in concert pitch and transposed', () => {
    for (const { xml } of Object.values(scores)) expect(faults(xml)).toEqual([]);
  });

  it('a group that ends outside the list of parts is found', () =>
    expect(faults(scores.concert.xml.replace('<part-list>', '<part-list/><part-list>'))).not.toEqual([]));
});

describe('an independent reader (verovio) reads the same notes', () => {
  let read: Reader;
  beforeAll(async () => {
    read = await openReader();
  });

  it('of every copy of a part', () => {
    partXml.forEach((xml, i) => {
      const staves = read(xml);
      expect(staves.length).toBe(1);
      expectSame(staves[0]!, ours(made.parts[i]!, 0));
    });
  });

  it.each(['concert', 'transposed'] as const)('of every staff of the %s score', (pitch) => {
    const { pieces, xml } = scores[pitch];
    const staves = read(xml);
    expect(staves.length).toBe(ensemble.chairs.length);
    for (const [s, staff] of staves.entries()) expectSame(staff, ours(pieces, s));
  });

  it('and a wrong pitch is seen', () => {
    const [xml] = partXml;
    expect(read(xml!.replace('<octave>4</octave>', '<octave>5</octave>'))).not.toEqual(read(xml!));
  });

  /** Pitch class that sounds at each onset, by the transposition as instrument makers publish it. */
  function sounding(notes: readonly Heard[], instrument: string): Map<string, number> {
    const shift = SOUNDS[instrument] as number;
    return new Map(notes.map(({ name, onset }) => [onset.toFixed(4), (((midi(parsePitch(name)!) + shift) % 12) + 12) % 12]));
  }

  it('sounds one pitch class at each onset, in all parts; a held root is the root of the key', () => {
    const heldAt = (staff: readonly NotatedExercise[]): Roots => rootsHeld(staff);
    const heard = partXml.map((xml, i) => sounding(read(xml)[0]!, copies[i]!.chair.player.instrument.id));
    const plain = heard.find((_, i) => heldAt(made.parts[i]!).size === 0)!;
    let compared = 0;
    heard.forEach((own, i) => {
      const held = heldAt(made.parts[i]!);
      for (const [onset, tone] of own) {
        expect(tone, `${copies[i]!.name} at ${onset}`).toBe(held.get(onset) ?? plain.get(onset));
        compared++;
      }
    });
    expect(compared).toBeGreaterThan(700);
  });

  it('the concert score sounds as its parts do, octave transpositions apart', () => {
    const staves = read(scores.concert.xml);
    const order = scoreOrder(ensemble.chairs, ensemble.score.order).map((index) => ensemble.chairs[index]!);
    order.forEach((chair, s) => {
      const copy = copies.findIndex((one) => one.chair === chair);
      const { id } = chair.player.instrument;
      const written = new Map(staves[s]!.map(({ name, onset }) => [onset.toFixed(4), midi(parsePitch(name)!) % 12]));
      expect(written).toEqual(sounding(read(partXml[copy]!)[0]!, id));
    });
  });
});

type Roots = ReadonlyMap<string, number>;

/** Sounding pitch class of held roots by their onset through the file. */
function rootsHeld(pieces: readonly NotatedExercise[]): Roots {
  const found = new Map<string, number>();
  let start = 0;
  for (const { lines } of pieces) {
    const { line } = lines[0] as NotatedStaff;
    for (const event of line.events) {
      if (event.kind === 'rest') continue;
      const statement = line.statements[event.statement];
      if (!statement?.held) continue;
      const { letter, alter } = statement.soundingKey.tonic;
      found.set((start + quarters(event.onset)).toFixed(4), midi({ letter, alter, octave: 4 }) % 12);
    }
    start += quarters(line.duration);
  }
  return found;
}

describe('what is printed', () => {
  it('systems and pages are those of the printed parts, the same in all', () => {
    for (const breaks of made.breaks) expect(breaks).toEqual(made.breaks[0]);
    const places = (xml: string): string[] =>
      [...xml.matchAll(/<measure number="(\d+)"[^>]*>\s*<print new-(system|page)="yes"\/>/g)].map((m) => `${m[1]} ${m[2]}`);
    expect(places(partXml[0]!).length).toBeGreaterThan(4);
    for (const xml of partXml) expect(places(xml)).toEqual(places(partXml[0]!));
  });

  it('systems of the score are those of the printed score, in every staff', () => {
    const prints = scores.concert.xml
      .split('<part id=')
      .slice(1)
      .map((part) => part.match(/<print new-system|<print new-page/g)?.length ?? 0);
    const [first] = scores.concert.pieces;
    expect(first?.systems?.[0]).toBe(0);
    expect(prints[0]).toBe(scores.concert.pieces.reduce((sum, piece) => sum + (piece.systems?.length ?? 0), 0) - 1);
    expect(new Set(prints).size).toBe(1);
  });

  it('each copy has the breath marks of its player', () => {
    const breaths = made.layouts.map(({ parts }) =>
      parts.flatMap((part) => part.copies.map(({ breathing }) => breathing?.marks.length ?? 0)),
    );
    copies.forEach((_, i) => {
      const wanted = breaths.reduce((sum, counts) => sum + (counts[i] as number), 0);
      expect(partXml[i]!.match(/<breath-mark /g)?.length ?? 0).toBe(wanted);
    });
    const [one, two] = ['Flute, player 1', 'Flute, player 2'].map((name) => partXml[copies.findIndex((copy) => copy.name === name)]!);
    expect(one!.replaceAll('player 1', '')).not.toBe(two!.replaceAll('player 2', ''));
  });

  it('breath marks stand in every staff of the score where all breathe together, and in none where by turns', () => {
    const together: Ensemble = { ...ensemble, breathing: { plan: 'together', tempo: 92 } };
    const some = { ...together, exercises: ['three-steps'] };
    const layouts = laidOut(ensembleBookOf(book, some));
    const { xml } = scoreOf(some, layouts);
    const counts = xml
      .split('<part id=')
      .slice(1)
      .map((part) => part.match(/<breath-mark /g)?.length ?? 0);
    const marks = layouts[0]!.parts.flatMap((part) => part.copies.map(({ breathing }) => breathing?.marks.length ?? 0));
    expect(marks[0]).toBeGreaterThan(0);
    expect(counts).toEqual(ensemble.chairs.map(() => marks[0]));
    expect(scores.concert.xml).not.toContain('<breath-mark ');
  });

  it('parts are named, grouped and bracketed as in the score', () => {
    const { xml } = scores.concert;
    const names = [...xml.matchAll(/<part-name>([^<]*)</g)].map(([, name]) => name);
    expect(names).toEqual(scoreOrder(ensemble.chairs, 'band').map((chair) => ensemble.chairs[chair]!.name));
    const groups = [...xml.matchAll(/<group-name>([^<]*)<\/group-name>\s*<group-name-display[^>]*>\s*<group-symbol>(\w+)</g)];
    expect(groups.map(([, name, symbol]) => `${name}: ${symbol}`)).toEqual([
      'Woodwinds: bracket',
      'Clarinet in B♭: square',
      'Saxophones: bracket',
      'Brass: bracket',
    ]);
    expect(xml.match(/<part-group type="start"/g)?.length).toBe(xml.match(/<part-group type="stop"/g)?.length);
    expect(partXml[1]).toContain('<part-name>Flute, player 1</part-name>');
  });

  // W3C MusicXML 4.0, concert-score: no transposition but by octaves; for-part says how the parts are made.
  it('a concert score transposes by octaves only, and says how its parts are transposed', () => {
    const { xml } = scores.concert;
    expect(xml).toContain('<concert-score/>');
    const chromatic = (text: string, element: string): string[] =>
      [...text.matchAll(new RegExp(`<${element}>\\s*<diatonic>(-?\\d+)</diatonic>\\s*<chromatic>(-?\\d+)<`, 'g'))].map(
        ([, steps, semitones]) => `${steps} ${semitones}`,
      );
    expect(new Set(chromatic(xml, 'transpose'))).toEqual(new Set(['0 0']));
    expect(new Set(chromatic(xml, 'part-transpose'))).toEqual(new Set(['-1 -2', '-5 -9', '-4 -7']));
    expect(scores.transposed.xml).not.toContain('concert-score');
    expect(new Set(chromatic(scores.transposed.xml, 'transpose'))).toEqual(new Set(['0 0', '-1 -2', '-5 -9', '-4 -7']));
  });

  it('words of the whole score stand over the top staff alone', () => {
    const [top, ...others] = scores.concert.xml.split('<part id=').slice(1);
    expect(top).toContain('<words');
    for (const other of others) expect(other).not.toContain('<words');
  });
});

describe('MIDI of the ensemble', () => {
  const one = made.ensembleBook.exercises.find(({ exercise }) => exercise.id === 'last-wheel');
  const order = scoreOrder(ensemble.chairs, 'band').map((chair) => ensemble.chairs[chair]!);
  const names = order.map(({ name }) => name);
  const runs = value(ensemblePerformances(ensemble, one!, order, { countIn: 1, click: true }));
  const file = new Midi(midiExport(one!.exercise.title, runs, names));
  const pitched = file.tracks.filter(({ channel, notes }) => channel !== 9 && notes.length > 0);

  it('has a track a chair with its name, sound and channel, and one of clicks', () => {
    expect(pitched.map(({ name }) => name)).toEqual(names.map((name) => name.replaceAll('♭', '-flat')));
    expect(pitched.map(({ instrument }) => instrument.number + 1)).toEqual(runs.map(({ line }) => line.player.instrument.midiProgram));
    expect(new Set(pitched.map(({ channel }) => channel)).size).toBe(names.length);
    expect(file.tracks.at(-1)?.name).toBe('Click');
  });

  it('an independent reader (@tonejs/midi) has every note at its time, a bar of count-in later', () => {
    const bar = quarters({ n: one!.exercise.metre.beats, d: one!.exercise.metre.unit });
    const wanted = (line: Line): string[] =>
      line.events.flatMap((event) =>
        event.kind === 'note' ? [`${midi(event.sounding)} ${(bar + quarters(event.onset)).toFixed(3)}`] : [],
      );
    pitched.forEach(({ notes }, i) => {
      expect(notes.map((note) => `${note.midi} ${(note.ticks / file.header.ppq).toFixed(3)}`)).toEqual(wanted(runs[i]!.line));
    });
  });

  it('sounds what the parts of the same exercise sound', () => {
    order.forEach((chair, s) => {
      const copy = copies.findIndex((it) => it.chair === chair);
      const piece = made.parts[copy]!.find(({ title }) => title === one!.exercise.title)!;
      const line = piece.lines[0]!.line;
      const shift = SOUNDS[line.player.instrument.id] as number;
      const written = line.events.flatMap((event) => (event.kind === 'note' ? [midi(event.written) + shift] : []));
      expect(pitched[s]!.notes.map((note) => note.midi)).toEqual(written);
    });
  });

  it('the same bytes twice', () => expect(midiExport('x', runs, names)).toEqual(midiExport('x', runs, names)));

  it('what does not last as long is no part of it', () => {
    const [shorter] = value(ensemblePerformances(ensemble, made.ensembleBook.exercises[0]!, [ensemble.chairs[0]!], {}));
    expect(() => midiExport('x', [...runs, shorter!])).toThrow('ends together');
  });
});

describe('channels', () => {
  it('each part has its own while there are enough, past that of percussion', () =>
    expect(channelsOf(Array.from({ length: 11 }, () => 74)).map(({ channel }) => channel)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 10, 11]));

  it('parts of a large band share the channel of their sound, and two sounds never share one', () => {
    const programs = band(book, FULL_BAND, { misfit: 'leave-out' }).chairs.map(({ player }) => player.instrument.midiProgram);
    const found = channelsOf(programs);
    expect(programs.length).toBeGreaterThan(15);
    const bySound = new Map<string, Set<number>>();
    found.forEach(({ port, channel }, i) => {
      const id = `${port} ${channel}`;
      bySound.set(id, new Set([...(bySound.get(id) ?? []), programs[i] as number]));
      expect(channel).not.toBe(9);
    });
    for (const sounds of bySound.values()) expect(sounds.size).toBe(1);
  });

  it('more than fifteen sounds go out by a second port', () =>
    expect(channelsOf(Array.from({ length: 16 }, (_, i) => i + 1)).at(-1)).toEqual({ port: 1, channel: 0 }));
});
