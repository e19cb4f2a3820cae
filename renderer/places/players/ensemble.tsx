/** The ensemble: who sits in which chair, how they breathe, and the score. */
import type { EnsembleSource } from '../../../core/ensemble/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import type { EnsembleView } from '../../../electron/services/contract/answers/people.js';
import { CHAIRS } from '../../edits/ensemble.js';
import { NoCompanion } from '../../parts/companion-head.js';
import { Issues } from '../../parts/fields.js';
import { type IssuesAt, issuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { instrumentName } from '../../state/instrument-names.js';
import { change, now, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { Bonds } from './bonds.js';
import { ChairCard, type ChairProps } from './chair-card.js';
import { EnsembleFields } from './ensemble-fields.js';
import { ReaderItem } from './reader-form.js';

const N = T.ensemble;

function add(lists: Lists): void {
  const source = now().ensemble?.source;
  if (!source) return;
  const instrument = source.chairs.at(-1)?.instrument ?? 'flute';
  edit('ensemble', { name: CHANGE.addChair(instrumentName(lists, instrument)) }, (it) => CHAIRS.add(it, { instrument }));
  change({ chair: source.chairs.length });
}

function ChairItem(props: ChairProps) {
  const { index, chair, name, issues } = props;
  const open = useWindow((s) => s.chair) === index;
  const copies = useWindow((s) => s.ensembleView?.chairs[index]?.copies) ?? 1;
  return (
    <ReaderItem
      title={name}
      hint={`${N.playersOf(chair.players ?? 1)}${copies > 1 ? ` · ${N.copies(copies)}` : ''}`}
      badge={issues.length > 0 ? T.students.remarks(issues.length) : undefined}
      open={open}
      onHead={() => change({ chair: open ? undefined : index })}
    >
      <ChairCard {...props} />
    </ReaderItem>
  );
}

type ChairsProps = {
  readonly lists: Lists;
  readonly source: EnsembleSource;
  readonly view: EnsembleView | undefined;
  readonly at: IssuesAt;
};

function Chairs({ lists, source, view, at }: ChairsProps) {
  const views = view?.chairs.length === source.chairs.length ? view.chairs : undefined;
  const names = source.chairs.map((chair, i) => (views ? (views[i]?.name ?? '') : (chair.name ?? instrumentName(lists, chair.instrument))));
  const move = (i: number, step: -1 | 1) => {
    if (i + step < 0 || i + step >= source.chairs.length) return;
    edit('ensemble', { name: CHANGE.moveChair(names[i] ?? '') }, (it) => CHAIRS.move(it, i, i + step));
    change({ chair: i + step });
  };
  return (
    <ul className="editions">
      {source.chairs.map((chair, i) => (
        <ChairItem
          // biome-ignore lint/suspicious/noArrayIndexKey: two chairs of one instrument differ by their place only
          key={i}
          lists={lists}
          index={i}
          chair={chair}
          name={names[i] ?? ''}
          level={source.level}
          issues={at('chairs', i).filter(({ severity }) => severity !== 'note')}
          onMove={(step) => move(i, step)}
        />
      ))}
    </ul>
  );
}

export function EnsemblePanel({ lists }: { readonly lists: Lists }) {
  const source = useWindow((s) => s.ensemble?.source);
  const view = useWindow((s) => s.ensembleView);
  if (!source) return <NoCompanion of="ensemble" title={N.noneTitle} words={N.noneWords} />;
  const issues = view?.issues ?? [];
  const at = issuesAt(issues);
  return (
    <>
      <EnsembleFields source={source} at={at} />
      <section className="panel">
        <h2>{N.heading}</h2>
        <p className="hint">{N.hint}</p>
        <Issues issues={issues.filter(({ path }) => path.length === 0 || (path[0] === 'chairs' && path.length === 1))} />
        <Chairs lists={lists} source={source} view={view} at={at} />
        <button type="button" id="add-person" onClick={() => add(lists)}>
          {N.addChair}
        </button>
      </section>
      <Bonds source={source} at={at} />
    </>
  );
}
