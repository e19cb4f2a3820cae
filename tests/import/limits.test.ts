/** Where the reading of a phrase draws its lines: one case just inside and one just outside. */
import { describe, expect, it, test } from 'vitest';
import { correlation, guessKeys } from '../../core/import/find-key.js';
import { importFigure, MAX_IMPORT, parseKey } from '../../core/import/import-figure.js';
import { readXml } from '../../core/import/xml-reader.js';
import { type MidiEvent, midiBytes, type TimedMidi } from '../../core/output/sound/midi-codec.js';
import { frac } from '../../core/theory/fraction.js';
import { keyText } from '../../core/theory/key.js';
import { codes, value } from '../player/fixture.js';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const C = { key: value(parseKey('C')) };

describe('MIDI, 480 ticks to a quarter', () => {
  type Note = readonly [key: number, on: number, off: number];
  const file = (notes: readonly Note[], more: readonly object[] = []): Uint8Array =>
    midiBytes(
      [
        [
          ...more.map((event): TimedMidi => ({ tick: 0, event: { deltaTime: 0, ...event } as MidiEvent })),
          ...notes.flatMap(([noteNumber, on, off]): TimedMidi[] => [
            { tick: on, event: { deltaTime: 0, type: 'noteOn', channel: 0, noteNumber, velocity: 80 } },
            { tick: off, event: { deltaTime: 0, type: 'noteOff', channel: 0, noteNumber, velocity: 0 } },
          ]),
        ],
      ],
      480,
    );
  const read = (...notes: Note[]): string => {
    const found = importFigure(file(notes), C);
    return found.ok ? `${found.value.figure} in ${found.value.rhythm}` : codes(found).join();
  };

  it('two notes within a 32nd of a quarter are a chord', () => {
    expect(read([60, 0, 480], [64, 15, 480])).toBe('chord');
    expect(read([60, 0, 480], [64, 16, 480])).toBe('several-voices');
  });
  it('legato may overlap by 34 in a hundred of the shorter note', () => {
    expect(read([60, 0, 643], [64, 480, 960])).toBe('1 3 in quarters');
    expect(read([60, 0, 644], [64, 480, 960])).toBe('several-voices');
    expect(read([60, 0, 643], [64, 480, 900])).toBe('several-voices');
  });
  it('a note may begin 35 thousandths of a quarter off', () => {
    expect(read([60, 0, 480], [64, 496, 960])).toBe('1 3 in quarters');
    expect(read([60, 0, 480], [64, 464, 960])).toBe('1 3 in quarters');
    expect(read([60, 0, 480], [64, 497, 960])).toBe('off-the-grid');
  });
  it('what sounds for more than 55 in a hundred of its time is no rest after it', () => {
    expect(read([60, 0, 250], [64, 480, 960])).toBe('1 r 3 in 1/8 1/8 1/4');
    expect(read([60, 0, 265], [64, 480, 960])).toBe('1 3 in quarters');
  });
  it('the last note has the value nearest to what it sounds', () => {
    expect(read([60, 0, 480], [64, 480, 920])).toBe('1 3 in quarters');
    expect(read([60, 0, 480], [64, 480, 1190])).toBe('1 3 in 1/4 1/4.');
    expect(read([60, 0, 480], [64, 480, 1480])).toBe('1 3 in 1/4 1/2');
    expect(read([60, 0, 480], [64, 480, 700])).toBe('1 3 in 1/4 1/8');
  });
  it('a phrase counts from the quarter in which it begins', () => expect(read([60, 960, 1440], [64, 1440, 1920])).toBe('1 3 in quarters'));
  it('has the metre, the signature and the title of the file', () => {
    const events = [
      { type: 'trackName', meta: true, text: ' Walk ' },
      { type: 'timeSignature', meta: true, numerator: 3, denominator: 4, metronome: 24, thirtyseconds: 8 },
      { type: 'keySignature', meta: true, key: -1, scale: 1 },
    ];
    const found = value(
      importFigure(
        file(
          [
            [62, 0, 480],
            [65, 480, 960],
          ],
          events,
        ),
      ),
    );
    expect([found.metre, found.title, keyText(found.key), found.keyFrom, found.figure]).toEqual(['3/4', 'Walk', 'Dm', 'signature', '1 b3']);
    const major = value(
      importFigure(
        file(
          [
            [65, 0, 480],
            [69, 480, 960],
          ],
          [{ ...events[2], scale: 0 }],
        ),
      ),
    );
    expect([major.metre, keyText(major.key), major.figure]).toEqual([undefined, 'F', '1 3']);
  });
  it('a note may be ended by a note of velocity 0, or never', () => {
    const open: TimedMidi[] = [
      { tick: 0, event: { deltaTime: 0, type: 'noteOn', channel: 0, noteNumber: 60, velocity: 80 } },
      { tick: 480, event: { deltaTime: 0, type: 'noteOn', channel: 0, noteNumber: 60, velocity: 0 } },
      { tick: 480, event: { deltaTime: 0, type: 'noteOn', channel: 0, noteNumber: 67, velocity: 80 } },
      { tick: 960, event: { deltaTime: 0, type: 'text', meta: true, text: 'end' } as MidiEvent },
    ];
    expect(value(importFigure(midiBytes([open], 480), C)).figure).toBe('1 5');
  });
});

