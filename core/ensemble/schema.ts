/** The shape of a saved ensemble. */
import {
  breather,
  choice,
  fields,
  key,
  LEVELS,
  line,
  list,
  name,
  note,
  number,
  optionalLine,
  PAGES,
  spelling,
  staff,
} from '../book/schema.js';

const chair = fields('an object such as {"instrument": "flute", "players": 3}', {
  id: name.optional(),
  instrument: line('the id of an instrument, such as "alto-saxophone"'),
  name: line('the name as printed, such as "Trumpet 2"', 60).optional(),
  short: line('the short name before a staff, such as "Tpt. 2"', 16).optional(),
  level: choice(LEVELS).optional(),
  compass: fields('an object such as {"low": "Bb3", "high": "C6"}', { low: note.optional(), high: note.optional() }).optional(),
  spelling: spelling.optional(),
  players: number(1, 100, 'how many people play from the part')
    .int({ error: 'This is not a whole number; write how many people play from the part.' })
    .optional(),
  group: name.optional(),
  staff: staff.optional(),
  page: choice(PAGES).optional(),
  breath: breather.optional(),
});

export const ensembleShape = fields('an object with the fields of an ensemble', {
  format: choice(['twelvefold-ensemble']),
  version: number(1, 1, 'the version'),
  name: line('the name of the ensemble', 120),
  chairs: list(chair, 'a list of chairs such as [{"instrument": "flute"}, {"instrument": "oboe"}]'),
  level: choice(LEVELS).optional(),
  misfit: choice(['as written', 'leave-out', 'turn', 'hold-root']).optional(),
  start: key.optional(),
  keep: list(
    fields('an object such as {"chairs": ["trumpet-1", "cornet"], "together": "unison"}', {
      chairs: list(name, 'a list of the ids of chairs'),
      together: choice(['unison', 'octave']),
    }),
    'a list of chairs that stay together',
  ).optional(),
  breathing: fields('an object such as {"plan": "staggered", "tempo": 72}', {
    plan: choice(['none', 'together', 'staggered']).optional(),
    tempo: number(20, 400, 'the tempo in beats a minute').optional(),
  }).optional(),
  score: fields('an object such as {"order": "band", "pitch": "concert"}', {
    order: choice(['band', 'orchestra', 'high to low']).optional(),
    pitch: choice(['concert', 'transposed']).optional(),
    page: choice(PAGES).optional(),
    staff: number(2, 9, 'the height of a staff in millimetres').optional(),
  }).optional(),
  exercises: list(name, 'a list of the ids of exercises').optional(),
  remark: optionalLine('a remark').optional(),
});

export type EnsembleSource = ReturnType<typeof ensembleShape.parse>;
export type ChairSource = EnsembleSource['chairs'][number];
