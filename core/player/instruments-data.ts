/**
 * The instruments as tables: who they are, and how far they reach at each level. Expanded by catalogue.ts.
 *
 * Ranges are written pitch. Beginner: end of the first year (band grades 1 to 1½). Intermediate: school grades 6 to 8.
 * Advanced: grades 9 to 12. Professional: the compass of the orchestration handbooks, without pedals, altissimo or
 * harmonics. F: read in the source named; M: from memory. "M, between": our choice between the two neighbours.
 */

/**
 * id | name | short name | family | clef | steps/semitones added to a written pitch to sound it | pitched in | breath |
 * General MIDI program 1 to 128 | id in the W3C list of sounds (MusicXML 4.0).
 */
export const INSTRUMENT_TABLE = `
piccolo               | Piccolo                 | Picc.      | flute       | treble | 7/12    | -  | breath | 73 | wind.flutes.flute.piccolo
flute                 | Flute                   | Fl.        | flute       | treble | 0/0     | -  | breath | 74 | wind.flutes.flute
alto-flute            | Alto flute              | A. Fl.     | flute       | treble | -3/-5   | G  | breath | 74 | wind.flutes.flute.alto
oboe                  | Oboe                    | Ob.        | double-reed | treble | 0/0     | -  | breath | 69 | wind.reed.oboe
english-horn          | English horn            | E. Hn.     | double-reed | treble | -4/-7   | F  | breath | 70 | wind.reed.english-horn
bassoon               | Bassoon                 | Bsn.       | double-reed | bass   | 0/0     | -  | breath | 71 | wind.reed.bassoon
clarinet-in-eb        | Clarinet in E♭          | E♭ Cl.     | clarinet    | treble | 2/3     | E♭ | breath | 72 | wind.reed.clarinet.eflat
clarinet-in-bb        | Clarinet in B♭          | B♭ Cl.     | clarinet    | treble | -1/-2   | B♭ | breath | 72 | wind.reed.clarinet.bflat
clarinet-in-a         | Clarinet in A           | A Cl.      | clarinet    | treble | -2/-3   | A  | breath | 72 | wind.reed.clarinet.a
bass-clarinet         | Bass clarinet           | B. Cl.     | clarinet    | treble | -8/-14  | B♭ | breath | 72 | wind.reed.clarinet.bass
soprano-saxophone     | Soprano saxophone       | S. Sax.    | saxophone   | treble | -1/-2   | B♭ | breath | 65 | wind.reed.saxophone.soprano
alto-saxophone        | Alto saxophone          | A. Sax.    | saxophone   | treble | -5/-9   | E♭ | breath | 66 | wind.reed.saxophone.alto
tenor-saxophone       | Tenor saxophone         | T. Sax.    | saxophone   | treble | -8/-14  | B♭ | breath | 67 | wind.reed.saxophone.tenor
baritone-saxophone    | Baritone saxophone      | Bari. Sax. | saxophone   | treble | -12/-21 | E♭ | breath | 68 | wind.reed.saxophone.baritone
horn-in-f             | Horn in F               | Hn.        | brass       | treble | -4/-7   | F  | breath | 61 | brass.french-horn
trumpet-in-bb         | Trumpet in B♭           | Tpt.       | brass       | treble | -1/-2   | B♭ | breath | 57 | brass.trumpet.bflat
trumpet-in-c          | Trumpet in C            | C Tpt.     | brass       | treble | 0/0     | -  | breath | 57 | brass.trumpet.c
cornet-in-bb          | Cornet in B♭            | Cor.       | brass       | treble | -1/-2   | B♭ | breath | 57 | brass.cornet
flugelhorn-in-bb      | Flugelhorn in B♭        | Flug.      | brass       | treble | -1/-2   | B♭ | breath | 57 | brass.flugelhorn
trombone              | Trombone                | Tbn.       | brass       | bass   | 0/0     | -  | breath | 58 | brass.trombone.tenor
bass-trombone         | Bass trombone           | B. Tbn.    | brass       | bass   | 0/0     | -  | breath | 58 | brass.trombone.bass
euphonium-bass-clef   | Euphonium (bass clef)   | Euph.      | brass       | bass   | 0/0     | -  | breath | 59 | brass.euphonium
euphonium-treble-clef | Euphonium (treble clef) | Euph. T.C. | brass       | treble | -8/-14  | B♭ | breath | 59 | brass.euphonium
tuba                  | Tuba                    | Tuba       | brass       | bass   | 0/0     | -  | breath | 59 | brass.tuba
soprano-recorder      | Soprano recorder        | S. Rec.    | recorder    | treble | 7/12    | -  | breath | 75 | wind.flutes.recorder.soprano
alto-recorder         | Alto recorder           | A. Rec.    | recorder    | treble | 0/0     | -  | breath | 75 | wind.flutes.recorder.alto
tenor-recorder        | Tenor recorder          | T. Rec.    | recorder    | treble | 0/0     | -  | breath | 75 | wind.flutes.recorder.tenor
bass-recorder         | Bass recorder           | B. Rec.    | recorder    | bass   | 7/12    | -  | breath | 75 | wind.flutes.recorder.bass
violin                | Violin                  | Vln.       | strings     | treble | 0/0     | -  | -      | 41 | strings.violin
viola                 | Viola                   | Vla.       | strings     | alto   | 0/0     | -  | -      | 42 | strings.viola
cello                 | Cello                   | Vc.        | strings     | bass   | 0/0     | -  | -      | 43 | strings.cello
double-bass           | Double bass             | D.B.       | strings     | bass   | -7/-12  | -  | -      | 44 | strings.contrabass
guitar                | Guitar                  | Gtr.       | plucked     | treble | -7/-12  | -  | -      | 25 | pluck.guitar.nylon-string
marimba               | Marimba                 | Mar.       | mallets     | treble | 0/0     | -  | -      | 13 | pitched-percussion.marimba
xylophone             | Xylophone               | Xyl.       | mallets     | treble | 7/12    | -  | -      | 14 | pitched-percussion.xylophone
vibraphone            | Vibraphone              | Vib.       | mallets     | treble | 0/0     | -  | -      | 12 | pitched-percussion.vibraphone
glockenspiel          | Glockenspiel            | Glock.     | mallets     | treble | 14/24   | -  | -      | 10 | pitched-percussion.glockenspiel
piano-right-hand      | Piano (right hand)      | Pno. R.H.  | keyboard    | treble | 0/0     | -  | -      | 1  | keyboard.piano
`;

