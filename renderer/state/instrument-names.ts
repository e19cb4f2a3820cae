/** Instruments by the id that a file gives them. */
import type { InstrumentEntry, Lists } from '../../electron/services/contract/answers/lists.js';

export const instrumentOf = (lists: Lists | undefined, id: string): InstrumentEntry | undefined =>
  lists?.instruments.find((it) => it.id === id);

/** An instrument that is not known is called by its id. */
export const instrumentName = (lists: Lists | undefined, id: string): string => instrumentOf(lists, id)?.name ?? id;
