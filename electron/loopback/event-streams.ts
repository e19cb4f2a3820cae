/** The windows that listen: to each goes a stream of events. */
import type { ServerResponse } from 'node:http';
import type { EventName, Events } from '../services/contract/bridge.js';
import { SAFE_HEADERS } from '../services/host/content-policy.js';
import type { Host } from '../services/host/host.js';
import type { Client } from '../services/host/platform.js';

/** How often a silent stream says that it is there, in milliseconds. */
const HEARTBEAT = 15_000;

export type EventStreams = {
  /** From now on this window hears of events. */
  open(id: string, response: ServerResponse): void;
  /** The window that listens under this name. */
  client(id: string): Client | undefined;
  close(): void;
};

export function eventStreams(host: Host): EventStreams {
  const streams = new Map<string, { readonly client: Client; readonly response: ServerResponse }>();
  return {
    open(id, response) {
      response.writeHead(200, { ...SAFE_HEADERS, 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
      response.write(': here\n\n');
      const client: Client = {
        id,
        tell: <E extends EventName>(name: E, event: Events[E]) => void response.write(`event: ${name}\ndata: ${JSON.stringify(event)}\n\n`),
      };
      const beat = setInterval(() => response.write(': here\n\n'), HEARTBEAT);
      streams.set(id, { client, response });
      host.join(client);
      response.on('close', () => {
        clearInterval(beat);
        // A window that listens anew has taken this one's place already.
        if (streams.get(id)?.client === client) streams.delete(id);
        host.leave(client);
      });
    },
    client: (id) => streams.get(id)?.client,
    close() {
      for (const { response } of streams.values()) response.end();
    },
  };
}
