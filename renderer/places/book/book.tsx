/** The book as an outline, with its titles and texts. */
import type { BookSource } from '../../../core/book/schema.js';
import { newChapter } from '../../commands/outline.js';
import { issuesAt } from '../../parts/issues-at.js';
import { PlaceHead } from '../../parts/place-head.js';
import { useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import { ChapterTexts, ExtraPages, Paper, TitlesAndTexts } from './book-panels.js';
import { Outline } from './outline.js';

const B = T.book;

function AddChapter() {
  return (
    <button type="button" className="main" onClick={newChapter}>
      {B.addChapter}
    </button>
  );
}

function NoChapter() {
  return (
    <div className="empty-place">
      <h2>{B.emptyTitle}</h2>
      <p>{B.emptyWords}</p>
      <AddChapter />
    </div>
  );
}

function Chapters({ source }: { readonly source: BookSource }) {
  return (
    <>
      <PlaceHead over={B.heading} title={source.title}>
        {source.chapters.length > 0 && (
          <div className="acts">
            <AddChapter />
          </div>
        )}
      </PlaceHead>
      {source.chapters.length === 0 ? <NoChapter /> : <Outline source={source} />}
    </>
  );
}

export function BookPlace() {
  const source = useWindow((s) => s.book?.source);
  const issues = useWindow((s) => s.shown?.issues) ?? [];
  const chapter = useWindow((s) => s.focus?.chapter);
  if (!source) return null;
  const panel = { source, at: issuesAt(issues) };
  return (
    <div className="work">
      <Chapters source={source} />
      {chapter !== undefined && <ChapterTexts {...panel} chapter={chapter} />}
      <TitlesAndTexts {...panel} />
      <Paper {...panel} />
      <ExtraPages source={source} />
    </div>
  );
}
