/** What was read of an imported phrase, open to change, before it goes into the book. */
import { useEffect, useState } from 'react';
import type { Issue } from '../../core/base/issue.js';
import type { ExerciseSource } from '../../core/book/schema.js';
import type { ImportView } from '../../electron/services/contract/answers/figure.js';
import { addExercise } from '../commands/outline.js';
import { freeId, setExercise } from '../edits/book.js';
import { service } from '../host/service.js';
import { Drawing } from '../parts/drawing.js';
import { Check, Issues, TextField } from '../parts/fields.js';
import { edit } from '../state/history.js';
import { change, closeDialog, now, useWindow } from '../state/state.js';
import { CHANGE, T } from '../texts/texts.js';

const I = T.import;

type Taken = Pick<ExerciseSource, 'rhythm' | 'metre'> & { readonly figure: string };

/** Imported degrees are read in the major scale, whatever the exercise's own scale is. */
function take({ figure, rhythm, metre }: Taken, newTitle: string | undefined): void {
  const { focus, book } = now();
  if (!book || !focus) return;
  const own = { figure, scale: 'major', ...(rhythm ? { rhythm } : {}), ...(metre ? { metre } : {}) };
  if (newTitle === undefined) edit('book', { name: CHANGE.imported }, (it) => setExercise(it, focus, own));
  else {
    const at = { chapter: focus.chapter, exercise: focus.exercise + 1 };
    addExercise(CHANGE.imported, at, { id: freeId(book.source, 'exercise'), title: newTitle, ...own });
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

type Drawn = { readonly svg: string; readonly issues: readonly Issue[] };

/** The figure as it is typed, engraved; while it is wrong, as it was last. */
function useDrawn(figure: string, first: string): Drawn {
  const [drawn, setDrawn] = useState<Drawn>({ svg: first, issues: [] });
  useEffect(() => {
    let gone = false;
    void service.call('figure', { library: undefined, text: figure, clef: 'treble' }).then((answer) => {
      if (!gone) setDrawn((before) => (answer.ok ? { svg: answer.value.svg, issues: [] } : { svg: before.svg, issues: answer.issues }));
    });
    return () => {
      gone = true;
    };
  }, [figure]);
  return drawn;
}

function TakeButtons({ taken, title, wrong }: { readonly taken: Taken; readonly title: string | undefined; readonly wrong: boolean }) {
  return (
    <div className="row end">
      <button type="button" onClick={closeDialog}>
        {T.dialog.cancel}
      </button>
      <button type="button" onClick={() => take(taken, title ?? I.newTitle)} disabled={wrong}>
        {I.asNew}
      </button>
      <button type="button" className="main" onClick={() => take(taken, undefined)} disabled={wrong}>
        {I.into}
      </button>
    </div>
  );
}

type PhraseProps = { readonly view: ImportView; readonly read: (key: string) => void; readonly issues: readonly Issue[] };

export function ImportedPhrase({ view, read, issues }: PhraseProps) {
  const metres = useWindow((s) => s.lists?.metres) ?? [];
  const [figure, setFigure] = useState(view.figure);
  const [rhythm, setRhythm] = useState(view.rhythm);
  const [withRhythm, setWithRhythm] = useState(true);
  const metre = view.metre !== undefined && metres.includes(view.metre) ? view.metre : undefined;
  const [withMetre, setWithMetre] = useState(metre !== undefined);
  const drawn = useDrawn(figure, view.svg);
  const taken = { figure, rhythm: withRhythm ? rhythm : undefined, metre: withMetre ? metre : undefined };
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
          {metre !== undefined && <Check label={I.metre(metre)} checked={withMetre} onChange={setWithMetre} />}
        </div>
      </div>
      <Issues issues={issues} />
      <TakeButtons taken={taken} title={view.title} wrong={drawn.issues.length > 0 || figure.trim() === ''} />
    </>
  );
}
