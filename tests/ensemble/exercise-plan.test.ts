import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Book } from '../../core/book/book.js';
import { barsOf } from '../../core/engrave/bars.js';
import type { Ensemble } from '../../core/ensemble/ensemble.js';
import { type ExercisePlan, planExercise } from '../../core/ensemble/exercise-plan.js';
import { concertLine, partLine } from '../../core/ensemble/part-lines.js';
import type { Exercise } from '../../core/exercise/exercise.js';
import type { Line, LineNote } from '../../core/player/line.js';
import { realise } from '../../core/player/realise.js';
import { add, text } from '../../core/theory/fraction.js';
import { keyText } from '../../core/theory/key.js';
import { className, midi } from '../../core/theory/pitch.js';
import { exercise, player, tonic, value, type Words } from '../player/fixture.js';
import { band, demoBook, FULL_BAND, SOUNDS } from './band.js';

const wheels = demoBook('small-wheels');
const daybook = demoBook('keywrights-daybook');

type Played = { readonly plan: ExercisePlan; readonly lines: readonly Line[] };

function play(one: Exercise, ensemble: Ensemble): Played {
  const plan = value(planExercise(one, ensemble));
  return { plan, lines: plan.parts.map((part) => value(partLine(one, part))) };
}

/** Sounding key number by the published transposition, not by the program's. */
const sounds = (line: Line, note: LineNote): number => midi(note.written) + (SOUNDS[line.player.instrument.id] as number);

const held = (line: Line, statement: number): boolean => line.statements[statement]?.held === true;

/** Onsets at which two parts differ: in what is played, or whether anything is. */
function differences({ lines }: Pick<Played, 'lines'>): string[] {
  const found: string[] = [];
  const reference = lines.find((line) => !line.statements.some((s) => s.held)) as Line;
  const at = new Map(reference.events.map((event) => [text(event.onset), event]));
  for (const line of lines) {
    if (text(line.duration) !== text(reference.duration)) found.push(`${line.player.instrument.id} is ${text(line.duration)} long`);
    for (const event of line.events) {
      const other = at.get(text(event.onset));
      const where = `${line.player.instrument.id} at ${text(event.onset)}`;
      if (!other) found.push(`${where}: nothing begins elsewhere`);
      else if (held(line, event.statement)) {
        const root = line.statements[event.statement]?.root;
        if (event.kind === 'note' && root && (midi(event.written) - midi(root)) % 12 !== 0) found.push(`${where}: holds no root`);
      } else if (event.kind !== other.kind) found.push(`${where}: ${event.kind} against ${other.kind}`);
      else if (event.kind === 'note' && other.kind === 'note' && (sounds(line, event) - sounds(reference, other)) % 12 !== 0)
        found.push(`${where}: ${className(event.written)}`);
    }
  }
  return found;
}

const exercisesOf = (book: Book): Exercise[] => book.chapters.flatMap((chapter) => chapter.exercises);

describe('all parts of an ensemble sound the same pitch classes at the same time', () => {
  const beginners = band(wheels, FULL_BAND, { level: 'beginner', misfit: 'leave-out' });
  it.each(exercisesOf(wheels).map((one) => [one.title, one] as const))('%s', (_, one) => {
    expect(differences(play(one, beginners))).toEqual([]);
  });

  const advanced = band(daybook, FULL_BAND, { level: 'advanced', misfit: 'turn' });
  it.each(exercisesOf(daybook).map((one) => [one.title, one] as const))('%s, turned where it must', (_, one) => {
    const played = play(one, advanced);
    expect(differences(played)).toEqual([]);
    for (const line of played.lines)
      for (const event of line.events) {
        if (event.kind !== 'note') continue;
        expect(midi(event.written)).toBeGreaterThanOrEqual(midi(line.player.compass.low));
        expect(midi(event.written)).toBeLessThanOrEqual(midi(line.player.compass.high));
      }
  });

  it('a wrong transposition is seen', () => {
    const played = play(exercisesOf(wheels)[0] as Exercise, beginners);
    const [first, ...others] = played.lines as [Line, ...Line[]];
    const wrong = { ...first, player: { ...first.player, instrument: { ...first.player.instrument, id: 'clarinet-in-bb' } } };
    expect(differences({ lines: [...others, wrong] })).not.toEqual([]);
  });
});

