/** Chairs that play in unison or in octaves. */

import type { Issue } from '../../../core/base/issue.js';
import type { EnsembleSource } from '../../../core/ensemble/schema.js';
import { setBond } from '../../edits/people.js';
import { choices, Issues, Select } from '../../parts/fields.js';
import { editCompanion } from '../../state/history.js';
import { useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

const N = T.ensemble;

type Bond = NonNullable<EnsembleSource['keep']>[number];

const change = (index: number, part: Partial<Bond> | undefined) =>
  editCompanion('ensemble', { name: CHANGE.bond }, (it) => setBond(it, index, part));

export function Bonds({
  source,
  at,
}: {
  readonly source: EnsembleSource;
  readonly at: (...path: (string | number)[]) => readonly Issue[];
}) {
  const chairs = useWindow((s) => s.ensembleView?.chairs) ?? [];
  const bonds = source.keep ?? [];
  const bound = new Set(bonds.flatMap((bond) => bond.chairs));
  const free = chairs.filter(({ id }) => !bound.has(id));
  const nameOf = (id: string) => chairs.find((it) => it.id === id)?.name ?? id;
  const add = () =>
    editCompanion('ensemble', { name: CHANGE.bond }, (it) => ({
      ...it,
      keep: [...(it.keep ?? []), { chairs: free.slice(0, 2).map(({ id }) => id), together: 'unison' as const }],
    }));
  return (
    <section className="panel">
      <h2>{N.keep}</h2>
      <p className="hint">{N.keepHint}</p>
      <ul className="assignments">
        {bonds.map((bond, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: bonds have no identity but their place
          <li key={i} className="assignment">
            <div className="chips">
              {bond.chairs.map((id) => (
                <button
                  key={id}
                  type="button"
                  className="chip"
                  aria-label={`${N.dropMember}: ${nameOf(id)}`}
                  title={N.dropMember}
                  onClick={() => change(i, { chairs: bond.chairs.filter((it) => it !== id) })}
                >
                  {nameOf(id)} ×
                </button>
              ))}
              <select
                aria-label={`${N.addMember}, ${N.bond(i + 1)}`}
                value=""
                onChange={(event) => event.target.value && change(i, { chairs: [...bond.chairs, event.target.value] })}
              >
                <option value="">{N.addMember} …</option>
                {free.map(({ id, name }) => (
                  <option key={id} value={id}>
                    {name}
                  </option>
                ))}
              </select>
            </div>
            <Issues issues={at('keep', i)} />
            <div className="row low">
              <Select
                label={N.keepHow}
                value={bond.together}
                options={choices(N.keeps)}
                onChange={(together) => change(i, { together: together as 'unison' })}
              />
              <button
                type="button"
                className="quiet"
                aria-label={`${T.players.remove}: ${N.bond(i + 1)}`}
                onClick={() => change(i, undefined)}
              >
                {T.players.remove}
              </button>
            </div>
          </li>
        ))}
      </ul>
      <button type="button" onClick={add} disabled={free.length < 2}>
        {N.addKeep}
      </button>
    </section>
  );
}
