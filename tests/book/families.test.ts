import { describe, expect, it } from 'vitest';
import { readBook } from '../../core/book/read.js';
import { INSTRUMENTS } from '../../core/player/catalogue.js';
import { FAMILY_WORDS, familyByWord } from '../../core/player/families.js';
import { value } from '../player/fixture.js';
import { spoiled } from './small-book.js';

const editions = (list: unknown) => value(readBook(JSON.stringify(spoiled('editions', list)))).editions;
const ids = (list: unknown) => editions(list).map(({ instrument }) => instrument);

describe('a family by one word', () => {
  it('is one edition for each of its instruments', () => {
    expect(ids(['Saxophones'])).toEqual(['soprano-saxophone', 'alto-saxophone', 'tenor-saxophone', 'baritone-saxophone']);
    expect(ids(['oboe', 'recorders'])).toEqual(['oboe', 'soprano-recorder', 'alto-recorder', 'tenor-recorder', 'bass-recorder']);
    expect(ids(['all'])).toEqual(INSTRUMENTS.map(({ id }) => id));
  });

  it('winds are those that need breath', () => {
    expect(familyByWord('winds')).toEqual(INSTRUMENTS.filter(({ breath }) => breath));
  });

  it('no word is the name of an instrument too', () => {
    expect(FAMILY_WORDS.filter((word) => INSTRUMENTS.some(({ id, name }) => id === word || name.toLowerCase() === word))).toEqual([]);
  });

  it('states level, staff and page for all of it, and leaves alone what is named by itself', () => {
    const list = editions([
      { instrument: 'clarinets', level: 'advanced', staff: 8 },
      { instrument: 'Clarinet in A', level: 'beginner' },
      'clarinets',
    ]);
    expect(list.map(({ instrument, level, staff }) => [instrument, level, staff])).toEqual([
      ['clarinet-in-eb', 'advanced', 8],
      ['clarinet-in-bb', 'advanced', 8],
      ['bass-clarinet', 'advanced', 8],
      ['clarinet-in-a', 'beginner', undefined],
    ]);
  });

  it('has no compass of its own', () => {
    const { ok, issues } = readBook(JSON.stringify(spoiled('editions', [{ instrument: 'brass', compass: { low: 'C4', high: 'C5' } }])));
    expect([ok, issues.map(({ code, path }) => [code, path.join('.')])]).toEqual([false, [['compass-of-family', 'editions.0.compass']]]);
  });

  it('a misspelled one is no instrument', () => {
    const { issues } = readBook(JSON.stringify(spoiled('editions', ['saxofones'])));
    expect(issues.map(({ code }) => code)).toEqual(['unknown-instrument']);
  });
});
