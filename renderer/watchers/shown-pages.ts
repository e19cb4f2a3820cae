/** Keeps the pages and the exercise on the screen in step with the book: the newest question, while at most one older waits. */
import { shareStructure } from '../../core/base/shared-structure.js';
import type { Shown } from '../../electron/services/contract/answers/pages.js';
import type { Ask } from '../../electron/services/contract/questions.js';
import { breatherAsk, studentAt } from '../edits/breather.js';
import { service } from '../host/service.js';
import { evenPage } from '../state/page-spread.js';
import { change, listen, now, type State, tellIssues } from '../state/state.js';

/** Pages that are looked at now. */
function wanted({ place, spread, beside, focus, shown }: State): number[] {
  if (place === 'pages') return [spread, spread + 1].filter((page) => page >= 0);
  const first = focus && shown?.firstPage[`${focus.chapter}.${focus.exercise}`];
  return [...(beside === undefined ? [] : [beside]), ...(first === undefined ? [0] : [])];
}

/** How many drawn pages are cached for turning back. */
const MOST_DRAWN = 24;

/** `page`: pages and exercise, the page alone while someone types, or the exercise that belongs to a page just shown. */
type Part = 'all' | 'page' | 'exercise';

function askOf(state: State, hasty: boolean, part: Part): Ask<'show'> | undefined {
  if (!state.book) return undefined;
  const { edition, focus, bpm, manner } = state;
  return {
    source: state.book.source,
    edition,
    focus,
    pages: part === 'exercise' ? [] : wanted(state),
    withFocus: part !== 'exercise' && state.place !== 'pages',
    have: Object.fromEntries([...state.drawn].map(([page, { stamp }]) => [page, stamp])),
    breather: breatherAsk(state),
    bpm,
    manner,
    hasty,
    first: state.shown === undefined,
    tell: part !== 'page',
  };
}

/** What an answer depends on. */
const dependsOn = (s: State) => [
  s.book?.source,
  s.edition,
  s.focus,
  s.bpm,
  s.manner,
  s.breather,
  studentAt(s.roster?.source, s.breather)?.breath,
  s.spread,
  s.beside,
  s.place,
];

let last: readonly unknown[] = [];
/** Questions that are asked, that wait for an answer, and the newest that was answered. */
let asked = 0;
let waiting = 0;
let answered = 0;
/** The typing came to rest while a question waited. */
let atRest = false;
/** Edition and book of the pages that are drawn. */
let drawnFor: readonly unknown[] = [];

/** While someone types, the next question is on its way before the last is answered. */
const MOST_WAITING = 2;

/** Milliseconds without a change after which everything is set. */
const REST = 400;
let rest: ReturnType<typeof setTimeout> | undefined;

/** What was looked at and drawn of a part of the book, found again in the whole by the numbers of the pages. */
function samePlace({ shown, spread, beside, drawn }: State, whole: Shown): Pick<State, 'spread' | 'beside' | 'drawn'> {
  const found = (page: number): number => whole.pages.findIndex((entry) => entry.label === shown?.pages[page]?.label);
  const at = found(Math.max(0, spread + 1));
  return {
    spread: at < 0 ? -1 : evenPage(at),
    beside: beside === undefined ? undefined : Math.max(0, found(beside)),
    drawn: new Map([...drawn].map(([page, picture]) => [found(page), picture] as const).filter(([page]) => page >= 0)),
  };
}

/** Why something is asked: what is shown depends on has changed, a page was shown whose exercise waits, or the typing rests. */
type Cause = 'change' | 'exercise' | 'rest';

/** When what was just changed can be seen. */
const afterPainting = (act: () => void): void => void requestAnimationFrame(() => setTimeout(act, 0));

async function ask(cause: Cause): Promise<void> {
  const before = now();
  // The appendices are put right when the typing rests, and at once where the pages themselves are looked at.
  const hasty = cause !== 'rest' && before.shown !== undefined && before.place !== 'pages';
  const present = dependsOn(before);
  const onlySource = present.every((value, i) => value === last[i] || i === 0);
  const part = cause === 'exercise' ? 'exercise' : hasty && onlySource ? 'page' : 'all';
  const question = askOf(before, hasty, part);
  last = present;
  atRest = false;
  clearTimeout(rest);
  if (hasty) rest = setTimeout(() => follow('rest'), REST);
  if (!question) return;
  const turn = ++asked;
  waiting++;
  const answer = await service.call('show', question);
  waiting--;
  if (answer.ok && turn > answered) {
    answered = turn;
    const { drawn: pages, ...found } = answer.value;
    change((state) => {
      const told = part === 'page' ? { ...found, exercise: state.shown?.exercise } : found;
      // What is as it was stays the same object, so that nothing that shows it is drawn again.
      const shown = shareStructure(state.shown, { ...told, drawn: [] }) as Shown;
      const of = [before.edition, before.book?.document];
      const place = state.shown?.partial ? samePlace(state, shown) : state;
      const drawn = new Map(of.every((part, i) => part === drawnFor[i]) ? place.drawn : []);
      drawnFor = of;
      for (const { page, stamp, svg } of pages) {
        const cached = svg === undefined ? before.drawn.get(page) : { stamp, svg };
        drawn.delete(page);
        if (cached) drawn.set(page, cached);
      }
      for (const page of [...drawn.keys()].slice(0, Math.max(0, drawn.size - MOST_DRAWN))) drawn.delete(page);
      // Pages on the screen that changed but were not asked for are drawn when they are looked at.
      return { shown, drawn, spread: place.spread, beside: place.beside };
    });
    // The page is there; now the whole book.
    if (found.partial) return follow('rest');
    if (part === 'page') afterPainting(() => follow('exercise'));
  } else if (!answer.ok && !answer.issues.some((issue) => issue.code === 'overtaken')) {
    tellIssues(answer.issues);
    if (answer.issues.some((issue) => issue.code === 'offline' || issue.code === 'job-ended')) return;
  }
  follow('change');
}

function follow(cause: Cause): void {
  const { shown } = now();
  const changed = dependsOn(now()).some((value, i) => value !== last[i]);
  if (waiting > 0 && !(changed && shown && !shown.partial && waiting < MOST_WAITING)) {
    atRest ||= cause === 'rest';
    return;
  }
  const rested = cause === 'rest' || (atRest && !changed);
  if (changed || rested || cause !== 'change') void ask(rested ? 'rest' : changed ? 'change' : cause);
}

export function startShownPages(): () => void {
  const stop = service.on('job-restarted', () => {
    last = [];
    follow('change');
  });
  const deaf = listen(() => follow('change'));
  return () => {
    stop();
    deaf();
  };
}
