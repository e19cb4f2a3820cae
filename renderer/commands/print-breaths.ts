/** The breather and the manner of the breath panel, written into the edition that is shown, so that they are printed. */
import { editionObject, printedBreath, printBreaths as withBreaths } from '../edits/book.js';
import { breathFacts, studentAt } from '../edits/breather.js';
import { edit } from '../state/history.js';
import { instrumentName } from '../state/instrument-names.js';
import { now, OF_EDITION, say } from '../state/state.js';
import { CHANGE, T } from '../texts/texts.js';

export function printBreaths(): void {
  const { book, edition, breather, roster, lists, shown } = now();
  const given = book?.source.editions[edition];
  const breathing = shown?.exercise?.breathing;
  if (!book || given === undefined || !breathing) return;
  const facts =
    breather === OF_EDITION
      ? printedBreath(book.source, edition).player
      : breathFacts(studentAt(roster?.source, breather), breather, breathing.lungSeconds);
  const name = instrumentName(lists, editionObject(given).instrument);
  edit('book', { name: CHANGE.breaths(name) }, (it) => withBreaths(it, edition, facts, breathing.manner));
  say(T.exercise.printed(name));
}
