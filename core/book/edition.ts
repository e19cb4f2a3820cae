/** Editions, spelling and the house of a book file → what the rest of the program sees. */
import { error, type Issue, under } from '../base/issue.js';
import type { BreathSettings } from '../breath/policy.js';
import { instrumentById } from '../player/catalogue.js';
import { familyByWord } from '../player/families.js';
import type { Compass, Instrument, SpellingPreference } from '../player/player.js';
import { midi, type Pitch, type PitchClass, parseClass, parsePitch } from '../theory/pitch.js';
import type { EditionSpec, House, PageSize } from './book.js';
import { checkBreath, resolveBreath } from './breath.js';
import { houseDefaults, LEVEL_DEFAULT } from './defaults.js';
import { LEAST_BLOCK, PAGE_SIZES, textBlock } from './page-size.js';
import type { BookSource, EditionSource } from './schema.js';

type Path = readonly (string | number)[];

export function resolveHouse(source: BookSource['house'], issues: Issue[]): House {
  const defaults = houseDefaults(source?.binding);
  const house: House = { ...defaults, ...source, margins: { ...defaults.margins, ...source?.margins } };
  checkBlock(house.page, house, ['house', source?.margins ? 'margins' : 'page'], issues);
  return house;
}

function checkBlock(page: PageSize, house: House, path: Path, issues: Issue[]): void {
  const { width, height } = textBlock(page, house.margins);
  const sheet = `${PAGE_SIZES[page].width} × ${PAGE_SIZES[page].height} mm`;
  const tell = (side: string, left: number, least: number, edges: string) =>
    issues.push(
      error(
        'page-too-small',
        path,
        `The page (${page}, ${sheet}) is too small for its margins: ${Math.max(0, Math.round(left * 10) / 10)} mm of ${side} are left and ${least} mm are needed; make the ${edges} margins smaller.`,
      ),
    );
  if (width < LEAST_BLOCK.width) tell('width', width, LEAST_BLOCK.width, 'inner and outer');
  if (height < LEAST_BLOCK.height) tell('height', height, LEAST_BLOCK.height, 'top and bottom');
}

export function resolveSpelling(source: BookSource['spelling'], from: SpellingPreference, path: Path, issues: Issue[]): SpellingPreference {
  const prefer = source?.prefer?.map((text, i) => {
    const tonic = parseClass(text);
    if (!tonic)
      issues.push(error('unknown-key', [...path, 'prefer', i], `"${text}" is not a key; write a note name such as "C#" or "Gb".`));
    return tonic;
  });
  return { tie: source?.tie ?? from.tie, prefer: prefer?.filter((tonic): tonic is PitchClass => tonic !== undefined) ?? from.prefer };
}

/** The written compass of an edition; an end that is not stated is that of the instrument at this level. */
export function resolveCompass(
  source: { low?: string; high?: string } | undefined,
  standard: Compass,
  path: Path,
  issues: Issue[],
): Compass | undefined {
  if (!source) return undefined;
  const end = (name: 'low' | 'high'): Pitch | undefined => {
    const text = source[name];
    if (text === undefined) return standard[name];
    const pitch = parsePitch(text);
    if (!pitch)
      issues.push(
        error('not-a-note', [...path, name], `"${text}" is not a note with its octave; write it as "Bb3" or "F#5", where C4 is middle C.`),
      );
    return pitch;
  };
  const low = end('low');
  const high = end('high');
  if (!low || !high) return undefined;
  if (midi(low) < midi(high)) return { low, high };
  issues.push(
    error('compass-upside-down', path, 'The lowest note is not below the highest note; exchange "low" and "high", or change one of them.'),
  );
  return undefined;
}

export function resolveEdition(
  source: EditionSource,
  house: House,
  spelling: SpellingPreference,
  breath: BreathSettings,
  path: Path,
  issues: Issue[],
): EditionSpec | undefined {
  const full = typeof source === 'string' ? { instrument: source } : source;
  const level = full.level ?? LEVEL_DEFAULT;
  const found = instrumentById(full.instrument);
  issues.push(...under(typeof source === 'string' ? path : [...path, 'instrument'], found.issues));
  if (full.page && full.page !== house.page) checkBlock(full.page, house, [...path, 'page'], issues);
  const own = resolveSpelling(full.spelling, spelling, [...path, 'spelling'], issues);
  if (!found.ok) return undefined;
  const instrument: Instrument = found.value;
  const compass = resolveCompass(full.compass, instrument.compass[level], [...path, 'compass'], issues);
  const ownBreath = resolveBreath(full.breath, breath, [...path, 'breath'], issues);
  checkBreath(ownBreath, instrument, [...path, 'breath'], issues);
  return { instrument: instrument.id, level, compass, spelling: own, staff: full.staff, page: full.page, breath: ownBreath };
}

/**
 * The editions of a book: one for each instrument that is named, and one for each of a family that is named by one word
 * (`saxophones`). What a family states holds for all of it; an instrument that is also named by itself keeps to that.
 */
export function resolveEditions(
  sources: readonly EditionSource[],
  house: House,
  spelling: SpellingPreference,
  breath: BreathSettings,
  issues: Issue[],
): (EditionSpec | undefined)[] {
  const nameOf = (source: EditionSource): string => (typeof source === 'string' ? source : source.instrument);
  const single = new Set(sources.flatMap((source) => (familyByWord(nameOf(source)) ? [] : (idOf(nameOf(source)) ?? []))));
  const taken = new Set<string>();
  return sources.flatMap((source, i) => {
    const path = ['editions', i];
    const family = familyByWord(nameOf(source));
    if (!family) return [resolveEdition(source, house, spelling, breath, path, issues)];
    if (typeof source !== 'string' && source.compass) {
      const words = `A compass belongs to one instrument, and "${source.instrument}" are ${family.length}; take it out here, or name the instrument that it is for.`;
      issues.push(error('compass-of-family', [...path, 'compass'], words));
      return [undefined];
    }
    return family.flatMap(({ id }) => {
      if (single.has(id) || taken.has(id)) return [];
      taken.add(id);
      const own: EditionSource = typeof source === 'string' ? id : { ...source, instrument: id };
      return [resolveEdition(own, house, spelling, breath, path, issues)];
    });
  });
}

function idOf(name: string): string | undefined {
  const found = instrumentById(name);
  return found.ok ? found.value.id : undefined;
}
