/**
 * Do the tests notice? `npm run mutate -- --sample 300 --seed 1 --minutes 60` puts small faults into a copy of the core, one at
 * a time and a few in each folder, and runs the tests that lie nearest to the file until one fails. Faults that do not compile
 * do not count. What no test noticed stands in out/mutants.txt. `--again` tries those once more; `--folders theory,player`
 * keeps to these folders; `--tests` and `--seconds` say how many test files, and how many seconds of the processor, a fault may take. Never a part of
 * the tests.
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { openChecker } from './checker.js';
import { openCopy } from './copy.js';
import { type Mutant, mutantsOf, mutated } from './mutants.js';
import { relatedTests } from './related-tests.js';
import { keep, keepSeconds, secondsKnown, survivors, told, type Verdict } from './report.js';
import { coreFolders, rounds } from './sample.js';
import { openTests } from './tests.js';

const { values } = parseArgs({
  options: {
    sample: { type: 'string', default: '300' },
    seed: { type: 'string', default: '1' },
    minutes: { type: 'string', default: '60' },
    folders: { type: 'string', default: coreFolders().join(',') },
    tests: { type: 'string', default: '8' },
    seconds: { type: 'string', default: '40' },
    again: { type: 'boolean', default: false },
  },
});
const [sample, seed, minutes, most, seconds] = [values.sample, values.seed, values.minutes, values.tests, values.seconds].map(Number) as [
  number,
  number,
  number,
  number,
  number,
];

/** The fault of an earlier run, where it stands now. */
function foundAgain(old: Mutant): Mutant[] {
  const alike = mutantsOf(old.file, readFileSync(old.file, 'utf8')).filter(
    ({ kind, was, text }) => kind === old.kind && was === old.was && text === old.text,
  );
  return alike.sort((a, b) => Math.abs(a.line - old.line) - Math.abs(b.line - old.line)).slice(0, 1);
}

const known = secondsKnown();
const copy = openCopy();
// From here on every name of a file is one of the copy: what is changed meanwhile in the repository changes nothing here.
process.chdir(copy.root);
const related = relatedTests(known);
const compiling = openChecker();
const tests = openTests(copy.root);
/** Tests that fail without any fault too: of no use here. */
const useless = new Set<string>();
const sound = new Set<string>();
/** Files that the runner must read anew: also the one of the fault before, which has its own text again. */
let changed = new Set<string>();

/** A test file that takes so much longer than it did is taken to be without end. */
const longest = (test: string): number => 10 + 4 * (known.get(test) ?? 5);

async function failure(test: string): Promise<string | undefined> {
  const answer = await tests.passes({ changed: [...changed], test }, longest(test));
  changed = new Set();
  if (answer.passed) known.set(test, answer.seconds);
  return answer.passed ? undefined : (answer.why ?? 'failed');
}

/** The first test file that notices the fault. */
async function noticed(mutant: Mutant, text: string): Promise<Verdict> {
  let spent = 0;
  let count = 0;
  let noticedBy: string | undefined;
  for (const test of related(mutant.file)) {
    if (count >= most || spent >= seconds) break;
    if (useless.has(test) || (known.get(test) ?? 0) > seconds) continue;
    count++;
    copy.write(mutant.file, mutated(text, mutant));
    changed.add(mutant.file);
    const why = await failure(test);
    spent += known.get(test) ?? 1;
    copy.write(mutant.file, text);
    changed.add(mutant.file);
    if (why === undefined) {
      sound.add(test);
      continue;
    }
    if (sound.has(test) || (await failure(test)) === undefined) {
      sound.add(test);
      noticedBy = `${test}: ${why}`;
      break;
    }
    useless.add(test);
    count--;
  }
  return { mutant, noticedBy, tests: count };
}

/** Those of a round that compile. */
function valid(round: readonly Mutant[]): readonly Mutant[] {
  const texts = new Map(round.map((mutant) => [mutant.file, mutated(readFileSync(mutant.file, 'utf8'), mutant)]));
  const fine = compiling(texts);
  return round.filter(({ file }) => fine.has(file));
}

const verdicts: Verdict[] = [];
let refused = 0;
const end = performance.now() + minutes * 60_000;
const all = values.again
  ? survivors()
      .flatMap(foundAgain)
      .map((mutant) => [mutant])
  : rounds(values.folders.split(','), seed);
try {
  for (const round of all) {
    const fine = valid(round);
    refused += round.length - fine.length;
    for (const mutant of fine) {
      if (verdicts.length >= sample || performance.now() > end) break;
      const verdict = await noticed(mutant, readFileSync(mutant.file, 'utf8'));
      verdicts.push(verdict);
      process.stdout.write(`${verdicts.length} ${mutant.file}:${mutant.line} ${mutant.kind}: ${verdict.noticedBy ?? 'NOT NOTICED'}\n`);
      if (!values.again) keep(verdicts, refused);
      keepSeconds(known);
    }
    if (verdicts.length >= sample || performance.now() > end) break;
  }
} finally {
  tests.close();
  copy.remove();
}
if (useless.size > 0) process.stdout.write(`Fail without any fault: ${[...useless].join(', ')}\n`);
process.stdout.write(`\n${told(verdicts, refused)}`);
