/** Two pages side by side, as they lie in the open book. */
import type { CSSProperties } from 'react';
import type { Shown } from '../../../electron/services/contract/answers/pages.js';
import { PageView } from '../../parts/page-view.js';
import { T } from '../../texts/texts.js';

/** How large the pages are shown; `zoom` in percent. */
export type Look = { readonly fit: 'page' | 'width'; readonly zoom: number };

export type PairProps = {
  readonly shown: Shown;
  /** Left-hand page of the spread; -1 before the first page. */
  readonly here: number;
  readonly pair: readonly number[];
  readonly look: Look;
};

type SizeProperties = CSSProperties & Record<'--zoom' | '--ratio', number>;

export function Spread({ shown: { width, height }, here, pair, look: { fit, zoom } }: PairProps) {
  const size: SizeProperties = { '--zoom': zoom / 100, '--ratio': width / height };
  return (
    <section
      className={`spread fit-${fit}`}
      aria-label={T.pages.spread}
      style={size}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the region scrolls, and must scroll by keyboard too
      tabIndex={0}
    >
      {here < 0 && <div className="paper blank" aria-hidden="true" style={{ aspectRatio: `${width} / ${height}` }} />}
      {pair.map((page) => (
        <PageView key={page} page={page} />
      ))}
    </section>
  );
}
