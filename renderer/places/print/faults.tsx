/** What is wrong with the book and with what is open beside it, each with a way to the place where it can be mended. */
import { type Issue, pathText } from '../../../core/base/issue.js';
import type { FileKind } from '../../../electron/services/contract/file-kinds.js';
import { Words } from '../../parts/fields.js';
import { change, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const P = T.print;

type Fault = { readonly of: FileKind; readonly issue: Issue };

function jumpInBook({ path }: Issue): void {
  const [field, index, , exercise] = path;
  if (field === 'chapters' && typeof index === 'number') {
    const deep = typeof exercise === 'number';
    change({ place: deep ? 'exercise' : 'book', focus: { chapter: index, exercise: deep ? exercise : 0 } });
    if (path[4] === 'figure') setTimeout(() => document.getElementById('figure')?.focus(), 60);
  } else if (field === 'editions') {
    change({ place: 'players', company: 'instruments', ...(typeof index === 'number' ? { edition: index } : {}) });
  } else {
    change({ place: 'book' });
  }
}

/** To where it can be mended. */
function jump({ of, issue }: Fault): void {
  const [field, index] = issue.path;
  const at = typeof index === 'number' ? index : undefined;
  if (of === 'book') jumpInBook(issue);
  else if (of === 'roster') change({ place: 'players', company: 'students', ...(field === 'students' ? { student: at } : {}) });
  else change({ place: 'players', company: 'ensemble', ...(field === 'chairs' ? { chair: at } : {}) });
}

const placeText = ({ of, issue }: Fault): string => {
  const inside = pathText(issue.path);
  return of === 'book' ? inside : [T.companions.names[of].toLowerCase(), inside].filter(Boolean).join(', ');
};

const IN_WINDOW: Readonly<Record<string, string>> = P.inWindow;
const wordsOf = ({ code, message }: Issue): string => IN_WINDOW[code] ?? message;

const ORDER = { error: 0, warning: 1, note: 2 };
const NONE: readonly Issue[] = [];

export function Faults() {
  const book = useWindow((s) => s.shown?.issues) ?? NONE;
  const roster = useWindow((s) => s.rosterView?.issues) ?? NONE;
  const ensemble = useWindow((s) => s.ensembleView?.issues) ?? NONE;
  const all: Fault[] = [
    ...book.map((issue) => ({ of: 'book' as const, issue })),
    ...roster.map((issue) => ({ of: 'roster' as const, issue })),
    ...ensemble.map((issue) => ({ of: 'ensemble' as const, issue })),
  ];
  if (all.length === 0) {
    return <p className="good">{P.noFaults}</p>;
  }
  return (
    <ul className="faults">
      {all
        .sort((a, b) => ORDER[a.issue.severity] - ORDER[b.issue.severity])
        .map((fault) => (
          <li
            key={`${fault.of} ${fault.issue.code} ${fault.issue.path.join('.')} ${fault.issue.message}`}
            data-severity={fault.issue.severity}
          >
            <div>
              <span className="severity">{P.severity[fault.issue.severity]}</span>
              <span className="hint">{placeText(fault)}</span>
              <p>
                <Words>{wordsOf(fault.issue)}</Words>
              </p>
            </div>
            <button type="button" onClick={() => jump(fault)} aria-label={`${P.goTo}: ${placeText(fault)}`}>
              {P.goTo}
            </button>
          </li>
        ))}
    </ul>
  );
}
