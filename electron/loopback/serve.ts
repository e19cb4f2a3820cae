/** Serves the window on this machine and prints its address. Stops with Ctrl-C. */
import { existsSync, readFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { RunningJob } from '../services/host/job-client.js';
import { demoIn, startInBrowser } from './start.js';

/** `here`: the file that runs, dist/electron/loopback.js. */
export async function serve(here: URL, launch: () => RunningJob): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { port: { type: 'string' }, root: { type: 'string' }, data: { type: 'string' } },
  });

  const program = fileURLToPath(new URL('../../', here));
  const { version }: { version: string } = JSON.parse(readFileSync(join(program, 'package.json'), 'utf8'));
  const data = resolve(values.data ?? join(homedir(), '.twelvefold'));

  const loopback = await startInBrowser({
    window: join(program, 'dist', 'renderer'),
    root: resolve(values.root ?? homedir()),
    data,
    demo: demoIn(program),
    version,
    port: Number(values.port ?? 0),
    open: positionals[0] === undefined ? undefined : resolve(positionals[0]),
    firstRun: !existsSync(data),
    now: () => new Date().toISOString(),
    launch,
  });

  process.stdout.write(`Open this address in a browser on this machine:\n${loopback.address}#${loopback.token}\n`);
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, () => {
      void loopback.close().then(() => process.exit(0));
    });
  }
}
