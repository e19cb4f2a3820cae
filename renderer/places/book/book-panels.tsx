/** Panels of the book: the texts of the chapter in focus, titles and texts, paper and binding, extra pages. */
import type { ReactNode } from 'react';
import { EXTRAS_DEFAULT as EXTRAS } from '../../../core/book/defaults.js';
import type { BookSource, ChapterSource } from '../../../core/book/schema.js';
import { CHAPTERS, proseSource, proseText, setBook } from '../../edits/book.js';
import { keysOf } from '../../edits/list.js';
import { Check, choices, NumberField, Select, TextArea, TextField } from '../../parts/fields.js';
import type { IssuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { change } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

const B = T.book;

type Props = { readonly source: BookSource; readonly at: IssuesAt };

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

export function ChapterTexts({ source, at, chapter: index }: Props & { readonly chapter: number }) {
  const chapter = source.chapters[index];
  if (!chapter) return null;
  const set = (label: string, part: Partial<ChapterSource>) =>
    edit('book', { name: CHANGE.field(label), together: `chapter ${index} ${Object.keys(part).join(' ')}` }, (it) =>
      CHAPTERS.set(it, index, part),
    );
  return (
    <Panel title={`${B.chapter} ${index + 1}`} open>
      <div className="fields">
        <TextField
          label={B.fields.chapterTitle}
          name="chapter-title"
          value={chapter.title}
          issues={at('chapters', index, 'title')}
          onChange={(title) => set(B.fields.chapterTitle, { title })}
        />
        <TextArea
          label={B.fields.chapterText}
          rows={4}
          wide
          hint={B.proseHint}
          value={proseText(chapter.text)}
          issues={at('chapters', index, 'text')}
          onChange={(text) => set(B.fields.chapterText, { text: proseSource(text) })}
        />
      </div>
    </Panel>
  );
}

/** Puts the page of a text beside its field while it is written. */
function showBeside(kind: string): void {
  change(({ shown }) => {
    const page = shown?.pages.findIndex((entry) => entry.kind === kind) ?? -1;
    return { beside: Math.max(0, page) };
  });
}

const TITLES = ['title', 'subtitle', 'author', 'publisher', 'copyright', 'date'] as const;
const TEXTS = ['preface', 'howToUse'] as const;

export function TitlesAndTexts({ source, at }: Props) {
  const set = (field: keyof typeof B.fields, part: Partial<BookSource>) =>
    edit('book', { name: CHANGE.field(B.fields[field]), together: field }, (it) => setBook(it, part));
  return (
    <Panel title={B.matter} onOpen={() => showBeside('title')}>
      <div className="fields">
        {TITLES.map((field) => (
          <TextField
            key={field}
            label={B.fields[field]}
            value={source[field] ?? ''}
            issues={at(field)}
            onChange={(value) => set(field, { [field]: value })}
          />
        ))}
        {TEXTS.map((field) => (
          <TextArea
            key={field}
            label={B.fields[field]}
            rows={6}
            wide
            hint={B.proseHint}
            value={proseText(source[field])}
            issues={at(field)}
            onChange={(value) => set(field, { [field]: proseSource(value) })}
          />
        ))}
      </div>
    </Panel>
  );
}

export function Paper({ source: { house = {} }, at }: Props) {
  const set = (label: string, part: Partial<typeof house>) =>
    edit('book', { name: CHANGE.field(label), together: `house ${label}` }, (it) => setBook(it, { house: { ...it.house, ...part } }));
  const H = B.houseFields;
  return (
    <Panel title={B.house}>
      <div className="fields">
        <Select
          label={H.page}
          value={house.page ?? '9x12'}
          options={choices(B.pages)}
          issues={at('house', 'page')}
          onChange={(page) => set(H.page, { page })}
        />
        <Select
          label={H.binding}
          value={house.binding ?? 'stapled'}
          options={choices(B.bindings)}
          onChange={(binding) => set(H.binding, { binding })}
        />
        <NumberField
          label={H.staff}
          min={4}
          max={12}
          step={0.5}
          value={house.staff}
          placeholder={B.byLevel}
          issues={at('house', 'staff')}
          onChange={(staff) => set(H.staff, { staff })}
        />
        <Check
          label={H.chaptersOnRight}
          checked={house.chaptersOnRight ?? true}
          onChange={(chaptersOnRight) => set(H.chaptersOnRight, { chaptersOnRight })}
        />
      </div>
    </Panel>
  );
}

export function ExtraPages({ source }: Pick<Props, 'source'>) {
  const set = (name: keyof typeof B.extraNames, on: boolean) =>
    edit('book', { name: CHANGE.field(B.extraNames[name]) }, (it) => setBook(it, { extras: { ...it.extras, [name]: on } }));
  return (
    <Panel title={B.extras}>
      <div className="checks two">
        {keysOf(B.extraNames).map((name) => (
          <Check
            key={name}
            label={B.extraNames[name]}
            checked={source.extras?.[name] ?? EXTRAS[name]}
            onChange={(checked) => set(name, checked)}
          />
        ))}
      </div>
    </Panel>
  );
}
