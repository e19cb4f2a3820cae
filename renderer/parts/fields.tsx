/** Labelled fields. Every control has a visible label, and what is wrong stands under it and is tied to it. */
import { type ReactNode, useId } from 'react';
import type { Issue } from '../../core/base/issue.js';
import { keysOf } from '../edits/list.js';
import { T } from '../texts/texts.js';

type Common = {
  readonly label: string;
  readonly hint?: string | undefined;
  readonly issues?: readonly Issue[];
  readonly wide?: boolean;
  /** Beside the label. */
  readonly aside?: ReactNode;
};

/** What ties a control to its label, its hint and its faults. */
type Control = { readonly id: string; readonly 'aria-describedby': string | undefined; readonly 'aria-invalid': true | undefined };

/** Words of the core: what is to be typed stands between backticks. */
export function Words({ children }: { readonly children: string }) {
  // biome-ignore lint/suspicious/noArrayIndexKey: the parts of one sentence
  return children.split('`').map((part, i) => (i % 2 === 1 ? <code key={i}>{part}</code> : part));
}

export function Issues({ id, issues }: { readonly id?: string; readonly issues: readonly Issue[] }) {
  if (issues.length === 0) return null;
  return (
    <ul className="field-issues" id={id}>
      {issues.map((issue) => (
        <li key={`${issue.code}${issue.message}`} data-severity={issue.severity}>
          <Words>{issue.message}</Words>
        </li>
      ))}
    </ul>
  );
}

/** Frame of a field: label, control, hint, faults. */
export function Field({
  label,
  hint,
  issues = [],
  wide,
  aside,
  name,
  children,
}: Common & {
  /** Id of the control, where commands must find it. */
  readonly name?: string;
  readonly children: (control: Control) => ReactNode;
}) {
  const made = useId();
  const id = name ?? made;
  const invalid = issues.some((issue) => issue.severity === 'error');
  const describedBy = [hint ? `${id}-hint` : '', issues.length > 0 ? `${id}-issues` : ''].filter(Boolean).join(' ') || undefined;
  return (
    <div className={`field${wide ? ' wide' : ''}`}>
      <div className="field-head">
        <label htmlFor={id}>{label}</label>
        {aside}
      </div>
      {children({ id, 'aria-describedby': describedBy, 'aria-invalid': invalid || undefined })}
      {hint && (
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <Issues id={`${id}-issues`} issues={issues} />
    </div>
  );
}

export function TextField({
  value,
  onChange,
  placeholder,
  list,
  lang,
  ...common
}: Common & {
  /** Id of the control, where commands must find it. */
  readonly name?: string;
  readonly value: string | undefined;
  readonly onChange: (value: string) => void;
  readonly placeholder?: string;
  readonly list?: readonly string[];
  readonly lang?: string;
}) {
  const listId = useId();
  return (
    <Field {...common}>
      {(control) => (
        <>
          <input
            {...control}
            type="text"
            value={value ?? ''}
            placeholder={placeholder}
            lang={lang}
            list={list && listId}
            onChange={(event) => onChange(event.target.value)}
          />
          {list && (
            <datalist id={listId}>
              {list.map((item) => (
                <option key={item} value={item} />
              ))}
            </datalist>
          )}
        </>
      )}
    </Field>
  );
}

export function TextArea({
  value,
  onChange,
  rows,
  ...common
}: Common & { readonly value: string; readonly onChange: (value: string) => void; readonly rows: number }) {
  return (
    <Field {...common}>
      {(control) => <textarea {...control} rows={rows} value={value} onChange={(event) => onChange(event.target.value)} />}
    </Field>
  );
}

export type Choice<V extends string = string> = { readonly value: V; readonly label: string };

export const choices = <V extends string>(names: Readonly<Record<V, string>>): Choice<V>[] =>
  keysOf(names).map((value) => ({ value, label: names[value] }));

/** `standard` holds where nothing is chosen. */
export function Select<V extends string>({
  value,
  standard,
  options,
  onChange,
  ...common
}: Common & {
  readonly value: V | undefined;
  readonly standard?: V;
  readonly options: readonly Choice<V>[];
  readonly onChange: (value: V) => void;
}) {
  return (
    <Field {...common}>
      {(control) => (
        <select
          {...control}
          value={value ?? standard ?? ''}
          onChange={(event) => {
            const chosen = options.find((option) => option.value === event.target.value);
            if (chosen) onChange(chosen.value);
          }}
        >
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

/** A choice that may be left open; `none` says what holds then. */
export function OpenSelect<V extends string>({
  value,
  names,
  none,
  onChange,
  ...common
}: Common & {
  readonly value: V | undefined;
  readonly names: Readonly<Record<V, string>>;
  readonly none: string;
  readonly onChange: (value: V | undefined) => void;
}) {
  const options: Choice<V | ''>[] = [{ value: '', label: none }, ...choices(names)];
  return <Select {...common} value={value ?? ''} options={options} onChange={(next) => onChange(next === '' ? undefined : next)} />;
}

export function NumberField({
  value,
  onChange,
  min,
  max,
  step,
  placeholder,
  ...common
}: Common & {
  readonly value: number | undefined;
  readonly onChange: (value: number | undefined) => void;
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  readonly placeholder?: string;
}) {
  return (
    <Field {...common}>
      {(control) => (
        <input
          {...control}
          type="number"
          min={min}
          max={max}
          step={step ?? 1}
          value={value ?? ''}
          placeholder={placeholder}
          onChange={(event) => onChange(event.target.value === '' ? undefined : event.target.valueAsNumber)}
        />
      )}
    </Field>
  );
}

type CheckProps = {
  readonly label: string;
  readonly checked: boolean;
  readonly disabled?: boolean;
  readonly onChange: (checked: boolean) => void;
};

export function Check({ label, checked, disabled, onChange }: CheckProps) {
  return (
    <label className="check">
      <input type="checkbox" checked={checked} disabled={disabled} onChange={(event) => onChange(event.target.checked)} />
      <span>{label}</span>
    </label>
  );
}

/** Shows whether a setting is the exercise's own, and gives it back to the book. */
export function Own({ own, label, onReset }: { readonly own: boolean; readonly label: string; readonly onReset: () => void }) {
  return own ? (
    <button
      type="button"
      className="quiet small"
      onClick={onReset}
      aria-label={`${T.exercise.ownValue} ×, ${label}: ${T.exercise.reset}`}
      title={T.exercise.reset}
    >
      {T.exercise.ownValue} ×
    </button>
  ) : (
    <span className="inherited">{T.exercise.inherited}</span>
  );
}
