/** CPU time, all threads together: what one core would need. */
import { readFileSync } from 'node:fs';

/** Milliseconds of CPU this process has used. */
export function cpuNow(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** Milliseconds of CPU of child processes that have ended; undefined where the system does not tell (`/proc`, 10 ms steps). */
export function childCpuNow(): number | undefined {
  try {
    const fields = readFileSync('/proc/self/stat', 'utf8')
      .replace(/^.*\) /, '')
      .split(' ');
    return (Number(fields[13]) + Number(fields[14])) * 10;
  } catch {
    return undefined;
  }
}

/** The work done again and again: the median of the last rounds, when the engine has settled. */
export async function steady(rounds: number, work: () => unknown): Promise<number> {
  const times: number[] = [];
  for (let i = 0; i < rounds; i++) {
    const start = cpuNow();
    await work();
    times.push(cpuNow() - start);
  }
  const last = times.slice(Math.floor(rounds / 2)).sort((a, b) => a - b);
  return last[Math.floor(last.length / 2)] as number;
}

/** Exponent k of time = c · pages^k, by least squares on the logarithms. */
export function growth(points: readonly { readonly pages: number; readonly cpu: number }[]): number {
  const xs = points.map((p) => Math.log(p.pages));
  const ys = points.map((p) => Math.log(p.cpu));
  const mean = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0) / all.length;
  const [mx, my] = [mean(xs), mean(ys)];
  const above = xs.reduce((sum, x, i) => sum + (x - mx) * ((ys[i] as number) - my), 0);
  return above / xs.reduce((sum, x) => sum + (x - mx) ** 2, 0);
}
