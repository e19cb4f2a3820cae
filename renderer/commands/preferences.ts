/** How the window looks and sounds, remembered for the next time. */
import type { Preferences } from '../../electron/services/contract/fields.js';
import { service } from '../host/service.js';
import { change, now, say, tellIssues } from '../state/state.js';

export function prefer(part: Partial<Preferences>): void {
  change(({ preferences }) => ({ preferences: { ...preferences, ...part } }));
  void service.call('preferences-write', now().preferences).then((done) => tellIssues(done.issues));
}

export function scaleText(by: number): void {
  const text = Math.min(200, Math.max(80, now().preferences.text + by));
  prefer({ text });
  say(`${text} %`);
}
