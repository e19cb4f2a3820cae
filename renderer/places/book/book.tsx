/** The book as an outline, with its titles and texts. */
import type { ReactNode } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import { EXTRAS_DEFAULT as EXTRAS } from '../../../core/book/defaults.js';
import { newChapter } from '../../commands/work.js';
import { proseSource, proseText, setBook, setChapterField } from '../../edits/book.js';
import { Check, choices, NumberField, Select, TextArea, TextField } from '../../parts/fields.js';
import { edit } from '../../state/history.js';
import { change, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { Outline } from './outline.js';

const B = T.book;
type TextName = 'title' | 'subtitle' | 'author' | 'publisher' | 'copyright' | 'date';
const TEXTS: readonly TextName[] = ['title', 'subtitle', 'author', 'publisher', 'copyright', 'date'];

/** Puts the page of a text beside its field while it is written. */
function showBeside(kind: string): void {
  change(({ shown }) => {
    const page = shown?.pages.findIndex((entry) => entry.kind === kind) ?? -1;
    return { beside: Math.max(0, page) };
  });
}

function Panel({
  title,
  onOpen,
  open,
  children,
}: {
  readonly title: string;
  readonly open?: boolean;
  readonly onOpen?: () => void;
  readonly children: ReactNode;
}) {
  return (
    <details className="panel" open={open} onToggle={(event) => event.currentTarget.open && onOpen?.()}>
      <summary>
        <h2>{title}</h2>
      </summary>
      {children}
    </details>
  );
}

export function BookPlace() {
  const source = useWindow((s) => s.book?.source);
  const issues = useWindow((s) => s.shown?.issues) ?? [];
  const focus = useWindow((s) => s.focus);
  if (!source) return null;
  const at = (...path: (string | number)[]): readonly Issue[] =>
    issues.filter((issue) => issue.path.length >= path.length && path.every((part, i) => issue.path[i] === part));
  const set = <K extends TextName>(field: K, value: string) =>
    edit({ name: CHANGE.field(B.fields[field]), together: field }, (it) => setBook(it, field, value));
  const chapter = focus && source.chapters[focus.chapter];
  const house = source.house ?? {};
  const setHouse = (part: Partial<typeof house>, label: string) =>
    edit({ name: CHANGE.field(label), together: `house ${label}` }, (it) => setBook(it, 'house', { ...it.house, ...part }));

  return (
    <div className="work">
      <header className="place-head">
        <div>
          <p className="over">{B.heading}</p>
          <h1>{source.title}</h1>
        </div>
        {source.chapters.length > 0 && (
          <div className="acts">
            <button type="button" className="main" onClick={newChapter}>
              {B.addChapter}
            </button>
          </div>
        )}
      </header>

      {source.chapters.length === 0 ? (
        <div className="empty-place">
          <h2>{B.emptyTitle}</h2>
          <p>{B.emptyWords}</p>
          <button type="button" className="main" onClick={newChapter}>
            {B.addChapter}
          </button>
        </div>
      ) : (
        <Outline source={source} />
      )}

      {focus && chapter && (
        <Panel title={`${B.chapter} ${focus.chapter + 1}`} open>
          <div className="fields">
            <TextField
              label={B.fields.chapterTitle}
              name="chapter-title"
              value={chapter.title}
              issues={at('chapters', focus.chapter, 'title')}
              onChange={(value) =>
                edit({ name: CHANGE.field(B.fields.chapterTitle), together: `chapter ${focus.chapter} title` }, (it) =>
                  setChapterField(it, focus.chapter, 'title', value),
                )
              }
            />
            <TextArea
              label={B.fields.chapterText}
              rows={4}
              wide
              hint={B.proseHint}
              value={proseText(chapter.text)}
              issues={at('chapters', focus.chapter, 'text')}
              onChange={(value) =>
                edit({ name: CHANGE.field(B.fields.chapterText), together: `chapter ${focus.chapter} text` }, (it) =>
                  setChapterField(it, focus.chapter, 'text', value === '' ? undefined : proseSource(value)),
                )
              }
            />
          </div>
        </Panel>
      )}

      <Panel title={B.matter} onOpen={() => showBeside('title')}>
        <div className="fields">
          {TEXTS.map((field) => (
            <TextField
              key={field}
              label={B.fields[field]}
              value={source[field] ?? ''}
              issues={at(field)}
              onChange={(value) => set(field, value)}
            />
          ))}
          {(['preface', 'howToUse'] as const).map((field) => (
            <TextArea
              key={field}
              label={B.fields[field]}
              rows={6}
              wide
              hint={B.proseHint}
              value={proseText(source[field])}
              issues={at(field)}
              onChange={(value) =>
                edit({ name: CHANGE.field(B.fields[field]), together: field }, (it) =>
                  setBook(it, field, value === '' ? undefined : proseSource(value)),
                )
              }
            />
          ))}
        </div>
      </Panel>

      <Panel title={B.house}>
        <div className="fields">
          <Select
            label={B.houseFields.page}
            value={house.page ?? '9x12'}
            options={choices(B.pages)}
            issues={at('house', 'page')}
            onChange={(page) => setHouse({ page: page as NonNullable<typeof house.page> }, B.houseFields.page)}
          />
          <Select
            label={B.houseFields.binding}
            value={house.binding ?? 'stapled'}
            options={choices(B.bindings)}
            onChange={(binding) => setHouse({ binding: binding as NonNullable<typeof house.binding> }, B.houseFields.binding)}
          />
          <NumberField
            label={B.houseFields.staff}
            min={4}
            max={12}
            step={0.5}
            value={house.staff}
            placeholder={B.byLevel}
            issues={at('house', 'staff')}
            onChange={(staff) => setHouse({ staff }, B.houseFields.staff)}
          />
          <Check
            label={B.houseFields.chaptersOnRight}
            checked={house.chaptersOnRight ?? true}
            onChange={(chaptersOnRight) => setHouse({ chaptersOnRight }, B.houseFields.chaptersOnRight)}
          />
        </div>
      </Panel>

      <Panel title={B.extras}>
        <div className="checks two">
          {(Object.keys(B.extraNames) as (keyof typeof B.extraNames)[]).map((name) => (
            <Check
              key={name}
              label={B.extraNames[name]}
              checked={source.extras?.[name] ?? EXTRAS[name]}
              onChange={(checked) =>
                edit({ name: CHANGE.field(B.extraNames[name]) }, (it) => setBook(it, 'extras', { ...it.extras, [name]: checked }))
              }
            />
          ))}
        </div>
      </Panel>
    </div>
  );
}
