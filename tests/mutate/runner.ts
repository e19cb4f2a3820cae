/**
 * Runs test files of a copy one at a time, in a process of its own so that one without end can be stopped. It is told which
 * files changed and which test file to run, and answers whether it passed, and the seconds of the processor that it took.
 */
import { join } from 'node:path';
import { createVitest } from 'vitest/node';

export type Ask = { readonly changed: readonly string[]; readonly test: string };
export type Answer = { readonly passed: boolean; readonly seconds: number };

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

async function run({ changed, test }: Ask): Promise<boolean> {
  for (const file of changed) vitest.invalidateFile(join(root, file));
  const specifications = vitest.projects.map((project) => project.createSpecification(join(root, test)));
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specifications);
  return testModules.length > 0 && unhandledErrors.length === 0 && testModules.every((one) => one.ok());
}

process.on('message', async (ask: Ask) => {
  const start = processorSeconds();
  const passed = await run(ask).catch(() => false);
  const answer: Answer = { passed, seconds: processorSeconds() - start };
  process.send?.(answer);
});
// Nobody is left to answer.
process.on('disconnect', () => process.exit());
process.send?.('ready');
