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

/** Measured with V8 11 of Node 20; later ones have one more compiler between and other measures, and are left as they are. */
function optimiseAfter(budget: number): void {
  if (process.versions.v8.startsWith('11.')) setFlagsFromString(`--interrupt-budget=${budget}`);
}

/**
 * Lets the engine optimise a function when it has run so many times as long as it would otherwise wait for. Every thread
 * optimises for itself, on further threads; of a batch of 30 short booklets that took more time than the pages did, and with
 * twice as long the whole takes a quarter less. A long book takes the same time. To be called at the start, before any thread.
 */
export const optimiseLater = (times: number): void => optimiseAfter(times * BUDGET);

/** For what has not run yet, in all threads. */
export const optimiseAsUsual = (): void => optimiseAfter(BUDGET);
