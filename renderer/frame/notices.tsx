/** What the window tells: notices to be read, and words for screen readers. */
import { dismiss, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

export function Notices() {
  const notices = useWindow((s) => s.notices);
  const said = useWindow((s) => s.said);
  return (
    <>
      <section className="notices" aria-label={T.notices.region}>
        {notices.map((notice) => (
          <div key={notice.id} className="notice" data-severity={notice.severity}>
            <p>{notice.words}</p>
            <button type="button" className="quiet" onClick={() => dismiss(notice.id)} aria-label={T.notices.dismiss}>
              ×
            </button>
          </div>
        ))}
      </section>
      <p className="unseen" role="status">
        {said}
      </p>
    </>
  );
}
