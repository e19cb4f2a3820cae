/** One chair of the ensemble, unfolded. */
import type { Issue } from '../../../core/base/issue.js';
import type { ChairSource, EnsembleSource } from '../../../core/ensemble/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { CHAIRS } from '../../edits/ensemble.js';
import { withFields } from '../../edits/list.js';
import { bind, SECONDS } from '../../parts/bound.js';
import { NumberField, OpenSelect, TextField } from '../../parts/fields.js';
import { issuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { instrumentOf } from '../../state/instrument-names.js';
import { change, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { type BreathFacts, CompassField, HeadIssues, InstrumentField, LevelField, type Reader, StaffField, stepOf } from './reader-form.js';

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

export function ChairCard({ lists, index, chair, name, level, issues, onMove }: ChairProps) {
  const view = useWindow((s) => s.ensembleView?.chairs[index]);
  const at = issuesAt(issues, 'chairs', index);
  const set = (part: Partial<ChairSource>) =>
    edit('ensemble', stepOf(CHANGE.reader(name), `chair ${index}`, part), (it) => CHAIRS.set(it, index, part));
  const common = level ?? 'intermediate';
  const reader: Reader = { lists, source: chair, level: common, at, set };
  const field = bind(chair, at, set);
  const breath = bind<BreathFacts>(
    chair.breath ?? {},
    (name) => (name === 'longTone' ? at('breath') : []),
    (part) => set({ breath: withFields(chair.breath ?? {}, part) }),
  );
  const remove = () => {
    edit('ensemble', { name: CHANGE.removeReader(name) }, (it) => CHAIRS.remove(it, index));
    change({ chair: Math.max(0, index - 1) });
  };
  return (
    <div className="fields">
      <HeadIssues issues={issues} fields={['id', 'name', 'short', 'players', 'group']} />
      <InstrumentField reader={reader} />
      <NumberField {...field('players', N.players)} min={1} max={100} placeholder="1" />
      <TextField {...field('name', N.chairName)} placeholder={view?.name ?? N.asInstrument} />
      <TextField {...field('short', N.short)} placeholder={view?.short ?? ''} />
      <LevelField reader={reader} none={N.asAll(T.players.levels[common])} />
      <TextField {...field('group', N.group)} hint={N.groupHint} placeholder={chair.instrument} />
      <TextField {...field('id', N.id)} placeholder={view?.id ?? ''} />
      {instrumentOf(lists, chair.instrument)?.breath !== false && (
        <>
          <OpenSelect {...breath('lungs', N.lungs)} none={N.byLevel} names={T.players.lungClasses} />
          <NumberField {...breath('longTone', N.longTone)} {...SECONDS} />
        </>
      )}
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
