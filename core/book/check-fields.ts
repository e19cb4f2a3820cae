/** Fields of a file → the same fields in the type of their shape, or everything that is wrong with them. */
import type { z } from 'zod';
import { error, good, type Issue, type Result, told, warning } from '../base/issue.js';
import type { JsonObject } from './json.js';

type RawIssue = z.core.$ZodIssue;

const atRoot = (issue: RawIssue) => issue.path.length === 0 && (issue.code === 'invalid_type' || issue.code === 'invalid_value');

/** Of the forms that a field may take, the one that was meant is the one whose type fits; its faults are told, not those of the others. */
function flatten(issue: RawIssue, prefix: readonly PropertyKey[] = []): RawIssue[] {
  const path = [...prefix, ...issue.path];
  if (issue.code !== 'invalid_union') return [{ ...issue, path }];
  const [meant, ...others] = issue.errors.filter((branch) => branch.length > 0 && !branch.some(atRoot));
  if (!meant || others.length > 0) return [{ ...issue, path }];
  return meant.flatMap((inner) => flatten(inner, path));
}

const plainPath = (path: readonly PropertyKey[]) => path.map((part) => (typeof part === 'number' ? part : String(part)));

/** Fields to leave out, and where deeper ones stand: one walk takes all of them, however many there are. */
type Cut = { readonly fields: Set<PropertyKey>; readonly below: Map<PropertyKey, Cut> };

const noCut = (): Cut => ({ fields: new Set(), below: new Map() });

function cutAt(cut: Cut, path: readonly PropertyKey[]): Cut {
  return path.reduce((at, part) => {
    const next = at.below.get(part) ?? noCut();
    at.below.set(part, next);
    return next;
  }, cut);
}

function without(value: unknown, { fields: gone, below }: Cut): unknown {
  const inner = (place: PropertyKey, item: unknown): unknown => {
    const deeper = below.get(place);
    return deeper ? without(item, deeper) : item;
  };
  if (Array.isArray(value)) return value.map((item, i) => inner(i, item));
  const entries = Object.entries(value as object).filter(([name]) => !gone.has(name));
  return Object.fromEntries(entries.map(([name, item]) => [name, inner(name, item)]));
}

/** Fields of this shape, or everything that is wrong with them. Fields that are not known are warnings and are left out. */
export function checkFields<S extends z.ZodType>(shape: S, file: JsonObject): Result<z.infer<S>> {
  const first = shape.safeParse(file);
  // The file itself, not the reader's copy of it: the order of the fields stays the author's.
  if (first.success) return good(file as z.infer<S>);
  const errors: Issue[] = [];
  const warnings: Issue[] = [];
  const cut = noCut();
  for (const issue of first.error.issues.flatMap((it) => flatten(it))) {
    if (issue.code !== 'unrecognized_keys') {
      errors.push(error('wrong-field', plainPath(issue.path), issue.message));
      continue;
    }
    const sentences = issue.message.split('\n');
    const { fields: gone } = cutAt(cut, issue.path);
    issue.keys.forEach((name, i) => {
      warnings.push(warning('unknown-field', plainPath([...issue.path, name]), sentences[i] ?? issue.message));
      gone.add(name);
    });
  }
  if (errors.length > 0) return { ok: false, issues: told([...errors, ...warnings]) };
  return good(without(file, cut) as z.infer<S>, told(warnings));
}
