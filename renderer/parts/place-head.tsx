/** The head of a place: what it is, what it belongs to, and what can be done at once. */
import type { ReactNode } from 'react';

type Props = { readonly over: ReactNode; readonly title: ReactNode; readonly children?: ReactNode };

export function PlaceHead({ over, title, children }: Props) {
  return (
    <header className="place-head">
      <div>
        <p className="over">{over}</p>
        <h1>{title}</h1>
      </div>
      {children}
    </header>
  );
}