/** id | beginner | intermediate | advanced | professional | source of each of the four. */
export const RANGE_TABLE = `
piccolo               | D4-D6  | D4-F6  | D4-A6   | D4-C7   | M; F:S3, S5; M, between; F:S1, S2
flute                 | F4-D6  | C4-F6  | C4-C7   | C4-D7   | F:S4 gr 1-1½; F:S3, S4 gr 2; F:S3; F:S1, S6, S7
alto-flute            | F4-D6  | C4-F6  | C4-G6   | C4-C7   | M; M; F:S7 practical top; F:S1, S2
oboe                  | D4-A5  | C4-C6  | Bb3-D6  | Bb3-A6  | F:S4 gr 1½; F:S3, S8; F:S3; F:S2, S6, S9
english-horn          | D4-A5  | C4-C6  | B3-E6   | B3-G6   | M; M; M, between (practical top); F:S1, S9
bassoon               | F2-D4  | Bb1-F4 | Bb1-Bb4 | Bb1-Eb5 | M; F:S3, S10; F:S3; F:S2, S6
clarinet-in-eb        | E3-Bb4 | E3-D6  | E3-G6   | E3-G6   | M; F:S3 (soprano clarinet); F:S3; F:S11
clarinet-in-bb        | E3-Bb4 | E3-D6  | E3-G6   | E3-C7   | F:S4 gr 1 (below break); F:S3; F:S3; F:S1, S12
clarinet-in-a         | E3-Bb4 | E3-D6  | E3-G6   | E3-C7   | M; M; M, as the B♭ clarinet; F:S1
bass-clarinet         | E3-Bb4 | E3-A5  | E3-C6   | Eb3-G6  | M; F:S3; F:S3; F:S1
soprano-saxophone     | D4-B5  | C4-D6  | Bb3-F6  | Bb3-F6  | F:S4 (sax); F:S3 (all saxophones); F:S3; F:S2, S13
alto-saxophone        | D4-B5  | C4-D6  | Bb3-F6  | Bb3-F6  | F:S4 gr 1½; F:S3; F:S3; F:S2, S13, S14
tenor-saxophone       | D4-B5  | C4-D6  | Bb3-F6  | Bb3-F6  | F:S4; F:S3; F:S3; F:S2, S14
baritone-saxophone    | D4-B5  | C4-D6  | Bb3-F6  | Bb3-F6  | F:S4; F:S3; F:S3; F:S2, S14
horn-in-f             | A3-B4  | F3-F5  | F3-A5   | F#2-C6  | F:S4 gr 1½; F:S3; F:S3; F:S33, S6, S15
trumpet-in-bb         | B3-D5  | F#3-G5 | F#3-C6  | F#3-C6  | F:S4 gr 1½; F:S3; F:S3; F:S15, S16, S17
trumpet-in-c          | B3-D5  | F#3-G5 | F#3-C6  | F#3-C6  | M; M; M, as the B♭ trumpet; F:S16 (C and Bb together)
cornet-in-bb          | B3-D5  | F#3-G5 | F#3-C6  | F#3-C6  | M (as trumpet); M (as trumpet); M, as the B♭ trumpet; M, S17
flugelhorn-in-bb      | B3-D5  | F#3-G5 | F#3-C6  | F#3-C6  | M; M; M, as the B♭ trumpet; M, S9 gives F#3-E6
trombone              | A2-C4  | E2-F4  | E2-Bb4  | E2-Bb4  | F:S4 gr 1½; F:S3; F:S3; F:S19, S20
bass-trombone         | A2-C4  | E2-F4  | Bb1-F4  | Bb1-Bb4 | M (start on tenor); M; F:S3; F:S21, low Bb1 in S3 (HS)
euphonium-bass-clef   | A2-C4  | E2-F4  | E2-Bb4  | B1-C5   | F:S4 (baritone); F:S3 (baritone BC); F:S3 baritone, bass clef; F:S22 (4-valve comp.)
euphonium-treble-clef | B3-D5  | F#3-G5 | F#3-C6  | C#3-D6  | F:S4 transposed; F:S3 (baritone TC); F:S3 baritone, treble clef; F:S22
tuba                  | Bb1-D3 | E1-F3  | E1-Bb3  | D1-F4   | F:S4 gr 1½; F:S3; F:S3; F:S6, S23
soprano-recorder      | C4-E5  | C4-A5  | C4-C6   | C4-D6   | M; M; M, between; F:S25 low note, S26
alto-recorder         | F4-G5  | F4-D6  | F4-F6   | F4-G6   | M; M; M, between; F:S25, S26
tenor-recorder        | C4-E5  | C4-A5  | C4-C6   | C4-D6   | M; M; M, between; F:S25, S26
bass-recorder         | F2-G3  | F2-D4  | F2-F4   | F2-G4   | M; M; M, between; F:S25, S26
violin                | G3-B5  | G3-D6  | G3-B6   | G3-E7   | F:S27 (1st pos.); F:S27 (3rd pos.); F:S34 practical top; F:S27, S6
viola                 | C3-E5  | C3-G5  | C3-C6   | C3-E6   | M (1st pos.); M (3rd pos.); F:S34 practical top; F:S2, S6
cello                 | C2-D4  | C2-G4  | C2-C5   | C2-C6   | M (1st pos.); F:S28 and M (4th pos., 4th finger); F:S34 practical top; F:S2, S6
double-bass           | E2-D4  | E2-G4  | E2-A4   | E2-D5   | F:S29 positions and M pitches; F:S29 and M; F:S34 practical top; F:S6
guitar                | E3-G5  | E3-E6  | E3-G6   | E3-B6   | M (frets 0-3); F:S1, S2 (12th fret); M, between; F:S30 (19 frets)
marimba               | C4-C6  | C3-C7  | A2-C7   | C2-C7   | M; F:S31; F:S32 the common 4.3 octaves; F:S31, S32
xylophone             | C4-C6  | F3-C7  | F3-C7   | F3-C7   | M; F:S32; F:S32; F:S32, S15
vibraphone            | C4-C6  | F3-F6  | F3-F6   | F3-F6   | M; F:S32; F:S32; F:S32, S15
glockenspiel          | C4-A5  | G3-C6  | G3-C6   | G3-C6   | M; F:S15; F:S15; F:S15
piano-right-hand      | C4-G5  | G3-E6  | C3-C7   | C3-C8   | M; M; M, between; M (keyboard A0-C8)
`;

