/** Who plays: the instruments of the book, the people and their lungs, and what they can play together. */
import { type ReactNode, useState } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import type { Lists } from '../../../electron/services/lists.js';
import { showEdition } from '../../commands/work.js';
import { type EditionObject, editionObject, printedBreath, setEditionField } from '../../edits/book.js';
import { Compass } from '../../parts/compass.js';
import { choices, Issues, Select } from '../../parts/fields.js';
import { edit } from '../../state/history.js';
import { keepInSight } from '../../state/keyboard-focus.js';
import { change, type State, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { EnsemblePanel } from './ensemble.js';
import { PlayableTable } from './playable-table.js';
import { StudentsPanel } from './students.js';

const P = T.players;

export const instrumentChoices = (lists: Lists) => lists.instruments.map((it) => ({ value: it.id, label: it.name }));

type Change = <K extends keyof EditionObject>(field: K, value: EditionObject[K] | undefined) => void;

function Edition({ lists, index, issues }: { readonly lists: Lists; readonly index: number; readonly issues: readonly Issue[] }) {
  const source = useWindow((s) => s.book?.source);
  const current = useWindow((s) => s.edition) === index;
  const given = source?.editions[index];
  if (!source || given === undefined) return null;
  const edition = editionObject(given);
  const instrument = lists.instruments.find((it) => it.id === edition.instrument);
  const name = instrument?.name ?? edition.instrument;
  const facts = printedBreath(source, index).player;
  const set: Change = (field, value) =>
    edit({ name: CHANGE.edition(name), together: `edition ${index} ${String(field)}` }, (it) => setEditionField(it, index, field, value));
  const own = issues.filter(({ path }) => path[2] !== 'compass');
  const at = (field: string) => issues.filter(({ path }) => path[2] === field);
  const remove = () =>
    edit({ name: CHANGE.removeEdition(name), edition: Math.max(0, index - 1) }, (it) => ({
      ...it,
      editions: it.editions.filter((_, i) => i !== index),
    }));
  return (
    <li className={`edition${current ? ' current' : ''}`}>
      <button
        type="button"
        className="edition-head"
        aria-expanded={current}
        onClick={(event) => {
          showEdition(index);
          keepInSight(event.currentTarget);
        }}
      >
        <span className="item-title">{name}</span>
        <span className="hint">{P.levels[edition.level ?? 'intermediate']}</span>
        {issues.length > 0 && <span className="badge">{T.print.errors(issues.length)}</span>}
      </button>
      {current && (
        <div className="fields">
          <Issues issues={own} />
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
              value={lungsOf(facts)}
              options={[
                ...(lungsOf(facts) === 'own' ? [{ value: 'own', label: P.ownLungs(factsText(facts)) }] : []),
                ...choices(P.lungClasses),
              ]}
              onChange={(lungs) => lungs !== 'own' && set('breath', { ...edition.breath, player: { lungs: lungs as 'adult' } })}
            />
          )}
          {instrument && (
            <Compass
              lists={lists}
              instrument={instrument}
              level={edition.level ?? 'intermediate'}
              compass={edition.compass}
              issues={at('compass')}
              onChange={(compass) => set('compass', compass)}
            />
          )}
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

type Facts = ReturnType<typeof printedBreath>['player'];

/** A rough class, or `own` for facts about one player. */
const lungsOf = (facts: Facts): string =>
  facts && Object.keys(facts).some((name) => name !== 'lungs') ? 'own' : (facts?.lungs ?? 'adult');
const factsText = (facts: Facts): string => {
  const seconds = facts?.lungTime ?? facts?.longTone;
  return seconds === undefined ? '' : ` (${P.seconds(seconds.toFixed(1))})`;
};

function Instruments({ lists }: { readonly lists: Lists }) {
  const source = useWindow((s) => s.book?.source);
  const issues = useWindow((s) => s.shown?.issues) ?? [];
  // The first instrument that the book has not yet.
  const [wanted, setWanted] = useState(() => {
    const there = source?.editions.map((it) => editionObject(it).instrument) ?? [];
    return lists.instruments.find(({ id }) => !there.includes(id))?.id ?? 'flute';
  });
  if (!source) return null;
  const add = () => {
    const name = lists.instruments.find((it) => it.id === wanted)?.name ?? wanted;
    edit({ name: CHANGE.addEdition(name), edition: source.editions.length }, (it) => ({
      ...it,
      editions: [...it.editions, { instrument: wanted }],
    }));
    change({ said: name });
  };
  return (
    <>
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
      {source.editions.length > 0 && <PlayableTable />}
    </>
  );
}

const COMPANIES: Readonly<Record<State['company'], (props: { readonly lists: Lists }) => ReactNode>> = {
  instruments: Instruments,
  students: StudentsPanel,
  ensemble: EnsemblePanel,
};

export function PlayersPlace() {
  const lists = useWindow((s) => s.lists);
  const source = useWindow((s) => s.book?.source);
  const company = useWindow((s) => s.company);
  if (!lists || !source) return null;
  const Panel = COMPANIES[company];
  return (
    <div className="work">
      <header className="place-head">
        <div>
          <p className="over">{source.title}</p>
          <h1>{P.heading}</h1>
        </div>
      </header>
      <nav className="kinds" aria-label={P.heading}>
        {(Object.keys(COMPANIES) as State['company'][]).map((name) => (
          <button key={name} type="button" aria-pressed={company === name} onClick={() => change({ company: name })}>
            {P.companies[name]}
          </button>
        ))}
      </nav>
      <Panel lists={lists} />
    </div>
  );
}