/** Keys written for instruments in C, B♭, E♭ and F when these concert keys sound, flats in ties: the transposition table of any band method. */
const TWELVE = `
C  C  D  A  G
F  F  G  D  C
Bb B♭ C  G  F
Eb E♭ F  C  B♭
Ab A♭ B♭ F  E♭
Db D♭ E♭ B♭ A♭
Gb G♭ A♭ E♭ D♭
B  B  D♭ A♭ G♭
E  E  G♭ D♭ B
A  A  B  G♭ E
D  D  E  B  A
G  G  A  E  D`;

describe('the twelve keys', () => {
  const ensemble = band(wheels, 'flute:professional clarinet-in-bb:professional alto-saxophone:professional horn-in-f:professional');
  it.each(
    TWELVE.trim()
      .split('\n')
      .map((row) => row.split(/\s+/)),
  )('concert %s is written %s %s %s %s', (concert, ...written) => {
    const one = exercise({ figure: '1 2 3', start: { kind: 'concert', key: tonic(concert as string) } });
    expect(play(one, ensemble).lines.map((line) => keyText((line.statements[0] as Line['statements'][number]).writtenKey))).toEqual(
      written,
    );
  });
});

const octave = (words: Words = {}): Exercise => exercise({ figure: '1 2 3 4 5 6 7 8', padding: { to: 'bar', by: 'long-note' }, ...words });

