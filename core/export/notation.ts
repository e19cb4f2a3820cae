/** Exercises as MusicXML, plain or packed: all of a selection in one file. */
import { slug } from '../base/file-name.js';
import { good, type Issue, type Result } from '../base/issue.js';
import type { EditionSpec } from '../book/book.js';
import { pageSize, staffHeight } from '../book/defaults.js';
import { PAGE_SIZES } from '../book/page-size.js';
import { breathsOf } from '../breath/policy.js';
import { barsOf } from '../engrave/bars.js';
import { breathMarks } from '../layout/matter/breathing-pages.js';
import { musicXml } from '../output/musicxml/musicxml.js';
import { mxl } from '../output/musicxml/mxl.js';
import type { NotatedStaff } from '../output/notated-exercise.js';
import type { Line } from '../player/line.js';
import { type ExportFile, exportFile } from './export-file.js';
import { printedBreaks, type Selection } from './selection.js';

/** The line with the breath marks of its edition; without them where the air lasts at no tempo, which is told. */
export function withPrintedBreaths(line: Line, { breath }: EditionSpec): Result<NotatedStaff> {
  const found = breathsOf(line, breath);
  return found.ok ? good({ line, score: barsOf(line, breathMarks(found.value)) }, found.issues) : found;
}

export function notationFiles(selection: Selection, ending: 'musicxml' | 'mxl'): Result<ExportFile[]> {
  const { book, edition, lines, title, stem } = selection;
  const breaks = printedBreaks(selection);
  const issues: Issue[] = [];
  const pieces = [];
  for (const line of lines) {
    const own = withPrintedBreaths(line, edition);
    if (!own.ok) return own;
    issues.push(...own.issues);
    pieces.push({ title: line.exercise.title, lines: [own.value], ...breaks.get(line.exercise.id) });
  }
  const paper = { ...PAGE_SIZES[pageSize(book, edition)], margins: book.house.margins, staff: staffHeight(book, edition) };
  const xml = musicXml(pieces, { work: book.title, title, author: book.author, copyright: book.copyright, date: book.date, paper });
  const [only] = lines;
  const name = lines.length === 1 && only ? `${stem}-${slug(only.exercise.id)}` : stem;
  return good([exportFile(`${name}.${ending}`, ending === 'mxl' ? mxl(xml, name, book.date) : xml)], issues);
}
