/** Writing files: where to, how far it has come, and what was written. */
import { useEffect, useRef } from 'react';
import { cancelWork } from '../commands/long-jobs.js';
import { service } from '../host/service.js';
import { change, notify, tellIssues, useWindow, type Work } from '../state/state.js';
import { T } from '../texts/texts.js';
import { Words } from './fields.js';

const P = T.print;

type FolderProps = { readonly folder: string | undefined; readonly choose: () => Promise<string | undefined> };

export function FolderField({ folder, choose }: FolderProps) {
  return (
    <div className="field wide">
      <span className="field-head">{P.folder}</span>
      <div className="row">
        <code className="path" title={folder}>
          {folder ?? P.noFolder}
        </code>
        <button
          type="button"
          onClick={() =>
            void choose().then((path) => {
              if (path !== undefined) change(({ preferences }) => ({ preferences: { ...preferences, folder: path } }));
            })
          }
        >
          {P.chooseFolder}
        </button>
      </div>
    </div>
  );
}

/** What was stopped can be begun again: the keyboard goes there. */
const toBegin = (kind: Work['kind']) =>
  document.querySelector<HTMLElement>(kind === 'prove' ? '#prove' : 'dialog button.main, .row.act button.main')?.focus();

const DOING = { prove: P.proving, build: P.building, export: T.export.writing } as const;

export function Progress() {
  const work = useWindow((s) => s.work);
  const element = useRef<HTMLDivElement>(null);
  const ticket = work?.ticket;
  useEffect(() => {
    if (ticket !== undefined) element.current?.scrollIntoView({ block: 'nearest' });
  }, [ticket]);
  if (!work) return null;
  return (
    // biome-ignore lint/a11y/useSemanticElements: nothing is filled in here
    <div className="progress" role="group" ref={element} aria-label={DOING[work.kind]}>
      <progress max={work.total} value={work.done} aria-label={DOING[work.kind]} />
      <button type="button" onClick={() => void cancelWork().then(() => toBegin(work.kind))} disabled={work.stopping}>
        {P.stop}
      </button>
      {/* Not spoken: it changes with every page. A screen reader tells the share of the bar, which can be asked for. */}
      <p className="progress-words">{work.stopping ? T.guard.stopping : work.words}</p>
    </div>
  );
}

async function openFolder(path: string): Promise<void> {
  const answer = await service.call('folder-open', { path });
  if (!answer.ok) tellIssues(answer.issues);
  else if (!answer.value.shown) notify('note', P.folderIs(path));
}

async function openPrint(path: string): Promise<void> {
  const answer = await service.call('file-print', { path });
  if (!answer.ok) tellIssues(answer.issues);
  else if (answer.value.address) window.open(answer.value.address, '_blank', 'noopener');
}

/** What was to be said about the files: a few at once, many when they are asked for. */
function Remarks({ messages }: { readonly messages: readonly string[] }) {
  if (messages.length === 0) return null;
  return (
    <details className="remarks" open={messages.length <= 3}>
      <summary>{P.remarks(messages.length)}</summary>
      <ul className="field-issues">
        {messages.map((message) => (
          <li key={message} data-severity="warning">
            <Words>{message}</Words>
          </li>
        ))}
      </ul>
    </details>
  );
}

/** What came out of the last writing of this kind. */
export function Results({ kind }: { readonly kind: 'build' | 'export' }) {
  const built = useWindow((s) => s.built);
  const element = useRef<HTMLParagraphElement>(null);
  const known = useRef(built);
  const inDesktop = useWindow((s) => s.about?.host === 'electron');
  useEffect(() => {
    // What was written before this place was opened does not hide the faults above it.
    if (known.current === built) return;
    known.current = built;
    element.current?.scrollIntoView({ block: 'nearest' });
  }, [built]);
  if (built?.kind !== kind) return null;
  const { missing } = built.result;
  const told = new Set(missing.flatMap(({ issues }) => issues.map(({ message }) => message)));
  return (
    <div className="results" aria-live="polite">
      <p className={missing.length > 0 ? 'fault' : 'good'} ref={element}>
        {P.done(built.result.files.length, built.folder, missing.length)}
      </p>
      {missing.length > 0 && (
        <ul className="faults">
          {missing.map(({ label, issues }) => (
            <li key={label} data-severity="error">
              <div>
                <b>{P.notWritten(label)}</b>
                {issues.map(({ message }) => (
                  <p key={message}>
                    <Words>{message}</Words>
                  </p>
                ))}
              </div>
            </li>
          ))}
        </ul>
      )}
      <Remarks messages={[...new Set(built.issues.map((issue) => issue.message))].filter((message) => !told.has(message))} />
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
      {/* A browser cannot open it; the line above says where it is. */}
      {inDesktop && (
        <button type="button" onClick={() => void openFolder(built.folder)}>
          {P.openFolder}
        </button>
      )}
    </div>
  );
}
