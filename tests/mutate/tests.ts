/** Asks the runner whether a test file passes, and starts it anew where a fault made it run without end. */
import { type ChildProcess, fork } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Answer, Ask } from './runner.js';

export type Tests = {
  /** Does this test file pass, within so many seconds of the processor? Without end counts as failed. */
  readonly passes: (ask: Ask, longest: number) => Promise<Answer>;
  readonly close: () => void;
};

const RUNNER = fileURLToPath(new URL('runner.ts', import.meta.url));

/** A runner that used less than this of the processor for so long waits for something that does not come. */
const STILL = { seconds: 0.3, milliseconds: 60_000 } as const;

/** Seconds of the processor that a process and its threads took, in hundredths as Linux counts; elsewhere those of the clock. */
function secondsOf({ pid }: ChildProcess, start: number): number {
  const file = `/proc/${pid}/stat`;
  if (!existsSync(file)) return (performance.now() - start) / 1000;
  const fields = readFileSync(file, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ');
  return (Number(fields[11]) + Number(fields[12])) / 100;
}

function started(root: string): Promise<ChildProcess> {
  const child = fork(RUNNER, [], {
    cwd: root,
    execArgv: ['--import', 'tsx'],
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    detached: true,
  });
  return new Promise((resolve, reject) => {
    child.once('message', () => resolve(child));
    child.once('exit', (code) => reject(new Error(`the runner ended with ${code}`)));
  });
}

/** Ends the runner with everything that it started. */
function end(child: ChildProcess): void {
  child.removeAllListeners();
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, 'SIGKILL');
  } catch {
    // It has ended by itself.
  }
}

/** The runner's answer; undefined when it ends, or takes longer. */
function answered(child: ChildProcess, ask: Ask, longest: number): Promise<Answer | undefined> {
  const start = performance.now();
  const before = secondsOf(child, start);
  return new Promise((resolve) => {
    let last = { seconds: before, at: start };
    const watch = setInterval(() => {
      const seconds = secondsOf(child, start);
      const now = performance.now();
      if (seconds > last.seconds + STILL.seconds) last = { seconds, at: now };
      if (seconds - before > longest || now - last.at > STILL.milliseconds) done(undefined);
    }, 1000);
    const done = (answer: Answer | undefined): void => {
      clearInterval(watch);
      child.removeAllListeners('message');
      child.removeAllListeners('exit');
      resolve(answer);
    };
    child.once('message', (message: Answer) => done(message));
    child.once('exit', () => done(undefined));
    child.send(ask);
  });
}

export function openTests(root: string): Tests {
  let child: ChildProcess | undefined;
  return {
    async passes(ask, longest) {
      child ??= await started(root);
      const answer = await answered(child, ask, longest);
      if (answer) return answer;
      end(child);
      child = undefined;
      return { passed: false, seconds: longest, why: 'it did not end' };
    },
    close: () => child && end(child),
  };
}
