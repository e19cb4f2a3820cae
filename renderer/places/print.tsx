/** What is wrong, and the files for everyone. */
import { useState } from 'react';
import { type Issue, pathText } from '../../core/issue.js';
import { editionObject } from '../book-edits.js';
import { chooseFolder } from '../files.js';
import { evenPage } from '../pages.js';
import { Check } from '../parts/fields.js';
import { service } from '../service.js';
import { change, notify, useWindow } from '../state.js';
import { T } from '../texts.js';
import { build, cancelWork, prove } from '../work.js';

const P = T.print;

/** Where in the window a fault can be mended. */
function jump({ path }: Issue): void {
  const [field, index, , exercise] = path;
  if (field === 'chapters' && typeof index === 'number') {
    const deep = typeof exercise === 'number';
    change({ place: deep ? 'exercise' : 'book', focus: { chapter: index, exercise: deep ? exercise : 0 } });
    if (path[4] === 'figure') setTimeout(() => document.getElementById('figure')?.focus(), 60);
  } else if (field === 'editions') {
    change({ place: 'players', ...(typeof index === 'number' ? { edition: index } : {}) });
  } else {
    change({ place: 'book' });
  }
}

function Faults({ issues }: { readonly issues: readonly Issue[] }) {
  if (issues.length === 0) {
    return (
      <div className="empty">
        <p>{P.noFaults}</p>
        <p className="hint">{P.noFaultsHint}</p>
      </div>
    );
  }
  const order = { error: 0, warning: 1, note: 2 };
  return (
    <ul className="faults">
      {[...issues]
        .sort((a, b) => order[a.severity] - order[b.severity])
        .map((issue) => (
          <li key={`${issue.code} ${issue.path.join('.')} ${issue.message}`} data-severity={issue.severity}>
            <div>
              <span className="severity">{P.severity[issue.severity]}</span>
              <span className="hint">{pathText(issue.path)}</span>
              <p>{issue.message}</p>
            </div>
            <button type="button" onClick={() => jump(issue)} aria-label={`${P.goTo}: ${pathText(issue.path)}`}>
              {P.goTo}
            </button>
          </li>
        ))}
    </ul>
  );
}

function ProofResult() {
  const proof = useWindow((s) => s.proof);
  const edition = useWindow((s) => s.edition);
  const source = useWindow((s) => s.book?.source);
  // A proof of another state of the book proves nothing.
  if (!proof || proof.edition !== edition || proof.source !== source) return null;
  const { view } = proof;
  const checked = view.rules.filter((it) => it.checked > 0).length;
  return (
    <div aria-live="polite">
      <p className={view.faults.length === 0 ? 'good' : 'fault'}>
        {view.faults.length === 0 ? P.clean(view.pages, checked) : P.found(view.faults.length)}
      </p>
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

function Results() {
  const built = useWindow((s) => s.built);
  if (!built) return null;
  const openFolder = async () => {
    const answer = await service.call('folder-open', { path: built.folder });
    if (answer.ok && !answer.value.shown) notify('note', P.folderIs(built.folder));
  };
  const openPrint = async (path: string) => {
    const answer = await service.call('file-print', { path });
    if (answer.ok && answer.value.address) window.open(answer.value.address, '_blank', 'noopener');
  };
  return (
    <div className="results" aria-live="polite">
      <p className="good">{P.done(built.result.files.length, built.folder)}</p>
      <ul>
        {built.result.files.map((file) => (
          <li key={file.path}>
            <span className="file">{file.name}</span>
            <span className="hint">{P.pages(file.pages)}</span>
            {file.name.endsWith('.pdf') && (
              <button type="button" onClick={() => void openPrint(file.path)} aria-label={`${P.openPrint}: ${file.name}`}>
                {P.openPrint}
              </button>
            )}
          </li>
        ))}
      </ul>
      <button type="button" onClick={() => void openFolder()}>
        {P.openFolder}
      </button>
    </div>
  );
}

type Kind = 'pdf' | 'svg' | 'midi';
const KINDS: readonly Kind[] = ['pdf', 'svg', 'midi'];

export function PrintPlace() {
  const source = useWindow((s) => s.book?.source);
  const lists = useWindow((s) => s.lists);
  const issues = useWindow((s) => s.shown?.issues) ?? [];
  const work = useWindow((s) => s.work);
  const folder = useWindow((s) => s.preferences.folder);
  const [out, setOut] = useState<ReadonlySet<number>>(new Set());
  const [kinds, setKinds] = useState<ReadonlySet<Kind>>(new Set(['pdf']));
  if (!source || !lists) return null;
  const names = source.editions.map(
    (it) => lists.instruments.find((one) => one.id === editionObject(it).instrument)?.name ?? editionObject(it).instrument,
  );
  const editions = names.flatMap((_, i) => (out.has(i) ? [] : [i]));
  const wanted = KINDS.filter((kind) => kinds.has(kind));
  const toggled = <T,>(set: ReadonlySet<T>, item: T): ReadonlySet<T> =>
    new Set(set.has(item) ? [...set].filter((it) => it !== item) : [...set, item]);
  const start = async () => {
    if (editions.length === 0 || wanted.length === 0) return notify('warning', P.needOne);
    const place = folder ?? (await chooseFolder());
    if (place !== undefined) await build(editions, wanted, place);
  };
  return (
    <div className="work">
      <header className="place-head">
        <div>
          <p className="over">{source.title}</p>
          <h1>{P.heading}</h1>
        </div>
      </header>
      <section className="panel">
        <h2>{P.faults}</h2>
        <Faults issues={issues} />
      </section>
      <section className="panel">
        <h2>{P.proof}</h2>
        <button type="button" onClick={() => void prove()} disabled={work !== undefined}>
          {P.runProof}
        </button>
        <ProofResult />
      </section>
      <section className="panel">
        <h2>{P.print}</h2>
        <div className="fields">
          <fieldset>
            <legend>{P.who}</legend>
            {names.map((name, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: the same instrument may come twice
              <Check key={i} label={name} checked={!out.has(i)} onChange={() => setOut(toggled(out, i))} />
            ))}
            <div className="row">
              <button type="button" className="quiet" onClick={() => setOut(new Set())}>
                {P.all}
              </button>
              <button type="button" className="quiet" onClick={() => setOut(new Set(names.keys()))}>
                {P.none}
              </button>
            </div>
          </fieldset>
          <fieldset>
            <legend>{P.what}</legend>
            {KINDS.map((kind) => (
              <Check key={kind} label={P.kinds[kind]} checked={kinds.has(kind)} onChange={() => setKinds(toggled(kinds, kind))} />
            ))}
          </fieldset>
          <div className="field wide">
            <span className="field-head">{P.folder}</span>
            <div className="row">
              <code className="path">{folder ?? P.noFolder}</code>
              <button
                type="button"
                onClick={() =>
                  void chooseFolder().then((path) => {
                    if (path !== undefined) change(({ preferences }) => ({ preferences: { ...preferences, folder: path } }));
                  })
                }
              >
                {P.chooseFolder}
              </button>
            </div>
          </div>
          <div className="row wide">
            <button type="button" className="main" onClick={() => void start()} disabled={work !== undefined}>
              {P.build}
            </button>
          </div>
        </div>
        {work && (
          <div className="progress" role="status">
            <progress max={work.total} value={work.done} aria-label={work.words} />
            <span>{work.words}</span>
            <button type="button" onClick={cancelWork}>
              {P.stop}
            </button>
          </div>
        )}
        <Results />
      </section>
    </div>
  );
}
