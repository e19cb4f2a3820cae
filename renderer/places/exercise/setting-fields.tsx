/** The settings of an exercise: each shows what holds, whose it is, and what is wrong with it. */
import { memo } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import type { SettingsSource } from '../../../core/book/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import { type Setting, setExerciseField, settingOf } from '../../edits/book.js';
import { Check, type Choice, choices, NumberField, Own, Select, TextField } from '../../parts/fields.js';
import { edit } from '../../state/history.js';
import { type Focus, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

export type FieldsProps = { readonly focus: Focus; readonly issues: (field: string) => readonly Issue[] };

const X = T.exercise;

/** What holds and whose it is; drawn again only when that changes, not with every letter that is typed elsewhere. */
export function useSettingOf<K extends Setting>(focus: Focus, field: K): { readonly value: SettingsSource[K]; readonly own: boolean } {
  const value = useWindow((s) => s.book && settingOf(s.book.source, focus, field).value);
  const own = useWindow((s) => s.book !== undefined && settingOf(s.book.source, focus, field).own);
  return { value, own };
}

/** Value and change of one setting. */
function useSetting<K extends Setting>(focus: Focus, field: K, label: string) {
  const { value, own } = useSettingOf(focus, field);
  const set = (next: SettingsSource[K] | undefined, name: string = CHANGE.field(label)) =>
    edit({ name, together: `${focus.chapter}.${focus.exercise}.${field}` }, (it) => setExerciseField(it, focus, field, next as never));
  const reset = <Own own={own} label={label} onReset={() => set(undefined, CHANGE.reset(label))} />;
  return { value, own, set, reset };
}

type Names = Readonly<Record<string, string>>;

function Chosen<K extends Setting>({
  focus,
  issues,
  field,
  label,
  options,
}: FieldsProps & { readonly field: K; readonly label: string; readonly options: readonly Choice[] }) {
  const { value, set, reset } = useSetting(focus, field, label);
  return (
    <Select
      label={label}
      value={String(value ?? '')}
      options={options}
      issues={issues(field)}
      aside={reset}
      onChange={(next) => set((next === '' ? undefined : field === 'passes' ? Number(next) : next) as SettingsSource[K])}
    />
  );
}

const named = (names: Names) => choices(names);
const plain = (values: readonly string[]): Choice[] => values.map((value) => ({ value, label: value }));

export const CourseFields = memo(function CourseFields(props: FieldsProps) {
  const passes = useSetting(props.focus, 'passes', X.passes).value;
  return (
    <>
      <Chosen {...props} field="directions" label={X.directions} options={named(X.directionNames)} />
      <Chosen {...props} field="passes" label={X.passes} options={named(X.passNames)} />
      {passes === 2 && <Chosen {...props} field="turnaround" label={X.turnaround} options={named(X.turnaroundNames)} />}
      <Chosen {...props} field="ending" label={X.ending} options={named(X.endingNames)} />
    </>
  );
});

const DYNAMICS = ['pp', 'p', 'mp', 'mf', 'f', 'ff'];
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
function Written<K extends 'rhythm' | 'articulation'>({
  focus,
  issues,
  field,
  label,
  hint,
  list,
}: FieldsProps & { readonly field: K; readonly label: string; readonly hint?: string; readonly list: readonly string[] }) {
  const { value, set } = useSetting(focus, field, label);
  return (
    <TextField
      label={label}
      hint={hint}
      list={list}
      value={String(value ?? '')}
      issues={issues(field)}
      onChange={(next) => set(next as SettingsSource[K])}
    />
  );
}

export const TimeFields = memo(function TimeFields({ lists, ...props }: FieldsProps & { readonly lists: Lists }) {
  const tempo = useSetting(props.focus, 'tempo', X.tempo);
  const at = tempo.value;
  return (
    <>
      <Written {...props} field="rhythm" label={X.rhythm} hint={X.rhythmHint} list={lists.rhythms.map((it) => it.name)} />
      <Chosen {...props} field="metre" label={X.metre} options={plain(lists.metres)} />
      <Chosen {...props} field="padding" label={X.padding} options={named(X.paddingNames)} />
      <Written {...props} field="articulation" label={X.articulation} hint={X.articulationHint} list={ARTICULATIONS} />
      <Chosen {...props} field="dynamic" label={X.dynamic} options={[{ value: '', label: X.noDynamic }, ...plain(DYNAMICS)]} />
      <div className="pair">
        <NumberField
          label={X.tempoFrom}
          min={20}
          max={400}
          value={at?.from}
          issues={props.issues('tempo')}
          onChange={(from) => tempo.set(from === undefined ? undefined : { ...at, from })}
        />
        <NumberField
          label={X.tempoTo}
          min={20}
          max={400}
          value={at?.to}
          onChange={(to) => tempo.set(at === undefined ? { from: to ?? 60, to } : { ...at, to })}
        />
      </div>
    </>
  );
});

export const RegisterFields = memo(function RegisterFields(props: FieldsProps) {
  const levels = useWindow((s) => s.lists?.levels) ?? [];
  const misfit = useSetting(props.focus, 'misfit', X.misfit);
  const value = typeof misfit.value === 'object' ? `level ${misfit.value.level}` : String(misfit.value);
  const options = [
    ...named(X.misfitNames),
    ...levels.map((level) => ({ value: `level ${level}`, label: X.misfitLevel(T.players.levels[level as keyof typeof T.players.levels]) })),
  ];
  const take = (next: string) => {
    const level = next.startsWith('level ') ? next.slice(6) : undefined;
    misfit.set((level ? { level } : next) as SettingsSource['misfit']);
  };
  return (
    <>
      <Chosen {...props} field="contour" label={X.contour} options={named(X.contourNames)} />
      <Select label={X.misfit} value={value} options={options} issues={props.issues('misfit')} aside={misfit.reset} onChange={take} />
    </>
  );
});

function Flag({
  focus,
  field,
  label,
}: {
  readonly focus: Focus;
  readonly field: 'simpleSpelling' | 'keyNames' | 'degreeNumbers';
  readonly label: string;
}) {
  const { value, set } = useSetting(focus, field, label);
  return <Check label={label} checked={value === true} onChange={(checked) => set(checked)} />;
}

export const PrintFields = memo(function PrintFields({ lists, ...props }: FieldsProps & { readonly lists: Lists }) {
  const { focus } = props;
  return (
    <>
      <Chosen {...props} field="scale" label={X.scale} options={plain(lists.scales)} />
      <Chosen {...props} field="signs" label={X.signs} options={named(X.signNames)} />
      <div className="checks">
        <Flag focus={focus} field="keyNames" label={X.keyNames} />
        <Flag focus={focus} field="degreeNumbers" label={X.degreeNumbers} />
        <Flag focus={focus} field="simpleSpelling" label={X.simpleSpelling} />
      </div>
    </>
  );
});
