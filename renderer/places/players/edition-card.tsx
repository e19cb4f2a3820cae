/** One instrument of the book: its reader, and the breath marks that it prints. */
import type { Issue } from '../../../core/base/issue.js';
import type { BookSource } from '../../../core/book/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { showEdition } from '../../commands/go.js';
import { EDITIONS, type EditionObject, editionObject, printedBreath } from '../../edits/book.js';
import { choices, Issues, Select } from '../../parts/fields.js';
import { issuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { instrumentName, instrumentOf } from '../../state/instrument-names.js';
import { useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { CompassField, InstrumentField, LevelField, type Reader, ReaderItem, SpellingField, stepOf } from './reader-form.js';

const P = T.players;

type Facts = ReturnType<typeof printedBreath>['player'];

/** A rough class, or `own` for facts about one player. */
const lungsOf = (facts: Facts) =>
  facts && Object.keys(facts).some((name) => name !== 'lungs') ? ('own' as const) : (facts?.lungs ?? 'adult');
const factsText = (facts: Facts): string => {
  const seconds = facts?.lungTime ?? facts?.longTone;
  return seconds === undefined ? '' : ` (${P.seconds(seconds.toFixed(1))})`;
};

type SetBreath = (breath: NonNullable<EditionObject['breath']>) => void;

function MarkFields({ source, index, set }: { readonly source: BookSource; readonly index: number; readonly set: SetBreath }) {
  const { print, player } = printedBreath(source, index);
  const lungs = lungsOf(player);
  return (
    <>
      <Select label={P.marks} value={print} options={choices(P.markNames)} onChange={(next) => set({ print: next })} />
      <Select
        label={P.marksFor}
        value={lungs}
        options={[...(lungs === 'own' ? [{ value: lungs, label: P.ownLungs(factsText(player)) }] : []), ...choices(P.lungClasses)]}
        onChange={(next) => next !== 'own' && set({ player: { lungs: next } })}
      />
    </>
  );
}

function EditionCard({ reader, index, issues }: { readonly reader: Reader; readonly index: number; readonly issues: readonly Issue[] }) {
  const source = useWindow((s) => s.book?.source);
  const { lists, source: edition } = reader;
  const instrument = instrumentOf(lists, edition.instrument);
  const name = instrumentName(lists, edition.instrument);
  if (!source) return null;
  const remove = () =>
    edit('book', { name: CHANGE.removeReader(name), edition: Math.max(0, index - 1) }, (it) => EDITIONS.remove(it, index));
  const setBreath: SetBreath = (part) =>
    edit('book', stepOf(CHANGE.reader(name), `edition ${index}`, { breath: part }), (it) => {
      const given = it.editions[index];
      return EDITIONS.set(it, index, { breath: { ...(given === undefined ? undefined : editionObject(given).breath), ...part } });
    });
  return (
    <div className="fields">
      <Issues issues={issues.filter(({ path }) => path[2] !== 'compass')} />
      <InstrumentField reader={reader} hint={instrument && (instrument.pitchedIn ? P.pitched(instrument.pitchedIn) : P.concert)} />
      <LevelField reader={reader} />
      <SpellingField reader={reader} standard={source.spelling?.tie ?? 'flats'} />
      {instrument?.breath && <MarkFields source={source} index={index} set={setBreath} />}
      <CompassField reader={reader} />
      <div className="row wide">
        <button type="button" onClick={remove}>
          {P.remove}: {name}
        </button>
      </div>
    </div>
  );
}

export function EditionItem({
  lists,
  index,
  issues,
}: {
  readonly lists: Lists;
  readonly index: number;
  readonly issues: readonly Issue[];
}) {
  const given = useWindow((s) => s.book?.source.editions[index]);
  const open = useWindow((s) => s.edition) === index;
  if (given === undefined) return null;
  const source = editionObject(given);
  const name = instrumentName(lists, source.instrument);
  const level = 'intermediate';
  const below = issuesAt(issues, 'editions', index);
  const reader: Reader = {
    lists,
    source,
    level,
    // The others stand at the head of the card.
    at: (field, ...path) => (field === 'compass' ? below(field, ...path) : []),
    set: (part) => edit('book', stepOf(CHANGE.reader(name), `edition ${index}`, part), (it) => EDITIONS.set(it, index, part)),
  };
  return (
    <ReaderItem
      title={name}
      hint={P.levels[source.level ?? level]}
      badge={issues.length > 0 ? T.print.errors(issues.length) : undefined}
      open={open}
      onHead={() => showEdition(index)}
    >
      <EditionCard reader={reader} index={index} issues={issues} />
    </ReaderItem>
  );
}
