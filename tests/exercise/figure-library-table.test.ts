/**
 * The library figure by figure: written out in C, in note names, from the rudiments books (common practice), so that a degree
 * exchanged, a sign lost or a scale named wrongly is seen.
 */
import { describe, expect, it, test } from 'vitest';
import { toneInterval } from '../../core/exercise/figure.js';
import { FIGURE_GROUPS, FIGURE_LIBRARY } from '../../core/exercise/figure-library.js';
import { pitchName, transpose } from '../../core/theory/pitch.js';

/** number | id | title | group | scale it is read in | the figure in C, from C4. */
const TABLE = `
 1 | five-note-scale               | Five-note scale, up and down           | Scales                 | major                | C4 D4 E4 F4 G4 F4 E4 D4 C4
 2 | cell-1-2-3-5                  | Four-note cell 1-2-3-5                 | Cells                  | major                | C4 D4 E4 G4
 3 | cell-5-3-2-1                  | Four-note cell 5-3-2-1                 | Cells                  | major                | G4 E4 D4 C4
 4 | sequence-1-2-3-1              | Cell 1-2-3-1 on each degree            | Sequences              | major                | C4 D4 E4 C4 D4 E4 F4 D4 E4 F4 G4 E4 F4 G4 A4 F4
 5 | sequence-1-2-3-4              | Cell 1-2-3-4 on each degree            | Sequences              | major                | C4 D4 E4 F4 D4 E4 F4 G4 E4 F4 G4 A4 F4 G4 A4 B4
 6 | running-threes                | Running threes                         | Sequences              | major                | C4 D4 E4 D4 E4 F4 E4 F4 G4 F4 G4 A4 G4 A4 B4 A4 B4 C5
 7 | scale-one-octave              | Scale, one octave                      | Scales                 | major                | C4 D4 E4 F4 G4 A4 B4 C5 B4 A4 G4 F4 E4 D4 C4
 8 | scale-two-octaves             | Scale, two octaves                     | Scales                 | major                | C4 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5 A5 B5 C6
 9 | scale-to-ninth                | Scale to the ninth and back            | Scales                 | major                | C4 D4 E4 F4 G4 A4 B4 C5 D5 C5 B4 A4 G4 F4 E4 D4 C4
10 | scale-to-twelfth              | Scale to the twelfth                   | Scales                 | major                | C4 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5
11 | intervals-from-tonic          | Widening intervals from the tonic      | Intervals              | major                | C4 D4 C4 E4 C4 F4 C4 G4 C4 A4 C4 B4 C4 C5
12 | expanding-scale               | Expanding scale                        | Scales                 | major                | C4 D4 C4 D4 E4 D4 C4 D4 E4 F4 E4 D4 C4
13 | thirds                        | Thirds, each pair upward               | Intervals              | major                | C4 E4 D4 F4 E4 G4 F4 A4 G4 B4 A4 C5 B4 D5 C5
14 | thirds-reversed               | Thirds, each pair downward             | Intervals              | major                | E4 C4 F4 D4 G4 E4 A4 F4 B4 G4 C5 A4 D5 B4 C5
15 | thirds-up-down                | Thirds, up and down in turn            | Intervals              | major                | C4 E4 F4 D4 E4 G4 A4 F4 G4 B4 C5 A4
16 | fourths                       | Fourths                                | Intervals              | major                | C4 F4 D4 G4 E4 A4 F4 B4 G4 C5 A4 D5 B4 E5 C5
17 | fifths                        | Fifths                                 | Intervals              | major                | C4 G4 D4 A4 E4 B4 F4 C5 G4 D5
18 | sixths                        | Sixths                                 | Intervals              | major                | C4 A4 D4 B4 E4 C5 F4 D5 G4 E5
19 | octaves                       | Octaves                                | Intervals              | major                | C4 C5 D4 D5 E4 E5 F4 F5 G4 G5
20 | major-arpeggio                | Major arpeggio                         | Arpeggios              | major                | C4 E4 G4 C5 G4 E4 C4
21 | minor-arpeggio                | Minor arpeggio                         | Arpeggios              | natural minor        | C4 Eb4 G4 C5 G4 Eb4 C4
22 | broken-arpeggio-fours         | Broken arpeggio in fours               | Arpeggios              | major                | C4 E4 G4 E4 E4 G4 C5 G4 G4 C5 E5 C5
23 | broken-arpeggio-1-5-3-5       | Broken arpeggio 1-5-3-5                | Arpeggios              | major                | C4 G4 E4 G4
24 | triad-inversions              | Triad and its inversions               | Arpeggios              | major                | C4 E4 G4 E4 G4 C5 G4 C5 E5 C5
25 | diatonic-triads               | Triads on each degree                  | Arpeggios              | major                | C4 E4 G4 D4 F4 A4 E4 G4 B4 F4 A4 C5 G4 B4 D5
26 | diatonic-triads-alternating   | Triads, up and down in turn            | Arpeggios              | major                | C4 E4 G4 A4 F4 D4 E4 G4 B4 C5 A4 F4
27 | diatonic-sevenths             | Seventh chords on each degree          | Arpeggios              | major                | C4 E4 G4 B4 D4 F4 A4 C5 E4 G4 B4 D5 F4 A4 C5 E5
28 | diatonic-sevenths-alternating | Seventh chords, up and down in turn    | Arpeggios              | major                | C4 E4 G4 B4 C5 A4 F4 D4 E4 G4 B4 D5
29 | major-seventh-arpeggio        | Major seventh arpeggio                 | Arpeggios              | major                | C4 E4 G4 B4 C5 B4 G4 E4 C4
30 | dominant-seventh-arpeggio     | Dominant seventh arpeggio              | Arpeggios              | mixolydian           | C4 E4 G4 Bb4 C5 Bb4 G4 E4 C4
31 | dominant-seventh-resolving    | Dominant seventh of the key, resolving | Arpeggios              | major                | G4 B4 D5 F5 D5 B4 G4 C5
32 | minor-seventh-arpeggio        | Minor seventh arpeggio                 | Arpeggios              | dorian               | C4 Eb4 G4 Bb4 C5 Bb4 G4 Eb4 C4
33 | half-diminished-arpeggio      | Half-diminished arpeggio               | Arpeggios              | locrian              | C4 Eb4 Gb4 Bb4 C5 Bb4 Gb4 Eb4 C4
34 | diminished-seventh-arpeggio   | Diminished seventh arpeggio            | Symmetric              | octatonic whole-half | C4 Eb4 Gb4 Bbb4 C5 Bbb4 Gb4 Eb4 C4
35 | augmented-arpeggio            | Augmented arpeggio                     | Symmetric              | whole tone           | C4 E4 G#4 C5 G#4 E4 C4
36 | ninth-arpeggio                | Dominant ninth arpeggio                | Arpeggios              | mixolydian           | C4 E4 G4 Bb4 D5 Bb4 G4 E4 C4
37 | cell-1-3-5-6                  | Four-note cell 1-3-5-6                 | Cells                  | major pentatonic     | C4 E4 G4 A4
38 | triad-down-and-up             | Triad, down and up                     | Arpeggios              | major                | C5 G4 E4 C4 C4 E4 G4 C5
39 | natural-minor                 | Natural minor scale                    | Minor                  | natural minor        | C4 D4 Eb4 F4 G4 Ab4 Bb4 C5 Bb4 Ab4 G4 F4 Eb4 D4 C4
40 | harmonic-minor                | Harmonic minor scale                   | Minor                  | harmonic minor       | C4 D4 Eb4 F4 G4 Ab4 B4 C5 B4 Ab4 G4 F4 Eb4 D4 C4
41 | melodic-minor                 | Melodic minor scale                    | Minor                  | melodic minor        | C4 D4 Eb4 F4 G4 A4 B4 C5 Bb4 Ab4 G4 F4 Eb4 D4 C4
42 | melodic-minor-both-ways       | Melodic minor, the same both ways      | Minor                  | melodic minor        | C4 D4 Eb4 F4 G4 A4 B4 C5 B4 A4 G4 F4 Eb4 D4 C4
43 | dorian                        | Dorian scale                           | Modes                  | dorian               | C4 D4 Eb4 F4 G4 A4 Bb4 C5
44 | phrygian                      | Phrygian scale                         | Modes                  | phrygian             | C4 Db4 Eb4 F4 G4 Ab4 Bb4 C5
45 | lydian                        | Lydian scale                           | Modes                  | lydian               | C4 D4 E4 F#4 G4 A4 B4 C5
46 | mixolydian                    | Mixolydian scale                       | Modes                  | mixolydian           | C4 D4 E4 F4 G4 A4 Bb4 C5
47 | locrian                       | Locrian scale                          | Modes                  | locrian              | C4 Db4 Eb4 F4 Gb4 Ab4 Bb4 C5
48 | major-pentatonic              | Major pentatonic scale                 | Pentatonic and blues   | major pentatonic     | C4 D4 E4 G4 A4 C5 A4 G4 E4 D4 C4
49 | minor-pentatonic              | Minor pentatonic scale                 | Pentatonic and blues   | minor pentatonic     | C4 Eb4 F4 G4 Bb4 C5 Bb4 G4 F4 Eb4 C4
50 | pentatonic-fours              | Pentatonic in fours                    | Pentatonic and blues   | major pentatonic     | C4 D4 E4 G4 D4 E4 G4 A4 E4 G4 A4 C5
51 | blues                         | Blues scale                            | Pentatonic and blues   | blues                | C4 Eb4 F4 Gb4 G4 Bb4 C5 Bb4 G4 Gb4 F4 Eb4 C4
52 | whole-tone                    | Whole-tone scale                       | Symmetric              | whole tone           | C4 D4 E4 F#4 G#4 Bb4 C5
53 | octatonic-whole-half          | Octatonic scale, whole step first      | Symmetric              | octatonic whole-half | C4 D4 Eb4 F4 Gb4 Ab4 A4 B4 C5
54 | octatonic-half-whole          | Octatonic scale, half step first       | Symmetric              | octatonic half-whole | C4 Db4 D#4 E4 F#4 G4 A4 Bb4 C5
55 | chromatic                     | Chromatic scale                        | Symmetric              | chromatic            | C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4 C5
56 | chromatic-neighbors           | Chromatic neighbors of the tonic       | Chromatic and approach | chromatic            | C4 Db4 C4 B3 C4
57 | lydian-dominant               | Lydian dominant scale                  | Modes                  | lydian dominant      | C4 D4 E4 F#4 G4 A4 Bb4 C5
58 | altered                       | Altered scale                          | Modes                  | altered              | C4 Db4 D#4 E4 Gb4 G#4 Bb4 C5
59 | bebop-dominant                | Bebop dominant scale                   | Modes                  | major                | C4 D4 E4 F4 G4 A4 Bb4 B4 C5
60 | enclosure-of-1                | Enclosure of the tonic                 | Chromatic and approach | major                | D4 B3 C4
61 | enclosure-of-3                | Enclosure of the third                 | Chromatic and approach | major                | F4 D#4 E4
62 | enclosure-of-5                | Enclosure of the fifth                 | Chromatic and approach | major                | A4 F#4 G4
63 | double-approach               | Two half steps up to the tonic         | Chromatic and approach | chromatic            | Bb3 B3 C4
64 | enclosed-triad                | Enclosures of the triad                | Chromatic and approach | major                | D4 B3 C4 F4 D#4 E4 A4 F#4 G4
65 | turn                          | Turn on the tonic                      | Ornaments              | major                | C4 D4 C4 B3 C4
66 | upper-neighbors               | Upper neighbors                        | Ornaments              | major                | C4 D4 C4 D4 E4 D4 E4 F4 E4 F4 G4 F4
67 | cadence-cell                  | Second degree, fifth degree, tonic     | Arpeggios              | major                | D4 F4 A4 C5 B4 A4 G4 F4 E4
68 | fourths-stack                 | Stacked fourths                        | Intervals              | minor pentatonic     | C4 F4 Bb4 Eb5
69 | trill-preparation             | Trill preparation                      | Ornaments              | major                | C4 D4 C4 D4 C4 D4 C4 D4 C4
`;

