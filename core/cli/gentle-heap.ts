/** Memory and warming up of the programs that build books. */
import { setFlagsFromString } from 'node:v8';

/**
 * Lets the heap grow by a third, not to its double, before the engine looks for what can be dropped: a book of 2,000
 * pages then takes a quarter less memory for a tenth more time, and a book of 200 the same time. To be called at the start.
 */
export function growGently(): void {
  setFlagsFromString('--heap-growing-percent=30');
}

/**
 * Lets the heap grow by four fifths: many short files, each dropped when it is written, take a sixth less time for a tenth
 * more memory, and no more with their number. To be called before any thread.
 */
export function growFaster(): void {
  setFlagsFromString('--heap-growing-percent=80');
}

/** What a function may do before the engine optimises it, in bytes of code run: as V8 11 sets it. */
const BUDGET = 135_168;

/** Of 1, 2, 3, 4, 6, 10 and 16 the one that took the least in all of: 30, 60 and 240 booklets, a band of 30, 6 editions, a book of 60 and of 500 pages. */
const LATER = 6;

/** Measured with V8 11 of Node 20; later ones have one more compiler between and other measures, and are left as they are. */
function optimiseAfter(budget: number): void {
  if (process.versions.v8.startsWith('11.')) setFlagsFromString(`--interrupt-budget=${budget}`);
}

/**
 * Lets the engine optimise a function when it has run six times as long as it would otherwise wait for. Every thread
 * optimises for itself, on further threads, and much of it comes too late for a short booklet: 60 of them take a quarter less
 * time with this, a book of 60 pages a quarter, and one of 500 a tenth. To be called at the start, before any thread.
 */
export const optimiseLater = (): void => optimiseAfter(LATER * BUDGET);

/** For what has not run yet, in all threads. */
export const optimiseAsUsual = (): void => optimiseAfter(BUDGET);
