/** Playing. */
export const SOUND = {
  region: 'Playing',
  play: 'Play',
  stop: 'Stop',
  loop: 'Again and again',
  click: 'Metronome',
  countIn: 'Count-in',
  breaths: 'With breaths',
  tempo: 'Tempo to play at',
  slower: 'Slower',
  faster: 'Faster',
  nothing: 'Open an exercise to hear it.',
  notes: 'Volume of the notes',
  clicks: 'Volume of the metronome',
} as const;
