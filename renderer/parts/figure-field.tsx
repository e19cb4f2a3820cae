/** The field in which a figure is written: faults are marked under the very characters. */
import { type UIEvent, useRef } from 'react';
import type { Issue } from '../../core/base/issue.js';
import { T } from '../texts/texts.js';
import { Field } from './fields.js';

type Piece = { readonly text: string; readonly wrong: boolean };

/** Cuts a text where faults begin and end. */
export function piecesOf(text: string, issues: readonly Issue[]): Piece[] {
  const wrong = new Uint8Array(text.length + 1);
  for (const { span } of issues) if (span) for (let i = span[0]; i < Math.max(span[1], span[0] + 1); i++) wrong[i] = 1;
  const pieces: Piece[] = [];
  for (const [i, letter] of text.split('').entries()) {
    const last = pieces.at(-1);
    const bad = wrong[i] === 1;
    if (last && last.wrong === bad) pieces[pieces.length - 1] = { text: last.text + letter, wrong: bad };
    else pieces.push({ text: letter, wrong: bad });
  }
  // A fault at the very end has no character of its own.
  if (wrong[text.length] === 1) pieces.push({ text: ' ', wrong: true });
  return pieces;
}

export function FigureField({
  value,
  issues,
  onChange,
}: {
  readonly value: string;
  readonly issues: readonly Issue[];
  readonly onChange: (text: string) => void;
}) {
  const under = useRef<HTMLDivElement>(null);
  const scrolled = (event: UIEvent<HTMLInputElement>) => {
    if (under.current) under.current.scrollLeft = event.currentTarget.scrollLeft;
  };
  return (
    <Field label={T.exercise.figure} hint={T.exercise.figureHint} issues={issues} name="figure" wide>
      {({ describedBy, invalid, id }) => (
        <div className="figure-field">
          <div className="figure-under" aria-hidden="true" ref={under}>
            {piecesOf(value, issues).map((piece, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: pieces have no identity but their place
              <span key={i} className={piece.wrong ? 'wrong' : undefined}>
                {piece.text}
              </span>
            ))}
          </div>
          <input
            id={id}
            type="text"
            inputMode="text"
            autoComplete="off"
            spellCheck={false}
            value={value}
            aria-describedby={describedBy}
            aria-invalid={invalid || undefined}
            onScroll={scrolled}
            onChange={(event) => onChange(event.target.value)}
          />
        </div>
      )}
    </Field>
  );
}
