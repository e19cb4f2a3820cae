/** The settings of an exercise: each shows what holds, whose it is, and what is wrong with it. */
import { memo, type ReactNode } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import type { ExerciseSource, SettingsSource } from '../../../core/book/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import { type Setting, setExercise, settingOf } from '../../edits/book.js';
import { Check, type Choice, choices, NumberField, OpenSelect, Own, Select, TextField } from '../../parts/fields.js';
import type { IssuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { type Focus, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

export type FieldsProps = { readonly focus: Focus; readonly issues: IssuesAt };

const X = T.exercise;

/** What is typed into one field of an exercise is one step. */
export const setExerciseFields = ({ chapter, exercise }: Focus, name: string, part: Partial<ExerciseSource>): void =>
  edit('book', { name, together: `${chapter}.${exercise}.${Object.keys(part).join(' ')}` }, (it) =>
    setExercise(it, { chapter, exercise }, part),
  );

/** What holds and whose it is; drawn again only when that changes, not with every letter that is typed elsewhere. */
export function useSettingOf<K extends Setting>(focus: Focus, field: K): { readonly value: SettingsSource[K]; readonly own: boolean } {
  const value = useWindow((s) => s.book && settingOf(s.book.source, focus, field).value);
  const own = useWindow((s) => s.book !== undefined && settingOf(s.book.source, focus, field).own);
  return { value, own };
}

/** One setting as its field shows it. */
type SettingForm<V> = {
  readonly label: string;
  readonly issues: readonly Issue[];
  readonly value: V;
  readonly set: (next: V) => void;
  /** Whose it is, and the way back to the book's. */
  readonly aside: ReactNode;
};

function useSetting<K extends Setting>({ focus, issues }: FieldsProps, field: K, label: string): SettingForm<SettingsSource[K]> {
  const { value, own } = useSettingOf(focus, field);
  const set = (next: SettingsSource[K]) => setExerciseFields(focus, CHANGE.field(label), { [field]: next });
  const reset = () => setExerciseFields(focus, CHANGE.reset(label), { [field]: undefined });
  return { label, issues: issues(field), value, set, aside: <Own own={own} label={label} onReset={reset} /> };
}

function Chosen<V extends string>({
  setting: { label, issues, aside, value, set },
  options,
}: {
  readonly setting: SettingForm<V | undefined>;
  readonly options: readonly Choice<V>[];
}) {
  const shown: Choice<V | ''>[] = [...options];
  return (
    <Select
      label={label}
      value={value ?? ''}
      options={shown}
      issues={issues}
      aside={aside}
      onChange={(next) => set(next === '' ? undefined : next)}
    />
  );
}

const plain = (values: readonly string[]): Choice[] => values.map((value) => ({ value, label: value }));

function Passes({ setting: { value, set, ...common } }: { readonly setting: SettingForm<1 | 2 | undefined> }) {
  const named = {
    value: value === undefined ? undefined : (`${value}` as const),
    set: (next: '1' | '2' | undefined) => set(next && (next === '1' ? 1 : 2)),
  };
  return <Chosen setting={{ ...common, ...named }} options={choices(X.passNames)} />;
}

export const CourseFields = memo(function CourseFields(props: FieldsProps) {
  const directions = useSetting(props, 'directions', X.directions);
  const passes = useSetting(props, 'passes', X.passes);
  const turnaround = useSetting(props, 'turnaround', X.turnaround);
  const ending = useSetting(props, 'ending', X.ending);
  return (
    <>
      <Chosen setting={directions} options={choices(X.directionNames)} />
      <Passes setting={passes} />
      {passes.value === 2 && <Chosen setting={turnaround} options={choices(X.turnaroundNames)} />}
      <Chosen setting={ending} options={choices(X.endingNames)} />
    </>
  );
});

const DYNAMICS = { pp: 'pp', p: 'p', mp: 'mp', mf: 'mf', f: 'f', ff: 'ff' };
const ARTICULATIONS = [
  'all slurred',
  'all tongued',
  'slur 2, tongue 2',
  'slur 3, tongue 1',
  'slur 2',
  'all tongued, staccato',
  'all tongued, tenuto',
];

/** A text that is typed, kept as it is while it is wrong. */
function Written({
  setting: { label, issues, value, set },
  hint,
  list,
}: {
  readonly setting: SettingForm<string | undefined>;
  readonly hint: string;
  readonly list: readonly string[];
}) {
  return <TextField label={label} hint={hint} list={list} value={value ?? ''} issues={issues} onChange={set} />;
}

function Dynamic({ setting: { set, ...common } }: { readonly setting: SettingForm<keyof typeof DYNAMICS | undefined> }) {
  return <OpenSelect {...common} none={X.noDynamic} names={DYNAMICS} onChange={set} />;
}

function Tempo({ setting: { value: at, issues, set } }: { readonly setting: SettingForm<SettingsSource['tempo']> }) {
  return (
    <div className="pair">
      <NumberField
        label={X.tempoFrom}
        min={20}
        max={400}
        value={at?.from}
        issues={issues}
        onChange={(from) => set(from === undefined ? undefined : { ...at, from })}
      />
      <NumberField
        label={X.tempoTo}
        min={20}
        max={400}
        value={at?.to}
        onChange={(to) => set(at === undefined ? { from: to ?? 60, to } : { ...at, to })}
      />
    </div>
  );
}

export const TimeFields = memo(function TimeFields({ lists, ...props }: FieldsProps & { readonly lists: Lists }) {
  return (
    <>
      <Written setting={useSetting(props, 'rhythm', X.rhythm)} hint={X.rhythmHint} list={lists.rhythms.map((it) => it.name)} />
      <Chosen setting={useSetting(props, 'metre', X.metre)} options={plain(lists.metres)} />
      <Chosen setting={useSetting(props, 'padding', X.padding)} options={choices(X.paddingNames)} />
      <Written setting={useSetting(props, 'articulation', X.articulation)} hint={X.articulationHint} list={ARTICULATIONS} />
      <Dynamic setting={useSetting(props, 'dynamic', X.dynamic)} />
      <Tempo setting={useSetting(props, 'tempo', X.tempo)} />
    </>
  );
});

type Misfit = NonNullable<SettingsSource['misfit']>;
const MISFITS: readonly (Choice & { readonly misfit: Misfit })[] = [
  ...choices(X.misfitNames).map(({ value, label }) => ({ value, label, misfit: value })),
  ...choices(T.players.levels).map(({ value: level, label }) => ({
    value: `level ${level}`,
    label: X.misfitLevel(label),
    misfit: { level },
  })),
];

export const RegisterFields = memo(function RegisterFields(props: FieldsProps) {
  const { value, set, ...common } = useSetting(props, 'misfit', X.misfit);
  const shown = typeof value === 'object' ? `level ${value.level}` : String(value);
  return (
    <>
      <Chosen setting={useSetting(props, 'contour', X.contour)} options={choices(X.contourNames)} />
      <Select {...common} value={shown} options={MISFITS} onChange={(next) => set(MISFITS.find((it) => it.value === next)?.misfit)} />
    </>
  );
});

function Flag({ setting: { label, value, set } }: { readonly setting: SettingForm<boolean | undefined> }) {
  return <Check label={label} checked={value === true} onChange={set} />;
}

export const PrintFields = memo(function PrintFields({ lists, ...props }: FieldsProps & { readonly lists: Lists }) {
  return (
    <>
      <Chosen setting={useSetting(props, 'scale', X.scale)} options={plain(lists.scales)} />
      <Chosen setting={useSetting(props, 'signs', X.signs)} options={choices(X.signNames)} />
      <div className="checks">
        <Flag setting={useSetting(props, 'keyNames', X.keyNames)} />
        <Flag setting={useSetting(props, 'degreeNumbers', X.degreeNumbers)} />
        <Flag setting={useSetting(props, 'simpleSpelling', X.simpleSpelling)} />
      </div>
    </>
  );
});
