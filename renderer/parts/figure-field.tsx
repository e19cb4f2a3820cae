/** The field in which a figure is written: faults are marked under the very characters. */
import { type UIEvent, useRef } from 'react';
import type { Issue } from '../../core/base/issue.js';
import { T } from '../texts/texts.js';
import { Field } from './fields.js';

type Stretch = { readonly text: string; readonly wrong: boolean };

/** Cuts a text where faults begin and end. */
export function stretchesOf(text: string, issues: readonly Issue[]): Stretch[] {
  const wrong = new Uint8Array(text.length + 1);
  for (const { span } of issues) if (span) for (let i = span[0]; i < Math.max(span[1], span[0] + 1); i++) wrong[i] = 1;
  const stretches: Stretch[] = [];
  for (const [i, letter] of text.split('').entries()) {
    const last = stretches.at(-1);
    const bad = wrong[i] === 1;
    if (last && last.wrong === bad) stretches[stretches.length - 1] = { text: last.text + letter, wrong: bad };
    else stretches.push({ text: letter, wrong: bad });
  }
  // A fault at the very end has no character of its own.
  if (wrong[text.length] === 1) stretches.push({ text: ' ', wrong: true });
  return stretches;
}

type Props = { readonly value: string; readonly issues: readonly Issue[]; readonly onChange: (text: string) => void };

export function FigureField({ value, issues, onChange }: Props) {
  const under = useRef<HTMLDivElement>(null);
  const scrolled = (event: UIEvent<HTMLInputElement>) => {
    if (under.current) under.current.scrollLeft = event.currentTarget.scrollLeft;
  };
  return (
    <Field label={T.exercise.figure} hint={T.exercise.figureHint} issues={issues} name="figure" wide>
      {(control) => (
        <div className="figure-field">
          <div className="figure-under" aria-hidden="true" ref={under}>
            {stretchesOf(value, issues).map((stretch, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: stretches have no identity but their place
              <span key={i} className={stretch.wrong ? 'wrong' : undefined}>
                {stretch.text}
              </span>
            ))}
          </div>
          <input
            {...control}
            type="text"
            inputMode="text"
            autoComplete="off"
            spellCheck={false}
            value={value}
            onScroll={scrolled}
            onChange={(event) => onChange(event.target.value)}
          />
        </div>
      )}
    </Field>
  );
}
