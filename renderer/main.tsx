/** Where the window begins. */
import { createRoot } from 'react-dom/client';
import './styles/base.css';
import './styles/window.css';
import './styles/exercise.css';
import './styles/players.css';
import './styles/people.css';
import './styles/pages.css';
import './styles/dialogs.css';
import './styles/narrow.css';
import { App } from './app.js';
import { commandById, runPress } from './commands/command-table.js';
import { closing, guarded, openDemo, openPath } from './files/book-files.js';
import { service } from './host/service.js';
import { isEdited } from './state/history.js';
import { keepFocus } from './state/keyboard-focus.js';
import { change, notify, now, tellIssues } from './state/state.js';
import { T } from './texts/texts.js';
import { startCompanionChecks } from './watchers/companion-checks.js';
import { startRecoveryCopies } from './watchers/recovery-copies.js';
import { startShownPages } from './watchers/shown-pages.js';

async function begin(): Promise<void> {
  startShownPages();
  startRecoveryCopies();
  startCompanionChecks();
  keepFocus();
  service.on('progress', ({ ticket, done, total, words }) =>
    change(({ work }) => (work?.ticket === ticket ? { work: { ...work, done, total, words } } : {})),
  );
  service.on('open-book', ({ path }) => guarded(() => void openPath(path)));
  service.on('command', ({ id }) => {
    if (!now().dialog) commandById(id)?.run();
  });
  service.on('close-asked', closing);
  service.on('job-restarted', () => notify('warning', T.notices.jobRestarted));

  // The book does not wait for the lists: its first page is what one looks for.
  void service.call('lists', {}).then((lists) => {
    if (lists.ok) change({ lists: lists.value });
  });
  const [about, preferences] = await Promise.all([service.call('about', {}), service.call('preferences-read', {})]);
  if (preferences.ok) change({ preferences: preferences.value });
  if (!about.ok) {
    tellIssues(about.issues);
    return;
  }
  change({ about: about.value });
  if (about.value.open) await openPath(about.value.open);
  else await openDemo();
  const copies = await service.call('recovery-list', {});
  if (copies.ok && copies.value.length > 0) change({ dialog: { kind: 'recovery', copies: copies.value } });
}

window.addEventListener('keydown', (event) => {
  if (runPress(event)) event.preventDefault();
});

// A browser tab asks before it is closed; the desktop window asks through its host.
window.addEventListener('beforeunload', (event) => {
  const state = now();
  if (state.about?.host === 'loopback' && (isEdited(state) || (state.work !== undefined && state.work.kind !== 'prove')))
    event.preventDefault();
});

// A file that is dropped beside the place for it must not take the window away.
for (const name of ['dragover', 'drop'] as const) {
  window.addEventListener(name, (event) => {
    if (event.dataTransfer?.types.includes('Files')) event.preventDefault();
  });
}

const root = document.getElementById('root');
if (root) createRoot(root).render(<App />);
void begin();
