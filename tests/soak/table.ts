/** What the long run prints: one line a figure, and at the end what is not as it should be. */

export type Figures = {
  readonly tell: (name: string, figure: string | number) => void;
  /** A fault: the run goes on and ends with exit code 1. */
  readonly fault: (words: string) => void;
  readonly faults: readonly string[];
};

export function figures(): Figures {
  const faults: string[] = [];
  return {
    faults,
    tell: (name, figure) => void process.stdout.write(`  ${name.padEnd(44)} ${figure}\n`),
    fault: (words) => {
      faults.push(words);
      process.stdout.write(`  FAULT: ${words}\n`);
    },
  };
}

/** Resident memory in MB. */
export const memory = (): number => Math.round(process.memoryUsage.rss() / 1024 / 1024);

/** Tells how far a long part is, once in ten seconds. */
export function progress(name: string, total: number): (done: number) => void {
  let last = performance.now();
  return (done) => {
    if (performance.now() - last < 10_000) return;
    last = performance.now();
    process.stderr.write(`  ${name}: ${done} of ${total}\n`);
  };
}
