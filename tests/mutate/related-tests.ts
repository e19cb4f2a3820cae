/** Which test files may notice a fault in a file, the likeliest first: by the way of imports from test to file. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import ts from 'typescript';

/** Tests of the window and of whole machines are no tests of the core, and the built program holds no fault. */
const LEFT_OUT = /^tests\/(?:e2e|electron|renderer|visual|soak|safety|mutate)\/|built/;

/** Files that a file imports, as they stand in the repository. */
function importsOf(file: string): string[] {
  const { importedFiles } = ts.preProcessFile(readFileSync(file, 'utf8'), true, true);
  return importedFiles.flatMap(({ fileName }) => {
    if (!fileName.startsWith('.')) return [];
    const path = normalize(join(dirname(file), fileName));
    return [path.replace(/\.js$/, '.ts'), path.replace(/\.js$/, '.tsx'), path].filter((name) => existsSync(name)).slice(0, 1);
  });
}

export type RelatedTests = (file: string) => readonly string[];

/** Steps from a test to every file that it imports, directly or not. */
function distances(test: string, imports: (file: string) => readonly string[]): Map<string, number> {
  const steps = new Map([[test, 0]]);
  let edge = [test];
  for (let step = 1; edge.length > 0; step++) {
    edge = [...new Set(edge.flatMap(imports))].filter((file) => !steps.has(file));
    for (const file of edge) steps.set(file, step);
  }
  return steps;
}

/** `seconds`: what each test file took when it ran last; unknown ones count as one second. */
export function relatedTests(seconds: ReadonlyMap<string, number>): RelatedTests {
  const known = new Map<string, readonly string[]>();
  const imports = (file: string): readonly string[] => {
    const found = known.get(file) ?? importsOf(file);
    known.set(file, found);
    return found;
  };
  const tests = readdirSync('tests', { recursive: true, encoding: 'utf8' })
    .map((name) => join('tests', name))
    .filter((name) => /\.test\.ts$/.test(name) && !LEFT_OUT.test(name));
  const reached = tests.map((test) => ({ test, steps: distances(test, imports) }));
  return (file) => {
    const folder = file.split('/')[1] as string;
    const rank = ({ test, steps }: (typeof reached)[number]): number => {
      const own = test.split('/')[1] === folder ? 0 : 3;
      // What is kept of a whole folder's work sees most.
      const whole = test.includes('likeness') ? -2 : 0;
      return own + whole + (steps.get(file) as number) + 1.5 * Math.log2(1 + (seconds.get(test) ?? 1));
    };
    return reached
      .filter(({ steps }) => steps.has(file))
      .sort((a, b) => rank(a) - rank(b) || (a.test < b.test ? -1 : 1))
      .map(({ test }) => test);
  };
}
