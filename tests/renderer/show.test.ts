/** The pages on the screen: what was drawn of a part of the book is found again when the whole book is there. */
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { newBook } from '../../core/book/template.js';
import type { PageEntry, ShowAsk, Shown } from '../../electron/services/views.js';

const asked: { readonly ask: ShowAsk; readonly answer: (shown: Shown) => void }[] = [];
vi.mock('../../renderer/service.js', () => ({
  service: {
    on: () => () => undefined,
    call: (_channel: string, ask: ShowAsk) =>
      new Promise((resolve) => asked.push({ ask, answer: (value) => resolve({ ok: true, value, issues: [] }) })),
  },
}));
vi.stubGlobal('requestAnimationFrame', (act: () => void) => setTimeout(act, 0));

const { startShowing } = await import('../../renderer/show.js');
const { change, now } = await import('../../renderer/state.js');

const source = newBook('2026-03-01');
const entry = (label: string): PageEntry => ({ label, kind: 'music', side: 'right', exercises: [] });
const shown = (labels: readonly string[], drawn: Shown['drawn'], partial: boolean): Shown => ({
  issues: [],
  width: 100,
  height: 100,
  pages: labels.map(entry),
  drawn,
  firstPage: {},
  chapterPage: [],
  focusPages: [],
  held: [],
  exercise: undefined,
  instrument: '',
  partial,
});
const next = async (before: number) => {
  await vi.waitFor(() => expect(asked.length).toBe(before + 1));
  return asked[before] as (typeof asked)[number];
};

let stop: () => void = () => undefined;
beforeAll(() => {
  stop = startShowing();
});
afterAll(() => stop());

it('a page drawn of the first chapter alone never stands under the number of another page', async () => {
  const book = { document: 'd', source, path: undefined, name: 'x', stamp: undefined, saved: source, past: [], future: [] };
  change({ book, focus: { chapter: 0, exercise: 0 }, place: 'pages', spread: -1 });
  const first = await next(0);
  expect(first.ask.first).toBe(true);
  first.answer(shown(['1', '2'], [{ page: 0, stamp: 'one', svg: '<svg>1</svg>' }], true));

  const whole = await next(1);
  expect(now().drawn.get(0)?.svg).toBe('<svg>1</svg>');
  whole.answer(shown(['i', 'ii', '1', '2'], [], false));

  const third = await next(2);
  expect([...now().drawn].map(([page, { svg }]) => [now().shown?.pages[page]?.label, svg])).toEqual([['1', '<svg>1</svg>']]);
  expect(now().spread).toBe(1);
  expect(third.ask.pages).toEqual([1, 2]);
});
