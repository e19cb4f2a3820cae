/**
 * Air as a reservoir of seconds: full at the lung time T, falling with time while sound lasts, refilled by breaths and rests.
 *
 * A breath of b seconds leaves R = T - (T - R) exp(-b / 0.7). At full effort about 94 % of an inspired vital capacity
 * enters in the first second (BMC Pulm Med 2017;17:48, table 3: FIV1 over FIVC), which gives 0.36 s; a musical breath is
 * taken to be half as fast. Weak, like the two lengths below.
 */

/** Seconds in which a musical breath moves all but 1/e of what is missing. */
export const REFILL = 0.7;

/** Seconds of a quick breath between two notes; plausible 0.25 to 0.6. */
export const CATCH_BREATH = 0.4;

/** Seconds of an unhurried breath; plausible 0.7 to 1.5. */
export const FULL_BREATH = 1;

/** Share of the note before that an unhurried breath in time may take at most. (House choice: half a note still sounds like the note.) */
export const LARGEST_SHARE = 0.5;

/** Share that a quick breath may take of a short note: it is clipped, as players do rather than come late. (House choice.) */
export const QUICK_SHARE = 0.75;

/**
 * Seconds that a note of so many seconds gives up for a breath in time: of a long note half, up to `longest`; of a short
 * one what a quick breath needs, up to three quarters.
 */
export const stolenFrom = (note: number, longest: number, quick: number): number =>
  Math.max(Math.min(longest, LARGEST_SHARE * note), Math.min(quick, longest, QUICK_SHARE * note));

/** Part of the missing air that is still missing after a breath of so many seconds. */
export const stillMissing = (breath: number): number => Math.exp(-breath / REFILL);

/** Air in seconds after a breath. */
export const refilled = (air: number, lungs: number, breath: number): number => lungs - (lungs - air) * stillMissing(breath);
