/** Writing files: where to, how far it has come, and what was written. */
import { useEffect, useRef } from 'react';
import { cancelWork } from '../long-work.js';
import { service } from '../service.js';
import { change, notify, tellIssues, useWindow } from '../state.js';
import { T } from '../texts.js';

const P = T.print;

export function FolderField({
  folder,
  choose,
}: {
  readonly folder: string | undefined;
  readonly choose: () => Promise<string | undefined>;
}) {
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

export function Progress() {
  const work = useWindow((s) => s.work);
  if (!work) return null;
  return (
    <div className="progress" role="status">
      <progress max={work.total} value={work.done} aria-label={work.words} />
      <span className="progress-words">{work.stopping ? T.guard.stopping : work.words}</span>
      <button type="button" onClick={() => void cancelWork()} disabled={work.stopping}>
        {P.stop}
      </button>
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
            {message}
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
  // biome-ignore lint/correctness/useExhaustiveDependencies: whenever something was written
  useEffect(() => {
    element.current?.scrollIntoView({ block: 'nearest' });
  }, [built]);
  if (built?.kind !== kind) return null;
  return (
    <div className="results" aria-live="polite">
      <p className="good" ref={element}>
        {P.done(built.result.files.length, built.folder)}
      </p>
      <Remarks messages={[...new Set(built.issues.map((issue) => issue.message))]} />
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
      <button type="button" onClick={() => void openFolder(built.folder)}>
        {P.openFolder}
      </button>
    </div>
  );
}
