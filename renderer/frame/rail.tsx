/** The places of the window, at its left. */
import { goTo } from '../commands/go.js';
import { PLACES, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

export function Rail() {
  const place = useWindow((s) => s.place);
  const errors = useWindow((s) => s.shown?.issues.filter((issue) => issue.severity === 'error').length ?? 0);
  return (
    <nav className="rail" aria-label={T.app}>
      {PLACES.map((name, i) => (
        <button
          key={name}
          type="button"
          aria-current={place === name ? 'page' : undefined}
          onClick={() => goTo(name)}
          title={`${T.placeHints[name]} (Alt + ${i + 1})`}
        >
          {T.places[name]}
          {name === 'print' && errors > 0 && <span className="badge">{errors}</span>}
        </button>
      ))}
    </nav>
  );
}