const ROWS = TABLE.trim()
  .split('\n')
  .map((row) => row.split('|').map((cell) => cell.trim()) as [string, string, string, string, string, string]);

test('the table has every figure', () => {
  expect(ROWS).toHaveLength(69);
  expect(FIGURE_LIBRARY.map(({ id }) => id)).toEqual(ROWS.map(([, id]) => id));
});

describe.each(ROWS)('%s %s', (number, id, title, group, scale, inC) => {
  const entry = FIGURE_LIBRARY.find((one) => one.id === id)!;
  it('is the figure of that number, title, group and scale', () =>
    expect([entry.number, entry.title, entry.group, entry.scale]).toEqual([Number(number), title, group, scale]));
  it('has these notes in C', () => {
    const heard = entry.figure.tones.map((tone) =>
      tone.kind === 'rest' ? 'r' : pitchName(transpose({ letter: 0, alter: 0, octave: 4 }, toneInterval(tone, entry.scale))),
    );
    expect(heard.join(' ')).toBe(inC);
  });
});

test('the groups come in the order of a course', () =>
  expect(FIGURE_GROUPS).toEqual([
    'Cells',
    'Scales',
    'Sequences',
    'Intervals',
    'Arpeggios',
    'Minor',
    'Modes',
    'Pentatonic and blues',
    'Symmetric',
    'Chromatic and approach',
    'Ornaments',
  ]));

