/** What stands in the window while no book is open. */
import { open, openDemo } from '../files/book-files.js';
import { focusWork } from '../state/keyboard-focus.js';
import { change } from '../state/state.js';
import { T } from '../texts/texts.js';

export function Welcome() {
  return (
    <div className="empty-place">
      <h1>{T.app}</h1>
      <p>{T.start.words}</p>
      <div className="row">
        <button type="button" className="main" onClick={() => change({ dialog: { kind: 'start' } })}>
          {T.start.title}
        </button>
        <button type="button" onClick={open}>
          {T.file.open}
        </button>
        <button type="button" onClick={() => void openDemo().then(() => focusWork('.outline [aria-current="true"]'))}>
          {T.file.openDemo}
        </button>
      </div>
    </div>
  );
}
