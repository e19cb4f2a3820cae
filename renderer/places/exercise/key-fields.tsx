/** The keys of an exercise: the order by name, as a wheel and as a list, and the key it begins in. */
import { memo } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import type { SettingsSource } from '../../../core/book/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import type { ExerciseView } from '../../../electron/services/views.js';
import { setExercise } from '../../edits/book.js';
import { NumberField, Own, Select } from '../../parts/fields.js';
import { KeyWheel } from '../../parts/key-wheel.js';
import { edit } from '../../state/history.js';
import { type Focus, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { useSettingOf } from './setting-fields.js';

const X = T.exercise;
type Order = NonNullable<SettingsSource['order']>;
type Start = NonNullable<SettingsSource['start']>;

/** Place of F sharp or G flat on the wheel. */
const SIX_SIGNS = 6;

const orderName = (order: Order): string => (typeof order === 'string' ? order : Array.isArray(order) ? 'custom' : order.name);
const ownKeys = (order: Order): readonly string[] => (typeof order === 'string' ? [] : Array.isArray(order) ? order : (order.keys ?? []));

const spotOf = (key: string, lists: Lists): number | undefined => lists.wheel.find((it) => it.names.includes(key.replace(/m$/, '')))?.spot;

/** The spots in order: those of the list, or those that the exercise goes through for this instrument. */
function pathOf(order: Order, lists: Lists, exercise: ExerciseView | undefined): readonly number[] {
  const own = ownKeys(order);
  if (own.length > 0) return own.flatMap((key) => spotOf(key, lists) ?? []);
  const played = exercise?.statements.filter((it) => it.pass === 1).map((it) => it.spot);
  return [...new Set(played ?? lists.orders.find((it) => it.name === orderName(order))?.spots ?? [])];
}

export const KeyFields = memo(function KeyFields({
  focus,
  lists,
  exercise,
  issues,
}: {
  readonly focus: Focus;
  readonly lists: Lists;
  readonly exercise: ExerciseView | undefined;
  readonly issues: (field: string) => readonly Issue[];
}) {
  const open = useWindow((s) => s.book !== undefined);
  const playing = useWindow((s) => s.playing);
  const order = useSettingOf(focus, 'order');
  const start = useSettingOf(focus, 'start');
  if (!open) return null;
  const value = order.value as Order;
  const name = orderName(value);
  const entry = lists.orders.find((it) => it.name === name);
  const own = name === 'custom';
  const path = pathOf(value, lists, exercise);

  const setOrder = (next: Order | undefined, begin?: Start) =>
    edit({ name: next === undefined ? CHANGE.reset(X.order) : CHANGE.order }, (it) =>
      setExercise(it, focus, (before) => {
        const { order: _order, ...rest } = before;
        return { ...rest, ...(next === undefined ? {} : { order: next }), ...(begin === undefined ? {} : { start: begin }) };
      }),
    );
  const setStart = (next: Start | undefined) =>
    edit({ name: CHANGE.start }, (it) =>
      setExercise(it, focus, (before) => {
        const { start: _start, ...rest } = before;
        return next === undefined ? rest : { ...rest, start: next };
      }),
    );

  const chooseOrder = (next: string) => {
    if (next === 'custom') return setOrder(path.map((spot) => lists.wheel[spot]?.written ?? 'C'));
    if (next === 'shuffle') return setOrder({ name: 'shuffle', seed: 1 });
    setOrder(next as Order);
  };

  const pressKey = (spot: number) => {
    const key = lists.wheel[spot]?.written ?? 'C';
    if (!own) return setStart({ concert: key });
    const keys = ownKeys(value);
    const held = keys.findIndex((it) => spotOf(it, lists) === spot);
    if (held < 0) return setOrder([...keys, key], { concert: keys[0]?.replace(/m$/, '') ?? key });
    if (keys.length > 1) {
      const rest = keys.filter((_, i) => i !== held);
      setOrder(rest, { concert: (rest[0] as string).replace(/m$/, '') });
    }
  };

  const begin = start.value as Start;
  const kind = begin === 'lowest' ? 'lowest' : begin.written !== undefined ? 'written' : 'concert';
  const beginKey = begin === 'lowest' ? undefined : (begin.concert ?? begin.written);
  const sounding = playing?.event === undefined ? undefined : exercise?.notes[playing.event]?.statement;
  const lit = sounding === undefined ? undefined : exercise?.statements[sounding]?.spot;
  // Of the two keys with six signs, the one that is printed.
  const wheel = lists.wheel.map((key) => {
    const sounding = exercise?.statements.find((it) => it.spot === key.spot)?.sounding.replace(/m$/, '');
    return !own && key.spot === SIX_SIGNS && sounding !== undefined ? { ...key, shown: sounding } : key;
  });
  const keyNames = path.map((spot) => wheel[spot]?.shown ?? '');

  return (
    <div className="keys">
      <div>
        <KeyWheel wheel={wheel} path={path} title={entry?.title ?? name} lit={lit} own={own} onKey={pressKey} />
        <p className="hint center">{own ? X.wheelOwnHint : X.wheelHint}</p>
      </div>
      <div className="stack">
        <Select
          label={X.order}
          value={name}
          options={lists.orders.map((it) => ({ value: it.name, label: it.title }))}
          hint={entry?.steps}
          issues={issues('order')}
          aside={<Own own={order.own} label={X.order} onReset={() => setOrder(undefined)} />}
          onChange={chooseOrder}
        />
        {name === 'shuffle' && typeof value === 'object' && !Array.isArray(value) && (
          <NumberField
            label={X.seed}
            min={0}
            max={999999}
            value={value.seed}
            onChange={(seed) => setOrder({ name: 'shuffle', seed: seed ?? 1 })}
          />
        )}
        <Select
          label={X.start}
          value={kind}
          options={[
            { value: 'lowest', label: X.startLowest },
            { value: 'concert', label: X.startConcert },
            { value: 'written', label: X.startWritten },
          ]}
          issues={issues('start')}
          aside={<Own own={start.own} label={X.start} onReset={() => setStart(undefined)} />}
          onChange={(next) => setStart(next === 'lowest' ? 'lowest' : { [next]: beginKey ?? 'C' })}
        />
        {kind !== 'lowest' && (
          <Select
            label={X.startKey}
            value={lists.wheel.find((it) => it.written === beginKey)?.written ?? beginKey ?? 'C'}
            options={[
              ...lists.wheel.map((it) => ({ value: it.written, label: it.shown })),
              ...(beginKey && !lists.wheel.some((it) => it.written === beginKey) ? [{ value: beginKey, label: beginKey }] : []),
            ]}
            onChange={(key) => setStart({ [kind]: key })}
          />
        )}
        <div className="field">
          <span className="field-head">{X.keyList}</span>
          <ol className="key-list" aria-label={X.keyList}>
            {keyNames.map((key, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: a place in the order is its identity
              <li key={i}>{key}</li>
            ))}
          </ol>
        </div>
      </div>
    </div>
  );
});
