/** Changes of rosters and ensembles as functions of their sources: a new source, the old one untouched. */
import type { ChairSource, EnsembleSource } from '../../core/ensemble/schema.js';
import type { RosterSource, StudentSource } from '../../core/people/schema.js';

/** Leaves a field out when its value is undefined, an empty text, or a list or an object with nothing in it. */
export function withField<T extends object, K extends keyof T>(object: T, field: K, value: T[K] | undefined): T {
  const nothing =
    value === undefined ||
    value === '' ||
    (typeof value === 'object' && value !== null && Object.values(value).every((it) => it === undefined));
  if (nothing) {
    const { [field]: _, ...rest } = object;
    return rest as T;
  }
  return { ...object, [field]: value };
}

export const breatherName = (index: number): string => `student ${index}`;

/**
 * What a book is told of the one who breathes: a class, or seconds. Of a student who was not measured only the seconds
 * that the estimate gives, never the age, height or sex that it was made from.
 */
export function breathFacts(
  student: StudentSource | undefined,
  breather: string,
  lungSeconds: number,
): NonNullable<StudentSource['breath']> {
  if (!student) return { lungs: breather === 'teen' || breather === 'child' ? breather : 'adult' };
  const { lungTime, longTone } = student.breath ?? {};
  if (lungTime !== undefined) return { lungTime };
  return longTone === undefined ? { lungTime: Math.round(lungSeconds * 10) / 10 } : { longTone };
}

/** The student who is named as the one that breathes. */
export function studentAt(roster: RosterSource | undefined, breather: string): StudentSource | undefined {
  const index = /^student (\d+)$/.exec(breather)?.[1];
  return index === undefined ? undefined : roster?.students[Number(index)];
}

export const newRoster = (today: string): RosterSource => ({
  format: 'twelvefold-roster',
  version: 1,
  begins: today,
  weeks: 8,
  students: [],
});

/** A name that nobody in the roster has: `Student 3`. */
export function freeName(roster: RosterSource, stem: string): string {
  const used = new Set(roster.students.map(({ name }) => name));
  for (let n = roster.students.length + 1; ; n++) if (!used.has(`${stem} ${n}`)) return `${stem} ${n}`;
}

export const setStudent = (roster: RosterSource, index: number, make: (before: StudentSource) => StudentSource): RosterSource => ({
  ...roster,
  students: roster.students.map((it, i) => (i === index ? make(it) : it)),
});

export const setStudentField = <K extends keyof StudentSource>(
  roster: RosterSource,
  index: number,
  field: K,
  value: StudentSource[K] | undefined,
): RosterSource =>
  setStudent(roster, index, (before) =>
    // A name and an instrument are needed: what is typed stays, and is told as a fault.
    field === 'name' || field === 'instrument' ? { ...before, [field]: value } : withField(before, field, value),
  );

/** The tempos of an exercise; both empty take the entry out. */
export function setTempo(
  student: StudentSource,
  exercise: string,
  part: { now?: number | undefined; goal?: number | undefined },
): StudentSource {
  const before = student.tempos ?? [];
  const own = before.find((it) => it.exercise === exercise);
  const next = Object.fromEntries(Object.entries({ ...own, ...part, exercise }).filter(([, value]) => value !== undefined)) as typeof own;
  const empty = next?.now === undefined && next?.goal === undefined;
  const rest = own ? before.map((it) => (it === own ? next : it)) : [...before, next];
  const tempos = rest.flatMap((it) => (it === undefined || (it === next && empty) ? [] : [it]));
  return withField(student, 'tempos', tempos);
}

/** One more tempo reached; the list stays in the order written. */
export const addProgress = (student: StudentSource, exercise: string, tempo: number, date: string): StudentSource => ({
  ...student,
  progress: [...(student.progress ?? []), { exercise, tempo, date }],
});

/** Exercises that a student has something to do with, in the book's order; those that the book has not come last. */
export function exercisesOf(student: StudentSource, order: readonly string[]): string[] {
  const all = new Set([
    ...(student.assignments ?? []).flatMap(({ exercises }) => exercises),
    ...(student.tempos ?? []).map(({ exercise }) => exercise),
    ...(student.progress ?? []).map(({ exercise }) => exercise),
  ]);
  return [...order.filter((id) => all.has(id)), ...[...all].filter((id) => !order.includes(id))];
}

/** The tempo written down last by its date, as the command line finds it. */
export function latestTempo(
  { progress = [] }: StudentSource,
  exercise: string,
): { readonly tempo: number; readonly date: string } | undefined {
  const own = progress.filter((it) => it.exercise === exercise);
  return own.reduce<(typeof own)[number] | undefined>((a, b) => (a && a.date > b.date ? a : b), undefined);
}

/** `1-4, 6` → weeks, in order and each once; undefined for none. */
export function weeksFrom(text: string): number[] | undefined {
  const weeks = text
    .split(/[\s,;]+/)
    .flatMap((word) => {
      const [, from, to = from] = /^(\d{1,2})(?:[-–](\d{1,2}))?$/.exec(word) ?? [];
      if (from === undefined) return [];
      const [a, b] = [Number(from), Number(to)];
      return Array.from({ length: Math.max(0, b - a + 1) }, (_, i) => a + i);
    })
    .filter((week) => week > 0);
  return weeks.length > 0 ? [...new Set(weeks)].sort((a, b) => a - b) : undefined;
}

/** Weeks as they are typed: `1–4, 6`. */
export function weeksText(weeks: readonly number[] | undefined): string {
  const runs: [number, number][] = [];
  for (const week of [...(weeks ?? [])].sort((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last && week <= last[1] + 1) last[1] = Math.max(last[1], week);
    else runs.push([week, week]);
  }
  return runs.map(([a, b]) => (a === b ? `${a}` : `${a}–${b}`)).join(', ');
}

export const wordsFrom = (text: string): string[] | undefined => {
  const words = text.split(/[\s,;]+/).filter(Boolean);
  return words.length > 0 ? words : undefined;
};

/** A new ensemble of these instruments; two flutes when there are too few. */
export const newEnsemble = (name: string, instruments: readonly string[]): EnsembleSource => ({
  format: 'twelvefold-ensemble',
  version: 1,
  name,
  misfit: 'leave-out',
  chairs: [...instruments, ...['flute', 'flute'].slice(0, Math.max(0, 2 - instruments.length))].map((instrument) => ({ instrument })),
  breathing: { plan: 'together' },
});

export const setChair = (ensemble: EnsembleSource, index: number, make: (before: ChairSource) => ChairSource): EnsembleSource => ({
  ...ensemble,
  chairs: ensemble.chairs.map((it, i) => (i === index ? make(it) : it)),
});

export const setChairField = <K extends keyof ChairSource>(
  ensemble: EnsembleSource,
  index: number,
  field: K,
  value: ChairSource[K] | undefined,
): EnsembleSource =>
  setChair(ensemble, index, (before) => (field === 'instrument' ? { ...before, [field]: value } : withField(before, field, value)));

/** Keeps the chairs of a bond; chairs in none stay free. */
export function setBond(
  ensemble: EnsembleSource,
  index: number,
  part: Partial<NonNullable<EnsembleSource['keep']>[number]> | undefined,
): EnsembleSource {
  const before = ensemble.keep ?? [];
  const keep = part === undefined ? before.filter((_, i) => i !== index) : before.map((it, i) => (i === index ? { ...it, ...part } : it));
  return withField(ensemble, 'keep', keep);
}
