/** A text that stands for something else, such as a list: as it is typed while it is typed, as it is understood afterwards. */
import { useState } from 'react';
import type { Issue } from '../../core/base/issue.js';
import { Field } from './fields.js';

export function DraftField({
  value,
  onChange,
  placeholder,
  ...common
}: {
  readonly label: string;
  readonly hint?: string;
  readonly issues?: readonly Issue[];
  readonly wide?: boolean;
  readonly value: string;
  readonly placeholder?: string;
  readonly onChange: (text: string) => void;
}) {
  const [draft, setDraft] = useState<string>();
  return (
    <Field {...common}>
      {({ id, describedBy, invalid }) => (
        <input
          id={id}
          type="text"
          value={draft ?? value}
          placeholder={placeholder}
          aria-describedby={describedBy}
          aria-invalid={invalid || undefined}
          onFocus={() => setDraft(value)}
          onBlur={() => setDraft(undefined)}
          onChange={(event) => {
            setDraft(event.target.value);
            onChange(event.target.value);
          }}
        />
      )}
    </Field>
  );
}
