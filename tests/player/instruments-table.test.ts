/**
 * The instruments one by one, each cell written out here. Sounds: General MIDI System Level 1 (MIDI Manufacturers Association,
 * 1991), sound set; ids of sounds: MusicXML 4.0, sounds.xml. Transpositions, clefs and families: common practice of scores.
 * Ranges: those of the sources that core/player/instruments.ts names row by row, as MIDI key numbers (written C4 is 60).
 */
import { describe, expect, it, test } from 'vitest';
import { INSTRUMENTS, LEVELS } from '../../core/player/catalogue.js';
import { midi, pitchName, transpose } from '../../core/theory/pitch.js';

/** id | short name | family | clef | what a written C5 sounds | blown | General MIDI sound | id of the sound in MusicXML. */
const WHO = `
piccolo               | Picc.      | flute       | treble | C6  | breath | Piccolo                 | wind.flutes.flute.piccolo
flute                 | Fl.        | flute       | treble | C5  | breath | Flute                   | wind.flutes.flute
alto-flute            | A. Fl.     | flute       | treble | G4  | breath | Flute                   | wind.flutes.flute.alto
oboe                  | Ob.        | double-reed | treble | C5  | breath | Oboe                    | wind.reed.oboe
english-horn          | E. Hn.     | double-reed | treble | F4  | breath | English Horn            | wind.reed.english-horn
bassoon               | Bsn.       | double-reed | bass   | C5  | breath | Bassoon                 | wind.reed.bassoon
clarinet-in-eb        | E♭ Cl.     | clarinet    | treble | Eb5 | breath | Clarinet                | wind.reed.clarinet.eflat
clarinet-in-bb        | B♭ Cl.     | clarinet    | treble | Bb4 | breath | Clarinet                | wind.reed.clarinet.bflat
clarinet-in-a         | A Cl.      | clarinet    | treble | A4  | breath | Clarinet                | wind.reed.clarinet.a
bass-clarinet         | B. Cl.     | clarinet    | treble | Bb3 | breath | Clarinet                | wind.reed.clarinet.bass
soprano-saxophone     | S. Sax.    | saxophone   | treble | Bb4 | breath | Soprano Sax             | wind.reed.saxophone.soprano
alto-saxophone        | A. Sax.    | saxophone   | treble | Eb4 | breath | Alto Sax                | wind.reed.saxophone.alto
tenor-saxophone       | T. Sax.    | saxophone   | treble | Bb3 | breath | Tenor Sax               | wind.reed.saxophone.tenor
baritone-saxophone    | Bari. Sax. | saxophone   | treble | Eb3 | breath | Baritone Sax            | wind.reed.saxophone.baritone
horn-in-f             | Hn.        | brass       | treble | F4  | breath | French Horn             | brass.french-horn
trumpet-in-bb         | Tpt.       | brass       | treble | Bb4 | breath | Trumpet                 | brass.trumpet.bflat
trumpet-in-c          | C Tpt.     | brass       | treble | C5  | breath | Trumpet                 | brass.trumpet.c
cornet-in-bb          | Cor.       | brass       | treble | Bb4 | breath | Trumpet                 | brass.cornet
flugelhorn-in-bb      | Flug.      | brass       | treble | Bb4 | breath | Trumpet                 | brass.flugelhorn
trombone              | Tbn.       | brass       | bass   | C5  | breath | Trombone                | brass.trombone.tenor
bass-trombone         | B. Tbn.    | brass       | bass   | C5  | breath | Trombone                | brass.trombone.bass
euphonium-bass-clef   | Euph.      | brass       | bass   | C5  | breath | Tuba                    | brass.euphonium
euphonium-treble-clef | Euph. T.C. | brass       | treble | Bb3 | breath | Tuba                    | brass.euphonium
tuba                  | Tuba       | brass       | bass   | C5  | breath | Tuba                    | brass.tuba
soprano-recorder      | S. Rec.    | recorder    | treble | C6  | breath | Recorder                | wind.flutes.recorder.soprano
alto-recorder         | A. Rec.    | recorder    | treble | C5  | breath | Recorder                | wind.flutes.recorder.alto
tenor-recorder        | T. Rec.    | recorder    | treble | C5  | breath | Recorder                | wind.flutes.recorder.tenor
bass-recorder         | B. Rec.    | recorder    | bass   | C6  | breath | Recorder                | wind.flutes.recorder.bass
violin                | Vln.       | strings     | treble | C5  | -      | Violin                  | strings.violin
viola                 | Vla.       | strings     | alto   | C5  | -      | Viola                   | strings.viola
cello                 | Vc.        | strings     | bass   | C5  | -      | Cello                   | strings.cello
double-bass           | D.B.       | strings     | bass   | C4  | -      | Contrabass              | strings.contrabass
guitar                | Gtr.       | plucked     | treble | C4  | -      | Acoustic Guitar (nylon) | pluck.guitar.nylon-string
marimba               | Mar.       | mallets     | treble | C5  | -      | Marimba                 | pitched-percussion.marimba
xylophone             | Xyl.       | mallets     | treble | C6  | -      | Xylophone               | pitched-percussion.xylophone
vibraphone            | Vib.       | mallets     | treble | C5  | -      | Vibraphone              | pitched-percussion.vibraphone
glockenspiel          | Glock.     | mallets     | treble | C7  | -      | Glockenspiel            | pitched-percussion.glockenspiel
piano-right-hand      | Pno. R.H.  | keyboard    | treble | C5  | -      | Acoustic Grand Piano    | keyboard.piano
`;

