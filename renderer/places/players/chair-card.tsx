/** One chair of the ensemble, unfolded. */

import type { Issue } from '../../../core/base/issue.js';
import type { ChairSource, EnsembleSource } from '../../../core/ensemble/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import { setChair, setChairField, withField } from '../../edits/people.js';
import { Compass } from '../../parts/compass.js';
import { choices, Issues, NumberField, Select, TextField } from '../../parts/fields.js';
import { editCompanion } from '../../state/history.js';
import { change, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

const N = T.ensemble;
const P = T.players;

const OWN_FIELDS = ['id', 'instrument', 'name', 'short', 'level', 'compass', 'players', 'group', 'staff', 'page', 'breath'];

export function ChairCard({
  lists,
  index,
  chair,
  name,
  level: common,
  issues,
  onMove,
}: {
  readonly lists: Lists;
  readonly index: number;
  readonly chair: ChairSource;
  readonly name: string;
  readonly level: EnsembleSource['level'];
  readonly issues: readonly Issue[];
  readonly onMove: (step: -1 | 1) => void;
}) {
  const view = useWindow((s) => s.ensembleView?.chairs[index]);
  const instrument = lists.instruments.find((it) => it.id === chair.instrument);
  const at = (field: string) => issues.filter(({ path }) => path[2] === field);
  const set = <K extends keyof ChairSource>(field: K, value: ChairSource[K] | undefined) =>
    editCompanion('ensemble', { name: CHANGE.chair(name), together: `chair ${index} ${String(field)}` }, (it) =>
      setChairField(it, index, field, value),
    );
  const remove = () => {
    editCompanion('ensemble', { name: CHANGE.removeChair(name) }, (it) => ({ ...it, chairs: it.chairs.filter((_, i) => i !== index) }));
    change({ chair: Math.max(0, index - 1) });
  };
  const known = lists.instruments.map((it) => ({ value: it.id, label: it.name }));
  const level = chair.level ?? common ?? 'intermediate';
  const breath = chair.breath ?? {};
  return (
    <div className="fields">
      <Issues issues={issues.filter(({ path }) => path.length < 3 || !OWN_FIELDS.includes(String(path[2])))} />
      <Select
        label={T.pages.instrument}
        value={chair.instrument}
        options={instrument ? known : [{ value: chair.instrument, label: chair.instrument }, ...known]}
        issues={at('instrument')}
        onChange={(id) =>
          // Another instrument has another compass.
          editCompanion('ensemble', { name: CHANGE.chair(name) }, (it) =>
            setChair(it, index, (before) => withField({ ...before, instrument: id }, 'compass', undefined)),
          )
        }
      />
      <NumberField
        label={N.players}
        min={1}
        max={100}
        value={chair.players}
        placeholder="1"
        issues={at('players')}
        onChange={(players) => set('players', players)}
      />
      <TextField
        label={N.chairName}
        value={chair.name ?? ''}
        placeholder={view?.name ?? N.asInstrument}
        issues={at('name')}
        onChange={(text) => set('name', text)}
      />
      <TextField
        label={N.short}
        value={chair.short ?? ''}
        placeholder={view?.short ?? ''}
        issues={at('short')}
        onChange={(text) => set('short', text)}
      />
      <Select
        label={P.level}
        value={chair.level ?? ''}
        options={[{ value: '', label: N.asAll(P.levels[common ?? 'intermediate']) }, ...choices(P.levels)]}
        issues={at('level')}
        onChange={(next) => set('level', (next || undefined) as ChairSource['level'])}
      />
      <TextField
        label={N.group}
        hint={N.groupHint}
        value={chair.group ?? ''}
        placeholder={chair.instrument}
        issues={at('group')}
        onChange={(group) => set('group', group)}
      />
      <TextField label={N.id} value={chair.id ?? ''} placeholder={view?.id ?? ''} issues={at('id')} onChange={(id) => set('id', id)} />
      {instrument?.breath !== false && (
        <Select
          label={N.lungs}
          value={breath.lungs ?? ''}
          options={[{ value: '', label: N.byLevel }, ...choices(P.lungClasses)]}
          onChange={(lungs) => set('breath', withField(breath, 'lungs', (lungs || undefined) as 'adult'))}
        />
      )}
      {instrument?.breath !== false && (
        <NumberField
          label={N.longTone}
          min={1}
          max={90}
          step={0.1}
          value={breath.longTone}
          issues={at('breath')}
          onChange={(longTone) => set('breath', withField(breath, 'longTone', longTone))}
        />
      )}
      <NumberField
        label={N.staff}
        min={4}
        max={12}
        step={0.5}
        value={chair.staff}
        placeholder={T.book.byLevel}
        issues={at('staff')}
        onChange={(staff) => set('staff', staff)}
      />
      {instrument && (
        <Compass
          lists={lists}
          instrument={instrument}
          level={level}
          compass={chair.compass}
          issues={at('compass')}
          onChange={(compass) => set('compass', compass)}
        />
      )}
      <div className="row wide">
        <button type="button" onClick={() => onMove(-1)}>
          {T.book.moveUp}
        </button>
        <button type="button" onClick={() => onMove(1)}>
          {T.book.moveDown}
        </button>
        <button type="button" onClick={remove}>
          {P.remove}: {name}
        </button>
      </div>
    </div>
  );
}
