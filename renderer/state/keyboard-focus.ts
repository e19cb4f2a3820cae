/** The keyboard's place in the window: what has the focus stays in sight, and the focus never falls to nothing. */

const CAN_HOLD = ':is(button, input, select, textarea, summary, [href]):not(:disabled, [hidden])';

/** After a click has made what stands above a control shorter or taller. */
export const keepInSight = (element: HTMLElement): number => requestAnimationFrame(() => element.scrollIntoView({ block: 'nearest' }));

/** Frames in which what an action shows must have been drawn. */
const SOON = 20;

/**
 * Puts the keyboard where the work is after an action: on the first element of this selector, as soon as it is there, with its
 * text chosen when it is a field in which something new begins. Where it never comes, nothing happens.
 */
export function focusWork(selector: string, { select = false } = {}, frames = SOON): void {
  requestAnimationFrame(() => {
    const element = document.querySelector<HTMLElement>(selector);
    if (!element) {
      if (frames > 1) focusWork(selector, { select }, frames - 1);
      return;
    }
    element.focus();
    if (select && element instanceof HTMLInputElement) element.select();
  });
}

/** Inside out: the element and what holds it. */
function path(element: Element): Element[] {
  const above: Element[] = [];
  for (let at: Element | null = element; at && at !== document.body; at = at.parentElement) above.push(at);
  return above;
}

/** The control nearest to where the focus was: in the innermost part of the window that is still there, the next one if it can. */
function nearest(was: readonly Element[]): HTMLElement | undefined {
  const [last] = was;
  for (const part of was) {
    if (!part.isConnected) continue;
    // Of the whole window the first control would be the link that skips to the work.
    const all = [...(part.querySelector('#work') ?? part).querySelectorAll<HTMLElement>(CAN_HOLD)];
    const isBehind = (it: Element) => Boolean(last && last.compareDocumentPosition(it) & Node.DOCUMENT_POSITION_FOLLOWING);
    const found = last?.isConnected ? (all.find(isBehind) ?? all.at(-1)) : all[0];
    if (found) return found;
  }
  return document.getElementById('work') ?? undefined;
}

/**
 * A button that goes away or is switched off by its own click would leave the keyboard at the top of the window. Instead the
 * nearest control takes over.
 */
export function keepFocus(): void {
  let was: readonly Element[] = [];
  document.addEventListener('focusin', ({ target }) => {
    if (target instanceof Element) was = path(target);
  });
  const look = (): void => {
    const [last] = was;
    // Where it is still there and can be used, it has the focus, or the user has left it by a click beside it.
    if (!last || (last.isConnected && !last.matches(':disabled'))) return;
    if (document.activeElement !== document.body && document.activeElement !== last) return;
    // In a dialog only what is in the dialog can be reached.
    const dialog = document.querySelector('dialog[open]');
    const target = nearest(dialog ? [...was.filter((part) => dialog.contains(part)), dialog] : was);
    target?.focus({ preventScroll: true });
  };
  let waiting = false;
  const later = (): void => {
    if (waiting) return;
    waiting = true;
    // When all that a click changes is drawn.
    requestAnimationFrame(() => {
      waiting = false;
      look();
    });
  };
  new MutationObserver(later).observe(document.body, {
    subtree: true,
    childList: true,
    attributes: true,
    attributeFilter: ['disabled'],
  });
}
