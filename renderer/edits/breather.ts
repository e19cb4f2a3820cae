/** Who breathes: the edition's own player, a student of the roster by place, as `student 2`, or a rough class of lungs. */
import type { RosterSource, StudentSource } from '../../core/people/schema.js';
import type { BreatherAsk } from '../../electron/services/contract/fields.js';
import { OF_EDITION, type State } from '../state/state.js';

type Facts = NonNullable<StudentSource['breath']>;

export const breatherName = (index: number): string => `student ${index}`;

/** Place of the student in the roster; undefined for a class of lungs. */
export function breatherIndex(breather: string): number | undefined {
  const index = /^student (\d+)$/.exec(breather)?.[1];
  return index === undefined ? undefined : Number(index);
}

/** The student who is named as the one that breathes. */
export function studentAt(roster: RosterSource | undefined, breather: string): StudentSource | undefined {
  const index = breatherIndex(breather);
  return index === undefined ? undefined : roster?.students[index];
}

/**
 * What a book is told of the one who breathes: a class, or seconds. Of a student who was not measured only the seconds
 * that the estimate gives, never the age, height or sex that it was made from.
 */
export function breathFacts(student: StudentSource | undefined, breather: string, lungSeconds: number): Facts {
  if (!student) return { lungs: breather === 'teen' || breather === 'child' ? breather : 'adult' };
  const { lungTime, longTone } = student.breath ?? {};
  if (lungTime !== undefined) return { lungTime };
  return longTone === undefined ? { lungTime: Math.round(lungSeconds * 10) / 10 } : { longTone };
}

/** For whom breaths are planned, as the service is asked; undefined for the edition's own player. */
export function breatherAsk({ breather, roster }: Pick<State, 'breather' | 'roster'>): BreatherAsk | undefined {
  if (breather === OF_EDITION) return undefined;
  const facts = studentAt(roster?.source, breather)?.breath;
  if (facts) {
    const { lungs, ...rest } = facts;
    return lungs ? { ...rest, lungClass: lungs } : rest;
  }
  return breather === 'teen' || breather === 'child' ? { lungClass: breather } : {};
}
