/** Notes of a MusicXML text as an independent reader (verovio) understands them. */
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { expect } from 'vitest';

/** Written name with its octave, and onset and duration in quarters, ties joined. */
export type Heard = { readonly name: string; readonly onset: number; readonly duration: number };

const ACCIDENTALS: Readonly<Record<string, string>> = { s: '#', f: 'b', ss: '##', x: '##', ff: 'bb', n: '' };

/** Id and name of a note in the reader's own format, from after its `<note `. */
function spelledNote(text: string): [id: string, name: string] {
  const own = text.split('</note>')[0] as string;
  const get = (name: string) => new RegExp(`\\b${name}="([^"]*)"`).exec(own)?.[1];
  const sign = ACCIDENTALS[get('accid') ?? get('accid.ges') ?? 'n'] ?? '?';
  return [get('xml:id') ?? '', `${get('pname')?.toUpperCase()}${sign}${get('oct')}`];
}

type Moment = { readonly qstamp: number; readonly on?: readonly string[]; readonly off?: readonly string[] };

export type Reader = (xml: string) => Heard[][];

/** Staves from the top, each with its notes in order. */
export async function openReader(): Promise<Reader> {
  const toolkit = new VerovioToolkit(await createVerovioModule());
  toolkit.setOptions({ breaks: 'none' });
  return (xml) => {
    if (!toolkit.loadData(xml)) throw new Error('not read');
    const moments = toolkit.renderToTimemap() as unknown as readonly Moment[];
    const ends = new Map(moments.flatMap(({ qstamp, off = [] }) => off.map((id) => [id, qstamp] as const)));
    const score = toolkit.getMEI();
    const staves: string[][] = [];
    const spelled = new Map<string, string>();
    for (const staff of score.split('<staff ').slice(1)) {
      const number = Number(/\bn="(\d+)"/.exec(staff)?.[1]) - 1;
      for (const [id, name] of staff.split('<note ').slice(1).map(spelledNote)) {
        staves[number] = [...(staves[number] ?? []), id];
        spelled.set(id, name);
      }
    }
    // Its list of moments has the halves of tied notes apart; its score says which belong together.
    const ties = score.matchAll(/<tie [^>]*startid="#([^"]+)" endid="#([^"]+)"/g);
    const tied = new Map([...ties].map(([, from, to]) => [from as string, to as string]));
    const continued = new Set(tied.values());
    const endOf = (id: string): number => (tied.has(id) ? endOf(tied.get(id) as string) : (ends.get(id) as number));
    const starts = new Map(moments.flatMap(({ qstamp, on = [] }) => on.map((id) => [id, qstamp] as const)));
    return staves.map((ids) =>
      ids.flatMap((id) => {
        const onset = starts.get(id);
        return onset === undefined || continued.has(id) ? [] : [{ name: spelled.get(id) ?? '?', onset, duration: endOf(id) - onset }];
      }),
    );
  };
}

export function expectSame(found: readonly Heard[], wanted: readonly Heard[]): void {
  const round = (one: Heard) => ({ ...one, onset: Number(one.onset.toFixed(6)), duration: Number(one.duration.toFixed(6)) });
  expect(found.map(round)).toEqual(wanted.map(round));
}
