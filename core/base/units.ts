/** Lengths with their unit in the type, so that points, millimetres and staff spaces cannot mix. */

declare const unit: unique symbol;
/** PostScript point, 1/72 inch. */
export type Pt = number & { readonly [unit]?: 'pt' };
export type Mm = number & { readonly [unit]?: 'mm' };
/** Staff space: the distance between two neighbouring staff lines. */
export type Sp = number & { readonly [unit]?: 'sp' };

export function mmToPt(mm: Mm): Pt {
  return (mm * 72) / 25.4;
}

export function ptToMm(pt: Pt): Mm {
  return (pt * 25.4) / 72;
}

export function inchToPt(inches: number): Pt {
  return inches * 72;
}

/** Points per staff space for a staff of this height (a staff is four spaces high). */
export function spaceOf(staffHeight: Mm): Pt {
  return mmToPt(staffHeight) / 4;
}
