/** Who plays: the instruments of the book, the people and their lungs, and what they can play together. */
import { useEffect, useState } from 'react';
import type { Issue } from '../../core/issue.js';
import type { InstrumentEntry, Lists } from '../../electron/services/lists.js';
import { type EditionObject, editionObject, setEditionField } from '../book-edits.js';
import { edit } from '../history.js';
import { Drawing } from '../parts/drawing.js';
import { choices, Issues, Select, TextField } from '../parts/fields.js';
import { Keyboard } from '../parts/keyboard.js';
import { service } from '../service.js';
import { change, useWindow } from '../state.js';
import { CHANGE, T } from '../texts.js';
import { showEdition } from '../work.js';
import { People } from './people.js';
import { Together } from './together.js';

const P = T.players;

export const instrumentChoices = (lists: Lists) => lists.instruments.map((it) => ({ value: it.id, label: it.name }));

function CompassStaff({ instrument, low, high }: { readonly instrument: InstrumentEntry; readonly low: string; readonly high: string }) {
  const [svg, setSvg] = useState('');
  useEffect(() => {
    let gone = false;
    void service.call('staff', { clef: instrument.clef, notes: [low, high] }).then((answer) => {
      if (answer.ok && !gone) setSvg(answer.value.svg);
    });
    return () => {
      gone = true;
    };
  }, [instrument.clef, low, high]);
  return <div className="compass-staff">{svg && <Drawing svg={svg} natural />}</div>;
}

type Change = <K extends keyof EditionObject>(field: K, value: EditionObject[K] | undefined) => void;

function Compass({
  lists,
  instrument,
  edition,
  set,
}: {
  readonly lists: Lists;
  readonly instrument: InstrumentEntry;
  readonly edition: EditionObject;
  readonly set: Change;
}) {
  const level = edition.level ?? 'intermediate';
  const standard = instrument.compass[level];
  const low = edition.compass?.low ?? standard?.low.name ?? 'C4';
  const high = edition.compass?.high ?? standard?.high.name ?? 'C6';
  const keyOf = (name: string): number | undefined =>
    lists.keyboard.find((it) => it.name === name)?.key ?? [standard?.low, standard?.high].find((it) => it?.name === name)?.key;
  const move = (end: 'low' | 'high', name: string) => set('compass', { low, high, ...edition.compass, [end]: name });
  const step = (end: 'low' | 'high', by: number) => {
    const at = keyOf(end === 'low' ? low : high);
    const next = at === undefined ? undefined : lists.keyboard.find((it) => it.key === at + by);
    if (next) move(end, next.name);
  };
  const ends = [
    ['low', P.lowest, low],
    ['high', P.highest, high],
  ] as const;
  return (
    <div className="compass wide">
      <CompassStaff instrument={instrument} low={low} high={high} />
      <div className="stack">
        <Keyboard keyboard={lists.keyboard} low={keyOf(low) ?? 60} high={keyOf(high) ?? 84} onMove={move} />
        <p className="hint">{P.compassHint}</p>
        <div className="row">
          {ends.map(([end, label, value]) => (
            <div key={end} className="row tight">
              <TextField label={label} value={value} onChange={(text) => move(end, text)} />
              <button type="button" aria-label={`${label}: ${P.lower}`} title={P.lower} onClick={() => step(end, -1)}>
                ♭
              </button>
              <button type="button" aria-label={`${label}: ${P.higher}`} title={P.higher} onClick={() => step(end, 1)}>
                ♯
              </button>
            </div>
          ))}
          {edition.compass && (
            <button type="button" className="quiet" onClick={() => set('compass', undefined)}>
              {P.compassOf(P.levels[level])}
            </button>
          )}
        </div>
      </div>
    </div>
  );
}

