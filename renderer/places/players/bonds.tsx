/** Chairs that play in unison or in octaves. */
import type { EnsembleSource } from '../../../core/ensemble/schema.js';
import { BONDS } from '../../edits/ensemble.js';
import { ChipList } from '../../parts/chip-list.js';
import { type Choice, choices, Issues, Select } from '../../parts/fields.js';
import type { IssuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

const N = T.ensemble;

const change = (make: (before: EnsembleSource) => EnsembleSource) => edit('ensemble', { name: CHANGE.bond }, make);

type BondProps = {
  readonly place: number;
  readonly bond: ReturnType<typeof BONDS.of>[number];
  readonly free: readonly Choice[];
  readonly nameOf: (id: string) => string;
  readonly at: IssuesAt;
};

function Bond({ place, bond, free, nameOf, at }: BondProps) {
  const of = N.bond(place + 1);
  return (
    <li className="assignment">
      <ChipList
        chosen={bond.chairs}
        free={free}
        nameOf={nameOf}
        drop={N.dropMember}
        add={N.addMember}
        of={of}
        onChange={(chairs) => change((it) => BONDS.set(it, place, { chairs }))}
      />
      <Issues issues={at('keep', place)} />
      <div className="row low">
        <Select
          label={N.keepHow}
          value={bond.together}
          options={choices(N.keeps)}
          onChange={(together) => change((it) => BONDS.set(it, place, { together }))}
        />
        <button
          type="button"
          className="quiet"
          aria-label={`${T.players.remove}: ${of}`}
          onClick={() => change((it) => BONDS.remove(it, place))}
        >
          {T.players.remove}
        </button>
      </div>
    </li>
  );
}

export function Bonds({ source, at }: { readonly source: EnsembleSource; readonly at: IssuesAt }) {
  const chairs = useWindow((s) => s.ensembleView?.chairs) ?? [];
  const bonds = BONDS.of(source);
  const bound = new Set(bonds.flatMap((bond) => bond.chairs));
  const free = chairs.filter(({ id }) => !bound.has(id)).map(({ id, name }) => ({ value: id, label: name }));
  const pair = free.slice(0, 2).map(({ value }) => value);
  return (
    <section className="panel">
      <h2>{N.keep}</h2>
      <p className="hint">{N.keepHint}</p>
      <ul className="assignments">
        {bonds.map((bond, i) => (
          <Bond
            // biome-ignore lint/suspicious/noArrayIndexKey: bonds have no identity but their place
            key={i}
            place={i}
            bond={bond}
            free={free}
            nameOf={(id) => chairs.find((it) => it.id === id)?.name ?? id}
            at={at}
          />
        ))}
      </ul>
      <button type="button" onClick={() => change((it) => BONDS.add(it, { chairs: pair, together: 'unison' }))} disabled={free.length < 2}>
        {N.addKeep}
      </button>
    </section>
  );
}
