/** What is wrong, and the files for everyone. */
import { prove } from '../../commands/long-jobs.js';
import { PlaceHead } from '../../parts/place-head.js';
import { Progress } from '../../parts/writing.js';
import { useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import { Faults } from './faults.js';
import { PrintPanel } from './print-panel.js';
import { ProofResult } from './proof-result.js';

const P = T.print;

export function PrintPlace() {
  const source = useWindow((s) => s.book?.source);
  const lists = useWindow((s) => s.lists);
  const work = useWindow((s) => s.work);
  if (!source) return null;
  return (
    <div className="work">
      <PlaceHead over={source.title} title={P.heading} />
      <section className="panel">
        <h2>{P.faults}</h2>
        <Faults />
        <div className="row act">
          <button type="button" id="prove" onClick={() => void prove()} aria-disabled={work !== undefined}>
            {P.runProof}
          </button>
          <span className="hint">{P.proofHint}</span>
        </div>
        {work?.kind === 'prove' && <Progress />}
        <ProofResult />
      </section>
      {lists && <PrintPanel source={source} lists={lists} />}
    </div>
  );
}
