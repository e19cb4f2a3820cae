/** A job whose parts cannot be loaded answers every question with the reason. */
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { threadJob } from '../../electron/loopback/thread-job.js';
import { jobClient } from '../../electron/services/host/job-client.js';
import { builtProgram, program } from '../e2e/built.js';

let folder: string;
beforeAll(async () => {
  await builtProgram();
  folder = await mkdtemp(join(tmpdir(), 'twelvefold-job-'));
  await cp(join(program, 'package.json'), join(folder, 'package.json'));
  await cp(join(program, 'dist', 'electron'), join(folder, 'dist', 'electron'), { recursive: true });
});
afterAll(() => rm(folder, { recursive: true }));

it('a part that fails while it is loaded is told with its reason, and the job stays', async () => {
  const script = join(folder, 'dist', 'electron', 'job.js');
  const part = /import\("\.\/(part-\w+\.js)"\)/.exec(await readFile(script, 'utf8'))?.[1];
  expect(part).toBeDefined();
  const path = join(folder, 'dist', 'electron', part ?? '');
  await writeFile(path, `throw new RangeError('The row of the ocarina has no range.');\n${await readFile(path, 'utf8')}`);
  let restarts = 0;
  const job = jobClient(() => threadJob(pathToFileURL(script)), { progress: () => undefined, restarted: () => void restarts++ });
  for (const channel of ['lists', 'lists'] as const) {
    const answer = await job.ask({ channel, ask: {} });
    expect(answer).toMatchObject({ ok: false, issues: [{ code: 'job-broken' }] });
    expect(answer.issues[0]?.message).toMatch(/ report it with this line: RangeError: The row of the ocarina has no range\.$/);
  }
  expect(restarts).toBe(0);
  job.stop();
});
