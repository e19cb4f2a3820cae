/** Systems as they were: every mark of one of each kind of writing, of a score and of a short example. */
import { describe, expect, it } from 'vitest';
import { breathPlan } from '../../core/breath/plan.js';
import { barsOf } from '../../core/engrave/bars.js';
import { drawScoreSystem, drawStaves } from '../../core/engrave/draw/score.js';
import { drawSystem } from '../../core/engrave/draw/system.js';
import { packDrawing } from '../../core/engrave/packed.js';
import { stackShapes } from '../../core/engrave/score-spacing.js';
import { shapeScore } from '../../core/engrave/shape.js';
import { drawSnippet } from '../../core/engrave/snippet.js';
import { frac } from '../../core/theory/fraction.js';
import { parsePitch } from '../../core/theory/pitch.js';
import { lungs } from '../breath/lines.js';
import { testFonts } from '../fonts.js';
import { drawingText } from '../likeness.js';
import { KINDS } from '../output/exported.js';
import { player, realised, type Words } from '../player/fixture.js';

const fonts = testFonts();

/** Besides those of the exports: ledger lines, sixteenths, held and tied notes, long slurs, sharps and flats without end. */
const MORE: readonly (readonly [instrument: string, words: Words])[] = [
  ['violin', { figure: '1 3 5 8 10 12', contour: 'high', rhythm: 'sixteenths', articulation: { groups: 'all' }, dynamic: 'ff' }],
  [
    'cello',
    { figure: '1 2 3 5 8', rhythm: 'quarter and two eighths', metre: '6/8', signs: 'signature', padding: { to: 'bar', by: 'rests' } },
  ],
  [
    'horn-in-f',
    {
      figure: '1 #4 b3 b7',
      rhythm: '1/2. 1/4',
      articulation: { groups: [3, 1], mark: 'tenuto' },
      tempo: { beat: frac(1, 2), from: 50, to: 72 },
    },
  ],
  [
    'oboe',
    { figure: '1 5 3 5', rhythm: '1/32 1/32 1/16 1/8', metre: '2/4', order: { name: 'chromatic-down' }, degreeNumbers: true, dynamic: 'p' },
  ],
];

describe('systems', () => {
  it.each([...KINDS, ...MORE].map(([instrument, words]) => [instrument, words] as const))('of %s', async (instrument, words) => {
    const line = realised(words, player(instrument));
    const plan = breathPlan(line, { beat: frac(1, 4), bpm: 60 }, lungs(9), { manner: 'in-time' });
    const breaths = new Map((plan.ok ? plan.value.breaths : []).map(({ afterEvent }, i) => [afterEvent, { parenthesised: i % 2 === 1 }]));
    const shape = shapeScore(line, barsOf(line, breaths), fonts);
    const systems = [
      drawSystem(shape, { from: 0, to: 2, width: undefined }),
      drawSystem(shape, { from: 2, to: Math.min(5, shape.bars.length), width: 80 }),
      drawSystem(shape, { from: shape.bars.length - 1, to: shape.bars.length, width: 40 }),
    ];
    await expect(`${systems.map(drawingText).join('\n\n')}\n`).toMatchFileSnapshot(`likeness/${instrument}.txt`);
  });
});

it('a system of a score', async () => {
  const words: Words = { figure: '1 2 b3 5', tempo: { beat: frac(1, 4), from: 60, to: 96 }, articulation: { groups: [2] } };
  const shapes = ['flute', 'clarinet-in-bb', 'horn-in-f', 'trombone'].map((id) => {
    const line = realised(words, player(id));
    return shapeScore(line, barsOf(line), fonts);
  });
  const spec = {
    from: 0,
    to: 3,
    width: 90,
    names: ['Fl.', 'B♭ Cl.', 'Hn.', 'Tbn.'],
    sections: [
      { from: 0, to: 2 },
      { from: 2, to: 4 },
    ],
    groups: [{ from: 0, to: 2 }],
  };
  const { drawings } = drawStaves(stackShapes(shapes), spec);
  const drawing = drawScoreSystem(
    drawings.map((one) => packDrawing(one)),
    spec,
    [0, 12, 25, 38],
    fonts,
  );
  await expect(`${drawingText(drawing)}\n`).toMatchFileSnapshot('likeness/score.txt');
});

it('short examples', async () => {
  const notes = ['Bb3', 'F#4', 'C5', 'Eb5', 'F5'].map((name) => ({ pitch: parsePitch(name)!, label: name.replace('b', '♭') }));
  const drawings = [
    drawSnippet({ clef: 'treble', fifths: -2, notes, value: 1, step: 6 }, fonts),
    drawSnippet({ clef: 'bass', fifths: 3, notes: notes.slice(0, 2), value: 4, step: 1 }, fonts),
  ];
  await expect(`${drawings.map(drawingText).join('\n\n')}\n`).toMatchFileSnapshot('likeness/examples.txt');
});
