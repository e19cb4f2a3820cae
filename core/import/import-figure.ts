/** Figures in: the bytes of a MusicXML or MIDI file → degrees and rhythm that an author can go on writing with. */

import { assert, bad, error, good, type Issue, note, type Result, warning } from '../base/issue.js';
import { parseFigure } from '../exercise/figure.js';
import { parseRhythm } from '../exercise/rhythm.js';
import { CONTAINER } from '../output/musicxml/mxl.js';
import { readZipEntry } from '../output/zip.js';
import { type Key, keyWords } from '../theory/key.js';
import { metreText } from '../theory/metre.js';
import { parseClass } from '../theory/pitch.js';
import { degreesText } from './degrees.js';
import { guessKeys, type KeyGuess } from './find-key.js';
import type { Phrase } from './phrase.js';
import { readMidi } from './read-midi.js';
import { readMusicXml } from './read-musicxml.js';
import { noteValue, rhythmText } from './rhythm-text.js';
import { childOf, childrenOf, readXml } from './xml-reader.js';

export type ImportedFigure = {
  /** Degrees with signs against the major scale: to be read in the scale `major`. */
  readonly figure: string;
  readonly rhythm: string;
  /** Of written pitch in MusicXML, of sounding pitch in MIDI. */
  readonly key: Key;
  readonly keyFrom: 'given' | 'signature' | 'guessed';
  /** Of the key, 0 to 1; 1 when it was given. */
  readonly confidence: number;
  /** The next likeliest keys. */
  readonly others: readonly KeyGuess[];
  readonly metre: string | undefined;
  readonly title: string | undefined;
};

export type ImportOptions = { readonly key?: Key };

/** Largest file that is read, in bytes. */
export const MAX_IMPORT = 32 * 1024 * 1024;
const ARCHIVE = { entries: 200, bytes: MAX_IMPORT } as const;

/** Below this a guessed key comes with a warning. (House choice.) */
const SURE = 0.5;

/** Reads `Bb`, `F#m`, `a minor`: a tonic, and m or minor for minor. */
export function parseKey(source: string): Result<Key> {
  const match = /^\s*([A-Ga-g](?:b|#|♭|♯)?)\s*(m|min|minor|maj|major)?\s*$/.exec(source);
  const tonic = match?.[1] === undefined ? undefined : parseClass(match[1]);
  if (!tonic) return bad(error('unknown-key', [], `"${source}" is not a key; write one such as "Bb" or "F#m".`));
  return good({ tonic, mode: match?.[2]?.startsWith('m') && !match[2].startsWith('maj') ? 'minor' : 'major' });
}

const startsWith = (bytes: Uint8Array, text: string): boolean => [...text].every((c, i) => bytes[i] === c.charCodeAt(0));

/** The score inside a compressed file: the one its container names first. */
function unpacked(bytes: Uint8Array): Result<Uint8Array> {
  const missing = error('archive-without-score', [], 'The archive holds no MusicXML score; choose a file that ends in .mxl or .musicxml.');
  const container = readZipEntry(bytes, CONTAINER, ARCHIVE);
  if (!container.ok) return container;
  if (!container.value) return bad(missing);
  const root = readXml(container.value);
  if (!root.ok) return root;
  const [file] = childrenOf(childOf(root.value, 'rootfiles'), 'rootfile');
  const score = readZipEntry(bytes, file?.attributes['full-path'] ?? '', ARCHIVE);
  if (!score.ok) return score;
  return score.value ? good(score.value) : bad(missing);
}

/** What kind of file this is, by its first bytes and not by its name. */
function readPhrase(bytes: Uint8Array): Result<Phrase> {
  if (bytes.length === 0) return bad(error('file-empty', [], 'The file is empty (0 bytes); save or copy it again.'));
  if (bytes.length > MAX_IMPORT) {
    return bad(
      error('file-too-large', [], `The file is larger than ${MAX_IMPORT / 1024 / 1024} MB; choose a file that holds a single phrase.`),
    );
  }
  if (startsWith(bytes, 'MThd')) return readMidi(bytes);
  let score = bytes;
  if (startsWith(bytes, 'PK')) {
    const inside = unpacked(bytes);
    if (!inside.ok) return inside;
    score = inside.value;
  } else if (!/^(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?[\s\0]*</.test(String.fromCharCode(...bytes.subarray(0, 64)))) {
    return bad(error('not-a-score', [], 'This is neither MusicXML nor MIDI; choose a file that ends in .musicxml, .xml, .mxl or .mid.'));
  }
  const root = readXml(score);
  return root.ok ? readMusicXml(root.value) : root;
}

/**
 * The figure of a file, in the key given or in the likeliest one. Refused with an Issue: files that are empty, broken, too
 * large or full of tricks; chords, several voices or parts, percussion, microtones; more than a figure holds. Warning
 * `key-uncertain` when the key was guessed and others are nearly as likely.
 */
export function importFigure(bytes: Uint8Array, options: ImportOptions = {}): Result<ImportedFigure> {
  const read = readPhrase(bytes);
  if (!read.ok) return read;
  const { phrase, issues } = withPlainEnd(read.value);
  const [guess, ...others] = guessKeys(phrase);
  assert(guess, 'some key comes into question');
  const { key, confidence } = options.key ? { key: options.key, confidence: 1 } : guess;
  const rhythm = rhythmText(phrase.events);
  if (!rhythm.ok) return rhythm;
  const degrees = degreesText(phrase.events, key);
  if (!degrees.ok) return degrees;
  const figure = degrees.value + (rhythm.value.restAtEnd ? ' r' : '');
  for (const again of [parseFigure(figure), parseRhythm(rhythm.value.text)]) if (!again.ok) return bad(...again.issues);
  const keyFrom = options.key ? 'given' : others.length < 2 ? 'signature' : 'guessed';
  const uncertain = confidence < SURE ? [uncertainty(guess, others)] : [];
  return good(
    {
      figure,
      rhythm: rhythm.value.text,
      key,
      keyFrom,
      confidence,
      others: options.key ? [] : others.slice(0, 3),
      metre: phrase.metre && metreText(phrase.metre),
      title: phrase.title,
    },
    [...read.issues, ...issues, ...uncertain],
  );
}

/** A last note held over by a tie, as where a phrase fills its bar, is taken as it began when its length is no note value. */
function withPlainEnd(phrase: Phrase): { readonly phrase: Phrase; readonly issues: readonly Issue[] } {
  const last = phrase.events.at(-1);
  if (!last?.began || (!last.mixed && noteValue(last.duration, last.tuplet))) return { phrase, issues: [] };
  const { began, mixed: _, tuplet: __, ...plain } = last;
  const issue = note('last-note-shortened', [], 'The last note is held over by a tie; it is taken without what is tied to it.');
  return { phrase: { ...phrase, events: [...phrase.events.slice(0, -1), { ...plain, ...began }] }, issues: [issue] };
}

function uncertainty(guess: KeyGuess, others: readonly KeyGuess[]): ReturnType<typeof warning> {
  const next = others
    .slice(0, 2)
    .map(({ key }) => keyWords(key))
    .join(' or ');
  return warning(
    'key-uncertain',
    [],
    `The key is taken to be ${keyWords(guess.key)}, but it may be ${next}; name the key if that is wrong.`,
  );
}
