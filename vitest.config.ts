import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** No test may depend on how fast the machine is: these are for what hangs, not for what is slow. In milliseconds. */
const HANGS = 900_000;

/** Folders whose tests only call the core's own functions and change nothing that another file of tests could see. */
const PURE = [
  ...['base', 'theory', 'exercise', 'player', 'breath', 'book', 'ensemble', 'people', 'engrave', 'layout', 'output', 'import'],
  ...['proof', 'build'],
].map((folder) => `tests/${folder}/**/*.test.ts`);

export default defineConfig({
  test: {
    projects: [
      // One after another in the same process: the core is loaded and compiled once, which is most of the time of a short file.
      { extends: true, test: { name: 'core', include: PURE, isolate: false } },
      { extends: true, test: { name: 'program', include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'], exclude: PURE } },
    ],
    // A thread that loads its sources one by one takes five times the processor time of one that loads them bundled.
    alias: [{ find: /^\.\/start-thread\.js$/, replacement: fileURLToPath(new URL('tests/start-bundled-thread.ts', import.meta.url)) }],
    // Two cores are what a build machine has; PDF and browser tests want time rather than company.
    maxWorkers: 2,
    testTimeout: HANGS,
    hookTimeout: HANGS,
    teardownTimeout: HANGS,
    // What is waited for is looked at until it is there.
    expect: { poll: { timeout: 60_000, interval: 100 } },
  },
});
