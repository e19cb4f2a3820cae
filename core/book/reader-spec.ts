/** A student or a chair as an edition of the book: who reads, from what sheet, and how breaths are taken. */
import type { Mm } from '../base/units.js';
import type { BreathSettings } from '../breath/policy.js';
import type { Player } from '../player/player.js';
import type { EditionSpec, PageSize } from './book.js';

export type Reader = { readonly player: Player; readonly staff: Mm | undefined; readonly page: PageSize | undefined };

export const readerSpec = ({ player, staff, page }: Reader, breath: BreathSettings): EditionSpec => ({
  instrument: player.instrument.id,
  level: player.level,
  compass: player.compass,
  spelling: player.spelling,
  staff,
  page,
  breath,
});
