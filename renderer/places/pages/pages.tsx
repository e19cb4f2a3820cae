/** The pages as they will be printed, two and two. */
import { useState } from 'react';
import type { Shown } from '../../../electron/services/contract/answers/pages.js';
import { evenPage } from '../../state/page-spread.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import { PageStrip } from './page-strip.js';
import { type LookProps, PageToolbar } from './page-toolbar.js';
import { type Look, Spread } from './spread.js';

const P = T.pages;

function NoPages() {
  const place = useWindow((s) => (s.book?.source.editions.length === 0 ? 'players' : 'book'));
  return (
    <div className="empty-place">
      <h1>{P.nonePage}</h1>
      <p>{P.noneWords}</p>
      <button type="button" className="main" onClick={() => change({ place, company: 'instruments' })}>
        {P.goOn[place]}
      </button>
    </div>
  );
}

function SomePages({ shown, ...look }: LookProps & { readonly shown: Shown }) {
  const spread = useWindow((s) => s.spread);
  const total = shown.pages.length;
  const here = evenPage(Math.min(spread, total - 1));
  const pair = [here, here + 1].filter((page) => page >= 0 && page < total);
  return (
    <div className="pages-place">
      <PageToolbar shown={shown} here={here} pair={pair} {...look} />
      <Spread shown={shown} here={here} pair={pair} look={look.look} />
      <PageStrip shown={shown} pair={pair} />
    </div>
  );
}

export function PagesPlace() {
  const shown = useWindow((s) => s.shown);
  const [look, setLook] = useState<Look>({ fit: 'page', zoom: 100 });
  if (!shown) return <p className="coming">{P.coming}</p>;
  return shown.pages.length === 0 ? <NoPages /> : <SomePages shown={shown} look={look} setLook={setLook} />;
}
