/** Engraved pictures in a shadow tree of their own, so that their ids stay among themselves. */
import { useEffect, useLayoutEffect, useRef } from 'react';

const sheet = new CSSStyleSheet();
sheet.replaceSync(`
  :host { display: block; }
  svg { display: block; width: 100%; height: auto; overflow: visible; }
  :host(.natural) svg { width: auto; max-width: 100%; }
  [data-event] { cursor: pointer; }
  .lit { fill: var(--lit, #8a2b1d); }
  [data-target] { cursor: pointer; }
`);

export type NotePlace = { readonly exercise: string; readonly event: number };

export type DrawingProps = {
  readonly svg: string;
  /** At its own size, not over the whole width. */
  readonly natural?: boolean;
  readonly lit?: NotePlace | undefined;
  readonly onNote?: (note: NotePlace) => void;
  readonly onLink?: (target: string) => void;
};

export function Drawing({ svg, natural, lit, onNote, onLink }: DrawingProps) {
  const host = useRef<HTMLDivElement>(null);
  const shown = useRef('');
  const heard = useRef({ onNote, onLink });
  heard.current = { onNote, onLink };

  useLayoutEffect(() => {
    const element = host.current;
    if (!element) return;
    const root = element.shadowRoot ?? element.attachShadow({ mode: 'open' });
    if (root.adoptedStyleSheets.length === 0) root.adoptedStyleSheets = [sheet];
    if (shown.current === svg) return;
    shown.current = svg;
    // Made by the program's own painter, which escapes every text. A script put in this way does not run, and the
    // content policy lets no handler written in an attribute run either.
    root.innerHTML = svg;
  }, [svg]);

  useEffect(() => {
    const element = host.current;
    if (!element) return;
    const pressed = (event: MouseEvent) => {
      for (const target of event.composedPath()) {
        if (!(target instanceof Element)) continue;
        const link = target.getAttribute('data-target');
        if (link) return heard.current.onLink?.(link);
        const note = target.getAttribute('data-event');
        const exercise = target.closest('[data-exercise]')?.getAttribute('data-exercise');
        if (note !== null && exercise) return heard.current.onNote?.({ exercise, event: Number(note) });
      }
    };
    element.addEventListener('click', pressed);
    return () => element.removeEventListener('click', pressed);
  }, []);

  // After every drawing too, since a new picture is unlit.
  useLayoutEffect(() => {
    const root = host.current?.shadowRoot;
    if (!root || svg === '') return;
    for (const mark of root.querySelectorAll('.lit')) mark.classList.remove('lit');
    if (!lit) return;
    for (const group of root.querySelectorAll('[data-exercise]')) {
      if (group.getAttribute('data-exercise') !== lit.exercise) continue;
      for (const mark of group.querySelectorAll(`[data-event="${lit.event}"]`)) mark.classList.add('lit');
    }
  }, [svg, lit]);

  return <div ref={host} className={natural ? 'drawing natural' : 'drawing'} />;
}
