/** The circle of keys and the table of signatures, in the pitch that the player reads. */

import type { Pt } from '../../base/units.js';
import type { Fonts } from '../../engrave/metrics.js';
import { type Key, keyAtFifths, keyFifths, keyText, signatureLetters } from '../../theory/key.js';
import { accidentalText, classText, letterName } from '../../theory/pitch.js';
import { bodyOf, type MatterPage, type Setting } from '../page/geometry.js';
import type { PageItem, PathStep, Tag } from '../page/page.js';
import { lineOf, type Span, spanOf, textItems } from '../text/text.js';
import type { TypeStyle } from '../text/type-style.js';
import { pageHeading } from './heading.js';
import { type Cell, tablePages } from './table.js';

export type KeyChart = {
  /** Concert key that sounds when the player reads this one; without it the column is left out. */
  readonly concert?: (written: Key) => Key;
};

const ARTIFACT: Tag = { kind: 'artifact', type: 'layout' };

/** Control points of a quarter circle stand this share of the radius from its ends (the usual cubic approximation). */
const KAPPA = 0.5523;

/** A full circle as four cubic curves. */
export function circle(x: Pt, y: Pt, r: Pt): PathStep[] {
  const k = KAPPA * r;
  return [
    ['M', x + r, y],
    ['C', x + r, y + k, x + k, y + r, x, y + r],
    ['C', x - k, y + r, x - r, y + k, x - r, y],
    ['C', x - r, y - k, x - k, y - r, x, y - r],
    ['C', x + k, y - r, x + r, y - k, x + r, y],
    ['Z'],
  ];
}

/** `2♯`, `3♭`, `0`. */
export const signatureText = (fifths: number): string => (fifths === 0 ? '0' : `${Math.abs(fifths)}${accidentalText(Math.sign(fifths))}`);

/** The keys at a place of the circle, 0 at the top and on clockwise: one spelling, or at 5, 6 and 7 the two in use. */
export function fifthsAt(place: number): readonly number[] {
  if (place === 5) return [5, -7];
  if (place === 6) return [6, -6];
  if (place === 7) return [-5, 7];
  return [place < 5 ? place : place - 12];
}

/** The rings of a circle of keys round its centre, by their radii: names stand in the middle between them. */
type Rings = { readonly x: Pt; readonly y: Pt; readonly rim: Pt; readonly outer: Pt; readonly middle: Pt; readonly inner: Pt };

/** A point at a place of the circle, so far from its centre. */
function pointAt({ x, y }: Rings, place: number, radius: Pt): readonly [Pt, Pt] {
  const angle = (place * Math.PI) / 6 - Math.PI / 2;
  return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
}

const scaled = (style: TypeStyle, by: number, font = style.font): TypeStyle => ({
  ...style,
  font,
  size: by * style.size,
  leading: by * style.leading,
});

/** Majors outside, relative minors inside, number of sharps or flats at the rim. `size` is the diameter in points. */
export function circleOfKeys(x: Pt, y: Pt, size: Pt, { fonts, styles }: Setting): PageItem[] {
  const rim = size / 2;
  const rings: Rings = { x, y, rim, outer: 0.86 * rim, middle: 0.6 * rim, inner: 0.36 * rim };
  const share = Math.min(1.6, size / (26 * styles.chart.size));
  const looks: CircleLooks = {
    major: scaled(styles.chart, 1.3 * share, 'bold'),
    minor: scaled(styles.chart, share),
    count: scaled(styles['chart-small'], share),
  };
  const circles = [rings.outer, rings.middle, rings.inner].map(
    (r): PageItem => ({ kind: 'path', d: circle(x, y, r), stroke: 0.6, tag: ARTIFACT }),
  );
  const places = Array.from({ length: 12 }, (_, place) => [borderAfter(place, rings), ...keysOfPlace(place, rings, looks, fonts)]);
  return [...circles, ...places.flat()];
}

/** The line between a place of the circle and the next. */
function borderAfter(place: number, rings: Rings): PageItem {
  const [from, to] = [pointAt(rings, place + 0.5, rings.inner), pointAt(rings, place + 0.5, rings.outer)];
  const d: PathStep[] = [
    ['M', ...from],
    ['L', ...to],
  ];
  return { kind: 'path', d, stroke: 0.35, tag: ARTIFACT };
}

type CircleLooks = { readonly major: TypeStyle; readonly minor: TypeStyle; readonly count: TypeStyle };

