/** Measuring a long tone: three tries, the best counts. */
import { useEffect, useRef, useState } from 'react';
import { T } from '../texts/texts.js';

const P = T.players;

export function Stopwatch({ onKeep }: { readonly onKeep: (seconds: number) => void }) {
  const [tries, setTries] = useState<readonly number[]>([]);
  const [started, setStarted] = useState<number>();
  const [shown, setShown] = useState(0);
  const frame = useRef(0);
  const start = useRef<HTMLButtonElement>(null);
  // Whoever asks to measure presses this next, and may have no hand free.
  useEffect(() => start.current?.focus(), []);
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
        <button ref={start} type="button" className="main" onClick={press} aria-pressed={started !== undefined}>
          {started === undefined ? P.startTone : P.stopTone}
        </button>
        <output className="clock">{P.seconds(shown.toFixed(1))}</output>
        <span className="hint">{tries.map((it, i) => `${P.try(i + 1)}: ${P.seconds(it.toFixed(1))}`).join(' · ')}</span>
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
