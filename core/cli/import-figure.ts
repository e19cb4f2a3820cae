/** `twelvefold import-figure`: the degrees and rhythm of a phrase in a MusicXML or MIDI file. */
import { readFile, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { bad, error, good, type Result } from '../base/issue.js';
import { fileIssue } from '../disk/files.js';
import { type ImportedFigure, importFigure, MAX_IMPORT, parseKey } from '../import/import-figure.js';
import { keyText, keyWords } from '../theory/key.js';
import { EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

export type ImportFigureOptions = {
  /** The key to read the phrase in: `Bb`, `F#m`. */
  readonly key?: string;
  readonly json?: boolean;
};

/** Bytes of a plain file of bounded size, or why not. */
async function readBytes(name: string, terminal: Terminal): Promise<Result<Uint8Array>> {
  const path = resolve(terminal.cwd, name);
  try {
    const about = await stat(path);
    if (!about.isFile()) return bad(error('not-a-file', [], `"${name}" is not a plain file; name a MusicXML or MIDI file.`));
    if (about.size > MAX_IMPORT) {
      return bad(
        error('file-too-large', [], `"${name}" is larger than ${MAX_IMPORT / 1024 / 1024} MB; choose a file that holds a single phrase.`),
      );
    }
    return good(new Uint8Array(await readFile(path)));
  } catch (failure) {
    const issue = fileIssue(failure, name);
    if (!issue) throw failure;
    return bad(issue);
  }
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

function shown({ figure, rhythm, key, keyFrom, confidence, others, metre, title }: ImportedFigure): string {
  const next = others.map((other) => `${keyWords(other.key)} ${percent(other.confidence)}`).join(', ');
  const how = {
    given: 'as you said',
    signature: `from the key signature, ${percent(confidence)} sure`,
    guessed: `guessed, ${percent(confidence)} sure${next ? `; else ${next}` : ''}`,
  }[keyFrom];
  return [
    ...(title === undefined ? [] : [`Title:  ${title}`]),
    `Figure: ${figure}`,
    `Rhythm: ${rhythm}`,
    `Key:    ${keyWords(key)} (${how})`,
    ...(metre === undefined ? [] : [`Metre:  ${metre}`]),
    '',
  ].join('\n');
}

export async function importFigureCommand(name: string, options: ImportFigureOptions, terminal: Terminal): Promise<ExitCode> {
  const key = options.key === undefined ? undefined : parseKey(options.key);
  const bytes = key?.ok === false ? key : await readBytes(name, terminal);
  const found = bytes.ok ? importFigure(bytes.value, key?.ok ? { key: key.value } : {}) : bytes;
  if (options.json) {
    const value = found.ok ? found.value : undefined;
    tellJson(terminal, {
      ok: found.ok,
      issues: found.issues,
      ...(value && {
        ...value,
        key: keyText(value.key),
        others: value.others.map((other) => ({ key: keyText(other.key), confidence: other.confidence })),
      }),
    });
  } else {
    tellIssues(terminal, found.issues);
    if (found.ok) terminal.out(shown(found.value));
  }
  return found.ok ? EXIT.ok : EXIT.mistakes;
}
