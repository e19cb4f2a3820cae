/** Playing the exercise in focus. */

import { breatherAsk } from '../edits/breather.js';
import { service } from '../host/service.js';
import { change, notify, now, tellIssues } from '../state/state.js';
import { T } from '../texts/texts.js';
import { type Playing, playFigure, playTones } from './tones.js';

let playing: Playing | undefined;
let figure: Playing | undefined;

export function stop(): void {
  playing?.stop();
}

export async function play(): Promise<void> {
  const state = now();
  if (state.playing) return stop();
  if (!state.book || !state.focus) return notify('note', T.sound.nothing);
  figure?.stop();
  const answer = await service.call('perform', {
    source: state.book.source,
    edition: state.edition,
    focus: state.focus,
    bpm: state.bpm,
    breather: breatherAsk(state),
    manner: state.manner,
    breaths: state.withBreaths,
  });
  if (!answer.ok) return tellIssues(answer.issues);
  const { value: performance } = answer;
  const { preferences } = now();
  change({ playing: { exercise: performance.exercise, event: undefined, at: 0 } });
  playing = playTones(performance, {
    volumes: { notes: preferences.notes, click: preferences.click },
    countIn: preferences.countIn,
    click: () => now().click,
    loop: () => now().loop,
    onEvent: (event, at) => change({ playing: { exercise: performance.exercise, event, at } }),
    onEnd: () => {
      playing = undefined;
      change({ playing: undefined });
    },
  });
}

export function hearFigure(keys: readonly (number | undefined)[]): void {
  stop();
  figure?.stop();
  figure = playFigure(keys, now().preferences.notes);
}

/** Tempo one step of the ladder slower or faster. */
export function stepTempo(step: -1 | 1): void {
  const { shown, bpm } = now();
  const breathing = shown?.exercise?.breathing;
  if (!breathing) return;
  const rungs = breathing.rungs.map((rung) => rung.bpm);
  const at = bpm ?? breathing.bpm;
  const next = step > 0 ? rungs.find((rung) => rung > at) : rungs.findLast((rung) => rung < at);
  if (next !== undefined) change({ bpm: next });
}
