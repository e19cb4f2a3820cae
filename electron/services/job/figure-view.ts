/** A figure and single notes on a staff of their own. */
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import type { Workshop } from '../../../core/build/workshop.js';
import type { Fonts } from '../../../core/engrave/metrics.js';
import { drawSnippet } from '../../../core/engrave/snippet.js';
import { parseFigure, toneInterval, toneText } from '../../../core/exercise/figure.js';
import { figureById } from '../../../core/exercise/figure-library.js';
import { drawingSvg } from '../../../core/output/picture/svg.js';
import type { Clef } from '../../../core/player/player.js';
import { midi, type Pitch, parsePitch, transpose } from '../../../core/theory/pitch.js';
import type { FigureView } from '../contract/answers/figure.js';
import type { Answer, Ask } from '../contract/questions.js';

type Drawing = { readonly shop: Workshop; readonly fonts: Fonts };

/** Middle of each clef, where an example from C stands well. */
const EXAMPLE_ROOT: Readonly<Record<Clef, Pitch>> = {
  treble: { letter: 0, alter: 0, octave: 4 },
  alto: { letter: 0, alter: 0, octave: 4 },
  tenor: { letter: 0, alter: 0, octave: 3 },
  bass: { letter: 0, alter: 0, octave: 3 },
};

export function figureView(ask: Ask<'figure'>, { fonts, shop }: Drawing): Result<FigureView> {
  const entry = ask.library === undefined ? undefined : figureById(ask.library);
  if (entry && !entry.ok) return entry;
  const figure = entry ? good(entry.value.figure) : parseFigure(ask.text ?? '');
  if (!figure.ok) return figure;
  const scale = entry?.value.scale ?? 'major';
  const tones = figure.value.tones;
  const root = EXAMPLE_ROOT[ask.clef];
  const pitches = tones.map((tone) => (tone.kind === 'note' ? transpose(root, toneInterval(tone, scale)) : undefined));
  const notes = tones.flatMap((tone, i) => {
    const pitch = pitches[i];
    return pitch ? [{ pitch, label: toneText(tone) }] : [];
  });
  const words = `The figure ${figure.value.text} from C`;
  const svg = shop.cache.cached(['figure', figure.value.text, scale, ask.clef], () =>
    drawingSvg(drawSnippet({ clef: ask.clef, fifths: 0, notes, value: 4, step: 2.4 }, fonts), fonts, { title: words, scale: 6 }),
  );
  return good({ svg, keys: pitches.map((pitch) => pitch && midi(pitch)), words });
}

export function staffView({ clef, notes }: Ask<'staff'>, { fonts, shop }: Drawing): Result<Answer<'staff'>> {
  const pitches = notes.flatMap((note) => parsePitch(note) ?? []);
  if (pitches.length < notes.length) return bad(error('not-a-note', [], 'Write notes with their octave, such as Bb3.'));
  const shown = pitches.map((pitch) => ({ pitch, label: '' }));
  const svg = shop.cache.cached(['staff', clef, notes], () =>
    drawingSvg(drawSnippet({ clef, fifths: 0, notes: shown, value: 1, step: 7 }, fonts), fonts, {
      title: `${notes.join(' to ')} on the staff`,
      scale: 6,
    }),
  );
  return good({ svg });
}
