/** The settings of an exercise: each shows what holds, whose it is, and what is wrong with it. */
import { memo, type ReactNode } from 'react';
import type { ExerciseSource, SettingsSource } from '../../../core/book/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { type Setting, setExercise, settingOf } from '../../edits/book.js';
import { type Bound, TEMPO } from '../../parts/bound.js';
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

/** One setting as its field shows it; beside its label stands whose it is, and the way back to the book's. */
type SettingField<V> = Bound<V> & { readonly aside: ReactNode };

function useSetting<K extends Setting>({ focus, issues }: FieldsProps, field: K, label: string): SettingField<SettingsSource[K]> {
  const { value, own } = useSettingOf(focus, field);
  const onChange = (next: SettingsSource[K]) => setExerciseFields(focus, CHANGE.field(label), { [field]: next });
  const reset = () => setExerciseFields(focus, CHANGE.reset(label), { [field]: undefined });
  return { label, issues: issues(field), value, onChange, aside: <Own own={own} label={label} onReset={reset} /> };
}

const plain = (values: readonly string[]): Choice[] => values.map((value) => ({ value, label: value }));

function Passes({ value, onChange, ...common }: SettingField<1 | 2 | undefined>) {
  const named = value === undefined ? undefined : (`${value}` as const);
  return <Select {...common} value={named} options={choices(X.passNames)} onChange={(next) => onChange(next === '1' ? 1 : 2)} />;
}

export const CourseFields = memo(function CourseFields(props: FieldsProps) {
  const passes = useSetting(props, 'passes', X.passes);
  const turnaround = useSetting(props, 'turnaround', X.turnaround);
  return (
    <>
      <Select {...useSetting(props, 'directions', X.directions)} options={choices(X.directionNames)} />
      <Passes {...passes} />
      {passes.value === 2 && <Select {...turnaround} options={choices(X.turnaroundNames)} />}
      <Select {...useSetting(props, 'ending', X.ending)} options={choices(X.endingNames)} />
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
function Written({ aside: _, ...common }: SettingField<string | undefined> & { readonly hint: string; readonly list: readonly string[] }) {
  return <TextField {...common} />;
}

function Tempo({ value: at, issues, onChange }: SettingField<SettingsSource['tempo']>) {
  return (
    <div className="pair">
      <NumberField
        {...TEMPO}
        label={X.tempoFrom}
        value={at?.from}
        issues={issues}
        onChange={(from) => onChange(from === undefined ? undefined : { ...at, from })}
      />
      <NumberField
        {...TEMPO}
        label={X.tempoTo}
        value={at?.to}
        onChange={(to) => onChange(at === undefined ? { from: to ?? 60, to } : { ...at, to })}
      />
    </div>
  );
}

export const TimeFields = memo(function TimeFields({ lists, ...props }: FieldsProps & { readonly lists: Lists }) {
  return (
    <>
      <Written {...useSetting(props, 'rhythm', X.rhythm)} hint={X.rhythmHint} list={lists.rhythms.map((it) => it.name)} />
      <Select {...useSetting(props, 'metre', X.metre)} options={plain(lists.metres)} />
      <Select {...useSetting(props, 'padding', X.padding)} options={choices(X.paddingNames)} />
      <Written {...useSetting(props, 'articulation', X.articulation)} hint={X.articulationHint} list={ARTICULATIONS} />
      <OpenSelect {...useSetting(props, 'dynamic', X.dynamic)} none={X.noDynamic} names={DYNAMICS} />
      <Tempo {...useSetting(props, 'tempo', X.tempo)} />
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
  const { value, onChange, ...common } = useSetting(props, 'misfit', X.misfit);
  const shown = typeof value === 'object' ? `level ${value.level}` : String(value);
  return (
    <>
      <Select {...useSetting(props, 'contour', X.contour)} options={choices(X.contourNames)} />
      <Select {...common} value={shown} options={MISFITS} onChange={(next) => onChange(MISFITS.find((it) => it.value === next)?.misfit)} />
    </>
  );
});

function Flag({ label, value, onChange }: SettingField<boolean | undefined>) {
  return <Check label={label} checked={value === true} onChange={onChange} />;
}

export const PrintFields = memo(function PrintFields({ lists, ...props }: FieldsProps & { readonly lists: Lists }) {
  return (
    <>
      <Select {...useSetting(props, 'scale', X.scale)} options={plain(lists.scales)} />
      <Select {...useSetting(props, 'signs', X.signs)} options={choices(X.signNames)} />
      <div className="checks">
        <Flag {...useSetting(props, 'keyNames', X.keyNames)} />
        <Flag {...useSetting(props, 'degreeNumbers', X.degreeNumbers)} />
        <Flag {...useSetting(props, 'simpleSpelling', X.simpleSpelling)} />
      </div>
    </>
  );
});
