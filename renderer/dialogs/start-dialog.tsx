/** A new book: its title, and who plays from it. */
import { type SubmitEvent, useState } from 'react';
import type { BookSource } from '../../core/book/schema.js';
import type { Lists } from '../../electron/services/contract/answers/lists.js';
import { toFigure } from '../commands/go.js';
import { startBook } from '../files/book-files.js';
import { Dialog } from '../parts/dialog.js';
import { Check, TextField } from '../parts/fields.js';
import { closeDialog as close, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

const S = T.start;

const bookOf = (title: string, author: string, date: string, instruments: readonly string[]): BookSource => ({
  format: 'twelvefold',
  version: 1,
  title: title.trim() || S.titleDefault,
  ...(author.trim() ? { author: author.trim() } : {}),
  date,
  editions: instruments.map((instrument) => ({ instrument })),
  defaults: { rhythm: 'eighths', metre: '4/4', tempo: { from: 60, to: 100 }, misfit: 'leave-out' },
  chapters: [
    {
      id: 'chapter-1',
      title: S.firstChapter,
      exercises: [{ id: 'exercise-1', title: S.firstExercise, figure: '1 2 3 4 5 4 3 2 1' }],
    },
  ],
});

type WhoProps = { readonly lists: Lists; readonly chosen: readonly string[]; readonly choose: (chosen: readonly string[]) => void };

function Who({ lists, chosen, choose }: WhoProps) {
  const families = [...new Set(lists.instruments.map((it) => it.family))];
  return (
    <fieldset className="who">
      <legend>{S.who}</legend>
      {families.map((family) => (
        <div key={family} className="family">
          {lists.instruments
            .filter((it) => it.family === family)
            .map(({ id, name }) => (
              <Check
                key={id}
                label={name}
                checked={chosen.includes(id)}
                onChange={(on) => choose(on ? [...chosen, id] : chosen.filter((it) => it !== id))}
              />
            ))}
        </div>
      ))}
    </fieldset>
  );
}

export function StartDialog() {
  const lists = useWindow((s) => s.lists);
  const today = useWindow((s) => s.about?.today) ?? '2026-01-01';
  const [title, setTitle] = useState('');
  const [author, setAuthor] = useState('');
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [tried, setTried] = useState(false);
  if (!lists) return null;
  const make = (event: SubmitEvent) => {
    event.preventDefault();
    setTried(true);
    if (chosen.length === 0) return;
    startBook(bookOf(title, author, today, chosen));
    // The figure is what one writes first.
    toFigure(true);
  };
  return (
    <Dialog title={S.title} wide onClose={close}>
      <form onSubmit={make}>
        <p className="hint">{S.words}</p>
        <div className="fields">
          <TextField label={S.bookTitle} value={title} placeholder={S.titleDefault} onChange={setTitle} />
          <TextField label={S.author} value={author} onChange={setAuthor} />
        </div>
        <Who lists={lists} chosen={chosen} choose={setChosen} />
        {tried && chosen.length === 0 && (
          <p className="fault" role="alert">
            {S.needInstrument}
          </p>
        )}
        <div className="row end">
          <button type="button" onClick={close}>
            {T.dialog.cancel}
          </button>
          <button type="submit" className="main">
            {S.make}
          </button>
        </div>
      </form>
    </Dialog>
  );
}
