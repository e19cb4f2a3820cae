/** One thread of a pool and the job that it does. */
import type { Worker } from 'node:worker_threads';
import { failureLine } from '../base/failure-line.js';
import type { NamedFile } from '../export/edition-files.js';
import { JobFailure, NoThread } from './job-failure.js';
import type { Done, Job, Step } from './work.js';

export type ToWorker =
  | { readonly kind: 'job'; readonly job: Job }
  /** The file that came last is written, or could not be. */
  | { readonly kind: 'taken'; readonly ok: boolean };

export type FromWorker =
  /** Everything is loaded: from now on jobs are done. */
  | { readonly kind: 'ready' }
  | { readonly kind: 'step'; readonly step: Step }
  | { readonly kind: 'file'; readonly file: NamedFile }
  | { readonly kind: 'done'; readonly done: Done }
  | { readonly kind: 'failed'; readonly place: string };

export type OnStep = (step: Step | undefined) => void;
export type OnFile = (file: NamedFile) => Promise<void>;

/** A job that waits to be done, and who hears of it. */
export type Waiting = {
  readonly job: Job;
  readonly onStep: OnStep | undefined;
  readonly onFile: OnFile | undefined;
  readonly resolve: (done: Done) => void;
  readonly reject: (failure: unknown) => void;
};

export type Lane = {
  readonly isIdle: () => boolean;
  readonly give: (waiting: Waiting) => void;
  /** Ends the thread, whatever it does, and gives back the job that it did. */
  readonly end: () => { readonly left: Waiting | undefined; readonly ended: Promise<unknown> };
};

export type LaneListener = {
  /** The job is over, and the thread waits for the next. */
  readonly freed: () => void;
  /** The thread has ended by itself; its job was rejected. */
  readonly gone: () => void;
};

const brokenDown = (failure: unknown): JobFailure =>
  new JobFailure(`the thread broke down: ${failure instanceof Error ? failure.name : 'failure'}`);

/** Before a thread is ready there is nothing of the user in it: the reason itself is told. */
const notStarted = (failure: unknown): NoThread => new NoThread(`the thread did not start: ${failureLine(failure)}`);

export function openLane(worker: Worker, { freed, gone }: LaneListener): Lane {
  let busy: Waiting | undefined;
  /** What `onFile` of the job rejected with. */
  let refused: { readonly failure: unknown } | undefined;
  let ready = false;
  let over = false;
  const post = (message: ToWorker): void => worker.postMessage(message);

  function left(): Waiting | undefined {
    const waiting = busy;
    busy = undefined;
    return waiting;
  }

  async function take(file: NamedFile): Promise<void> {
    refused = await busy?.onFile?.(file).then(
      () => undefined,
      (failure: unknown) => ({ failure }),
    );
    post({ kind: 'taken', ok: refused === undefined });
  }

  function hear(message: FromWorker): void {
    if (message.kind === 'ready') ready = true;
    else if (message.kind === 'step') busy?.onStep?.(message.step);
    else if (message.kind === 'file') void take(message.file);
    else {
      if (message.kind === 'done') left()?.resolve(message.done);
      else left()?.reject(refused ? refused.failure : new JobFailure(message.place));
      freed();
    }
  }

  function fall(failure: JobFailure): void {
    if (over) return;
    over = true;
    void worker.terminate();
    left()?.reject(failure);
    gone();
  }

  worker.on('message', hear);
  worker.on('error', (failure) => fall(ready ? brokenDown(failure) : notStarted(failure)));
  worker.on('exit', () => fall(new (ready ? JobFailure : NoThread)('the thread ended early')));

  return {
    isIdle: () => busy === undefined,
    give(waiting) {
      busy = waiting;
      refused = undefined;
      waiting.onStep?.(undefined);
      post({ kind: 'job', job: waiting.job });
    },
    end() {
      over = true;
      return { left: left(), ended: worker.terminate() };
    },
  };
}