/** What is said of those that draw on something else than the plain major scale or the scale of their own name. */
test.each([
  ['cell-1-2-3-5', 'major'],
  ['major-arpeggio', 'major triad'],
  ['minor-arpeggio', 'minor triad'],
  ['diatonic-triads', 'triads of the major scale'],
  ['diatonic-sevenths', 'seventh chords of the major scale'],
  ['dominant-seventh-resolving', 'major, fifth degree to first'],
  ['minor-seventh-arpeggio', 'dorian or natural minor'],
  ['diminished-seventh-arpeggio', 'octatonic; three transpositions differ'],
  ['augmented-arpeggio', 'whole tone; four transpositions differ'],
  ['cell-1-3-5-6', 'major pentatonic, sixth chord'],
  ['melodic-minor', 'melodic minor up, natural minor down'],
  ['whole-tone', 'whole tone; two transpositions differ'],
  ['octatonic-half-whole', 'octatonic; three transpositions differ'],
  ['chromatic', 'chromatic; all transpositions agree'],
  ['lydian-dominant', 'fourth mode of melodic minor'],
  ['altered', 'seventh mode of melodic minor'],
  ['bebop-dominant', 'mixolydian with the major seventh added'],
  ['cadence-cell', 'major, minor seventh of the second degree to the third'],
])('%s draws on: %s', (id, draws) => expect(FIGURE_LIBRARY.find((one) => one.id === id)?.draws).toBe(draws));
