/** People who breathe, and the stopwatch for a long tone. */
import { useEffect, useRef, useState } from 'react';
import type { Lists } from '../../electron/services/lists.js';
import type { Person } from '../../electron/services/roster.js';
import { NumberField, Select, TextField } from '../parts/fields.js';
import { service } from '../service.js';
import { change, now, tellIssues, useWindow } from '../state.js';
import { T } from '../texts.js';

const P = T.players;

function write(people: readonly Person[]): void {
  change({ people });
  void service.call('roster-write', { people }).then((done) => tellIssues(done.issues));
}

function Stopwatch({ onKeep }: { readonly onKeep: (seconds: number) => void }) {
  const [tries, setTries] = useState<readonly number[]>([]);
  const [started, setStarted] = useState<number>();
  const [shown, setShown] = useState(0);
  const frame = useRef(0);
  useEffect(() => {
    if (started === undefined) return;
    const tick = () => {
      setShown((performance.now() - started) / 1000);
      frame.current = requestAnimationFrame(tick);
    };
    tick();
    return () => cancelAnimationFrame(frame.current);
  }, [started]);
  const press = () => {
    if (started === undefined) {
      setStarted(performance.now());
      return;
    }
    const seconds = (performance.now() - started) / 1000;
    setStarted(undefined);
    setShown(seconds);
    setTries([...tries, seconds].slice(-3));
  };
  const best = tries.length > 0 ? Math.max(...tries) : undefined;
  return (
    <div className="stopwatch">
      <p className="hint">{P.measureHint}</p>
      <div className="row">
        <button type="button" className="main" onClick={press} aria-pressed={started !== undefined}>
          {started === undefined ? P.startTone : P.stopTone}
        </button>
        <output className="clock">{P.seconds(shown.toFixed(1))}</output>
        <span className="hint">{tries.map((it, i) => `${P.try(i + 1)}: ${it.toFixed(1)}`).join(' · ')}</span>
        {best !== undefined && started === undefined && (
          <button
            type="button"
            onClick={() => {
              onKeep(Math.round(best * 10) / 10);
              setTries([]);
              setShown(0);
            }}
          >
            {P.keepTone(best.toFixed(1))}
          </button>
        )}
      </div>
    </div>
  );
}

export function People({ lists }: { readonly lists: Lists }) {
  const people = useWindow((s) => s.people);
  const breather = useWindow((s) => s.breather);
  const [measuring, setMeasuring] = useState<string>();
  const set = (id: string, part: Partial<Person>) => write(now().people.map((it) => (it.id === id ? clean({ ...it, ...part }) : it)));
  const add = () => {
    const id = crypto.randomUUID();
    write([...people, { id }]);
    change({ breather: id });
  };
  return (
    <section className="panel">
      <h2>{P.people}</h2>
      <p className="hint">{P.peopleHint}</p>
      {people.length === 0 && <p className="empty">{P.noPeople}</p>}
      <ul className="people">
        {people.map((person) => (
          <li key={person.id} className={breather === person.id ? 'current' : ''}>
            <div className="fields">
              <TextField label={P.personName} value={person.name ?? ''} onChange={(name) => set(person.id, { name })} />
              <Select
                label={T.pages.instrument}
                value={person.instrument ?? ''}
                options={[{ value: '', label: '–' }, ...lists.instruments.map((it) => ({ value: it.id, label: it.name }))]}
                onChange={(instrument) => set(person.id, { instrument })}
              />
              <Select
                label={P.lungs}
                value={person.lungClass ?? ''}
                options={[{ value: '', label: '–' }, ...Object.entries(P.lungClasses).map(([value, label]) => ({ value, label }))]}
                onChange={(lungClass) => set(person.id, { lungClass: (lungClass || undefined) as Person['lungClass'] })}
              />
              <NumberField
                label={P.longToneSeconds}
                min={1}
                max={90}
                step={0.1}
                value={person.longTone}
                onChange={(longTone) => set(person.id, { longTone: longTone && longTone > 0 && longTone <= 90 ? longTone : undefined })}
              />
              <div className="row wide">
                <button
                  type="button"
                  aria-expanded={measuring === person.id}
                  onClick={() => setMeasuring(measuring === person.id ? undefined : person.id)}
                >
                  {P.measure}
                </button>
                <button
                  type="button"
                  aria-pressed={breather === person.id}
                  onClick={() => change({ breather: breather === person.id ? 'adult' : person.id })}
                >
                  {T.exercise.breather}
                </button>
                <button
                  type="button"
                  className="quiet"
                  onClick={() => {
                    write(people.filter((it) => it.id !== person.id));
                    if (breather === person.id) change({ breather: 'adult' });
                  }}
                >
                  {P.remove}
                </button>
              </div>
              {measuring === person.id && <Stopwatch onKeep={(longTone) => set(person.id, { longTone })} />}
            </div>
          </li>
        ))}
      </ul>
      <button type="button" onClick={add}>
        {P.addPerson}
      </button>
    </section>
  );
}

/** Empty fields are left out of the file. */
const clean = (person: Person): Person =>
  Object.fromEntries(Object.entries(person).filter(([, value]) => value !== undefined && value !== '')) as Person;
