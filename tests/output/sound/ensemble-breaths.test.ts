/** An ensemble's MIDI breathes where its copies do, read by an independent reader (@tonejs/midi). */
import toneMidi from '@tonejs/midi';
import { describe, expect, it } from 'vitest';
import type { BreathMark } from '../../../core/breath/ladder.js';
import { copyExercises, type ExerciseLayout, layOutExercise } from '../../../core/build/ensemble-layout.js';
import type { Ensemble } from '../../../core/ensemble/ensemble.js';
import { copiesOf, ensembleBookOf, type NumberedExercise } from '../../../core/ensemble/ensemble-book.js';
import { type EnsembleSound, ensemblePerformances } from '../../../core/export/ensemble-performance.js';
import { midiExport } from '../../../core/output/sound/midi.js';
import type { Line } from '../../../core/player/line.js';
import { band, demoBook } from '../../ensemble/band.js';
import { testFonts } from '../../fonts.js';
import { codes, value } from '../../player/fixture.js';

const { Midi } = toneMidi;
const book = demoBook('small-wheels');
/** Flutes breathe by turns, each player from a copy. */
const ensemble = band(book, 'piccolo flute*2 alto-saxophone:advanced clarinet-in-bb clarinet-in-bb horn-in-f tuba', {
  exercises: ['three-steps', 'five-up', 'five-three', 'last-wheel'],
  level: 'beginner',
  misfit: 'hold-root',
  breathing: { plan: 'staggered', tempo: 92 },
});

const quarters = ({ n, d }: { n: number; d: number }): number => (4 * n) / d;

