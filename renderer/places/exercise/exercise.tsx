/** One exercise: its figure, its keys, its course, its time, its register and its breath, with the line before one's eyes. */
import { type DragEvent, type ReactNode, useMemo, useState } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import { newExercise, stepExercise } from '../../commands/work.js';
import { exerciseAt, figureTextOf, neighbour, proseSource, proseText, setExerciseField } from '../../edits/book.js';
import { Contour } from '../../parts/contour.js';
import { Drawing } from '../../parts/drawing.js';
import { TextArea, TextField } from '../../parts/fields.js';
import { FigureField } from '../../parts/figure-field.js';
import { edit } from '../../state/history.js';
import { change, type Focus, notify, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { BreathPanel } from './breath-panel.js';
import { KeyFields } from './key-fields.js';
import { CourseFields, PrintFields, RegisterFields, TimeFields } from './setting-fields.js';

const X = T.exercise;
const NO_ISSUES: readonly Issue[] = [];

/** Faults of one field of an exercise, also those that stand in the defaults it follows. */
export function issuesAt(issues: readonly Issue[], focus: Focus): (field: string) => readonly Issue[] {
  return (field) =>
    issues.filter(
      ({ path }) =>
        path[0] === 'chapters' && path[1] === focus.chapter && path[2] === 'exercises' && path[3] === focus.exercise && path[4] === field,
    );
}

function Section({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <section className="panel">
      <h2>{title}</h2>
      <div className="fields">{children}</div>
    </section>
  );
}

function None() {
  return (
    <div className="empty-place">
      <h1>{X.noneTitle}</h1>
      <p>{X.none}</p>
      <button type="button" className="main" onClick={() => newExercise()}>
        {T.book.addExercise}
      </button>
    </div>
  );
}

/** A note of the line that is shown. */
function chooseNote(event: number): void {
  change(({ shown }) => (shown?.exercise ? { note: { exercise: shown.exercise.id, event } } : {}));
}

/** A file that is dropped anywhere on the exercise is shown as a figure before it is taken. */
function DropPlace({ children }: { readonly children: ReactNode }) {
  const [over, setOver] = useState(false);
  const isFile = (event: DragEvent) => event.dataTransfer.types.includes('Files');
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the button at the head and a command do the same for the keyboard
    <div
      className="work"
      data-drop={over || undefined}
      onDragOver={(event) => {
        if (!isFile(event)) return;
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={(event) => {
        if (!event.currentTarget.contains(event.relatedTarget as Node | null)) setOver(false);
      }}
      onDrop={(event) => {
        setOver(false);
        if (!isFile(event)) return;
        event.preventDefault();
        const files = [...event.dataTransfer.files];
        if (files.length > 1) notify('warning', T.import.oneOnly);
        else if (files[0]) change({ dialog: { kind: 'import', file: files[0] } });
      }}
    >
      {over && <p className="drop-here">{X.dropHere}</p>}
      {children}
    </div>
  );
}

export function ExercisePlace() {
  const source = useWindow((s) => s.book?.source);
  const focus = useWindow((s) => s.focus);
  const lists = useWindow((s) => s.lists);
  const view = useWindow((s) => s.shown?.exercise);
  const issues = useWindow((s) => s.shown?.issues) ?? NO_ISSUES;
  const held = useWindow((s) => focus && s.shown?.held.includes(`${focus.chapter}.${focus.exercise}`)) ?? false;
  const instrument = useWindow((s) => s.shown?.instrument) ?? '';
  const playing = useWindow((s) => s.playing);
  const note = useWindow((s) => s.note);
  const at = useMemo(() => issuesAt(issues, focus ?? { chapter: -1, exercise: -1 }), [issues, focus]);
  const exercise = source && focus && exerciseAt(source, focus);
  if (!source || !focus || !exercise || !lists) return <None />;

  const own = issues.filter(
    ({ path }) =>
      path[0] === 'chapters' && path[1] === focus.chapter && path[2] === 'exercises' && path[3] === focus.exercise && path.length === 4,
  );
  const library = typeof exercise.figure === 'object' ? exercise.figure.library : undefined;
  const figure = figureTextOf(exercise, (id) => lists.figures.find((it) => it.id === id)?.text);
  const together = (field: string) => `${focus.chapter}.${focus.exercise}.${field}`;
  const lit = playing ? playing.event : note?.event;

  return (
    <DropPlace>
      <header className="place-head">
        <div>
          <p className="over">{source.chapters[focus.chapter]?.title}</p>
          <h1>{exercise.title || library || figure || T.book.exercise}</h1>
        </div>
        <div className="acts">
          <button type="button" onClick={() => newExercise()}>
            {T.book.addExercise}
          </button>
          <button type="button" onClick={() => change({ dialog: { kind: 'export' } })} disabled={!view}>
            {X.export} …
          </button>
          <button
            type="button"
            onClick={() => stepExercise(-1)}
            aria-label={X.previous}
            title={X.previous}
            aria-disabled={!neighbour(source, focus, -1)}
          >
            ‹
          </button>
          <button
            type="button"
            onClick={() => stepExercise(1)}
            aria-label={X.next}
            title={X.next}
            aria-disabled={!neighbour(source, focus, 1)}
          >
            ›
          </button>
        </div>
      </header>

      <section className="panel">
        <div className="fields">
          <TextField
            label={X.title}
            wide
            value={exercise.title ?? ''}
            issues={at('title')}
            onChange={(title) =>
              edit({ name: CHANGE.field(X.title), together: together('title') }, (it) => setExerciseField(it, focus, 'title', title))
            }
          />
          <FigureField
            value={figure}
            issues={[...at('figure'), ...own]}
            onChange={(text) =>
              edit({ name: CHANGE.figure, together: together('figure') }, (it) => setExerciseField(it, focus, 'figure', text))
            }
          />
          <div className="row wide">
            <button type="button" onClick={() => change({ dialog: { kind: 'library' } })}>
              {X.fromLibrary} …
            </button>
            <button type="button" onClick={() => change({ dialog: { kind: 'import', file: undefined } })}>
              {X.import} …
            </button>
            {library && <span className="tag">{lists.figures.find((it) => it.id === library)?.title}</span>}
            {held && (
              <span className="held" role="status">
                {X.heldBack}
              </span>
            )}
          </div>
        </div>
        <div className={held ? 'opening held-back' : 'opening'}>
          {view && (
            <>
              <span className="unseen">{X.opening}</span>
              <Drawing svg={view.opening} natural />
            </>
          )}
        </div>
        {view && (
          <>
            <h2 className="small-head">{X.line}</h2>
            <Contour exercise={view} instrument={instrument} event={lit} onNote={chooseNote} />
            {view.leftOut.length > 0 && <p className="hint">{X.leftOut(view.leftOut.join(', '))}</p>}
          </>
        )}
      </section>

      {view && <BreathPanel exercise={view} />}

      <section className="panel">
        <h2>{X.keys}</h2>
        <KeyFields focus={focus} lists={lists} exercise={view} issues={at} />
      </section>
      <Section title={X.turns}>
        <CourseFields focus={focus} issues={at} />
      </Section>
      <Section title={X.time}>
        <TimeFields focus={focus} issues={at} lists={lists} />
      </Section>
      <Section title={X.register}>
        <RegisterFields focus={focus} issues={at} />
      </Section>
      <Section title={X.print}>
        <TextArea
          label={X.instruction}
          rows={2}
          wide
          value={proseText(exercise.instruction)}
          issues={at('instruction')}
          onChange={(text) =>
            edit({ name: CHANGE.field(X.instruction), together: together('instruction') }, (it) =>
              setExerciseField(it, focus, 'instruction', proseSource(text)),
            )
          }
        />
        <PrintFields focus={focus} issues={at} lists={lists} />
      </Section>
    </DropPlace>
  );
}