describe('a key that one chair cannot play', () => {
  const two = (misfit: string | undefined, chairs = 'flute:professional horn-in-f:beginner') =>
    band(wheels, chairs, misfit ? { misfit } : {});

  it('is an error that names the chair and its keys when nothing is said', () => {
    const { issues } = planExercise(octave(), two(undefined));
    expect(issues).toMatchObject([{ code: 'set-does-not-fit', severity: 'error', path: ['figure'] }]);
    expect(issues[0]?.message).toContain('Horn in F in');
    expect(issues[0]?.message).not.toContain('Flute');
  });

  it('is left out for all, with a note', () => {
    const played = play(octave(), two('leave-out'));
    const [flute, horn] = played.lines as [Line, Line];
    expect(flute.statements.length).toBe(horn.statements.length);
    expect(flute.statements.length).toBe(12 - played.plan.shared.leftOut.length);
    expect(played.plan.shared.leftOut.length).toBeGreaterThan(0);
    expect(played.plan.shared.notes[0]).toMatch(/^Left out by all: concert .* \(the figure does not fit: Horn in F in/);
    expect(differences(played)).toEqual([]);
  });

  it('turns for all in the same way', () => {
    const played = play(octave(), two('turn'));
    expect(Object.keys(played.plan.shared.turned).length).toBeGreaterThan(0);
    expect(differences(played)).toEqual([]);
    for (const line of played.lines)
      expect(line.statements.filter((s) => s.turned).length).toBe(Object.keys(played.plan.shared.turned).length);
  });

  it('is a held root for that chair alone', () => {
    const played = play(octave(), two('hold-root'));
    const [flute, horn] = played.lines as [Line, Line];
    expect(flute.statements.some((s) => s.held)).toBe(false);
    const holds = horn.statements.filter((s) => s.held);
    expect(holds.length).toBe(played.plan.parts[1]?.plan.held.length);
    for (const statement of holds) {
      const own = horn.events.filter((event) => event.statement === statement.index);
      expect(own.length).toBe(1);
      expect(text((own[0] as LineNote).duration)).toBe(text(statement.duration));
    }
    expect(differences(played)).toEqual([]);
  });

  it('cannot be solved when no key is shared, and says so', () => {
    const narrow = { compass: { low: 'C4', high: 'E4' } };
    const file = {
      misfit: 'leave-out',
      chairs: [
        { instrument: 'flute', level: 'professional' },
        { instrument: 'oboe', ...narrow },
      ],
    };
    const ensemble = band(wheels, '', file);
    const { ok, issues } = planExercise(octave(), ensemble);
    expect(ok).toBe(false);
    expect(issues[0]?.message).toContain('No key is left that all chairs can play');
  });

  it('a held root is always written in whole bars, tuplets and rests and all', () => {
    const rhythms = ['eighths', 'eighth triplets', '1/16 1/16 1/16 1/16 1/4', 'quarter triplets', 'dotted eighth and sixteenth'];
    fc.assert(
      fc.property(
        fc.constantFrom(...rhythms),
        fc.constantFrom('2/4', '3/4', '4/4', '6/8', '7/8'),
        fc.constantFrom('long-note' as const, 'rests' as const),
        fc.constantFrom('1 2 3 4 5 6 7 8', '8 5 3 1 3 5 8', '1 3 5 8 5'),
        (rhythm, metre, by, figure) => {
          const one = exercise({ figure, rhythm, metre, padding: { to: 'bar', by }, passes: 2 });
          // Some rhythms do not go into some metres, whoever plays.
          fc.pre(realise({ ...one, misfit: { kind: 'leave-out' } }, player('flute')).ok);
          for (const line of play(one, two('hold-root')).lines) {
            let end = line.events[0]?.onset;
            for (const event of line.events) {
              expect(text(event.onset)).toBe(text(end as LineNote['onset']));
              end = add(event.onset, event.duration);
            }
            expect(text(end as LineNote['onset'])).toBe(text(line.duration));
            expect(barsOf(line).bars.length).toBeGreaterThan(0);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('cannot be held where statements end inside tuplets, and says so', () => {
    const one = exercise({ figure: '1 2 3 4 5 6 7 8', rhythm: 'eighth triplets', padding: { to: 'flow' } });
    const { issues } = planExercise(one, two('hold-root'));
    expect(issues).toMatchObject([{ code: 'root-cannot-be-held' }]);
  });
});

describe('bonds', () => {
  const keep = (together: string) => ({ keep: [{ chairs: ['trumpet-in-bb', 'cornet-in-bb', 'clarinet-in-bb'], together }] });
  const distances = ({ lines }: Played, a: number, b: number): number[] => {
    const notes = (line: Line) => line.events.filter((event) => event.kind === 'note');
    const [one, two] = [lines[a] as Line, lines[b] as Line];
    return [...new Set(notes(one).map((note, i) => sounds(two, notes(two)[i] as LineNote) - sounds(one, note)))];
  };
  const chairs = 'trumpet-in-bb:advanced cornet-in-bb:intermediate clarinet-in-bb:advanced';

  it('unison is one pitch throughout', () => {
    for (const one of exercisesOf(wheels)) {
      const played = play(one, band(wheels, chairs, keep('unison')));
      expect([distances(played, 0, 1), distances(played, 0, 2)]).toEqual([[0], [0]]);
    }
  });

  it('octaves are one distance throughout', () => {
    const ensemble = band(wheels, 'flute:professional piccolo:professional', {
      keep: [{ chairs: ['flute', 'piccolo'], together: 'octave' }],
    });
    for (const one of exercisesOf(wheels)) {
      const [distance, ...others] = distances(play(one, ensemble), 0, 1);
      expect(others).toEqual([]);
      expect([12, 24]).toContain(Math.abs(distance as number));
    }
  });

  it('one that cannot be kept is told, and the parts still agree', () => {
    const ensemble = band(wheels, 'flute:beginner tuba:beginner', { keep: [{ chairs: ['flute', 'tuba'], together: 'unison' }] });
    const one = exercise({ figure: '1 2 3' });
    const { issues } = planExercise(one, ensemble);
    expect(issues).toMatchObject([{ code: 'bond-broken', severity: 'warning' }]);
    expect(differences(play(one, ensemble))).toEqual([]);
  });
});

describe('concert pitch', () => {
  it('sounds as the part does, whole octaves kept as written', () => {
    const ensemble = band(daybook, FULL_BAND, { level: 'advanced', misfit: 'turn' });
    for (const one of exercisesOf(daybook).slice(0, 12)) {
      const { plan, lines } = play(one, ensemble);
      plan.parts.forEach((planned, c) => {
        const { player } = planned.chair;
        const concert = value(concertLine(one, planned, daybook.spelling));
        const octaves = (SOUNDS[player.instrument.id] as number) % 12 === 0 ? (SOUNDS[player.instrument.id] as number) : 0;
        const part = lines[c] as Line;
        concert.events.forEach((event, i) => {
          const other = part.events[i];
          if (event.kind === 'note' && other?.kind === 'note') expect(midi(event.written) + octaves).toBe(sounds(part, other));
        });
      });
    }
  });
});
