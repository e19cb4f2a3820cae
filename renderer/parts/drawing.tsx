/** Engraved pictures in a shadow tree of their own: their ids stay among themselves, and they are parsed as pictures, not as pages. */
import { useEffect, useLayoutEffect, useRef } from 'react';

/** Text of an SVG → its root element; undefined when it is none. Scripts in it would not run, and are not let in. */
function pictureOf(svg: string): SVGSVGElement | undefined {
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (root.nodeName !== 'svg' || root.querySelector('script, foreignObject')) return undefined;
  return document.importNode(root, true) as unknown as SVGSVGElement;
}

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
    const picture = pictureOf(svg);
    root.replaceChildren(...(picture ? [picture] : []));
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