describe('breaths of the ensemble in MIDI', () => {
  type Played = { readonly file: InstanceType<typeof Midi>; readonly lines: readonly Line[]; readonly told: readonly string[] };

  function played(ensemble: Ensemble, one: NumberedExercise, sound: EnsembleSound = {}): Played {
    const runs = ensemblePerformances(ensemble, one, ensemble.chairs, sound);
    const performances = value(runs);
    const file = new Midi(midiExport('x', performances));
    return { file, lines: performances.map(({ line }) => line), told: runs.issues.map(({ code }) => code) };
  }

  /** Seconds, by the index of the note, that notes of a track sound less than they are written; in a track of plain notes. */
  function missing({ file, lines }: Played, chair: number): Map<number, number> {
    const line = lines[chair] as Line;
    const notes = file.tracks.filter((track) => track.notes.length > 0)[chair]!.notes;
    const perQuarter = 60 / file.header.tempos[0]!.bpm;
    const events = line.events.filter(({ kind }) => kind === 'note');
    expect(notes.length).toBe(events.length);
    return new Map(
      events.flatMap((event, i): [number, number][] => {
        const seconds = (quarters(event.duration) - notes[i]!.durationTicks / file.header.ppq) * perQuarter;
        return seconds > 0.005 ? [[event.index, seconds]] : [];
      }),
    );
  }

  /** An exercise of plain notes, so that nothing but a breath shortens a note. */
  const ensembleBook = ensembleBookOf(book, ensemble);
  const plain = ensembleBook.exercises.find(({ exercise }) => exercise.id === 'three-steps')!;
  const layOut = (ensemble: Ensemble) => value(layOutExercise(ensembleBookOf(book, ensemble), plain, testFonts()));
  const marksOf = (ensemble: Ensemble, layout: ExerciseLayout, name: string): readonly BreathMark[] => {
    const copy = copiesOf(ensemble).find((one) => one.name === name)!;
    return copyExercises([layout], copy)[0]!.breathing?.marks ?? [];
  };
  const layout = layOut(ensemble);

  it('by turns: a chair of one player breathes where its copy is printed so, and as long', () => {
    const run = played(ensemble, plain);
    let breaths = 0;
    ensemble.chairs.forEach(({ name, players }, c) => {
      if (players > 1) return;
      const marks = marksOf(ensemble, layout, name);
      const found = missing(run, c);
      expect([...found.keys()], name).toEqual(marks.map(({ afterEvent }) => afterEvent));
      for (const mark of marks) expect(found.get(mark.afterEvent)).toBeCloseTo(mark.seconds, 2);
      breaths += marks.length;
    });
    expect(breaths).toBeGreaterThan(8);
  });

  it('a chair of two who breathe by turns sounds through', () => {
    const flutes = ensemble.chairs.findIndex(({ players }) => players === 2);
    expect(marksOf(ensemble, layout, 'Flute, player 1').length).toBeGreaterThan(0);
    expect(missing(played(ensemble, plain), flutes).size).toBe(0);
  });

  it('together: all stop at the printed places, two players of one chair as well, and no track is later than another', () => {
    const together = { ...ensemble, breathing: { plan: 'together', tempo: 92 } } as const;
    const printed = layOut(together);
    const run = played(together, plain);
    const ends = ensemble.chairs.map((_, c) =>
      [...missing(run, c).keys()].map((index) => {
        const { onset, duration } = run.lines[c]!.events[index]!;
        return quarters(onset) + quarters(duration);
      }),
    );
    expect(ends[0]!.length).toBeGreaterThan(2);
    for (const own of ends) expect(own).toEqual(ends[0]);
    ensemble.chairs.forEach(({ name }, c) => {
      expect([...missing(run, c).keys()]).toEqual(marksOf(together, printed, name).map(({ afterEvent }) => afterEvent));
    });
    const onsets = run.file.tracks.filter(({ notes }) => notes.length > 0).map(({ notes }) => notes.at(-1)!.ticks);
    expect(new Set(onsets).size).toBe(1);
  });

  // At this tempo the horn breathes out of a root that it holds for a whole statement, the others out of an eighth.
  it('a note that is shorter than the note of the part that holds gives up three quarters at most', () => {
    const together = { ...ensemble, breathing: { plan: 'together', tempo: 120 } } as const;
    const one = ensembleBook.exercises.find(({ exercise }) => exercise.id === 'five-three')!;
    const run = played(together, one);
    const perQuarter = 60 / 120;
    const shares = run.lines.map((line, c) =>
      Math.max(...[...missing(run, c)].map(([index, seconds]) => seconds / (quarters(line.events[index]!.duration) * perQuarter))),
    );
    for (const share of shares) expect(share).toBeLessThan(0.76);
    expect(Math.max(...shares)).toBeCloseTo(0.75, 1);
  });

  it('the tempo is the one that the breaths are planned for, once for all tracks', () => {
    const bpms = (ensemble: Ensemble, sound?: EnsembleSound): number[] =>
      played(ensemble, plain, sound).file.header.tempos.map(({ bpm }) => Math.round(bpm));
    expect(bpms(ensemble)).toEqual([92]);
    expect(bpms({ ...ensemble, breathing: { plan: 'staggered', tempo: undefined } })).toEqual([plain.exercise.tempo!.from]);
    expect(bpms(ensemble, { bpm: 132 })).toEqual([132]);
  });

  it('another tempo has the breaths of copies for that tempo', () => {
    const tuba = ensemble.chairs.findIndex(({ name }) => name === 'Tuba');
    const at = (bpm: number) => ({ ...ensemble, breathing: { plan: 'staggered', tempo: bpm } }) as const;
    const fast = missing(played(ensemble, plain, { bpm: 176 }), tuba);
    expect(fast).toEqual(missing(played(at(176), plain), tuba));
    expect(fast.size).toBeLessThan(missing(played(ensemble, plain), tuba).size);
  });

  it('without a plan nobody breathes, and at a tempo where nobody can it is told', () => {
    const none = played({ ...ensemble, breathing: { plan: 'none', tempo: 92 } }, plain);
    ensemble.chairs.forEach((_, c) => {
      expect(missing(none, c).size).toBe(0);
    });
    const slow = played({ ...ensemble, breathing: { plan: 'together', tempo: undefined } }, plain, { bpm: 4 });
    expect(slow.told).toContain('air-runs-out');
    expect(missing(slow, 0).size).toBe(0);
  });

  it('a tempo of 0 is refused', () =>
    expect(codes(ensemblePerformances(ensemble, plain, ensemble.chairs, { bpm: 0 }))).toEqual(['tempo-out-of-range']));
});
