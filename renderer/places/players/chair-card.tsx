/** One chair of the ensemble, unfolded. */
import type { Issue } from '../../../core/base/issue.js';
import type { ChairSource, EnsembleSource } from '../../../core/ensemble/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import { CHAIRS } from '../../edits/ensemble.js';
import { withFields } from '../../edits/list.js';
import { NumberField, TextField } from '../../parts/fields.js';
import { type IssuesAt, issuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { instrumentOf } from '../../state/instrument-names.js';
import { change, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import {
  type BreathFacts,
  CompassField,
  HeadIssues,
  InstrumentField,
  LevelField,
  LongToneField,
  LungsField,
  type Reader,
  StaffField,
  stepOf,
} from './reader-form.js';

const N = T.ensemble;

export type ChairProps = {
  readonly lists: Lists;
  readonly index: number;
  readonly chair: ChairSource;
  readonly name: string;
  readonly level: EnsembleSource['level'];
  readonly issues: readonly Issue[];
  readonly onMove: (step: -1 | 1) => void;
};

type FormProps = {
  readonly index: number;
  readonly chair: ChairSource;
  readonly at: IssuesAt;
  readonly set: (part: Partial<ChairSource>) => void;
};

function PartNames({ index, chair, at, set }: FormProps) {
  const view = useWindow((s) => s.ensembleView?.chairs[index]);
  return (
    <>
      <TextField
        label={N.chairName}
        value={chair.name ?? ''}
        placeholder={view?.name ?? N.asInstrument}
        issues={at('name')}
        onChange={(name) => set({ name })}
      />
      <TextField
        label={N.short}
        value={chair.short ?? ''}
        placeholder={view?.short ?? ''}
        issues={at('short')}
        onChange={(short) => set({ short })}
      />
    </>
  );
}

function GroupAndId({ index, chair, at, set }: FormProps) {
  const id = useWindow((s) => s.ensembleView?.chairs[index]?.id) ?? '';
  return (
    <>
      <TextField
        label={N.group}
        hint={N.groupHint}
        value={chair.group ?? ''}
        placeholder={chair.instrument}
        issues={at('group')}
        onChange={(group) => set({ group })}
      />
      <TextField label={N.id} value={chair.id ?? ''} placeholder={id} issues={at('id')} onChange={(next) => set({ id: next })} />
    </>
  );
}

function ChairBreath({ chair, at, set }: FormProps) {
  const facts = chair.breath ?? {};
  const setFacts = (part: Partial<BreathFacts>) => set({ breath: withFields(facts, part) });
  return (
    <>
      <LungsField label={N.lungs} none={N.byLevel} facts={facts} set={setFacts} />
      <LongToneField label={N.longTone} facts={facts} issues={at('breath')} set={setFacts} />
    </>
  );
}

export function ChairCard({ lists, index, chair, name, level, issues, onMove }: ChairProps) {
  const at = issuesAt(issues, 'chairs', index);
  const set = (part: Partial<ChairSource>) =>
    edit('ensemble', stepOf(CHANGE.chair(name), `chair ${index}`, part), (it) => CHAIRS.set(it, index, part));
  const common = level ?? 'intermediate';
  const reader: Reader = { lists, source: chair, level: common, at, set };
  const form = { index, chair, at, set };
  const remove = () => {
    edit('ensemble', { name: CHANGE.removeChair(name) }, (it) => CHAIRS.remove(it, index));
    change({ chair: Math.max(0, index - 1) });
  };
  return (
    <div className="fields">
      <HeadIssues issues={issues} fields={['id', 'name', 'short', 'players', 'group']} />
      <InstrumentField reader={reader} />
      <NumberField
        label={N.players}
        min={1}
        max={100}
        value={chair.players}
        placeholder="1"
        issues={at('players')}
        onChange={(players) => set({ players })}
      />
      <PartNames {...form} />
      <LevelField reader={reader} none={N.asAll(T.players.levels[common])} />
      <GroupAndId {...form} />
      {instrumentOf(lists, chair.instrument)?.breath !== false && <ChairBreath {...form} />}
      <StaffField reader={reader} />
      <CompassField reader={reader} />
      <div className="row wide">
        <button type="button" onClick={() => onMove(-1)}>
          {T.book.moveUp}
        </button>
        <button type="button" onClick={() => onMove(1)}>
          {T.book.moveDown}
        </button>
        <button type="button" onClick={remove}>
          {T.players.remove}: {name}
        </button>
      </div>
    </div>
  );
}
