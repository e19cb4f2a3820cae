/** One group of files that can be written: for whom, and what else belongs to it. */
import { useState } from 'react';
import { Check } from '../../parts/fields.js';
import { change, type State } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const P = T.print;

/** Which of a list are on: as the standard says, but for those that were toggled. */
export function useToggles(length: number, standard = false, first: readonly number[] = []) {
  const [toggled, setToggled] = useState<ReadonlySet<number>>(new Set(first));
  const all = Array.from({ length }, (_, i) => i);
  const isOn = (index: number) => toggled.has(index) !== standard;
  return {
    isOn,
    onToggle: (index: number) => setToggled(new Set(toggled.has(index) ? [...toggled].filter((it) => it !== index) : [...toggled, index])),
    onAll: (on: boolean) => setToggled(new Set(on === standard ? [] : all)),
    /** Indices of those that are on. */
    chosen: all.filter(isOn),
  };
}

export type Toggles = ReturnType<typeof useToggles>;

type List = {
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

/** What is chosen for one kind of reader, and what else belongs to it. */
export type Group = Toggles & { readonly names: readonly string[]; readonly more: Toggles };

type ChoiceProps = { readonly group: Group; readonly title: string; readonly moreTitle: string; readonly moreNames: readonly string[] };

export function Choice({ group: { names, more, isOn, onToggle, onAll }, title, moreTitle, moreNames }: ChoiceProps) {
  const all = names.every((_, i) => isOn(i));
  const none = !names.some((_, i) => isOn(i));
  return (
    <fieldset className="group">
      <legend>{title}</legend>
      <div className="checks">
        <Checks names={names} isOn={isOn} onToggle={onToggle} />
      </div>
      <div className="row">
        <button type="button" className="quiet small" onClick={() => onAll(true)} disabled={all} aria-label={`${title}: ${P.all}`}>
          {P.all}
        </button>
        <button type="button" className="quiet small" onClick={() => onAll(false)} disabled={none} aria-label={`${title}: ${P.none}`}>
          {P.none}
        </button>
      </div>
      <h3 className="small-head">{moreTitle}</h3>
      <div className="checks">
        <Checks names={moreNames} {...more} />
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
