/** A text that stands for something else, such as a list: as it is typed while it is typed, as it is understood afterwards. */
import { useState } from 'react';
import type { Issue } from '../../core/base/issue.js';
import { Field } from './fields.js';

type Props = {
  readonly label: string;
  readonly hint?: string;
  readonly issues?: readonly Issue[];
  readonly wide?: boolean;
  readonly value: string;
  readonly placeholder?: string;
  readonly onChange: (text: string) => void;
};

export function DraftField({ value, onChange, placeholder, ...common }: Props) {
  const [draft, setDraft] = useState<string>();
  return (
    <Field {...common}>
      {(control) => (
        <input
          {...control}
          type="text"
          value={draft ?? value}
          placeholder={placeholder}
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
