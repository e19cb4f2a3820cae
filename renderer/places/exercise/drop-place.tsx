/** A file that is dropped anywhere on the exercise is shown as a figure before it is taken. */
import { type DragEvent, type ReactNode, useState } from 'react';
import { change, notify } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const isFile = (event: DragEvent) => event.dataTransfer.types.includes('Files');

function take(files: readonly File[]): void {
  const [file] = files;
  if (files.length > 1) notify('warning', T.import.oneOnly);
  else if (file) change({ dialog: { kind: 'import', file } });
}

export function DropPlace({ children }: { readonly children: ReactNode }) {
  const [over, setOver] = useState(false);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the button at the head and a command do the same for the keyboard
    <div
      className="work"
      data-drop={over || undefined}
      onDragOver={(event) => {
        if (!isFile(event)) return;
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={({ currentTarget, relatedTarget }) => {
        if (!(relatedTarget instanceof Node && currentTarget.contains(relatedTarget))) setOver(false);
      }}
      onDrop={(event) => {
        setOver(false);
        if (!isFile(event)) return;
        event.preventDefault();
        take([...event.dataTransfer.files]);
      }}
    >
      {over && <p className="drop-here">{T.exercise.dropHere}</p>}
      {children}
    </div>
  );
}
