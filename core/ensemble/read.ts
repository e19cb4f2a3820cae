/** Text of an ensemble file → the ensemble for a book, every default filled in, or everything that is wrong with it. */

import { enough, error, good, type Issue, isError, type Result, told, under } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';
import type { Book } from '../book/book.js';
import { breatherOf } from '../book/breath.js';
import { checkFields } from '../book/check-fields.js';
import { readCompanion } from '../book/companion.js';
import { LEVEL_DEFAULT } from '../book/defaults.js';
import { resolveCompass, resolveSpelling } from '../book/edition.js';

import type { LungClass } from '../breath/lung-time.js';
import { lungTime } from '../breath/lung-time.js';
import type { Level } from '../exercise/exercise.js';
import { instrumentById } from '../player/catalogue.js';
import { playerOf } from '../player/compass.js';
import type { Instrument } from '../player/player.js';
import { parseClass } from '../theory/pitch.js';
import type { Bond, Chair, Ensemble } from './ensemble.js';
import { type ChairSource, type EnsembleSource, ensembleShape } from './schema.js';

export const ENSEMBLE_FILE = { format: 'twelvefold-ensemble', version: 1, what: 'an ensemble' } as const;

/** More chairs than any band has; more are a slip. */
const MOST_CHAIRS = 100;

/** Lungs of a chair of which nothing is said: school levels are children and teens. (House choice.) */
const LUNGS: Readonly<Record<Level, LungClass>> = { beginner: 'child', intermediate: 'teen', advanced: 'adult', professional: 'adult' };

type Named = { readonly source: ChairSource; readonly instrument: Instrument; readonly path: readonly (string | number)[] };

/** Ids and names: those given, else the instrument's, numbered where several chairs have the same. */
function naming({ source, instrument }: Named, all: readonly Named[]): Pick<Chair, 'id' | 'name' | 'short'> {
  /** Number among the chairs of this instrument that are not given this field; undefined for the only one. */
  const numberOf = (field: 'id' | 'name' | 'short'): number | undefined => {
    const alike = all.filter((other) => other.instrument === instrument && other.source[field] === undefined);
    return alike.length > 1 ? alike.findIndex((other) => other.source === source) + 1 : undefined;
  };
  const [id, name, short] = [numberOf('id'), numberOf('name'), numberOf('short')];
  return {
    id: source.id ?? (id ? `${instrument.id}-${id}` : instrument.id),
    name: source.name ?? (name ? numberedName(instrument.name, name) : instrument.name),
    short: source.short ?? (short ? `${instrument.short} ${short}` : instrument.short),
  };
}

