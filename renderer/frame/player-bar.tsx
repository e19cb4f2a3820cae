/** Playing: at the foot of the window, in every place. */

import { prefer } from '../commands/preferences.js';
import { play, stepTempo } from '../sound/play.js';
import { change, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

const S = T.sound;

export function PlayerBar() {
  const playing = useWindow((s) => s.playing);
  const exercise = useWindow((s) => s.shown?.exercise);
  const some = useWindow((s) => s.focus !== undefined);
  const loop = useWindow((s) => s.loop);
  const click = useWindow((s) => s.click);
  const withBreaths = useWindow((s) => s.withBreaths);
  const bpm = useWindow((s) => s.bpm);
  const preferences = useWindow((s) => s.preferences);
  const breathing = exercise?.breathing;
  const at = bpm ?? breathing?.bpm;
  const rungs = breathing?.rungs ?? [];
  return (
    <section className="player-bar" aria-label={S.region}>
      <button type="button" className="main round" onClick={() => void play()} disabled={!exercise} aria-pressed={playing !== undefined}>
        {playing ? S.stop : S.play}
      </button>
      <span className="now" aria-hidden="true">
        {exercise ? exercise.title || `${exercise.number}` : S.nothing}
      </span>
      {some && (
        <>
          <button type="button" className="quiet" onClick={() => stepTempo(-1)} disabled={!exercise} aria-label={S.slower} title={S.slower}>
            −
          </button>
          <select
            aria-label={S.tempo}
            value={at ?? ''}
            disabled={!exercise}
            onChange={(event) => change({ bpm: Number(event.target.value) })}
          >
            {at !== undefined && !rungs.some((rung) => rung.bpm === at) && <option value={at}>{`${breathing?.beat ?? ''} = ${at}`}</option>}
            {rungs.map((rung) => (
              <option key={rung.bpm} value={rung.bpm}>
                {`${breathing?.beat ?? ''} = ${rung.bpm}`}
              </option>
            ))}
          </select>
          <button type="button" className="quiet" onClick={() => stepTempo(1)} disabled={!exercise} aria-label={S.faster} title={S.faster}>
            +
          </button>
        </>
      )}
      <span className="grow" />
      <button type="button" className="toggle" aria-pressed={loop} onClick={() => change({ loop: !loop })}>
        {S.loop}
      </button>
      <button type="button" className="toggle" aria-pressed={click} onClick={() => change({ click: !click })}>
        {S.click}
      </button>
      <button type="button" className="toggle" aria-pressed={preferences.countIn} onClick={() => prefer({ countIn: !preferences.countIn })}>
        {S.countIn}
      </button>
      <button type="button" className="toggle" aria-pressed={withBreaths} onClick={() => change({ withBreaths: !withBreaths })}>
        {S.breaths}
      </button>
    </section>
  );
}
