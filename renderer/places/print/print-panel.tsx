/** The files for everyone: which ones, and where to. */
import type { BookSource } from '../../../core/book/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { type BuildWish, build } from '../../commands/long-jobs.js';
import { editionObject } from '../../edits/book.js';
import { chooseFolder } from '../../files/choose-path.js';
import { FolderField, Progress, Results } from '../../parts/writing.js';
import { instrumentName } from '../../state/instrument-names.js';
import { say, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import { Choice, type Group, NoneOpen, useToggles } from './file-choice.js';

const P = T.print;

const KINDS = ['pdf', 'svg', 'midi'] as const;

/** Every instrument, unless it was taken out. */
function useBooks({ editions }: BookSource, lists: Lists): Group {
  const names = editions.map((it) => instrumentName(lists, editionObject(it).instrument));
  return { names, ...useToggles(names.length, true), more: useToggles(KINDS.length, false, [0]) };
}

/** No student, unless one was put in; and the summary for the teacher. */
function useBooklets(): Group {
  const students = useWindow((s) => s.roster?.source.students) ?? [];
  const names = students.map(({ name }) => name || T.students.unnamed);
  return { names, ...useToggles(names.length), more: useToggles(1) };
}

/** No chair, unless one was put in; and the score. */
function useParts(lists: Lists): Group {
  const chairs = useWindow((s) => s.ensemble?.source.chairs) ?? [];
  const views = useWindow((s) => s.ensembleView?.chairs) ?? [];
  const names = chairs.map((chair, i) => views[i]?.name ?? chair.name ?? instrumentName(lists, chair.instrument));
  return { names, ...useToggles(names.length), more: useToggles(1) };
}

type Groups = { readonly books: Group; readonly booklets: Group; readonly parts: Group };

/** What is asked for, and whether that is anything. */
function useWish({ books, booklets, parts }: Groups): { readonly wish: BuildWish; readonly nothing: boolean } {
  const roster = useWindow((s) => s.roster?.source);
  const ensemble = useWindow((s) => s.ensemble?.source);
  const date = useWindow((s) => s.about?.today) ?? '2026-01-01';
  const kinds = KINDS.filter((_, i) => books.more.isOn(i));
  const summary = booklets.more.isOn(0) && booklets.names.length > 0;
  const score = parts.more.isOn(0) && parts.names.length > 0;
  const withBooklets = roster !== undefined && (booklets.chosen.length > 0 || summary);
  const withParts = ensemble !== undefined && (parts.chosen.length > 0 || score);
  const wish = {
    editions: books.chosen,
    kinds,
    ...(withBooklets ? { booklets: { roster, students: booklets.chosen, summary, date } } : {}),
    ...(withParts ? { set: { ensemble, chairs: parts.chosen, score } } : {}),
  };
  return { wish, nothing: (books.chosen.length === 0 || kinds.length === 0) && !withBooklets && !withParts };
}

function Choices({ books, booklets, parts }: Groups) {
  const roster = useWindow((s) => s.roster !== undefined);
  const ensemble = useWindow((s) => s.ensemble !== undefined);
  return (
    <div className="print-choices">
      {books.names.length > 0 ? (
        <Choice group={books} title={P.books} moreTitle={P.what} moreNames={KINDS.map((kind) => P.kinds[kind])} />
      ) : (
        <NoneOpen of="instruments" title={P.books} words={P.noBooks} />
      )}
      {booklets.names.length > 0 ? (
        <Choice group={booklets} title={P.booklets} moreTitle={P.forTeacher} moreNames={[P.summary]} />
      ) : (
        <NoneOpen of="roster" title={P.booklets} words={roster ? P.noStudents : P.noRoster} />
      )}
      {ensemble ? (
        <Choice group={parts} title={P.parts} moreTitle={P.forConductor} moreNames={[P.score]} />
      ) : (
        <NoneOpen of="ensemble" title={P.parts} words={P.noEnsemble} />
      )}
    </div>
  );
}

export function PrintPanel({ source, lists }: { readonly source: BookSource; readonly lists: Lists }) {
  const work = useWindow((s) => s.work);
  const folder = useWindow((s) => s.preferences.folder);
  const groups = { books: useBooks(source, lists), booklets: useBooklets(), parts: useParts(lists) };
  const { wish, nothing } = useWish(groups);
  const start = async () => {
    // Not `disabled`, which would take the keyboard's focus away.
    if (work) return;
    // It stands beside the button; here it is read aloud.
    if (nothing) return say(P.needOne);
    const place = folder ?? (await chooseFolder());
    if (place !== undefined) await build(wish, place);
  };
  return (
    <section className="panel">
      <h2>{P.print}</h2>
      <Choices {...groups} />
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