/** A score of one measure. */
const score = (inside: string, attributes = '<divisions>2</divisions>', before = ''): Uint8Array =>
  utf8(
    `<score-partwise>${before}<part-list/><part id="P"><measure number="1"><attributes>${attributes}</attributes>${inside}</measure></part></score-partwise>`,
  );
const note = (step: string, octave = 4, more = '', duration = 2): string =>
  `<note><pitch><step>${step}</step>${more.startsWith('<alter>') ? more : ''}<octave>${octave}</octave></pitch><duration>${duration}</duration>${more.startsWith('<alter>') ? '' : more}</note>`;
const figure = (bytes: Uint8Array, options: Parameters<typeof importFigure>[1] = C): string => {
  const found = importFigure(bytes, options);
  return found.ok ? `${found.value.figure} in ${found.value.rhythm}` : codes(found).join();
};

describe('MusicXML', () => {
  it('durations are counted in the divisions of a quarter', () => {
    expect(figure(score(note('C') + note('E')))).toBe('1 3 in quarters');
    expect(figure(score(note('C') + note('E'), '<divisions>1</divisions>'))).toBe('1 3 in halves');
    expect(figure(score(note('C') + note('E'), '<divisions>0.5</divisions>'))).toBe('1 3 in 1/1');
  });
  it('alterations of two signs are read, of three not; octaves from 0 to 9', () => {
    expect(figure(score(note('C') + note('E', 4, '<alter>-2</alter>')))).toBe('1 bb3 in quarters');
    expect(figure(score(note('C') + note('E', 4, '<alter>3</alter>')))).toBe('pitch-unreadable');
    expect(figure(score(note('C', 9)))).toBe('1 in quarters');
    expect(figure(score(note('C', 0)))).toBe('1 in quarters');
    expect(figure(score(note('C', 10)))).toBe('pitch-unreadable');
    expect(figure(score(note('C', -1)))).toBe('pitch-unreadable');
  });
  it('the tonic lies under the lowest note, or up to a whole step above it', () => {
    expect(figure(score(note('B', 3) + note('C')))).toBe('-7 1 in quarters');
    expect(figure(score(note('B', 3, '<alter>-1</alter>') + note('C')))).toBe('-b7 1 in quarters');
    expect(figure(score(note('A', 3) + note('C')))).toBe('6 8 in quarters');
  });
  it('three octaves above the tonic is the highest degree', () => {
    expect(figure(score(note('C') + note('C', 7)))).toBe('1 22 in quarters');
    expect(figure(score(note('C') + note('D', 7)))).toBe('figure-too-wide');
  });
  it('64 notes are read, 65 not', () => {
    expect(figure(score(note('C').repeat(64)))).toBe(`${'1 '.repeat(63)}1 in quarters`);
    expect(figure(score(note('C').repeat(65)))).toBe('phrase-too-long');
  });
  it('rests before the phrase count, but for a whole bar; those behind it do not', () => {
    const rest = '<note><rest/><duration>2</duration></note>';
    const whole = '<note><rest measure="yes"/><duration>8</duration></note>';
    expect(figure(score(rest + note('C') + rest + note('E') + rest))).toBe('r 1 r 3 in quarters');
    expect(figure(score(whole + note('C') + note('E')))).toBe('1 3 in quarters');
    expect(figure(score(`${note('C')}<forward><duration>2</duration></forward>${note('E')}`))).toBe('1 r 3 in quarters');
    expect(figure(score(note('C') + note('D', 4, '<cue/>') + note('E')))).toBe('1 r 3 in quarters');
  });
  it('ties join notes of one pitch that follow each other', () => {
    const start = '<tie type="start"/>';
    const stop = '<tie type="stop"/>';
    expect(figure(score(note('C', 4, start) + note('C', 4, stop) + note('E')))).toBe('1 3 in 1/2 1/4');
    expect(figure(score(note('C') + note('C', 4, stop) + note('E')))).toBe('1 1 3 in quarters');
    expect(figure(score(note('C', 4, start) + note('D', 4, stop) + note('E')))).toBe('1 2 3 in quarters');
    expect(figure(score(note('C', 4, start) + note('C', 4, start + stop) + note('C', 4, stop) + note('E', 4, '', 6)))).toBe('1 3 in 1/2.');
  });
  it('has the first key, metre and title of the file, whichever it states', () => {
    const attributes =
      '<divisions>2</divisions><key><fifths>-3</fifths><mode>minor</mode></key><time><beats>6</beats><beat-type>8</beat-type></time>';
    const later = '<attributes><key><fifths>2</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>';
    const found = value(
      importFigure(
        score(
          note('C') + later + note('E', 4, '<alter>-1</alter>'),
          attributes,
          '<movement-title> M </movement-title><work><work-title>W</work-title></work>',
        ),
      ),
    );
    expect([keyText(found.key), found.keyFrom, found.metre, found.title, found.figure]).toEqual(['Cm', 'signature', '6/8', 'M', '1 b3']);
    const work = value(
      importFigure(score(note('C') + note('E'), '<divisions>2</divisions>', '<work><work-title>W</work-title></work>'), C),
    );
    expect([work.title, work.metre]).toEqual(['W', undefined]);
  });
  it('a signature of up to seven signs counts, and none where the mode is none', () => {
    const key = (fifths: number, mode?: string): string => {
      const text = `<divisions>2</divisions><key><fifths>${fifths}</fifths>${mode ? `<mode>${mode}</mode>` : ''}</key>`;
      return value(importFigure(score(note('C') + note('E') + note('G') + note('C', 5), text))).keyFrom;
    };
    expect([key(1), key(7), key(8), key(0), key(0, 'major'), key(2, 'none')]).toEqual([
      'signature',
      'signature',
      'guessed',
      'guessed',
      'signature',
      'guessed',
    ]);
  });
  it('repeats are told and not played', () => {
    const result = importFigure(score(`${note('C')}<barline><repeat direction="backward"/></barline>`), C);
    expect([value(result).figure, codes(result).join()]).toEqual(['1', 'repeats-not-played']);
  });
});

