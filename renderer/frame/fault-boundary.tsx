/** Where a fault of the program itself ends up: the place says so and can be shown again; what was written is still there. */
import { Component, type ReactNode } from 'react';
import { change } from '../state/state.js';
import { T } from '../texts/texts.js';

type Props = { readonly children: ReactNode };
type Held = { readonly fault: string | undefined };

/** A class, since only these can catch what a component throws. */
export class FaultBoundary extends Component<Props, Held> {
  override state: Held = { fault: undefined };

  static getDerivedStateFromError(failure: unknown): Held {
    return { fault: failure instanceof Error ? failure.message : String(failure) };
  }

  override render(): ReactNode {
    if (this.state.fault === undefined) return this.props.children;
    return (
      <div className="empty-place" role="alert">
        <h1>{T.fault.title}</h1>
        <p>{T.fault.words}</p>
        <p className="hint">{this.state.fault}</p>
        <button
          type="button"
          className="main"
          onClick={() => {
            change({ place: 'book', dialog: undefined, built: undefined });
            this.setState({ fault: undefined });
          }}
        >
          {T.fault.again}
        </button>
      </div>
    );
  }
}
