/** All checks in order: format and lint, types, import directions, build, then every test; the counts come last. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';

const STEPS = [
  ['format and lint', 'biome', ['check', '.']],
  ['types', 'tsc', ['--noEmit']],
  ...['electron', 'renderer', 'bench', 'tests'].map((part) => [`types of ${part}/`, 'tsc', ['--noEmit', '-p', part]]),
  ['import directions', 'depcruise', ['core', 'electron', 'renderer', 'bench', 'tests', '--config', '.dependency-cruiser.cjs']],
  ['build', 'npm', ['run', '--silent', 'build']],
];

const bin = (name) => (name === 'npm' ? 'npm' : join('node_modules', '.bin', name));
const run = (name, args) => spawnSync(bin(name), args, { stdio: 'inherit' }).status === 0;

let failedSteps = 0;
for (const [title, name, args] of STEPS) {
  process.stdout.write(`\n— ${title}\n`);
  if (!run(name, args)) {
    failedSteps++;
    process.stdout.write(`${title}: failed\n`);
  }
}

const folder = mkdtempSync(join(tmpdir(), 'twelvefold-tests-'));
const report = join(folder, 'report.json');
process.stdout.write('\n— tests\n');
run('vitest', ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`, ...process.argv.slice(2)]);
const counts = existsSync(report) ? JSON.parse(readFileSync(report, 'utf8')) : undefined;
rmSync(folder, { recursive: true, force: true });

const passed = counts?.numPassedTests ?? 0;
// A suite that cannot even be loaded has no test to count, so it counts as one.
const broken = counts ? counts.testResults.filter((suite) => suite.status === 'failed' && suite.assertionResults.length === 0).length : 1;
const failed = (counts?.numFailedTests ?? 0) + broken + failedSteps;
const skipped = (counts?.numPendingTests ?? 0) + (counts?.numTodoTests ?? 0);

/** A test that is skipped says why: behind its title or its suite's, or, where that is found on its way, in what it noted. */
const reasonOf = ({ fullName, meta }) => meta?.skipped ?? /\((?:skipped|not run): (.*)\)/.exec(fullName)?.[1] ?? 'no reason is given';
const notRun = (counts?.testResults ?? []).flatMap(({ name, assertionResults }) =>
  assertionResults
    .filter(({ status }) => ['pending', 'skipped', 'todo'].includes(status))
    .map(
      (test) =>
        `  ${relative(process.cwd(), name)}: ${test.fullName.replace(/ \((?:skipped|not run): .*?\)/, '')}\n    because ${reasonOf(test)}\n`,
    ),
);
if (notRun.length > 0) process.stdout.write(`\nSkipped:\n${notRun.join('')}`);
process.stdout.write(`\n${passed} passed, ${failed} failed, ${skipped} skipped\n`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
