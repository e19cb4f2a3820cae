/** What all long work has in common: it tells how far it has come, and it can be stopped. */
import { error, type Issue } from '../../../core/base/issue.js';

export type Tell = (done: number, total: number, words: string) => void;

export const stopped = (): Issue => error('stopped', [], 'Stopped, as you wished; finished files stay, and nothing half-written is left.');
