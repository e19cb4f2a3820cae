// @vitest-environment jsdom
/** A fault of the program in one place of the window does not take the window away. */
import { act } from 'react';
import { createRoot } from 'react-dom/client';
import { expect, it, vi } from 'vitest';
import { FaultBoundary } from '../../renderer/frame/fault-boundary.js';
import { now } from '../../renderer/state/state.js';

(globalThis as { IS_REACT_ACT_ENVIRONMENT?: boolean }).IS_REACT_ACT_ENVIRONMENT = true;

let broken = true;
function Place() {
  if (broken) throw new Error('the third valve sticks');
  return <p>well</p>;
}

it('a place that throws says so and what, and can be shown again', async () => {
  // React tells of every fault that it meets.
  const quiet = vi.spyOn(console, 'error').mockImplementation(() => undefined);
  const element = document.createElement('div');
  const root = createRoot(element);
  await act(async () =>
    root.render(
      <FaultBoundary>
        <Place />
      </FaultBoundary>,
    ),
  );
  expect(element.querySelector('[role=alert]')?.textContent).toMatch(/nothing is lost.*the third valve sticks/);
  broken = false;
  await act(async () => element.querySelector('button')?.click());
  expect(element.textContent).toBe('well');
  expect(now().place).toBe('book');
  quiet.mockRestore();
});
