/** Channels of MIDI for the parts of a piece. */

/** Channel 10 is for percussion. (General MIDI.) */
export const PERCUSSION = 9;
const PITCHED = 15;

/** From 0 both: a cable of sixteen channels, and one of its channels. */
export type Channel = { readonly port: number; readonly channel: number };

/**
 * A channel of its own for every part where one port has enough; else parts with one sound share a channel, and sounds beyond
 * fifteen have a second port. `programs` are those of the parts, in order.
 */
export function channelsOf(programs: readonly number[]): Channel[] {
  const sounds = [...new Set(programs)];
  return programs.map((program, part): Channel => {
    const place = programs.length <= PITCHED ? part : sounds.indexOf(program);
    const channel = place % PITCHED;
    return { port: Math.floor(place / PITCHED), channel: channel < PERCUSSION ? channel : channel + 1 };
  });
}
