/** What is wrong, and the files for everyone. */
import { useState } from 'react';
import { build, prove } from '../../commands/long-jobs.js';
import { editionObject } from '../../edits/book.js';
import { chooseFolder } from '../../files/choose-path.js';
import { FolderField, Progress, Results } from '../../parts/writing.js';
import { evenPage } from '../../state/page-spread.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import { Faults } from './faults.js';
import { Choice, NoneOpen, toggled } from './file-choice.js';

const P = T.print;

function ProofResult() {
  const proof = useWindow((s) => s.proof);
  const edition = useWindow((s) => s.edition);
  const source = useWindow((s) => s.book?.source);
  const wrong = useWindow((s) => s.shown?.issues.some(({ severity }) => severity === 'error') ?? false);
  // A proof of another state of the book proves nothing.
  if (!proof || proof.edition !== edition || proof.source !== source) return null;
  const { view } = proof;
  const checked = view.rules.filter((it) => it.checked > 0).length;
  return (
    <div aria-live="polite">
      <p className={view.faults.length > 0 ? 'fault' : wrong ? undefined : 'good'}>
        {view.faults.length === 0 ? P.clean(view.pages, checked) : P.found(view.faults.length)}
      </p>
      {wrong && <p className="hint">{P.provedApart}</p>}
      <ul className="faults">
        {view.faults.map((fault, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the list is replaced as a whole
          <li key={i} data-severity="error">
            <div>
              <span className="severity">{fault.rule}</span>
              <span className="hint">{[fault.page && T.pages.page(fault.page), fault.exercise].filter(Boolean).join(', ')}</span>
              <p>{fault.what}</p>
            </div>
            {fault.pageIndex !== undefined && (
              <button
                type="button"
                onClick={() =>
                  change({ place: 'pages', spread: evenPage(fault.pageIndex ?? 0), ...(fault.place ? { focus: fault.place } : {}) })
                }
              >
                {P.goTo}
              </button>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}

type Kind = 'pdf' | 'svg' | 'midi';
const KINDS: readonly Kind[] = ['pdf', 'svg', 'midi'];

/** Indices of a list of this length that are in the set. */
const chosen = (length: number, set: ReadonlySet<number>, inside: boolean): number[] =>
  Array.from({ length }, (_, i) => i).filter((i) => set.has(i) === inside);

function PrintPanel() {
  const source = useWindow((s) => s.book?.source);
  const lists = useWindow((s) => s.lists);
  const roster = useWindow((s) => s.roster?.source);
  const ensemble = useWindow((s) => s.ensemble?.source);
  const chairViews = useWindow((s) => s.ensembleView?.chairs) ?? [];
  const today = useWindow((s) => s.about?.today) ?? '2026-01-01';
  const work = useWindow((s) => s.work);
  const folder = useWindow((s) => s.preferences.folder);
  // Every instrument, unless it was taken out; no student and no chair, unless it was put in.
  const [out, setOut] = useState<ReadonlySet<number>>(new Set());
  const [kinds, setKinds] = useState<ReadonlySet<Kind>>(new Set(['pdf']));
  const [students, setStudents] = useState<ReadonlySet<number>>(new Set());
  const [summary, setSummary] = useState(false);
  const [chairs, setChairs] = useState<ReadonlySet<number>>(new Set());
  const [score, setScore] = useState(false);
  if (!source || !lists) return null;

  const nameOf = (id: string) => lists.instruments.find((one) => one.id === id)?.name ?? id;
  const names = source.editions.map((it) => nameOf(editionObject(it).instrument));
  const people = roster?.students.map(({ name }) => name || T.students.unnamed) ?? [];
  const seats = ensemble?.chairs.map((chair, i) => chairViews[i]?.name ?? chair.name ?? nameOf(chair.instrument)) ?? [];
  const wish = {
    editions: chosen(names.length, out, false),
    kinds: KINDS.filter((kind) => kinds.has(kind)),
    booklets: { roster, students: chosen(people.length, students, true), summary: summary && people.length > 0, date: today },
    set: { ensemble, chairs: chosen(seats.length, chairs, true), score: score && seats.length > 0 },
  };
  const withBooklets = roster !== undefined && (wish.booklets.students.length > 0 || wish.booklets.summary);
  const withSet = ensemble !== undefined && (wish.set.chairs.length > 0 || wish.set.score);
  const withEditions = wish.editions.length > 0 && wish.kinds.length > 0;
  const nothing = !withEditions && !withBooklets && !withSet;
  const start = async () => {
    // Not `disabled`, which would take the keyboard's focus away.
    if (work) return;
    // It stands beside the button; here it is read aloud.
    if (nothing) return change({ said: P.needOne });
    const place = folder ?? (await chooseFolder());
    if (place === undefined) return;
    const { booklets, set, ...editions } = wish;
    await build({ ...editions, ...(withBooklets ? { booklets } : {}), ...(withSet ? { set } : {}) }, place);
  };
  return (
    <section className="panel">
      <h2>{P.print}</h2>
      <div className="print-choices">
        {names.length > 0 ? (
          <Choice
            title={P.books}
            names={names}
            isOn={(i) => !out.has(i)}
            onToggle={(i) => setOut(toggled(out, i))}
            onAll={(on) => setOut(new Set(on ? [] : names.keys()))}
            more={{
              title: P.what,
              names: KINDS.map((kind) => P.kinds[kind]),
              isOn: (i) => kinds.has(KINDS[i] as Kind),
              onToggle: (i) => setKinds(toggled(kinds, KINDS[i] as Kind)),
            }}
          />
        ) : (
          <NoneOpen of="instruments" title={P.books} words={P.noBooks} />
        )}
        {roster && people.length > 0 ? (
          <Choice
            title={P.booklets}
            names={people}
            isOn={(i) => students.has(i)}
            onToggle={(i) => setStudents(toggled(students, i))}
            onAll={(on) => setStudents(new Set(on ? people.keys() : []))}
            more={{ title: P.forTeacher, names: [P.summary], isOn: () => summary, onToggle: () => setSummary(!summary) }}
          />
        ) : (
          <NoneOpen of="roster" title={P.booklets} words={roster ? P.noStudents : P.noRoster} />
        )}
        {ensemble ? (
          <Choice
            title={P.parts}
            names={seats}
            isOn={(i) => chairs.has(i)}
            onToggle={(i) => setChairs(toggled(chairs, i))}
            onAll={(on) => setChairs(new Set(on ? seats.keys() : []))}
            more={{ title: P.forConductor, names: [P.score], isOn: () => score, onToggle: () => setScore(!score) }}
          />
        ) : (
          <NoneOpen of="ensemble" title={P.parts} words={P.noEnsemble} />
        )}
      </div>
      <FolderField folder={folder} choose={chooseFolder} />
      <div className="row act">
        <button type="button" className="main" onClick={() => void start()} aria-disabled={work !== undefined}>
          {P.build}
        </button>
        {nothing && <span className="hint">{P.needOne}</span>}
      </div>
      {work?.kind !== 'prove' && <Progress />}
      <Results kind="build" />
    </section>
  );
}

export function PrintPlace() {
  const title = useWindow((s) => s.book?.source.title);
  const work = useWindow((s) => s.work);
  if (title === undefined) return null;
  return (
    <div className="work">
      <header className="place-head">
        <div>
          <p className="over">{title}</p>
          <h1>{P.heading}</h1>
        </div>
      </header>
      <section className="panel">
        <h2>{P.faults}</h2>
        <Faults />
        <div className="row act">
          <button type="button" id="prove" onClick={() => void prove()} aria-disabled={work !== undefined}>
            {P.runProof}
          </button>
          <span className="hint">{P.proofHint}</span>
        </div>
        {work?.kind === 'prove' && <Progress />}
        <ProofResult />
      </section>
      <PrintPanel />
    </div>
  );
}
