/** The file of a roster or an ensemble: its name, whether it is saved, and what can be done with it; or how to get one. */
import type { CompanionKind } from '../../electron/services/contract/file-kinds.js';
import { closeCompanion, openCompanion, openDemoCompanion, saveCompanion, startCompanion } from '../files/companion-files.js';
import { isCompanionEdited } from '../state/history.js';
import { useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

const C = T.companions;

export function CompanionHead({ of }: { readonly of: CompanionKind }) {
  const name = useWindow((s) => s[of]?.name) ?? '';
  const path = useWindow((s) => s[of]?.path);
  const edited = useWindow((s) => isCompanionEdited(s, of));
  return (
    <fieldset className="companion-head" aria-label={C.fileMenu[of]}>
      <b title={path}>{name}</b>
      <span className="top-state" data-edited={edited}>
        {edited ? C.edited : path === undefined ? C.fresh : C.saved}
      </span>
      <span className="grow" />
      <button
        type="button"
        className={edited ? 'main' : undefined}
        onClick={() => void saveCompanion(of)}
        disabled={!edited && path !== undefined}
      >
        {C.save}
      </button>
      <button type="button" className="quiet" onClick={() => void saveCompanion(of, { as: true })}>
        {C.saveAs}
      </button>
      <button type="button" className="quiet" onClick={() => openCompanion(of)} aria-label={C.open[of]}>
        {C.openOther}
      </button>
      <button type="button" className="quiet" onClick={() => closeCompanion(of)}>
        {C.close}
      </button>
    </fieldset>
  );
}

/** Teaches what a roster or an ensemble is good for. */
export function NoCompanion({ of, title, words }: { readonly of: CompanionKind; readonly title: string; readonly words: string }) {
  const demo = useWindow((s) => s.book?.path === undefined && s.book?.name === T.file.demo);
  return (
    <section className="panel empty-panel">
      <h2>{title}</h2>
      <p>{words}</p>
      <div className="row">
        <button type="button" className="main" onClick={() => startCompanion(of)}>
          {C.start[of]}
        </button>
        <button type="button" onClick={() => openCompanion(of)}>
          {C.open[of]}
        </button>
        {demo && (
          <button type="button" onClick={() => void openDemoCompanion(of)}>
            {C.example}
          </button>
        )}
      </div>
    </section>
  );
}