function Edition({ lists, index, issues }: { readonly lists: Lists; readonly index: number; readonly issues: readonly Issue[] }) {
  const source = useWindow((s) => s.book?.source);
  const current = useWindow((s) => s.edition) === index;
  const given = source?.editions[index];
  if (!source || given === undefined) return null;
  const edition = editionObject(given);
  const instrument = lists.instruments.find((it) => it.id === edition.instrument);
  const name = instrument?.name ?? edition.instrument;
  const set: Change = (field, value) =>
    edit({ name: CHANGE.edition(name), together: `edition ${index} ${String(field)}` }, (it) => setEditionField(it, index, field, value));
  const remove = () =>
    edit({ name: CHANGE.removeEdition(name), edition: Math.max(0, index - 1) }, (it) => ({
      ...it,
      editions: it.editions.filter((_, i) => i !== index),
    }));
  return (
    <li className={`edition${current ? ' current' : ''}`}>
      <button type="button" className="edition-head" aria-expanded={current} onClick={() => showEdition(index)}>
        <span className="item-title">{name}</span>
        <span className="hint">{P.levels[edition.level ?? 'intermediate']}</span>
        {issues.length > 0 && <span className="badge">{T.print.errors(issues.length)}</span>}
      </button>
      {current && (
        <div className="fields">
          <Issues issues={issues} />
          <Select
            label={T.pages.instrument}
            value={edition.instrument}
            options={
              instrument
                ? instrumentChoices(lists)
                : [{ value: edition.instrument, label: edition.instrument }, ...instrumentChoices(lists)]
            }
            hint={instrument ? (instrument.pitchedIn ? P.pitched(instrument.pitchedIn) : P.concert) : undefined}
            onChange={(id) =>
              edit({ name: CHANGE.edition(name) }, (it) => ({
                ...it,
                // Another instrument has another compass.
                editions: it.editions.map((old, i) => (i === index ? { ...editionObject(old), compass: undefined, instrument: id } : old)),
              }))
            }
          />
          <Select
            label={P.level}
            value={edition.level ?? 'intermediate'}
            options={choices(P.levels)}
            onChange={(level) => set('level', level as NonNullable<typeof edition.level>)}
          />
          <Select
            label={P.spelling}
            value={edition.spelling?.tie ?? source.spelling?.tie ?? 'flats'}
            options={choices(P.ties)}
            onChange={(tie) => set('spelling', { ...edition.spelling, tie: tie as 'flats' | 'sharps' })}
          />
          {instrument?.breath && (
            <Select
              label={P.marks}
              value={edition.breath?.print ?? source.breath?.print ?? 'marks and ladders'}
              options={choices(P.markNames)}
              onChange={(print) => set('breath', { ...edition.breath, print: print as 'none' })}
            />
          )}
          {instrument?.breath && (
            <Select
              label={P.marksFor}
              value={edition.breath?.player?.lungs ?? source.breath?.player?.lungs ?? 'adult'}
              options={choices(P.lungClasses)}
              onChange={(lungs) => set('breath', { ...edition.breath, player: { lungs: lungs as 'adult' } })}
            />
          )}
          {instrument && <Compass lists={lists} instrument={instrument} edition={edition} set={set} />}
          <div className="row wide">
            <button type="button" onClick={remove}>
              {P.remove}: {name}
            </button>
          </div>
        </div>
      )}
    </li>
  );
}

export function PlayersPlace() {
  const lists = useWindow((s) => s.lists);
  const source = useWindow((s) => s.book?.source);
  const issues = useWindow((s) => s.shown?.issues) ?? [];
  const [wanted, setWanted] = useState('flute');
  if (!lists || !source) return null;
  const add = () => {
    const name = lists.instruments.find((it) => it.id === wanted)?.name ?? wanted;
    edit({ name: CHANGE.addEdition(name), edition: source.editions.length }, (it) => ({
      ...it,
      editions: [...it.editions, { instrument: wanted }],
    }));
    change({ said: name });
  };
  return (
    <div className="work">
      <header className="place-head">
        <div>
          <p className="over">{T.book.heading}</p>
          <h1>{P.heading}</h1>
        </div>
      </header>
      <section className="panel">
        <h2>{P.editions}</h2>
        <p className="hint">{P.editionsHint}</p>
        {source.editions.length === 0 && <p className="empty">{P.noEditions}</p>}
        <ul className="editions">
          {source.editions.map((edition, i) => (
            <Edition
              // biome-ignore lint/suspicious/noArrayIndexKey: two editions of one instrument differ by their place only
              key={`${editionObject(edition).instrument} ${i}`}
              lists={lists}
              index={i}
              issues={issues.filter(({ path, severity }) => severity !== 'note' && path[0] === 'editions' && path[1] === i)}
            />
          ))}
        </ul>
        <div className="row end">
          <Select label={P.addEdition} value={wanted} options={instrumentChoices(lists)} onChange={setWanted} />
          <button type="button" className="main" onClick={add}>
            {P.add}
          </button>
        </div>
      </section>
      <People lists={lists} />
      <Together />
    </div>
  );
}
