/** A compass on a staff and on a keyboard; the nearer end follows a press of a key. */
import { useEffect, useState } from 'react';
import type { Issue } from '../../core/base/issue.js';
import type { InstrumentEntry, Lists } from '../../electron/services/contract/answers/lists.js';
import { service } from '../host/service.js';
import { T } from '../texts/texts.js';
import { Drawing } from './drawing.js';
import { Issues, TextField } from './fields.js';
import { Keyboard } from './keyboard.js';

const P = T.players;

function CompassStaff({ instrument, low, high }: { readonly instrument: InstrumentEntry; readonly low: string; readonly high: string }) {
  const [svg, setSvg] = useState('');
  useEffect(() => {
    let gone = false;
    void service.call('staff', { clef: instrument.clef, notes: [low, high] }).then((answer) => {
      if (answer.ok && !gone) setSvg(answer.value.svg);
    });
    return () => {
      gone = true;
    };
  }, [instrument.clef, low, high]);
  return <div className="compass-staff">{svg && <Drawing svg={svg} natural />}</div>;
}

type Ends = { readonly low?: string | undefined; readonly high?: string | undefined };
type Level = keyof typeof P.levels;

type Props = {
  readonly lists: Lists;
  readonly instrument: InstrumentEntry;
  readonly level: Level;
  /** Undefined: that of the level. */
  readonly compass: Ends | undefined;
  readonly issues: readonly Issue[];
  readonly onChange: (compass: { low: string; high: string } | undefined) => void;
};

export function Compass({ lists, instrument, level, compass, issues, onChange }: Props) {
  const standard = instrument.compass[level];
  const low = compass?.low ?? standard?.low.name ?? 'C4';
  const high = compass?.high ?? standard?.high.name ?? 'C6';
  const keyOf = (name: string): number | undefined =>
    lists.keyboard.find((it) => it.name === name)?.key ?? [standard?.low, standard?.high].find((it) => it?.name === name)?.key;
  const move = (end: 'low' | 'high', name: string) => onChange({ low, high, [end]: name });
  const step = (end: 'low' | 'high', by: number) => {
    const at = keyOf(end === 'low' ? low : high);
    const next = at === undefined ? undefined : lists.keyboard.find((it) => it.key === at + by);
    if (next) move(end, next.name);
  };
  const ends = [
    ['low', P.lowest, low],
    ['high', P.highest, high],
  ] as const;
  return (
    <div className="compass wide">
      <CompassStaff instrument={instrument} low={low} high={high} />
      <div className="stack">
        <Keyboard keyboard={lists.keyboard} low={keyOf(low) ?? 60} high={keyOf(high) ?? 84} onMove={move} />
        <p className="hint">{P.compassHint}</p>
        <div className="row">
          {ends.map(([end, label, value]) => (
            <div key={end} className="row tight">
              <TextField label={label} value={value} onChange={(text) => move(end, text)} />
              <button type="button" aria-label={`${label}: ${P.lower}`} title={P.lower} onClick={() => step(end, -1)}>
                ♭
              </button>
              <button type="button" aria-label={`${label}: ${P.higher}`} title={P.higher} onClick={() => step(end, 1)}>
                ♯
              </button>
            </div>
          ))}
          {compass && (
            <button type="button" className="quiet" onClick={() => onChange(undefined)}>
              {P.compassOf(P.levels[level])}
            </button>
          )}
        </div>
        <Issues issues={issues} />
      </div>
    </div>
  );
}
