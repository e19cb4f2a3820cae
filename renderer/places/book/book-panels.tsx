/** Panels of the book: the texts of the chapter in focus, titles and texts, paper and binding, extra pages. */
import type { ReactNode } from 'react';
import { EXTRAS_DEFAULT as EXTRAS } from '../../../core/book/defaults.js';
import type { BookSource, ChapterSource } from '../../../core/book/schema.js';
import { CHAPTERS, proseSource, proseText, setBook } from '../../edits/book.js';
import { keysOf } from '../../edits/list.js';
import { type Bound, bind, STAFF } from '../../parts/bound.js';
import { Check, choices, NumberField, Select, TextArea, TextField } from '../../parts/fields.js';
import type { IssuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { change } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';

const B = T.book;

type Props = { readonly source: BookSource; readonly at: IssuesAt };

/** A text of several lines, kept as a list of lines. */
function Prose({ value, onChange, ...common }: Bound<string | string[] | undefined> & { readonly rows: number }) {
  return <TextArea {...common} wide hint={B.proseHint} value={proseText(value)} onChange={(text) => onChange(proseSource(text))} />;
}

type PanelProps = { readonly title: string; readonly open?: boolean; readonly onOpen?: () => void; readonly children: ReactNode };

function Panel({ title, onOpen, open, children }: PanelProps) {
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
  const set = (part: Partial<ChapterSource>, label: string) =>
    edit('book', { name: CHANGE.field(label), together: `chapter ${index} ${Object.keys(part).join(' ')}` }, (it) =>
      CHAPTERS.set(it, index, part),
    );
  const field = bind(chapter, (...path) => at('chapters', index, ...path), set);
  return (
    <Panel title={`${B.chapter} ${index + 1}`} open>
      <div className="fields">
        <TextField {...field('title', B.fields.chapterTitle)} name="chapter-title" />
        <Prose {...field('text', B.fields.chapterText)} rows={4} />
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
  const set = (part: Partial<BookSource>, label: string) =>
    edit('book', { name: CHANGE.field(label), together: Object.keys(part).join(' ') }, (it) => setBook(it, part));
  const field = bind(source, at, set);
  return (
    <Panel title={B.matter} onOpen={() => showBeside('title')}>
      <div className="fields">
        {TITLES.map((name) => (
          <TextField key={name} {...field(name, B.fields[name])} />
        ))}
        {TEXTS.map((name) => (
          <Prose key={name} {...field(name, B.fields[name])} rows={6} />
        ))}
      </div>
    </Panel>
  );
}

export function Paper({ source: { house = {} }, at }: Props) {
  const H = B.houseFields;
  const set = (part: Partial<typeof house>, label: string) =>
    edit('book', { name: CHANGE.field(label), together: `house ${label}` }, (it) => setBook(it, { house: { ...it.house, ...part } }));
  const field = bind(house, (...path) => at('house', ...path), set);
  return (
    <Panel title={B.house}>
      <div className="fields">
        <Select {...field('page', H.page)} standard="9x12" options={choices(B.pages)} />
        <Select {...field('binding', H.binding)} standard="stapled" options={choices(B.bindings)} />
        <NumberField {...field('staff', H.staff)} {...STAFF} placeholder={B.byLevel} />
        <Check
          label={H.chaptersOnRight}
          checked={house.chaptersOnRight ?? true}
          onChange={(chaptersOnRight) => set({ chaptersOnRight }, H.chaptersOnRight)}
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
