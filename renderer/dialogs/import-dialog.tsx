/** A phrase from a MusicXML or MIDI file: what was read of it, open to change, before it goes into the book. */
import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { Issue } from '../../core/base/issue.js';
import type { ImportView } from '../../electron/services/people-views.js';
import * as book from '../edits/book.js';
import { base64Of, refusal } from '../files/given-file.js';
import { service } from '../host/service.js';
import { Dialog } from '../parts/dialog.js';
import { Drawing } from '../parts/drawing.js';
import { Check, Issues, TextField } from '../parts/fields.js';
import { edit } from '../state/history.js';
import { change, now, useWindow } from '../state/state.js';
import { CHANGE, T } from '../texts/texts.js';

const I = T.import;
const close = () => change({ dialog: undefined });

export type Taken = {
  readonly figure: string;
  readonly rhythm: string | undefined;
  readonly metre: string | undefined;
  readonly title: string | undefined;
};

/** Imported degrees are read in the major scale, whatever the exercise's own scale is. */
function take({ figure, rhythm, metre, title }: Taken, asNew: boolean): void {
  const { focus, book: held } = now();
  if (!held || !focus) return;
  const own = { figure, scale: 'major' as const, ...(rhythm ? { rhythm } : {}), ...(metre ? { metre: metre as '4/4' } : {}) };
  if (asNew) {
    const at = { chapter: focus.chapter, exercise: focus.exercise + 1 };
    const made = { id: book.freeId(held.source, 'exercise'), title: title ?? I.newTitle, ...own };
    edit({ name: CHANGE.imported, focus: at }, (it) => book.addExercise(it, at, made));
  } else {
    edit({ name: CHANGE.imported }, (it) => book.setExercise(it, focus, (before) => ({ ...before, ...own })));
  }
  change({ dialog: undefined, place: 'exercise' });
}

function Keys({ view, read }: { readonly view: ImportView; readonly read: (key: string) => void }) {
  const [typed, setTyped] = useState('');
  return (
    <fieldset className="wide group">
      <legend>{I.key}</legend>
      <p>
        <b>{view.key}</b>{' '}
        <span className="hint">
          {I.from[view.keyFrom]}
          {view.keyFrom === 'given' ? '' : `, ${I.sure(view.confidence)}`}
        </span>
      </p>
      <div className="row">
        {view.others
          .filter(({ confidence }) => confidence >= 0.01)
          .map((other) => (
            <button key={other.keyTyped} type="button" onClick={() => read(other.keyTyped)}>
              {other.key} <span className="hint">{I.share(other.confidence)}</span>
            </button>
          ))}
        <div className="row tight">
          <TextField label={I.otherKey} value={typed} placeholder="Bb" onChange={setTyped} />
          <button type="button" onClick={() => read(typed)} disabled={typed.trim() === ''} title={I.otherKeyHint}>
            {I.read}
          </button>
        </div>
      </div>
    </fieldset>
  );
}

function Phrase({
  view,
  read,
  issues,
}: {
  readonly view: ImportView;
  readonly read: (key: string) => void;
  readonly issues: readonly Issue[];
}) {
  const metres = useWindow((s) => s.lists?.metres) ?? [];
  const [figure, setFigure] = useState(view.figure);
  const [rhythm, setRhythm] = useState(view.rhythm);
  const [withRhythm, setWithRhythm] = useState(true);
  const known = view.metre !== undefined && metres.includes(view.metre) ? view.metre : undefined;
  const [withMetre, setWithMetre] = useState(known !== undefined);
  const [drawn, setDrawn] = useState<{ readonly svg: string; readonly issues: readonly Issue[] }>({ svg: view.svg, issues: [] });
  useEffect(() => {
    let gone = false;
    void service.call('figure', { library: undefined, text: figure, clef: 'treble' }).then((answer) => {
      if (!gone) setDrawn((before) => (answer.ok ? { svg: answer.value.svg, issues: [] } : { svg: before.svg, issues: answer.issues }));
    });
    return () => {
      gone = true;
    };
  }, [figure]);
  const taken: Taken = {
    figure,
    rhythm: withRhythm ? rhythm : undefined,
    metre: withMetre ? known : undefined,
    title: view.title,
  };
  const wrong = drawn.issues.length > 0 || figure.trim() === '';
  return (
    <>
      <div className="fields">
        <Keys view={view} read={read} />
        <TextField label={I.figure} wide value={figure} issues={drawn.issues} onChange={setFigure} />
        <div className="opening wide">
          <span className="unseen">{I.preview}</span>
          {drawn.svg && <Drawing svg={drawn.svg} natural />}
        </div>
        <TextField label={I.rhythm} wide value={rhythm} onChange={setRhythm} />
        <div className="checks">
          <Check label={I.rhythmToo} checked={withRhythm} onChange={setWithRhythm} />
          {known !== undefined && <Check label={I.metre(known)} checked={withMetre} onChange={setWithMetre} />}
        </div>
      </div>
      <Issues issues={issues} />
      <div className="row end">
        <button type="button" onClick={close}>
          {T.dialog.cancel}
        </button>
        <button type="button" onClick={() => take(taken, true)} disabled={wrong}>
          {I.asNew}
        </button>
        <button type="button" className="main" onClick={() => take(taken, false)} disabled={wrong}>
          {I.into}
        </button>
      </div>
    </>
  );
}

type Read = { readonly bytes: string; readonly view: ImportView | undefined; readonly issues: readonly Issue[] };

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

export function ImportDialog({ file: given }: { readonly file: File | undefined }) {
  const limit = useWindow((s) => s.lists?.importLimit) ?? 0;
  const input = useRef<HTMLInputElement>(null);
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
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, with the file that was dropped
  useEffect(() => {
    if (given) void open([given]);
  }, []);

  return (
    <Dialog title={I.title} wide onClose={close}>
      <p className="hint">{I.words}</p>
      <Place onFile={(files) => void open(files)}>
        <button type="button" className={read?.view ? undefined : 'main'} onClick={() => input.current?.click()}>
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
            void open([...(event.currentTarget.files ?? [])]);
            event.currentTarget.value = '';
          }}
        />
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
        <Phrase
          key={`${name} ${read.view.keyTyped} ${read.view.figure}`}
          view={read.view}
          issues={read.issues}
          read={(key) => void ask(read.bytes, key)}
        />
      )}
    </Dialog>
  );
}
