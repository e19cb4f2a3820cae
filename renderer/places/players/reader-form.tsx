/**
 * An edition, a student and a chair are each a reader: an instrument, a level, a compass, a spelling, a paper and a breath.
 * The fields of that form stand here once; each card shows those it needs, in its own order.
 */
import type { ReactNode } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import type { StudentSource } from '../../../core/people/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { bind, STAFF } from '../../parts/bound.js';
import { Compass } from '../../parts/compass.js';
import { choices, Issues, NumberField, OpenSelect, Select } from '../../parts/fields.js';
import { type IssuesAt, NO_ISSUES } from '../../parts/issues-at.js';
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

const field = ({ source, at, set }: Reader) => bind(source, at, set);

/** How a change is undone: what is typed into one field is one step, another instrument always a step of its own. */
export const stepOf = (name: string, reader: string, part: object) =>
  'instrument' in part ? { name } : { name, together: `${reader} ${Object.keys(part).join(' ')}` };

export const instrumentChoices = (lists: Lists) => lists.instruments.map(({ id, name }) => ({ value: id, label: name }));

export function InstrumentField({ reader, hint }: Props & { readonly hint?: string | undefined }) {
  const known = instrumentChoices(reader.lists);
  const { instrument } = reader.source;
  const options = instrumentOf(reader.lists, instrument) ? known : [{ value: instrument, label: instrument }, ...known];
  return (
    <Select
      {...field(reader)('instrument', T.pages.instrument)}
      options={options}
      hint={hint}
      // Another instrument has another compass.
      onChange={(id) => reader.set({ instrument: id, compass: undefined })}
    />
  );
}

/** With `none` the level may be left open. */
export function LevelField({ reader, none }: Props & { readonly none?: string }) {
  const level = field(reader)('level', P.level);
  if (none !== undefined) return <OpenSelect {...level} none={none} names={P.levels} />;
  return <Select {...level} standard={reader.level} options={choices(P.levels)} />;
}

/** With `standard` there is always a choice that holds. */
export function SpellingField({ reader: { source, set }, standard }: Props & { readonly standard?: keyof typeof P.ties }) {
  const tie = bind(source.spelling ?? {}, NO_ISSUES, (part) => set({ spelling: { ...source.spelling, ...part } }))('tie', P.spelling);
  if (standard === undefined) return <OpenSelect {...tie} none={T.exercise.inherited} names={P.ties} />;
  return <Select {...tie} standard={standard} options={choices(P.ties)} />;
}

export function StaffField({ reader }: Props) {
  return <NumberField {...field(reader)('staff', T.book.houseFields.staff)} {...STAFF} placeholder={T.book.byLevel} />;
}

export function PageField({ reader }: Props) {
  return <OpenSelect {...field(reader)('page', T.book.houseFields.page)} none={T.exercise.inherited} names={T.book.pages} />;
}

export function CompassField({ reader }: Props) {
  const { lists, source, level } = reader;
  const instrument = instrumentOf(lists, source.instrument);
  if (!instrument) return null;
  const { value, issues, onChange } = field(reader)('compass', P.compass);
  const { level: holds = level } = source;
  return <Compass lists={lists} instrument={instrument} level={holds} compass={value} issues={issues} onChange={onChange} />;
}

const READER_FIELDS = ['instrument', 'level', 'compass', 'staff', 'page', 'breath'];

/** At the head of a card: faults that stand at none of its fields. */
export function HeadIssues({ issues, fields }: { readonly issues: readonly Issue[]; readonly fields: readonly string[] }) {
  const shown = [...READER_FIELDS, ...fields];
  return <Issues issues={issues.filter(({ path }) => path.length < 3 || !shown.includes(String(path[2])))} />;
}

type ItemProps = {
  readonly title: string;
  readonly hint: string;
  readonly badge: string | undefined;
  readonly open: boolean;
  readonly onHead: () => void;
  readonly children: ReactNode;
};

/** One reader in a list, with its card when it is unfolded. */
export function ReaderItem({ title, hint, badge, open, onHead, children }: ItemProps) {
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