/** `Clarinet 2 in B♭`, `Euphonium 2 (bass clef)`, `Flute 2`. */
function numberedName(name: string, number: number): string {
  const tail = / in .*| \(.*/.exec(name)?.[0] ?? '';
  return `${name.slice(0, name.length - tail.length)} ${number}${tail}`;
}

function resolveChair(named: Named, all: readonly Named[], source: EnsembleSource, book: Book, issues: Issue[]): Chair | undefined {
  const { instrument, path } = named;
  const own = named.source;
  const level = own.level ?? source.level ?? LEVEL_DEFAULT;
  const found: Issue[] = [];
  const compass = resolveCompass(own.compass, instrument.compass[level], [...path, 'compass'], found);
  const spelling = resolveSpelling(own.spelling, book.spelling, [...path, 'spelling'], found);
  const player = playerOf({ instrument: instrument.id, level, compass, spelling });
  const given = own.breath ? breatherOf(own.breath) : {};
  const breather = Object.keys(given).length > 0 ? given : { lungClass: LUNGS[level] };
  found.push(...under([...path, 'breath'], lungTime(breather, instrument).issues));
  found.push(...under(path, player.issues));
  issues.push(...found);
  if (!player.ok || found.some(isError)) return undefined;
  return {
    ...naming(named, all),
    player: player.value,
    players: own.players ?? 1,
    group: own.group ?? instrument.id,
    staff: own.staff,
    page: own.page,
    breather,
  };
}

function checkIds(chairs: readonly (Chair | undefined)[], issues: Issue[]): void {
  const seen = new Map<string, number>();
  chairs.forEach((chair, i) => {
    if (!chair) return;
    const first = seen.get(chair.id);
    if (first === undefined) seen.set(chair.id, i);
    else
      issues.push(
        error(
          'chair-twice',
          ['chairs', i, 'id'],
          `The id "${chair.id}" belongs to chair ${first + 1} already; give this chair another "id".`,
        ),
      );
  });
}

/** Parts of one name could not be told apart on a music stand. */
function checkNames(chairs: readonly (Chair | undefined)[], issues: Issue[]): void {
  const seen = new Map<string, number>();
  chairs.forEach((chair, i) => {
    if (!chair) return;
    const name = chair.name.trim();
    const first = seen.get(name);
    if (first === undefined) seen.set(name, i);
    else
      issues.push(
        error(
          'chair-name-twice',
          ['chairs', i, 'name'],
          `Chair ${first + 1} is called "${chair.name}" already; give this chair another "name".`,
        ),
      );
  });
}

function resolveBonds(source: EnsembleSource, chairs: readonly Chair[], issues: Issue[]): Bond[] {
  const ids = chairs.map(({ id }) => id);
  const bound = new Set<string>();
  return (source.keep ?? []).flatMap(({ chairs: members, together }, i): Bond[] => {
    const path = ['keep', i, 'chairs'];
    const before = issues.length;
    members.forEach((id, m) => {
      if (enough(issues)) return;
      if (!ids.includes(id))
        issues.push(
          error(
            'unknown-chair',
            [...path, m],
            `There is no chair "${id}"${didYouMean(id, ids) || `; write one of ${ids.slice(0, 12).join(', ')}.`}`,
          ),
        );
      else if (bound.has(id))
        issues.push(
          error('chair-bound-twice', [...path, m], `The chair "${id}" is in two lists of chairs that stay together; take it out of one.`),
        );
      bound.add(id);
    });
    if (members.length < 2) issues.push(error('bond-of-one', path, 'Name two chairs or more that stay together, or remove this entry.'));
    return issues.length > before ? [] : [{ chairs: members, distance: together }];
  });
}

/** Issue `unknown-exercise` if the book has no exercise of this id. */
export function exerciseIssues(id: string, book: Book, path: readonly (string | number)[]): Issue[] {
  const ids = book.chapters.flatMap((chapter) => chapter.exercises.map((exercise) => exercise.id));
  if (ids.includes(id)) return [];
  const remedy = didYouMean(id, ids) || `; write one of ${ids.slice(0, 12).join(', ')}${ids.length > 12 ? ' …' : '.'}`;
  return [error('unknown-exercise', path, `The book has no exercise "${id}"${remedy}`)];
}

function resolveStart(source: EnsembleSource, issues: Issue[]) {
  if (source.start === undefined) return undefined;
  const start = parseClass(source.start);
  if (!start) issues.push(error('unknown-key', ['start'], `"${source.start}" is not a key; write a note name such as "Bb" or "F#".`));
  return start;
}

function countIssue(count: number): Issue[] {
  if (count >= 2 && count <= MOST_CHAIRS) return [];
  const words = count === 0 ? 'The ensemble has no chair' : count === 1 ? 'The ensemble has one chair' : `The ensemble has ${count} chairs`;
  const remedy = count < 2 ? 'list two chairs or more; for a single player build an edition' : `list at most ${MOST_CHAIRS}`;
  return [error('chairs-count', ['chairs'], `${words}; ${remedy}.`)];
}

export function resolveEnsemble(source: EnsembleSource, book: Book): Result<Ensemble> {
  const issues: Issue[] = countIssue(source.chairs.length);
  const named = source.chairs.flatMap((chair, i): Named[] => {
    const path = ['chairs', i];
    const found = instrumentById(chair.instrument);
    issues.push(...under([...path, 'instrument'], found.issues));
    return found.ok ? [{ source: chair, instrument: found.value, path }] : [];
  });
  const chairs = named.map((one) => resolveChair(one, named, source, book, issues));
  checkIds(chairs, issues);
  checkNames(chairs, issues);
  const whole = chairs.filter((chair) => chair !== undefined);
  const bonds = whole.length === source.chairs.length ? resolveBonds(source, whole, issues) : [];
  source.exercises?.forEach((id, i) => {
    if (!enough(issues)) issues.push(...exerciseIssues(id, book, ['exercises', i]));
  });
  const start = resolveStart(source, issues);
  if (issues.some(isError)) return { ok: false, issues: told(issues) };
  const order = source.score?.order;
  return good(
    {
      name: source.name,
      chairs: whole,
      remedy: source.misfit === undefined || source.misfit === 'as written' ? 'as-written' : source.misfit,
      start,
      bonds,
      breathing: { plan: source.breathing?.plan ?? 'none', tempo: source.breathing?.tempo },
      score: {
        order: order === 'high to low' ? 'high-to-low' : (order ?? 'band'),
        pitch: source.score?.pitch ?? 'concert',
        page: source.score?.page,
        staff: source.score?.staff,
      },
      exercises: source.exercises,
    },
    issues,
  );
}

/** Text of an ensemble file → the ensemble as it plays this book. Paths of issues lead into the ensemble's file. */
export function readEnsemble(text: string, book: Book): Result<Ensemble> {
  const file = readCompanion(text, ENSEMBLE_FILE);
  if (!file.ok) return file;
  const source = checkFields(ensembleShape, file.value);
  if (!source.ok) return source;
  const ensemble = resolveEnsemble(source.value, book);
  const issues = [...source.issues, ...ensemble.issues];
  return ensemble.ok ? good(ensemble.value, issues) : { ok: false, issues };
}
