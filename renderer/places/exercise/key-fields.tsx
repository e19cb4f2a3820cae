/** The keys of an exercise: the order by name, as a wheel and as a list, and the key it begins in. */
import { memo } from 'react';
import { EXERCISE_DEFAULTS } from '../../../core/book/defaults.js';
import type { SettingsSource } from '../../../core/book/schema.js';
import type { ExerciseView } from '../../../electron/services/contract/answers/exercise.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { setExercise } from '../../edits/book.js';
import { NumberField, Own, Select } from '../../parts/fields.js';
import { KeyWheel } from '../../parts/key-wheel.js';
import { edit } from '../../state/history.js';
import { type Focus, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { type FieldsProps, useSettingOf } from './setting-fields.js';

const X = T.exercise;
type Order = NonNullable<SettingsSource['order']>;
type Start = NonNullable<SettingsSource['start']>;

/** Place of F sharp or G flat on the wheel. */
const SIX_SIGNS = 6;

const orderName = (order: Order) => (typeof order === 'string' ? order : Array.isArray(order) ? ('custom' as const) : order.name);
const ownKeys = (order: Order): readonly string[] => (typeof order === 'string' ? [] : Array.isArray(order) ? order : (order.keys ?? []));

const spotOf = (key: string, lists: Lists): number | undefined => lists.wheel.find((it) => it.names.includes(key.replace(/m$/, '')))?.spot;

/** The spots in order: those of the list, or those that the exercise goes through for this instrument. */
function pathOf(order: Order, lists: Lists, exercise: ExerciseView | undefined): readonly number[] {
  const own = ownKeys(order);
  if (own.length > 0) return own.flatMap((key) => spotOf(key, lists) ?? []);
  const played = exercise?.statements.filter((it) => it.pass === 1).map((it) => it.spot);
  return [...new Set(played ?? lists.orders.find((it) => it.name === orderName(order))?.spots ?? [])];
}

function setOrder(focus: Focus, order: Order | undefined, begin?: Start): void {
  edit('book', { name: order === undefined ? CHANGE.reset(X.order) : CHANGE.order }, (it) =>
    setExercise(it, focus, { order, ...(begin === undefined ? {} : { start: begin }) }),
  );
}

const setStart = (focus: Focus, start: Start | undefined): void =>
  edit('book', { name: CHANGE.start }, (it) => setExercise(it, focus, { start }));

const plainKey = (key: string): string => key.replace(/m$/, '');

type KeysProps = Pick<FieldsProps, 'focus'> & { readonly lists: Lists; readonly exercise: ExerciseView | undefined; readonly order: Order };

/** A click on the wheel begins there; in an own order it takes a key in or out. */
function pressKey({ focus, lists, order }: KeysProps, spot: number): void {
  const key = lists.wheel[spot]?.written ?? 'C';
  if (orderName(order) !== 'custom') {
    setStart(focus, { concert: key });
    return;
  }
  const keys = ownKeys(order);
  const there = keys.findIndex((it) => spotOf(it, lists) === spot);
  const next = there < 0 ? [...keys, key] : keys.toSpliced(there, 1);
  const [first] = next;
  if (first !== undefined) setOrder(focus, next, { concert: plainKey(first) });
}

/** The keys of the wheel; of the two with six signs, the one that is printed. */
function wheelOf({ lists, exercise, order }: KeysProps): Lists['wheel'] {
  if (orderName(order) === 'custom') return lists.wheel;
  const sounding = exercise?.statements.find((it) => it.spot === SIX_SIGNS)?.sounding;
  return lists.wheel.map((key) => (key.spot === SIX_SIGNS && sounding !== undefined ? { ...key, shown: plainKey(sounding) } : key));
}

function OrderWheel(props: KeysProps & { readonly wheel: Lists['wheel']; readonly path: readonly number[] }) {
  const { lists, exercise, order, wheel, path } = props;
  const event = useWindow((s) => s.playing?.event);
  const name = orderName(order);
  const own = name === 'custom';
  const statement = event === undefined ? undefined : exercise?.notes[event]?.statement;
  const lit = statement === undefined ? undefined : exercise?.statements[statement]?.spot;
  const title = lists.orders.find((it) => it.name === name)?.title ?? name;
  return (
    <div>
      <KeyWheel wheel={wheel} path={path} title={title} lit={lit} own={own} onKey={(spot) => pressKey(props, spot)} />
      <p className="hint center">{own ? X.wheelOwnHint : X.wheelHint}</p>
    </div>
  );
}

function OrderFields({
  focus,
  lists,
  order,
  issues,
  own,
  path,
}: KeysProps & FieldsProps & { readonly own: boolean; readonly path: readonly number[] }) {
  const name = orderName(order);
  const choose = (next: typeof name) => {
    if (next === 'custom')
      return setOrder(
        focus,
        path.map((spot) => lists.wheel[spot]?.written ?? 'C'),
      );
    setOrder(focus, next === 'shuffle' ? { name: next, seed: 1 } : next);
  };
  return (
    <>
      <Select
        label={X.order}
        value={name}
        options={lists.orders.map((it) => ({ value: it.name, label: it.title }))}
        hint={lists.orders.find((it) => it.name === name)?.steps}
        issues={issues('order')}
        aside={<Own own={own} label={X.order} onReset={() => setOrder(focus, undefined)} />}
        onChange={choose}
      />
      {typeof order === 'object' && !Array.isArray(order) && order.name === 'shuffle' && (
        <NumberField
          label={X.seed}
          min={0}
          max={999999}
          value={order.seed}
          onChange={(seed) => setOrder(focus, { name: 'shuffle', seed: seed ?? 1 })}
        />
      )}
    </>
  );
}

const KINDS = [
  { value: 'lowest', label: X.startLowest },
  { value: 'concert', label: X.startConcert },
  { value: 'written', label: X.startWritten },
] as const;

function StartFields({ focus, lists, issues }: FieldsProps & { readonly lists: Lists }) {
  const { value: start = EXERCISE_DEFAULTS.start, own } = useSettingOf(focus, 'start');
  const kind = start === 'lowest' ? 'lowest' : start.written !== undefined ? 'written' : 'concert';
  const key = start === 'lowest' ? undefined : (start.concert ?? start.written);
  const known = lists.wheel.some((it) => it.written === key);
  return (
    <>
      <Select
        label={X.start}
        value={kind}
        options={KINDS}
        issues={issues('start')}
        aside={<Own own={own} label={X.start} onReset={() => setStart(focus, undefined)} />}
        onChange={(next) => setStart(focus, next === 'lowest' ? 'lowest' : { [next]: key ?? 'C' })}
      />
      {kind !== 'lowest' && (
        <Select
          label={X.startKey}
          value={key ?? 'C'}
          options={[
            ...lists.wheel.map((it) => ({ value: it.written, label: it.shown })),
            ...(key && !known ? [{ value: key, label: key }] : []),
          ]}
          onChange={(next) => setStart(focus, { [kind]: next })}
        />
      )}
    </>
  );
}

function KeyNames({ names }: { readonly names: readonly string[] }) {
  return (
    <div className="field">
      <span className="field-head">{X.keyList}</span>
      <ol className="key-list" aria-label={X.keyList}>
        {names.map((key, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a place in the order is its identity
          <li key={i}>{key}</li>
        ))}
      </ol>
    </div>
  );
}

export const KeyFields = memo(function KeyFields(props: FieldsProps & Pick<KeysProps, 'lists' | 'exercise'>) {
  const { focus, lists, exercise, issues } = props;
  const { value: order = EXERCISE_DEFAULTS.order, own } = useSettingOf(focus, 'order');
  const path = pathOf(order, lists, exercise);
  const keys = { focus, lists, exercise, order };
  const wheel = wheelOf(keys);
  return (
    <div className="keys">
      <OrderWheel {...keys} wheel={wheel} path={path} />
      <div className="stack">
        <OrderFields {...keys} issues={issues} own={own} path={path} />
        <StartFields focus={focus} lists={lists} issues={issues} />
        <KeyNames names={path.map((spot) => wheel[spot]?.shown ?? '')} />
      </div>
    </div>
  );
});
