/** What the proof of the shown edition found, with ways to the pages. */
import type { ProofFault } from '../../../electron/services/contract/answers/proof.js';
import { evenPage } from '../../state/page-spread.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const P = T.print;

function Fault({ fault: { rule, page, pageIndex, place, exercise, what } }: { readonly fault: ProofFault }) {
  return (
    <li data-severity="error">
      <div>
        <span className="severity">{rule}</span>
        <span className="hint">{[page && T.pages.page(page), exercise].filter(Boolean).join(', ')}</span>
        <p>{what}</p>
      </div>
      {pageIndex !== undefined && (
        <button type="button" onClick={() => change({ place: 'pages', spread: evenPage(pageIndex), ...(place ? { focus: place } : {}) })}>
          {P.goTo}
        </button>
      )}
    </li>
  );
}

export function ProofResult() {
  const proof = useWindow((s) => s.proof);
  const edition = useWindow((s) => s.edition);
  const source = useWindow((s) => s.book?.source);
  const wrong = useWindow((s) => s.shown?.issues.some(({ severity }) => severity === 'error') ?? false);
  // A proof of another state of the book proves nothing.
  if (!proof || proof.edition !== edition || proof.source !== source) return null;
  const { view } = proof;
  const checked = view.rules.filter((it) => it.checked > 0).length;
  return (
    <div aria-live="polite">
      <p className={view.faults.length > 0 ? 'fault' : wrong ? undefined : 'good'}>
        {view.faults.length === 0 ? P.clean(view.pages, checked) : P.found(view.faults.length)}
      </p>
      {wrong && <p className="hint">{P.provedApart}</p>}
      <ul className="faults">
        {view.faults.map((fault, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the list is replaced as a whole
          <Fault key={i} fault={fault} />
        ))}
      </ul>
    </div>
  );
}
