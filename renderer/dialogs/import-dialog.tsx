/** A phrase from a MusicXML or MIDI file: chosen or dropped, read, and shown before it goes into the book. */
import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { Issue } from '../../core/base/issue.js';
import type { ImportView } from '../../electron/services/contract/answers/figure.js';
import { base64Of, refusal } from '../files/given-file.js';
import { service } from '../host/service.js';
import { Dialog } from '../parts/dialog.js';
import { Issues } from '../parts/fields.js';
import { closeDialog, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';
import { ImportedPhrase } from './imported-phrase.js';

const I = T.import;

type Read = { readonly bytes: string; readonly view: ImportView | undefined; readonly issues: readonly Issue[] };

/** A file on its way: its name, whether it is being read, why it was refused, and what was read of it. */
function useImport() {
  const limit = useWindow((s) => s.lists?.importLimit) ?? 0;
  const [name, setName] = useState('');
  const [reading, setReading] = useState(false);
  const [read, setRead] = useState<Read>();
  const [refused, setRefused] = useState<string>();
  const ask = async (bytes: string, key?: string) => {
    const answer = await service.call('import', { bytes, key });
    setReading(false);
    // A key that cannot be used leaves what was read before.
    setRead((before) => ({ bytes, view: answer.ok ? answer.value : key === undefined ? undefined : before?.view, issues: answer.issues }));
  };
  const open = async (files: readonly File[]) => {
    const no = refusal(files, limit);
    const [file] = files;
    setRead(undefined);
    setRefused(no);
    setName(file?.name ?? '');
    if (no !== undefined || !file) return;
    setReading(true);
    const bytes = await base64Of(file);
    if (bytes === undefined) {
      setReading(false);
      setRefused(I.unreadable(file.name));
    } else await ask(bytes);
  };
  return { name, reading, read, refused, ask, open };
}

function Place({ children, onFile }: { readonly children: ReactNode; readonly onFile: (files: readonly File[]) => void }) {
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the button inside does the same for the keyboard
    <div
      className="drop"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        onFile([...event.dataTransfer.files]);
      }}
    >
      {children}
    </div>
  );
}

type FileProps = { readonly name: string; readonly main: boolean; readonly open: (files: readonly File[]) => void };

function FileButton({ name, main, open }: FileProps) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" className={main ? 'main' : undefined} onClick={() => input.current?.click()}>
        {name ? I.chooseOther : I.choose}
      </button>
      <span className="hint">{name || I.drop}</span>
      <input
        ref={input}
        type="file"
        hidden
        aria-label={I.file}
        accept=".musicxml,.xml,.mxl,.mid,.midi"
        onChange={(event) => {
          open([...(event.currentTarget.files ?? [])]);
          event.currentTarget.value = '';
        }}
      />
    </>
  );
}

export function ImportDialog({ file: given }: { readonly file: File | undefined }) {
  const { name, reading, read, refused, ask, open } = useImport();
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, with the file that was dropped
  useEffect(() => {
    if (given) void open([given]);
  }, []);
  return (
    <Dialog title={I.title} wide onClose={closeDialog}>
      <p className="hint">{I.words}</p>
      <Place onFile={(files) => void open(files)}>
        <FileButton name={name} main={!read?.view} open={(files) => void open(files)} />
      </Place>
      {reading && <p role="status">{I.reading}</p>}
      {refused !== undefined && (
        <p className="fault" role="alert">
          {refused}
        </p>
      )}
      {read && !read.view && (
        <div role="alert">
          <Issues issues={read.issues} />
        </div>
      )}
      {read?.view && (
        <ImportedPhrase
          key={`${name} ${read.view.keyTyped} ${read.view.figure}`}
          view={read.view}
          issues={read.issues}
          read={(key) => void ask(read.bytes, key)}
        />
      )}
    </Dialog>
  );
}
