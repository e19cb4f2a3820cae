/** Asks the registry for known faults of what is shipped. */
import { spawnSync } from 'node:child_process';
import type { Figures } from './table.js';

export function soakAudit({ tell, fault }: Figures): void {
  const { stdout } = spawnSync('npm', ['audit', '--omit=dev', '--json'], { encoding: 'utf8', timeout: 120_000 });
  const found = vulnerabilities(stdout);
  tell('npm audit', found ? JSON.stringify(found) : 'left out: the registry does not answer');
  if ((found?.high ?? 0) + (found?.critical ?? 0) > 0) fault('a package in production has a known fault of high severity');
}

function vulnerabilities(answer: string): Readonly<Record<string, number>> | undefined {
  try {
    return (JSON.parse(answer) as { metadata?: { vulnerabilities?: Record<string, number> } }).metadata?.vulnerabilities;
  } catch {
    return undefined;
  }
}
