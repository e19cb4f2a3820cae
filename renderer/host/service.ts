/** The way to the services: what the preload script gives, or the loopback host over HTTP. */

import { error, type Result } from '../../core/base/issue.js';
import type { Bridge, EventName, Events } from '../../electron/services/contract/bridge.js';
import type { Answer, Ask, Channel } from '../../electron/services/contract/questions.js';
import { T } from '../texts/texts.js';

declare global {
  interface Window {
    readonly twelvefold?: Bridge;
  }
}

const offline = (): Result<never> => ({ ok: false, issues: [error('offline', [], T.states.offline)] });

/** Reads server-sent events from a fetch, which, unlike an EventSource, can carry the token in a header. */
async function readEvents(body: ReadableStream<Uint8Array>, tell: (name: string, data: unknown) => void): Promise<void> {
  const reader = body.getReader();
  const decoder = new TextDecoder();
  let rest = '';
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    rest += decoder.decode(value, { stream: true });
    const blocks = rest.split('\n\n');
    rest = blocks.pop() ?? '';
    for (const block of blocks) {
      const name = /^event: (.*)$/m.exec(block)?.[1];
      const data = /^data: (.*)$/m.exec(block)?.[1];
      if (name !== undefined && data !== undefined) tell(name, JSON.parse(data));
    }
  }
}

function loopback(): Bridge {
  // The token comes behind the # of the address, which is sent to no server, and leaves the address at once.
  const given = location.hash.slice(1);
  if (given) {
    sessionStorage.setItem('token', given);
    history.replaceState(null, '', location.pathname);
  }
  const headers = { 'x-twelvefold-token': sessionStorage.getItem('token') ?? '', 'x-twelvefold-window': crypto.randomUUID() };
  const listeners = new Map<string, Set<(event: never) => void>>();
  const tell = (name: string, data: unknown) => {
    for (const listen of listeners.get(name) ?? []) (listen as (event: unknown) => void)(data);
  };

  let isJoined: boolean | undefined;
  const joined = fetch('/events', { headers }).then((response) => {
    if (response.ok && response.body) void readEvents(response.body, tell).catch(() => undefined);
    isJoined = response.ok;
    return response.ok;
  });

  return {
    async call<C extends Channel>(channel: C, ask: Ask<C>): Promise<Result<Answer<C>>> {
      try {
        // Once joined, the question leaves at once, before the window is drawn anew: the answer is made meanwhile.
        if (!(isJoined ?? (await joined))) return offline();
        const response = await fetch(`/call/${channel}`, {
          method: 'POST',
          headers: { ...headers, 'content-type': 'application/json' },
          body: JSON.stringify(ask),
        });
        return response.ok ? ((await response.json()) as Result<Answer<C>>) : offline();
      } catch {
        return offline();
      }
    },
    on<E extends EventName>(name: E, listen: (event: Events[E]) => void) {
      const set = listeners.get(name) ?? new Set();
      listeners.set(name, set);
      set.add(listen as (event: never) => void);
      return () => void set.delete(listen as (event: never) => void);
    },
  };
}

export const service: Bridge = window.twelvefold ?? loopback();
