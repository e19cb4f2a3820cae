/** VexFlow measures text through a canvas; outside a browser the numbers come from the music font's own file. */
import { Element } from 'vexflow/core';
import type { Fonts } from '../core/engrave/metrics.js';

type Measured = Record<'width' | `${'actual' | 'font'}BoundingBox${'Ascent' | 'Descent'}` | `actualBoundingBox${'Left' | 'Right'}`, number>;

/** Installs the measuring for all of VexFlow. A type size of 30 pt is 40 px, four staff spaces. Every answer is kept. */
export function measureWith(fonts: Fonts): void {
  const font = fonts.opened('music');
  const known = new Map<string, Measured>();
  const context = {
    font: '',
    measureText(text: string): Measured {
      const id = `${context.font}\0${text}`;
      let found = known.get(id);
      if (!found) {
        const size = Number(/([\d.]+)pt/.exec(context.font)?.[1] ?? 30);
        const scale = (size * 4) / 3 / font.unitsPerEm;
        const { bbox, advanceWidth } = font.layout(text);
        found = {
          width: advanceWidth * scale,
          actualBoundingBoxAscent: bbox.maxY * scale,
          actualBoundingBoxDescent: -bbox.minY * scale,
          actualBoundingBoxLeft: -bbox.minX * scale,
          actualBoundingBoxRight: bbox.maxX * scale,
          fontBoundingBoxAscent: font.ascent * scale,
          fontBoundingBoxDescent: -font.descent * scale,
        };
        known.set(id, found);
      }
      return found;
    },
  };
  Element.setTextMeasurementCanvas({ getContext: () => context } as never);
}