/** id | written range of beginners, intermediate, advanced, professionals | what the last one sounds. */
const REACH = `
piccolo               | 62-86   62-89   62-93   62-96  | D5 C8
flute                 | 65-86   60-89   60-96   60-98  | C4 D7
alto-flute            | 65-86   60-89   60-91   60-96  | G3 G6
oboe                  | 62-81   60-84   58-86   58-93  | Bb3 A6
english-horn          | 62-81   60-84   59-88   59-91  | E3 C6
bassoon               | 41-62   34-65   34-70   34-75  | Bb1 Eb5
clarinet-in-eb        | 52-70   52-86   52-91   52-91  | G3 Bb6
clarinet-in-bb        | 52-70   52-86   52-91   52-96  | D3 Bb6
clarinet-in-a         | 52-70   52-86   52-91   52-96  | C#3 A6
bass-clarinet         | 52-70   52-81   52-84   51-91  | Db2 F5
soprano-saxophone     | 62-83   60-86   58-89   58-89  | Ab3 Eb6
alto-saxophone        | 62-83   60-86   58-89   58-89  | Db3 Ab5
tenor-saxophone       | 62-83   60-86   58-89   58-89  | Ab2 Eb5
baritone-saxophone    | 62-83   60-86   58-89   58-89  | Db2 Ab4
horn-in-f             | 57-71   53-77   53-81   42-84  | B1 F5
trumpet-in-bb         | 59-74   54-79   54-84   54-84  | E3 Bb5
trumpet-in-c          | 59-74   54-79   54-84   54-84  | F#3 C6
cornet-in-bb          | 59-74   54-79   54-84   54-84  | E3 Bb5
flugelhorn-in-bb      | 59-74   54-79   54-84   54-84  | E3 Bb5
trombone              | 45-60   40-65   40-70   40-70  | E2 Bb4
bass-trombone         | 45-60   40-65   34-65   34-70  | Bb1 Bb4
euphonium-bass-clef   | 45-60   40-65   40-70   35-72  | B1 C5
euphonium-treble-clef | 59-74   54-79   54-84   49-86  | B1 C5
tuba                  | 34-50   28-53   28-58   26-65  | D1 F4
soprano-recorder      | 60-76   60-81   60-84   60-86  | C5 D7
alto-recorder         | 65-79   65-86   65-89   65-91  | F4 G6
tenor-recorder        | 60-76   60-81   60-84   60-86  | C4 D6
bass-recorder         | 41-55   41-62   41-65   41-67  | F3 G5
violin                | 55-83   55-86   55-95   55-100 | G3 E7
viola                 | 48-76   48-79   48-84   48-88  | C3 E6
cello                 | 36-62   36-67   36-72   36-84  | C2 C6
double-bass           | 40-62   40-67   40-69   40-74  | E1 D4
guitar                | 52-79   52-88   52-91   52-95  | E2 B5
marimba               | 60-84   48-96   45-96   36-96  | C2 C7
xylophone             | 60-84   53-96   53-96   53-96  | F4 C8
vibraphone            | 60-84   53-89   53-89   53-89  | F3 F6
glockenspiel          | 60-81   55-84   55-84   55-84  | G5 C8
piano-right-hand      | 60-79   55-88   48-96   48-108 | C3 C8
`;

