import { describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import { degreeWords, spokenText } from '../../core/output/words/spoken.js';
import { frac } from '../../core/theory/fraction.js';
import { player, realised, type Words } from '../player/fixture.js';
import { demoLines, pieceOf } from './exported.js';

const NO_BREATHS = new Map<number, { parenthesised: boolean }>();

const spoken = (words: Words, instrument = 'flute', breaths = NO_BREATHS): string => {
  const line = realised({ order: { name: 'tritones' }, ...words }, player(instrument));
  return spokenText('A walk', { line, score: barsOf(line, breaths) });
};

it('says what the exercise is, then each bar', () => {
  const text = spoken({
    figure: '1 b3 r 5',
    dynamic: 'mf',
    tempo: { beat: frac(1, 4), from: 60, to: 96 },
    articulation: { groups: [2], mark: 'accent' },
  });
  expect(text.split('\n').slice(0, 9)).toEqual([
    'A walk.',
    'For Flute, at sounding pitch.',
    'Metre: 4/4. Key signature: no sharps or flats. Tempo: quarter = 60 to 96. Dynamic: mezzo forte.',
    'Figure: 1, flat 3, rest, 5.',
    'Keys in order: C minor, F sharp minor, C sharp minor, G minor, D minor, G sharp minor, E flat minor, A minor, E minor, B flat minor, F minor, B minor.',
    '6 bars.',
    '',
    'Bar 1: [C minor, up: 1, flat 3, rest, 5] C 4 eighth, slur begins; E flat 4, slur ends; eighth rest; G 4, accent; [F sharp minor, up: 1, flat 3, rest, 5] F sharp 4, slur begins; A 4, slur ends; eighth rest; C sharp 5, accent.',
    'Bar 2: [C sharp minor, up: 1, flat 3, rest, 5] C sharp 5, slur begins; E 5, slur ends; eighth rest; G sharp 5, accent; [G minor, up: 1, flat 3, rest, 5] G 5, slur begins; B flat 5, slur ends; eighth rest; D 6, accent.',
  ]);
});

it.each<[string, Words, string, string]>([
  ['a transposing instrument', {}, 'alto-saxophone', 'For Alto saxophone, written pitch: it sounds 9 half steps lower.'],
  ['a dotted beat', { metre: '6/8', tempo: { beat: frac(3, 8), from: 50, to: 50 } }, 'flute', 'Tempo: dotted quarter = 50.'],
  ['a signature and its change', { signs: 'signature', padding: { to: 'bar', by: 'rests' } }, 'flute', 'Bar 2: Key signature: 6 flats.'],
  ['triplets', { rhythm: 'eighth triplets' }, 'flute', 'C 4 triplet eighth;'],
  ['ties', { rhythm: '1/4. 1/4' }, 'flute', 'tied '],
  ['a whole bar of rest', { figure: '1 r', rhythm: '1/1' }, 'flute', 'whole bar rest'],
  ['the end', {}, 'flute', 'End.'],
])('%s', (_, words, instrument, part) => expect(spoken(words, instrument)).toContain(part));

it('a breath is said after its note', () => {
  expect(spoken({}, 'flute', new Map([[3, { parenthesised: false }]]))).toMatch(/G 4, breathe; \[/);
  expect(spoken({})).not.toContain('breathe');
});

describe('degrees', () => {
  it.each([
    ['1', '1'],
    ['b3', 'flat 3'],
    ['##4', 'double sharp 4'],
    ['bb7', 'double flat 7'],
    ['-b7', 'low flat 7'],
    ['#11', 'sharp 11'],
  ])('%s: %s', (degree, words) => expect(degreeWords(degree)).toBe(words));
});

it('every note of every demo exercise is said', () => {
  for (const line of demoLines([0])) {
    const { lines } = pieceOf(line);
    const text = spokenText(line.exercise.title, lines[0]!);
    const written = lines[0]!.score.bars.flatMap((bar) => bar.events.filter((event) => event.kind === 'note')).length;
    const bars = text.split('\n').filter((row) => row.startsWith('Bar '));
    const said =
      bars
        .join('\n')
        .replace(/\[[^\]]*\]/g, '')
        .match(/\b[A-G] (?:(?:double )?(?:flat|sharp) )?-?\d/g) ?? [];
    expect(said.length).toBe(written);
    expect(bars.length).toBe(lines[0]!.score.bars.length);
  }
});
