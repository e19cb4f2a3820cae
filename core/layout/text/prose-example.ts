/** Figures in an author's text, engraved for the player of the edition: `1 2 3 5` or `1 2 b3 5 in D`. */

import { first } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import type { Fonts } from '../../engrave/metrics.js';
import { degreeText } from '../../engrave/signed-text.js';
import { drawSnippet } from '../../engrave/snippet.js';
import { figureSpan, parseFigure, toneInterval, toneText } from '../../exercise/figure.js';
import type { Player } from '../../player/player.js';
import { classText, midi, type Pitch, parseClass, transpose } from '../../theory/pitch.js';
import type { Engrave } from '../page/geometry.js';

/** Heads of an example stand this many spaces apart. */
const STEP = 4;
const EXAMPLE_SHARE = 0.85;

/** The lowest root of this name on which the figure stays in the compass; the lowest in the compass if it never does. */
function rootFor(tonic: { letter: number; alter: number }, span: { low: number; high: number }, player: Player): Pitch {
  const { low, high } = player.compass;
  const roots = Array.from({ length: 9 }, (_, octave): Pitch => ({ ...tonic, octave })).filter(
    (root) => midi(root) + span.low >= midi(low),
  );
  return roots.find((root) => midi(root) + span.high <= midi(high)) ?? first(roots);
}

export function examplesFor(player: Player, fonts: Fonts, space: Pt): Engrave {
  return (text) => {
    const [degrees = '', name] = text.trim().split(/\s+in\s+/);
    const figure = parseFigure(degrees);
    const tonic = parseClass(name ?? 'C');
    if (!figure.ok || !tonic) return undefined;
    const root = rootFor(tonic, figureSpan(figure.value, 'major'), player);
    const notes = figure.value.tones.flatMap((tone) =>
      tone.kind === 'note' ? [{ pitch: transpose(root, toneInterval(tone, 'major')), label: degreeText(toneText(tone)) }] : [],
    );
    const drawing = drawSnippet({ clef: player.instrument.clef, fifths: 0, notes, value: 4, step: STEP }, fonts);
    return { drawing, scale: EXAMPLE_SHARE * space, alt: `Example: figure ${degrees} in ${classText(tonic)}.` };
  };
}
