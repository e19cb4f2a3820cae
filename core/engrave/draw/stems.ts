/** Stems: which way they point and how long they are. Source: Gould, Behind Bars, p. 14 (read). */
import { STYLE } from '../style.js';

/** Below the middle line (y greater than 2) up; on it and above, down. */
export const stemUp = (headY: number): boolean => headY > 2;

/** One direction for all stems of a beam: the head farthest from the middle line decides, a tie goes down. */
export function beamUp(headYs: readonly number[]): boolean {
  let below = Number.NEGATIVE_INFINITY;
  let above = Number.NEGATIVE_INFINITY;
  for (const y of headYs) {
    below = Math.max(below, y - 2);
    above = Math.max(above, 2 - y);
  }
  return below > above;
}

/** Two flags of a downward stem reach up to its head at 3½ spaces; this much longer they stay clear of it (measured on Sebastian 1.1). */
const DOWN_FLAGS = 0.55;

/** y of the free end of an unbeamed stem: 3½ spaces, longer where it must reach the middle line and for two flags and more. */
export function stemEnd(headY: number, up: boolean, flags: number): number {
  const length = STYLE.stemLength + Math.max(0, flags - 2) * STYLE.beamPitch + (flags >= 2 && !up ? DOWN_FLAGS : 0);
  return up ? Math.min(headY - length, 2) : Math.max(headY + length, 2);
}