describe('the key of a phrase', () => {
  // Worked out apart from this program from the profiles of Krumhansl & Kessler, Psychological Review 89 (1982): C D E G; A C E E A.
  const heard = (...notes: readonly (readonly [number, number])[]): string[] =>
    guessKeys({ events: notes.map(([key, quarters]) => ({ kind: 'note', key, duration: frac(quarters, 4), bar: 1 })) })
      .slice(0, 3)
      .map(({ key, confidence }) => `${keyText(key)} ${confidence.toFixed(4)}`);
  it('is the likeliest of twenty-four, with its share', () => {
    expect(heard([60, 1], [62, 1], [64, 1], [67, 1])).toEqual(['C 0.5152', 'G 0.4283', 'Em 0.0447']);
    expect(heard([57, 1], [60, 1], [64, 2], [57, 1])).toEqual(['Am 0.8677', 'A 0.1275', 'E 0.0020']);
  });
  it('correlation is that of Pearson', () => {
    expect(correlation([1, 2, 3, 4], [1, 3, 2, 5])).toBeCloseTo(0.831522, 6);
    expect(correlation([1, 2, 3], [3, 2, 1])).toBeCloseTo(-1, 9);
    expect(correlation([1, 1, 1], [1, 2, 3])).toBe(0);
  });
  it('comes with a warning below one half', () => {
    const told = (text: string): string[] => codes(importFigure(score(text)));
    expect(told(note('C') + note('D') + note('E') + note('G'))).toEqual([]);
    // The likeliest key has a share of 0.4976.
    expect(told(note('C') + note('B') + note('C') + note('C'))).toEqual(['key-uncertain']);
  });
});

describe('XML', () => {
  const xml = (text: string): string => codes(readXml(utf8(text))).join() || 'read';
  it('nests 48 elements, not 49', () => {
    const nested = (depth: number): string => `${'<a>'.repeat(depth)}${'</a>'.repeat(depth)}`;
    expect([xml(nested(48)), xml(nested(49))]).toEqual(['read', 'xml-too-deep']);
  });
  it('has 100 attributes in an element, not 101, and as many in the next', () => {
    const attributes = (count: number): string => Array.from({ length: count }, (_, i) => ` a${i}=""`).join('');
    expect(xml(`<a${attributes(100)}><b${attributes(100)}/></a>`)).toBe('read');
    expect(xml(`<a${attributes(101)}/>`)).toBe('file-too-large');
  });
  it('says in which line it is broken', () =>
    expect(readXml(utf8('<a>\n<b></a>')).issues[0]?.message).toBe('The file is not well-formed XML (line 2); save or copy it again.'));
  it('has the text of an element, of CDATA too, and its attributes', () => {
    const root = value(readXml(utf8('<a x="1">one<b/>two<![CDATA[<3>]]></a>')));
    expect([root.name, root.attributes, root.text, root.children.map(({ name }) => name)]).toEqual(['a', { x: '1' }, 'onetwo<3>', ['b']]);
  });
});

test('a file may have 32 MB', () => expect(MAX_IMPORT).toBe(33_554_432));
