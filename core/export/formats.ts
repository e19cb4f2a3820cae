/** The table of export formats for a single player: for each name, who makes its files. */
import { slug } from '../base/file-name.js';
import { good, type Issue, type Result } from '../base/issue.js';
import { brailleText, brfFile } from '../output/braille/braille.js';
import type { NotatedStaff } from '../output/notated-exercise.js';
import { openPngPainter, type PaintPicture, type Rasteriser } from '../output/picture/png.js';
import { exerciseSlides, keySlides, type SlideOptions } from '../output/picture/slides.js';
import { type AudioOptions, practiceAudio } from '../output/sound/audio.js';
import { midiExport } from '../output/sound/midi.js';
import { spokenText } from '../output/words/spoken.js';
import type { Line } from '../player/line.js';
import { type ExportFile, exportFile } from './export-file.js';
import type { Format } from './format-names.js';
import { notationFiles, withPrintedBreaths } from './notation.js';
import type { Selection } from './selection.js';
import { performed, performedFaster, type SoundWish } from './sound.js';

export type Wishes = SoundWish &
  AudioOptions &
  SlideOptions & {
    /** Runs from the slowest to the fastest tempo of the exercise. */
    readonly ladder?: number;
    readonly eachKey?: boolean;
  };

/** Who paints the PNG pictures: this thread when it comes to writing them, by its rasteriser; or others, at once. */
export type Painter = Rasteriser | { readonly paint: PaintPicture };

type Request = { readonly selection: Selection; readonly wishes: Wishes; readonly painter: Painter };
type Files = Result<readonly ExportFile[]>;

/** Makes all of a selection in one go, or exercise by exercise; `name` is that of the file without what is behind its dot. */
type Maker =
  | { readonly whole: (request: Request) => Files }
  | { readonly each: (line: Line, name: string, request: Request) => Files | Promise<Files> };

/** The printed line written in one file. */
const written = (ending: string, write: (title: string, own: NotatedStaff) => Uint8Array | string): Maker => ({
  each(line, name, { selection }) {
    const own = withPrintedBreaths(line, selection.edition);
    return own.ok ? good([exportFile(`${name}.${ending}`, write(line.exercise.title, own.value))], own.issues) : own;
  },
});

async function pictures(line: Line, name: string, { selection, wishes, painter }: Request, ending: 'svg' | 'png'): Promise<Files> {
  const own = withPrintedBreaths(line, selection.edition);
  if (!own.ok) return own;
  const slides = wishes.eachKey ? keySlides(line, selection.fonts, wishes) : exerciseSlides(own.value, selection.fonts, wishes);
  const nameOf = (i: number): string => `${name}${slides.length > 1 ? `-${String(i + 1).padStart(2, '0')}` : ''}.${ending}`;
  if (ending === 'svg')
    return good(
      slides.map(({ svg }, i) => exportFile(nameOf(i), svg)),
      own.issues,
    );
  if (typeof painter !== 'function') {
    const painted = await Promise.all(slides.map(({ svg, width }) => painter.paint(svg, width)));
    return good(
      painted.map((png, i) => exportFile(nameOf(i), png)),
      own.issues,
    );
  }
  const paint = await openPngPainter(painter);
  return good(
    slides.map(({ svg, width }, i) => ({ name: nameOf(i), chunks: () => [paint(svg, width)] })),
    own.issues,
  );
}

function midi(line: Line, name: string, { selection, wishes }: Request): Files {
  const run = performed(line, selection.edition.breath, wishes);
  return run.ok ? good([exportFile(`${name}.mid`, midiExport(line.exercise.title, [run.value]))], run.issues) : run;
}

function sound(line: Line, name: string, { selection, wishes }: Request): Files {
  const { breath } = selection.edition;
  const one = wishes.ladder === undefined ? performed(line, breath, wishes) : undefined;
  const runs = one ? (one.ok ? good([one.value], one.issues) : one) : performedFaster(line, breath, wishes, wishes.ladder ?? 1);
  if (!runs.ok) return runs;
  const audio = practiceAudio(runs.value, wishes);
  return audio.ok ? good([{ name: `${name}.wav`, chunks: audio.value.chunks }], runs.issues) : audio;
}

const MAKERS: { readonly [F in Format]: Maker } = {
  musicxml: { whole: ({ selection }) => notationFiles(selection, 'musicxml') },
  mxl: { whole: ({ selection }) => notationFiles(selection, 'mxl') },
  midi: { each: midi },
  wav: { each: sound },
  svg: { each: (line, name, request) => pictures(line, name, request, 'svg') },
  png: { each: (line, name, request) => pictures(line, name, request, 'png') },
  brf: written('brf', brfFile),
  braille: written('braille.txt', brailleText),
  text: written('txt', spokenText),
};

/** The files of a selection in one format. Fails as a whole when one exercise cannot be written. */
export async function exportFiles(format: Format, selection: Selection, wishes: Wishes, painter: Painter): Promise<Files> {
  const maker = MAKERS[format];
  const request = { selection, wishes, painter };
  if ('whole' in maker) return maker.whole(request);
  // Others may paint the slides of one exercise while those of the next are set.
  const all = await Promise.all(selection.lines.map((line) => maker.each(line, `${selection.stem}-${slug(line.exercise.id)}`, request)));
  const files: ExportFile[] = [];
  const issues: Issue[] = [];
  for (const own of all) {
    if (!own.ok) return own;
    files.push(...own.value);
    issues.push(...own.issues);
  }
  return good(files, issues);
}
