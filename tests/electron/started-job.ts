/** A job in this process, behind a port as the window meets it: messages are cloned on their way. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Result } from '../../core/base/issue.js';
import { installedFonts } from '../../core/disk/fonts.js';
import type { FromJob, ToJob } from '../../electron/services/contract/job-messages.js';
import type { Answer, Ask, JobChannel } from '../../electron/services/contract/questions.js';
import { serveJob } from '../../electron/services/job/serve-job.js';

export type Progress = Extract<FromJob, { kind: 'progress' }>;

export function startedJob(onProgress: (progress: Progress) => void = () => undefined) {
  let receive: (message: ToJob) => void = () => undefined;
  const waiting = new Map<number, (answer: Result<unknown>) => void>();
  const progress: Progress[] = [];
  serveJob(
    {
      post: (message) => {
        const from = structuredClone(message);
        if (from.kind === 'progress') {
          progress.push(from);
          onProgress(from);
        } else waiting.get(from.id)?.(from.answer);
      },
      listen: (listen) => {
        receive = listen;
      },
    },
    installedFonts(),
    () => new Uint8Array(readFileSync(createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm'))),
  );
  let id = 0;
  const ask = <C extends JobChannel>(channel: C, question: Ask<C>): Promise<Result<Answer<C>>> => {
    id++;
    const own = id;
    return new Promise((resolve) => {
      waiting.set(own, (answer) => resolve(answer as Result<Answer<C>>));
      receive({ kind: 'ask', id: own, channel, ask: structuredClone(question) } as ToJob);
    });
  };
  return {
    progress,
    cancel: (ticket: string) => receive({ kind: 'cancel', ticket }),
    ask,
    /** The answer, or a failure with what was wrong. */
    async value<C extends JobChannel>(channel: C, question: Ask<C>): Promise<Answer<C>> {
      const answer = await ask(channel, question);
      if (!answer.ok) throw new Error(answer.issues.map((issue) => issue.message).join(' '));
      return answer.value;
    },
  };
}
