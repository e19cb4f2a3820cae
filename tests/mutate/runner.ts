/**
 * Runs test files of a copy one at a time, in a process of its own so that one without end can be stopped. It is told which
 * files changed and which test file to run, and answers whether it passed, and the seconds of the processor that it took.
 */
import { join } from 'node:path';
import { createVitest } from 'vitest/node';

export type Ask = { readonly changed: readonly string[]; readonly test: string };
/** `why`: the first test that failed, or what else went wrong. */
export type Answer = { readonly passed: boolean; readonly seconds: number; readonly why?: string };

const root = process.cwd();
const NEVER = 3_600_000;
const vitest = await createVitest('test', {
  root,
  config: false,
  watch: false,
  bail: 1,
  // Threads count toward this process, so that its processor time is that of the tests.
  pool: 'threads',
  maxWorkers: 1,
  include: ['tests/**/*.test.ts'],
  testTimeout: NEVER,
  hookTimeout: NEVER,
  reporters: [{}],
});
await vitest.standalone();

const processorSeconds = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

const firstLine = (failure: unknown): string =>
  String((failure as { message?: unknown } | undefined)?.message ?? failure).split('\n')[0] ?? '';

/** What went wrong; undefined when all tests passed. */
async function run({ changed, test }: Ask): Promise<string | undefined> {
  for (const file of changed) vitest.invalidateFile(join(root, file));
  const specifications = vitest.projects.map((project) => project.createSpecification(join(root, test)));
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specifications);
  if (unhandledErrors.length > 0) return firstLine(unhandledErrors[0]);
  // Those of earlier runs are among them.
  const own = testModules.find(({ moduleId }) => moduleId === join(root, test));
  if (!own) return 'no test ran';
  for (const one of own.children.allTests('failed')) return one.fullName;
  return own.ok() ? undefined : firstLine(own.errors()[0]);
}

process.on('message', async (ask: Ask) => {
  const start = processorSeconds();
  const why = await run(ask).catch(firstLine);
  const seconds = processorSeconds() - start;
  const answer: Answer = why === undefined ? { passed: true, seconds } : { passed: false, seconds, why };
  process.send?.(answer);
});
// Nobody is left to answer.
process.on('disconnect', () => process.exit());
process.send?.('ready');
