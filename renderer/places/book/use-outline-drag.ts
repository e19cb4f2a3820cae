/** Dragging of exercises in the outline: what is dragged, and before which exercise it would land. */
import { type DragEvent, useState } from 'react';
import { move } from '../../commands/outline.js';
import type { Focus } from '../../state/state.js';

export type OutlineDrag = {
  /** The place before which the dragged exercise would land. */
  readonly drop: Focus | undefined;
  readonly start: (place: Focus) => void;
  readonly over: (event: DragEvent, place: Focus) => void;
  readonly land: (event: DragEvent) => void;
  readonly end: () => void;
};

export function useOutlineDrag(): OutlineDrag {
  const [dragged, setDragged] = useState<Focus>();
  const [drop, setDrop] = useState<Focus>();
  const end = () => {
    setDragged(undefined);
    setDrop(undefined);
  };
  return {
    drop,
    start: setDragged,
    over: (event, place) => {
      if (!dragged) return;
      event.preventDefault();
      event.dataTransfer.dropEffect = 'move';
      const box = event.currentTarget.getBoundingClientRect();
      const after = event.clientY > box.top + box.height / 2 ? 1 : 0;
      const next = { chapter: place.chapter, exercise: place.exercise + after };
      if (drop?.chapter !== next.chapter || drop.exercise !== next.exercise) setDrop(next);
    },
    land: (event) => {
      event.preventDefault();
      if (dragged && drop) {
        // Taken out first, so what stood behind it in the same chapter has moved up by one.
        const shift = drop.chapter === dragged.chapter && drop.exercise > dragged.exercise ? 1 : 0;
        const to = { ...drop, exercise: drop.exercise - shift };
        if (to.chapter !== dragged.chapter || to.exercise !== dragged.exercise) move(dragged, to);
      }
      end();
    },
    end,
  };
}
