/** One group of files that can be written: for whom, and what else belongs to it. */
import { Check } from '../../parts/fields.js';
import { change, type State } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const P = T.print;

export const toggled = <T,>(set: ReadonlySet<T>, item: T): ReadonlySet<T> =>
  new Set(set.has(item) ? [...set].filter((it) => it !== item) : [...set, item]);

type List = {
  readonly title: string;
  readonly names: readonly string[];
  readonly isOn: (index: number) => boolean;
  readonly onToggle: (index: number) => void;
};

function Checks({ names, isOn, onToggle }: List) {
  return names.map((name, i) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: the same instrument may come twice
    <Check key={i} label={name} checked={isOn(i)} onChange={() => onToggle(i)} />
  ));
}

export function Choice({ onAll, more, ...list }: List & { readonly onAll: (on: boolean) => void; readonly more: List }) {
  const all = list.names.every((_, i) => list.isOn(i));
  const none = !list.names.some((_, i) => list.isOn(i));
  return (
    <fieldset className="group">
      <legend>{list.title}</legend>
      <div className="checks">
        <Checks {...list} />
      </div>
      <div className="row">
        <button type="button" className="quiet small" onClick={() => onAll(true)} disabled={all} aria-label={`${list.title}: ${P.all}`}>
          {P.all}
        </button>
        <button type="button" className="quiet small" onClick={() => onAll(false)} disabled={none} aria-label={`${list.title}: ${P.none}`}>
          {P.none}
        </button>
      </div>
      <h3 className="small-head">{more.title}</h3>
      <div className="checks">
        <Checks {...more} />
      </div>
    </fieldset>
  );
}

const COMPANIES: Readonly<Record<keyof typeof P.toPlayers, State['company']>> = {
  instruments: 'instruments',
  roster: 'students',
  ensemble: 'ensemble',
};

/** What would stand here if there were instruments, a roster or an ensemble, and the way to them. */
export function NoneOpen({ of, title, words }: { readonly of: keyof typeof P.toPlayers; readonly title: string; readonly words: string }) {
  return (
    <fieldset className="group">
      <legend>{title}</legend>
      <p className="hint">{words}</p>
      <button type="button" onClick={() => change({ place: 'players', company: COMPANIES[of] })}>
        {P.toPlayers[of]}
      </button>
    </fieldset>
  );
}
