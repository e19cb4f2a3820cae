/** The pages on the screen: what was drawn of a part of the book is found again when the whole book is there. */
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { newBook } from '../../core/book/template.js';
import type { PageEntry, Shown } from '../../electron/services/contract/answers/pages.js';
import type { Ask } from '../../electron/services/contract/questions.js';

const asked: { readonly ask: Ask<'show'>; readonly answer: (shown: Shown) => void }[] = [];
vi.mock('../../renderer/host/service.js', () => ({
  service: {
    on: () => () => undefined,
    call: (_channel: string, ask: Ask<'show'>) =>
      new Promise((resolve) => asked.push({ ask, answer: (value) => resolve({ ok: true, value, issues: [] }) })),
  },
}));
vi.stubGlobal('requestAnimationFrame', (act: () => void) => setTimeout(act, 0));

const { startShownPages } = await import('../../renderer/watchers/shown-pages.js');
const { change, now } = await import('../../renderer/state/state.js');

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
  outdated: [],
  exercise: undefined,
  instrument: '',
  partial,
});
const next = async (before: number) => {
  await expect.poll(() => asked.length).toBe(before + 1);
  return asked[before] as (typeof asked)[number];
};

let stop: () => void = () => undefined;
beforeAll(() => {
  stop = startShownPages();
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

const bare = (bpm: number): Shown => ({ ...shown(['i', 'ii', '1', '2'], [], false), width: bpm });

it('while someone types, one question more is on its way, and an answer that comes too late is dropped', async () => {
  // What is still waiting from before.
  for (let done = 2; done < asked.length; done++) asked[done]?.answer(bare(0));
  await expect.poll(() => now().shown?.width).toBe(0);
  const before = asked.length;
  change({ bpm: 60 });
  change({ bpm: 61 });
  change({ bpm: 62 });
  expect(asked.slice(before).map(({ ask }) => ask.bpm)).toEqual([60, 61]);
  asked[before + 1]?.answer(bare(61));
  const third = await next(before + 2);
  expect(third.ask.bpm).toBe(62);
  expect(now().shown?.width).toBe(61);
  asked[before]?.answer(bare(60));
  await new Promise((resolve) => setTimeout(resolve, 5));
  expect(now().shown?.width).toBe(61);
  third.answer(bare(62));
  await expect.poll(() => now().shown?.width).toBe(62);
});

it('what is put right when the typing rests is not forgotten when a question still waits then', async () => {
  vi.useFakeTimers();
  try {
    change({ place: 'exercise' });
    const before = asked.length - 1;
    expect(asked[before]?.ask.hasty).toBe(true);
    await vi.advanceTimersByTimeAsync(1000);
    expect(asked.length).toBe(before + 1);
    asked[before]?.answer(bare(1));
    await vi.advanceTimersByTimeAsync(1);
    expect(asked.length).toBe(before + 2);
    expect(asked[before + 1]?.ask.hasty).toBe(false);
  } finally {
    vi.useRealTimers();
  }
});
