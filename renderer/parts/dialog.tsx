/** A dialog over the window: keeps the focus inside, closes with Escape, gives the focus back. */
import { type ReactNode, useEffect, useId, useRef } from 'react';
import { T } from '../texts/texts.js';

type Props = { readonly title: string; readonly wide?: boolean; readonly onClose: () => void; readonly children: ReactNode };

export function Dialog({ title, wide, onClose, children }: Props) {
  const element = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = element.current;
    const before = document.activeElement;
    if (dialog && !dialog.open) dialog.showModal();
    // The first field, not the button that closes.
    dialog?.querySelector<HTMLElement>('.dialog-body :is(input:not([hidden]), select, textarea, button.main)')?.focus();
    return () => {
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={element}
      className={wide ? 'wide' : undefined}
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <header>
        <h2 id={id}>{title}</h2>
        <button type="button" className="quiet" onClick={onClose} aria-label={T.dialog.close}>
          ×
        </button>
      </header>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it may scroll, and must scroll by keyboard too */}
      <div className="dialog-body" tabIndex={0}>
        {children}
      </div>
    </dialog>
  );
}
