/** Keeps the pages and the exercise on the screen in step with the book: one question at a time, always the newest. */
import type { BreatherAsk, ShowAsk, Shown } from '../electron/services/views.js';
import { evenPage } from './pages.js';
import { service } from './service.js';
import { change, listen, now, type State, tellIssues } from './state.js';

/** For whom breaths are planned. */
export function breatherAsk({ breather, people }: Pick<State, 'breather' | 'people'>): BreatherAsk {
  const person = people.find((it) => it.id === breather);
  if (person) {
    const { lungTime, longTone, lungClass } = person;
    if (lungTime !== undefined) return { lungTime };
    if (longTone !== undefined) return { longTone };
    return lungClass ? { lungClass } : {};
  }
  return breather === 'teen' || breather === 'child' ? { lungClass: breather } : {};
}

/** Pages that are looked at now. */
function wanted({ place, spread, beside, focus, shown }: State): number[] {
  if (place === 'pages') return [spread, spread + 1].filter((page) => page >= 0);
  const first = focus && shown?.firstPage[`${focus.chapter}.${focus.exercise}`];
  return [...(beside === undefined ? [] : [beside]), ...(first === undefined ? [0] : [])];
}

/** How many drawn pages are kept for turning back. */
const MOST_DRAWN = 24;

function askOf(state: State, hasty: boolean): ShowAsk | undefined {
  if (!state.book) return undefined;
  const { edition, focus, bpm, manner } = state;
  return {
    source: state.book.source,
    edition,
    focus,
    pages: wanted(state),
    withFocus: state.place !== 'pages',
    have: Object.fromEntries([...state.drawn].map(([page, { stamp }]) => [page, stamp])),
    breather: breatherAsk(state),
    bpm,
    manner,
    hasty,
    first: state.shown === undefined,
  };
}

/** What an answer depends on. */
const dependsOn = (s: State) => [s.book?.source, s.edition, s.focus, s.bpm, s.manner, s.breather, s.people, s.spread, s.beside, s.place];

let last: readonly unknown[] = [];
let asking = false;
/** Edition and book of the pages that are held. */
let heldFor: readonly unknown[] = [];

/** Milliseconds without a change after which everything is set. */
const REST = 400;
let rest: ReturnType<typeof setTimeout> | undefined;

/** The page that was looked at in a part of the book, found again in the whole by its number. */
function samePlace({ shown, spread, beside }: State, whole: Shown): Partial<State> {
  const found = (page: number): number => whole.pages.findIndex((entry) => entry.label === shown?.pages[page]?.label);
  const at = found(Math.max(0, spread + 1));
  return { spread: at < 0 ? -1 : evenPage(at), ...(beside === undefined ? {} : { beside: Math.max(0, found(beside)) }) };
}

async function ask(whole = false): Promise<void> {
  const before = now();
  // The appendices are put right when the typing rests, and at once where the pages themselves are looked at.
  const hasty = !whole && before.shown !== undefined && before.place !== 'pages';
  const question = askOf(before, hasty);
  last = dependsOn(before);
  clearTimeout(rest);
  if (hasty) rest = setTimeout(() => void follow(true), REST);
  if (!question) return;
  asking = true;
  const answer = await service.call('show', question);
  asking = false;
  if (answer.ok) {
    const { value: shown } = answer;
    change((state) => {
      const of = [before.edition, before.book?.document];
      const drawn = new Map(of.every((part, i) => part === heldFor[i]) ? state.drawn : []);
      heldFor = of;
      for (const { page, stamp, svg } of shown.drawn) {
        const kept = svg === undefined ? before.drawn.get(page) : { stamp, svg };
        drawn.delete(page);
        if (kept) drawn.set(page, kept);
      }
      for (const page of [...drawn.keys()].slice(0, Math.max(0, drawn.size - MOST_DRAWN))) drawn.delete(page);
      // Pages on the screen that changed but were not asked for are drawn when they are looked at.
      return { shown, drawn, ...(state.shown?.partial ? samePlace(state, shown) : {}) };
    });
    // The page is there; now the whole book.
    if (shown.partial) return follow(true);
  } else if (!answer.issues.some((issue) => issue.code === 'overtaken')) {
    tellIssues(answer.issues);
    if (answer.issues.some((issue) => issue.code === 'offline' || issue.code === 'job-ended')) return;
  }
  follow();
}

function follow(whole = false): void {
  const present = dependsOn(now());
  if (!asking && (whole || present.some((value, i) => value !== last[i]))) void ask(whole);
}

export function startShowing(): () => void {
  const stop = service.on('job-restarted', () => {
    last = [];
    follow();
  });
  const deaf = listen(() => follow());
  return () => {
    stop();
    deaf();
  };
}