/** Programs of the General MIDI sound set, counted from 1. */
const SOUND_SET: Readonly<Record<number, string>> = {
  1: 'Acoustic Grand Piano',
  10: 'Glockenspiel',
  12: 'Vibraphone',
  13: 'Marimba',
  14: 'Xylophone',
  25: 'Acoustic Guitar (nylon)',
  41: 'Violin',
  42: 'Viola',
  43: 'Cello',
  44: 'Contrabass',
  57: 'Trumpet',
  58: 'Trombone',
  59: 'Tuba',
  61: 'French Horn',
  65: 'Soprano Sax',
  66: 'Alto Sax',
  67: 'Tenor Sax',
  68: 'Baritone Sax',
  69: 'Oboe',
  70: 'English Horn',
  71: 'Bassoon',
  72: 'Clarinet',
  73: 'Piccolo',
  74: 'Flute',
  75: 'Recorder',
};

const rowsOf = (table: string): string[][] =>
  table
    .trim()
    .split('\n')
    .map((row) => row.split('|').map((cell) => cell.trim()));

test('both tables have every instrument, in score order', () => {
  expect(INSTRUMENTS.map(({ id }) => id)).toEqual(rowsOf(WHO).map(([id]) => id));
  expect(INSTRUMENTS.map(({ id }) => id)).toEqual(rowsOf(REACH).map(([id]) => id));
});

describe.each(rowsOf(WHO).map((row, i) => [row[0]!, row, rowsOf(REACH)[i]!] as const))('%s', (id, who, reach) => {
  const one = INSTRUMENTS.find((other) => other.id === id)!;
  const shown = (pitch: typeof one.compass.advanced.low): string => pitchName(transpose(pitch, one.transposition));

  it('is who it is', () =>
    expect([
      one.id,
      one.short,
      one.family,
      one.clef,
      shown({ letter: 0, alter: 0, octave: 5 }),
      one.breath ? 'breath' : '-',
      SOUND_SET[one.midiProgram],
      one.soundId,
    ]).toEqual(who));

  it('reaches so far', () => {
    const { low, high } = one.compass.professional;
    const ranges = LEVELS.map((level) => `${midi(one.compass[level].low)}-${midi(one.compass[level].high)}`);
    expect(ranges).toEqual(reach[1]?.split(/\s+/));
    expect(`${shown(low)} ${shown(high)}`).toBe(reach[2]);
  });
});

test('names as on a title page', () =>
  expect(INSTRUMENTS.map(({ name }) => name).join(', ')).toBe(
    [
      'Piccolo, Flute, Alto flute, Oboe, English horn, Bassoon, Clarinet in E♭, Clarinet in B♭, Clarinet in A, Bass clarinet',
      'Soprano saxophone, Alto saxophone, Tenor saxophone, Baritone saxophone, Horn in F, Trumpet in B♭, Trumpet in C, Cornet in B♭',
      'Flugelhorn in B♭, Trombone, Bass trombone, Euphonium (bass clef), Euphonium (treble clef), Tuba, Soprano recorder',
      'Alto recorder, Tenor recorder, Bass recorder, Violin, Viola, Cello, Double bass, Guitar, Marimba, Xylophone, Vibraphone',
      'Glockenspiel, Piano (right hand)',
    ].join(', '),
  ));

test('levels rise', () => expect(LEVELS).toEqual(['beginner', 'intermediate', 'advanced', 'professional']));
