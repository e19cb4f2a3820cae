/**
 * An edition, a student and a chair are each a reader: an instrument, a level, a compass, a spelling, a paper and a breath.
 * The fields of that form stand here once; each card shows those it needs, in its own order.
 */
import type { ReactNode } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import type { StudentSource } from '../../../core/people/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import { Compass } from '../../parts/compass.js';
import { choices, Issues, NumberField, OpenSelect, Select } from '../../parts/fields.js';
import type { IssuesAt } from '../../parts/issues-at.js';
import { instrumentOf } from '../../state/instrument-names.js';
import { keepInSight } from '../../state/keyboard-focus.js';
import { T } from '../../texts/texts.js';

const P = T.players;

export type ReaderSource = Pick<StudentSource, 'instrument' | 'level' | 'compass' | 'spelling' | 'staff' | 'page'>;
export type Level = keyof typeof P.levels;
export type BreathFacts = NonNullable<StudentSource['breath']>;

export type Reader = {
  readonly lists: Lists;
  readonly source: ReaderSource;
  /** What holds where the reader states no level. */
  readonly level: Level;
  readonly at: IssuesAt;
  readonly set: (part: Partial<ReaderSource>) => void;
};

type Props = { readonly reader: Reader };

/** How a change is undone: what is typed into one field is one step, another instrument always a step of its own. */
export const stepOf = (name: string, reader: string, part: object) =>
  'instrument' in part ? { name } : { name, together: `${reader} ${Object.keys(part).join(' ')}` };

export const instrumentChoices = (lists: Lists) => lists.instruments.map(({ id, name }) => ({ value: id, label: name }));

export function InstrumentField({ reader: { lists, source, at, set }, hint }: Props & { readonly hint?: string | undefined }) {
  const known = instrumentChoices(lists);
  const { instrument } = source;
  return (
    <Select
      label={T.pages.instrument}
      value={instrument}
      options={instrumentOf(lists, instrument) ? known : [{ value: instrument, label: instrument }, ...known]}
      hint={hint}
      issues={at('instrument')}
      // Another instrument has another compass.
      onChange={(id) => set({ instrument: id, compass: undefined })}
    />
  );
}

/** With `none` the level may be left open. */
export function LevelField({ reader: { source, level, at, set }, none }: Props & { readonly none?: string }) {
  const common = { label: P.level, issues: at('level') };
  return none === undefined ? (
    <Select {...common} value={source.level ?? level} options={choices(P.levels)} onChange={(next) => set({ level: next })} />
  ) : (
    <OpenSelect {...common} value={source.level} none={none} names={P.levels} onChange={(next) => set({ level: next })} />
  );
}

/** With `standard` there is always a choice that holds. */
export function SpellingField({ reader: { source, set }, standard }: Props & { readonly standard?: keyof typeof P.ties }) {
  const tie = source.spelling?.tie;
  const take = (next: typeof tie) => set({ spelling: { ...source.spelling, tie: next } });
  return standard === undefined ? (
    <OpenSelect label={P.spelling} value={tie} none={T.exercise.inherited} names={P.ties} onChange={take} />
  ) : (
    <Select label={P.spelling} value={tie ?? standard} options={choices(P.ties)} onChange={take} />
  );
}

export function StaffField({ reader: { source, at, set } }: Props) {
  return (
    <NumberField
      label={T.book.houseFields.staff}
      min={4}
      max={12}
      step={0.5}
      value={source.staff}
      placeholder={T.book.byLevel}
      issues={at('staff')}
      onChange={(staff) => set({ staff })}
    />
  );
}

export function PageField({ reader: { source, at, set } }: Props) {
  return (
    <OpenSelect
      label={T.book.houseFields.page}
      value={source.page}
      none={T.exercise.inherited}
      names={T.book.pages}
      issues={at('page')}
      onChange={(page) => set({ page })}
    />
  );
}

export function CompassField({ reader: { lists, source, level, at, set } }: Props) {
  const instrument = instrumentOf(lists, source.instrument);
  if (!instrument) return null;
  return (
    <Compass
      lists={lists}
      instrument={instrument}
      level={source.level ?? level}
      compass={source.compass}
      issues={at('compass')}
      onChange={(compass) => set({ compass })}
    />
  );
}

type FactProps = {
  readonly label: string;
  readonly facts: BreathFacts;
  readonly issues?: readonly Issue[];
  readonly set: (part: Partial<BreathFacts>) => void;
};

export function LungsField({ facts, set, ...common }: FactProps & { readonly none: string }) {
  return <OpenSelect {...common} value={facts.lungs} names={P.lungClasses} onChange={(lungs) => set({ lungs })} />;
}

export function LongToneField({ facts, set, ...common }: FactProps) {
  return <NumberField {...common} min={1} max={90} step={0.1} value={facts.longTone} onChange={(longTone) => set({ longTone })} />;
}

const READER_FIELDS = ['instrument', 'level', 'compass', 'staff', 'page', 'breath'];

/** At the head of a card: faults that stand at none of its fields. */
export function HeadIssues({ issues, fields }: { readonly issues: readonly Issue[]; readonly fields: readonly string[] }) {
  const shown = [...READER_FIELDS, ...fields];
  return <Issues issues={issues.filter(({ path }) => path.length < 3 || !shown.includes(String(path[2])))} />;
}

/** One reader in a list, with its card when it is unfolded. */
export function ReaderItem({
  title,
  hint,
  badge,
  open,
  onHead,
  children,
}: {
  readonly title: string;
  readonly hint: string;
  readonly badge: string | undefined;
  readonly open: boolean;
  readonly onHead: () => void;
  readonly children: ReactNode;
}) {
  return (
    <li className={`edition${open ? ' current' : ''}`}>
      <button
        type="button"
        className="edition-head"
        aria-expanded={open}
        onClick={(event) => {
          onHead();
          keepInSight(event.currentTarget);
        }}
      >
        <span className="item-title">{title}</span>
        <span className="hint">{hint}</span>
        {badge && <span className="badge">{badge}</span>}
      </button>
      {open && children}
    </li>
  );
}
