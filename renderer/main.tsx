/** Where the window begins. */
import { createRoot } from 'react-dom/client';
import './styles/base.css';
import './styles/window.css';
import './styles/exercise.css';
import './styles/players.css';
import './styles/pages.css';
import './styles/dialogs.css';
import { App } from './app.js';
import { commandById, runPress } from './commands.js';
import { closing, guarded, openDemo, openPath, startKeeping } from './files.js';
import { isEdited } from './history.js';
import { service } from './service.js';
import { startShowing } from './show.js';
import { change, notify, now, tellIssues } from './state.js';
import { T } from './texts.js';

async function begin(): Promise<void> {
  startShowing();
  startKeeping();
  service.on('progress', ({ ticket, done, total, words }) =>
    change(({ work }) => (work?.ticket === ticket ? { work: { ...work, done, total, words } } : {})),
  );
  service.on('open-book', ({ path }) => guarded(() => void openPath(path)));
  service.on('command', ({ id }) => {
    if (!now().dialog) commandById(id)?.run();
  });
  service.on('close-asked', closing);
  service.on('job-restarted', () => notify('warning', T.notices.jobRestarted));

  const [about, lists, preferences, people] = await Promise.all([
    service.call('about', {}),
    service.call('lists', {}),
    service.call('preferences-read', {}),
    service.call('roster-read', {}),
  ]);
  if (preferences.ok) change({ preferences: preferences.value });
  if (people.ok) change({ people: people.value });
  if (lists.ok) change({ lists: lists.value });
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
  if (state.about?.host === 'loopback' && (isEdited(state) || state.work?.kind === 'build')) event.preventDefault();
});

const root = document.getElementById('root');
if (root) createRoot(root).render(<App />);
void begin();