/** The names of the keys at a place of the circle and the number of their signs, each in its ring. */
function keysOfPlace(place: number, rings: Rings, { major, minor, count }: CircleLooks, fonts: Fonts): PageItem[] {
  const { outer, middle, inner, rim } = rings;
  const tag: Tag = { kind: 'element', type: 'LI', id: `circle-${place}` };
  const centred = (names: readonly string[], style: TypeStyle, radius: Pt): PageItem[] => {
    const [cx, cy] = pointAt(rings, place, radius);
    const step = 1.05 * style.size;
    return names.flatMap((name, i) => {
      const baseline = cy + 0.335 * style.size + (i - (names.length - 1) / 2) * step;
      return textItems(lineOf([spanOf(name, style)], { left: cx - rim, right: cx + rim }, baseline, style.size, 'center', fonts), tag);
    });
  };
  const fifths = fifthsAt(place);
  const names = (mode: Key['mode']): string[] => fifths.map((f) => keyText(keyAtFifths(f, mode)));
  // Two spellings share a field, so both are set smaller.
  const two = fifths.length > 1 ? 0.78 : 1;
  return [
    ...centred(names('major'), scaled(major, two), (outer + middle) / 2),
    ...centred(names('minor'), scaled(minor, two), (middle + inner) / 2),
    ...centred([fifths.map(signatureText).join('\u2009/\u2009')], count, (outer + rim) / 2 + 0.02 * rim),
  ];
}

/** What a player would call a key that sounds: seven signs and more become five and fewer. */
function withSignature(key: Key): Key {
  const fifths = keyFifths(key);
  return Math.abs(fifths) <= 6 ? key : keyAtFifths(fifths - 12 * Math.sign(fifths), key.mode);
}

/** The circle on a page, then a table of the fifteen signatures with their signs in the order they are written. */
export function keyChartPages({ concert }: KeyChart, setting: Setting): MatterPage[] {
  const { geometry, styles, fonts } = setting;
  const body = bodyOf(geometry, styles);
  const heading = pageHeading('Keys and Signatures', 'key-chart', body, setting);
  const cell = styles['table-cell'];
  const rowHeight = 1.25 * cell.leading;
  const table = (15 + 1.4) * rowHeight;
  const size = Math.min(body.width, body.bottom - heading.bottom - table - 2 * styles.chart.leading);
  const centre = { x: (body.left + body.right) / 2, y: heading.bottom + size / 2 };
  const items: PageItem[] = [...heading.items, ...circleOfKeys(centre.x, centre.y, size, setting)];
  const caption: Span[] = [spanOf('major', { ...styles.caption }), spanOf('minor', { ...styles.caption })];
  const middle = { left: centre.x - size / 2, right: centre.x + size / 2 };
  caption.forEach((span, i) => {
    const tag: Tag = { kind: 'element', type: 'P', id: `key-chart-${span.text}` };
    const y = centre.y + (i === 0 ? -0.25 : 0.95) * styles.caption.size;
    items.push(
      ...textItems(
        lineOf([{ ...span, text: i === 0 ? 'outside: major' : 'inside: minor' }], middle, y, styles.caption.size, 'center', fonts),
        tag,
      ),
    );
  });

  const em = cell.size;
  const head = styles['table-head'];
  const columns = [
    { width: 5.5 * em, align: 'center' as const, head: [spanOf('Signature', head)] },
    { width: 5 * em, align: 'center' as const, head: [spanOf('Major', head)] },
    { width: 5 * em, align: 'center' as const, head: [spanOf('Minor', head)] },
    { width: 16 * em, align: 'left' as const, head: [spanOf('Sharps or flats, in order', head)] },
    ...(concert ? [{ width: 9 * em, align: 'left' as const, head: [spanOf('Sounds in concert', head)] }] : []),
  ];
  const rows = Array.from({ length: 15 }, (_, i): Cell[] => {
    const fifths = i - 7;
    const [major, minor] = [keyAtFifths(fifths, 'major'), keyAtFifths(fifths, 'minor')];
    const letters = signatureLetters(fifths).map((letter) => letterName(letter) + accidentalText(Math.sign(fifths)));
    const words = [
      signatureText(fifths),
      classText(major.tonic),
      classText(minor.tonic),
      letters.length > 0 ? letters.join('\u2002') : 'none',
    ];
    const sounds = concert ? [`${keyText(withSignature(concert(major)))}, ${keyText(withSignature(concert(minor)))}`] : [];
    return [...words, ...sounds].map((text) => ({ spans: [spanOf(text, cell)] }));
  });
  const top = heading.bottom + size + 1.2 * styles.chart.leading;
  return [...tablePages({ columns, rows, rowHeight, grid: false, id: 'key-chart' }, 'appendix', items, top, setting).pages];
}
