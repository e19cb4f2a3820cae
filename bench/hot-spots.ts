/**
 * Where the time goes: runs one book under the profiler of Node and lists functions by their own time and by the time of all
 * that they call. `npm run bench -- --profile`.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

type ProfileNode = {
  readonly id: number;
  readonly callFrame: { readonly functionName: string; readonly url: string; readonly lineNumber: number };
  readonly children?: readonly number[];
};
type Profile = { readonly nodes: readonly ProfileNode[]; readonly samples: readonly number[]; readonly timeDeltas: readonly number[] };

/** `core/engrave/bars.js:67 piecesOf`; lines are those of the built file. */
function nameOf({ callFrame: { functionName, url, lineNumber } }: ProfileNode): string {
  const file = url.replace(/^.*\/dist\//, '').replace(/^.*\/node_modules\//, '');
  return `${file || 'engine'}:${lineNumber + 1} ${functionName || '(nameless)'}`;
}

/** Shares of the whole time by function: its own, and with all it calls. */
export function shares(profile: Profile): { readonly own: Map<string, number>; readonly all: Map<string, number> } {
  const nodes = new Map(profile.nodes.map((node) => [node.id, node]));
  const parents = new Map(profile.nodes.flatMap((node) => (node.children ?? []).map((child) => [child, node.id] as const)));
  const total = profile.timeDeltas.reduce((a, b) => a + b, 0);
  const own = new Map<string, number>();
  const all = new Map<string, number>();
  profile.samples.forEach((id, i) => {
    const share = (profile.timeDeltas[i] as number) / total;
    const seen = new Set<string>();
    for (let at: number | undefined = id; at !== undefined; at = parents.get(at)) {
      const name = nameOf(nodes.get(at) as ProfileNode);
      if (at === id) own.set(name, (own.get(name) ?? 0) + share);
      if (!seen.has(name)) all.set(name, (all.get(name) ?? 0) + share);
      seen.add(name);
    }
  });
  return { own, all };
}

/** Profiles a book of so many pages in a warm process and returns the report as lines. */
export function hotSpots(pages: number): string[] {
  const folder = mkdtempSync(join(tmpdir(), 'twelvefold-profile-'));
  try {
    const child = fileURLToPath(new URL('child.js', import.meta.url));
    const { status, stderr } = spawnSync(process.execPath, ['--cpu-prof', `--cpu-prof-dir=${folder}`, child, `${pages}`, 'warm']);
    if (status !== 0) throw new Error(`${stderr}`);
    const profile = JSON.parse(readFileSync(join(folder, readdirSync(folder)[0] as string), 'utf8')) as Profile;
    const { own, all } = shares(profile);
    const top = (found: Map<string, number>, count: number): string[] =>
      [...found]
        .sort((a, b) => b[1] - a[1])
        .slice(0, count)
        .map(([name, share]) => `${(100 * share).toFixed(1).padStart(6)} %  ${name}`);
    const ours = new Map([...all].filter(([name]) => name.startsWith('core/')));
    return ['own time', ...top(own, 25), 'with all that is called', ...top(ours, 40)];
  } finally {
    rmSync(folder, { recursive: true });
  }
}
