/** Exports as they were: lines of every kind in each format of text, and the sums of the others. */
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import { brailleText, brfFile } from '../../core/output/braille/braille.js';
import { musicXml } from '../../core/output/musicxml/musicxml.js';
import { exerciseSlides, keySlides } from '../../core/output/picture/slides.js';
import { pageSvg } from '../../core/output/picture/svg.js';
import { type Audio, practiceAudio } from '../../core/output/sound/audio.js';
import { midiExport } from '../../core/output/sound/midi.js';
import { perform } from '../../core/output/sound/performance.js';
import { spokenText } from '../../core/output/words/spoken.js';
import { frac } from '../../core/theory/fraction.js';
import { bookNamed, build } from '../build/editions.js';
import { testFonts } from '../fonts.js';
import { player, realised, value } from '../player/fixture.js';
import { KINDS, kindLines, pieceOf } from './exported.js';

const INFO = { title: 'Wheels', work: 'A Book', author: 'A. Writer', copyright: '© 2026', date: '2026-03-01' };
const shortened = (text: string): string =>
  text.replace(/(?<=\bd=")[^"]{80,}(?=")/g, (d) => `${d.slice(0, 60)}… ${createHash('sha256').update(d).digest('hex').slice(0, 8)}`);
const sum = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex').slice(0, 16);

describe.each(KINDS.map(([instrument, words], i) => [instrument, words, i] as const))('%s', (instrument, words, i) => {
  // A few keys are enough to see every sign.
  const few = realised({ order: { name: 'custom', keys: ['C', 'Eb', 'F#'] }, ...words }, player(instrument));
  const breaths = new Map([[2, { parenthesised: false }]]);
  const piece = pieceOf(few, { systems: [0, 2], pages: [2], lines: [{ line: few, score: barsOf(few, breaths) }] });
  const [own] = piece.lines;

  it('in MusicXML', async () => {
    const paper = { width: 215.9, height: 279.4, margins: { top: 18, bottom: 18, inner: 22, outer: 15 }, staff: 7.5 };
    await expect(musicXml([piece], i === 0 ? { ...INFO, paper } : INFO)).toMatchFileSnapshot(`likeness/${instrument}.musicxml`);
  });
  it('in braille and in words', async () => {
    const text = [brailleText('Wheels', own!), brfFile('Wheels', own!, { width: 30 }), spokenText('Wheels', own!)].join('\n\n');
    await expect(`${text}\n`).toMatchFileSnapshot(`likeness/${instrument}.txt`);
  });
});

/** How loud each 2,048th of a recording's samples are, in thousandths of what 16 bits hold. */
function loudness(audio: Audio): string {
  const bytes = Buffer.concat([...audio.chunks()]);
  const levels: string[] = [];
  for (let at = 44; at < bytes.length; at += 4096) {
    let sum = 0;
    for (let i = at; i < Math.min(at + 4096, bytes.length); i += 2) sum += bytes.readInt16LE(i) ** 2;
    levels.push((Math.sqrt(sum / 2048) / 32.767).toFixed(1));
  }
  return `${audio.seconds.toFixed(3)} s, ${audio.bytes} bytes: ${levels.join(' ')}`;
}

it('sound: the sums of MIDI files, and how loud recordings are', async () => {
  const sums = kindLines().map((line) => sum(midiExport('Wheels', [value(perform(line, { click: true, countIn: 1 }))])));
  const short = realised({ order: { name: 'custom', keys: ['C', 'F'] }, articulation: { groups: [2], mark: 'accent' } }, player('flute'));
  const tempo = { beat: frac(1, 4), bpm: 300 };
  const clicked = value(perform(short, { tempo, click: true, countIn: 1 }));
  const recordings = [
    practiceAudio([value(perform(short, { tempo }))]),
    practiceAudio([clicked, clicked], { drone: true, a4: 442, rate: 48000 }),
  ].map((audio) => loudness(value(audio)));
  await expect(`${[...sums, ...recordings].join('\n')}\n`).toMatchFileSnapshot('likeness/sound.txt');
});

it('pictures: a page and slides', async () => {
  const { document } = build(bookNamed('small'), 'viola');
  const fonts = testFonts();
  const page = document.pages.find(({ kind }) => kind === 'music')!;
  const own = pieceOf(realised({ order: { name: 'custom', keys: ['C', 'F'] } }, player('flute'))).lines[0]!;
  const slides = [...exerciseSlides(own, fonts, { ground: 'dark' }), ...keySlides(own.line, fonts, { shape: '9:16', size: 2160 })];
  const svgs = [
    pageSvg(page, document, fonts, { text: 'live', title: 'Page' }),
    pageSvg(page, document, fonts, { glyphs: 'inline', idPrefix: 'a', colors: { ink: '#000', paper: '#fff' } }),
  ];
  const texts = [
    ...svgs.map((svg) => shortened(svg).slice(0, 20_000)),
    ...slides.map(({ svg, width, height, words }) => `${width}x${height} ${words}\n${shortened(svg).slice(0, 4_000)}`),
  ];
  await expect(texts.join('\n\n')).toMatchFileSnapshot('likeness/pictures.txt');
});