export const SOURCES: Readonly<Record<string, string>> = {
  S1: 'orchestralibrary.com, reftables/rang.html',
  S2: 'a copy of orchestralibrary.com, reftables/rang.html',
  S3: 'docsbay.net, District and All-State chromatic scale requirements (Georgia)',
  S4: 'nemusicpub.com, grading',
  S5: 'rdbflute.com, fbainfo.html; docest.com, doc 195427 (Florida)',
  S6: 'compositionteaching.com, instrument ranges (second-hand)',
  S7: 'music-world.org, flute oboe clarinet bassoon saxophone',
  S8: 'orangecmeany.org, all-county scale requirements',
  S9: 'a composition handbook, issuhub.com 5685, pages 191, 193, 198',
  S10: 'bandestration.com, 2015-04-21, bassoons part 6',
  S11: 'wikimili.com, E-flat clarinet',
  S12: 'clarinetlist.com, the guidelines',
  S13: 'profilbaru.com, alto saxophone',
  S14: 'musicalinstruments-info.blogspot.com, saxophone, 2021-09',
  S15: 'studystack.com, flashcards 697185',
  S16: 'uv.es, clil ePortfolio, trumpet',
  S17: 'newyorkbrass.com, brass basics; a maker’s trumpet handbook',
  S19: 'pinocchiopedia.com, Posaune',
  S20: 'inmusica.fr, trombone step 1; whistleandflute.net, range of the trombone',
  S21: 'spiegato.com, trombone',
  S22: 'review.clateway.com, euphonium (citing Herbert, Myers, Wallace 2019)',
  S23: 'cinemagicscoring.com, five common mistakes, part 1',
  S25: 'professionalcomposers.com 12311; srp.org.uk, recorder family; liquisearch.com, recorder notation',
  S26: 'ledm/earthsystemmusic2, midiranges.py',
  S27: 'Grove, Dictionary of Music and Musicians, Positions',
  S28: 'uidaho.pressbooks.pub, violoncellschule',
  S29: 'docslib.org 12446430 (orchestra series guidelines)',
  S30: 'a classical guitar range table (second-hand)',
  S31: 'liquisearch.com, marimba range',
  S32: 'trpercussion.com, pitch range and notation',
  S33: 'wagner-tuba.com, French horn range',
  S34: 'Kennan, practical ranges, freezingblue.com 55644 (second-hand)',
};
