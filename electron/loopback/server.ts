/**
 * The loopback host: the window in a plain browser, the services behind it on 127.0.0.1. Every request must carry the
 * random token, come from this very address, and name it as its host (against rebinding of names).
 */
import { randomBytes, timingSafeEqual } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { EventName, Events } from '../services/contract/bridge.js';
import { SAFE_HEADERS } from '../services/host/content-policy.js';
import type { Host } from '../services/host/host.js';
import type { Client } from '../services/host/platform.js';
import { windowFile } from '../services/host/window-files.js';

export type Loopback = {
  readonly address: string;
  readonly token: string;
  readonly port: number;
  close(): Promise<void>;
};

export type LoopbackSpec = {
  /** Folder of the built window. */
  readonly window: string;
  readonly host: Host;
  /** 0 takes any free port. */
  readonly port: number;
  /** Finished files that were asked for printing: name in the address → path. */
  readonly prints: ReadonlyMap<string, string>;
};

/** Largest question: a file of 32 MB to be imported, as base64, with room. */
const MOST_BYTES = 48 * 1024 * 1024;

/** How often a silent stream says that it is there. */
const HEARTBEAT = 15_000;

async function body(request: IncomingMessage): Promise<unknown> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request) {
    size += (chunk as Buffer).length;
    if (size > MOST_BYTES) throw new RangeError('too large');
    chunks.push(chunk as Buffer);
  }
  return JSON.parse(Buffer.concat(chunks).toString('utf8'));
}

function send(response: ServerResponse, status: number, type: string, bytes: string | Uint8Array): void {
  response.writeHead(status, { ...SAFE_HEADERS, 'content-type': type, 'cache-control': 'no-store' });
  response.end(bytes);
}

const refuse = (response: ServerResponse, status: number): void => send(response, status, 'text/plain; charset=utf-8', 'Refused.\n');

export async function startLoopback({ window: root, host, port, prints }: LoopbackSpec): Promise<Loopback> {
  const token = randomBytes(24).toString('base64url');
  const clients = new Map<string, { client: Client; response: ServerResponse; waiting: string[] }>();
  let own = '';

  const rightToken = (given: string | string[] | undefined): boolean => {
    const text = typeof given === 'string' ? given : '';
    const a = Buffer.from(text);
    const b = Buffer.from(token);
    return a.length === b.length && timingSafeEqual(a, b);
  };

  /** A browser names the host it believes to talk to; only our own name and number will do. */
  const ownHost = (request: IncomingMessage): boolean => request.headers.host === own;
  const ownOrigin = ({ headers }: IncomingMessage): boolean => {
    const site = headers['sec-fetch-site'];
    return (
      (headers.origin === undefined || headers.origin === `http://${own}`) &&
      (site === undefined || site === 'same-origin' || site === 'none')
    );
  };

  const clientId = (request: IncomingMessage): string | undefined => {
    const id = request.headers['x-twelvefold-window'];
    return typeof id === 'string' && /^[A-Za-z0-9-]{8,64}$/.test(id) ? id : undefined;
  };

  function listen(id: string, response: ServerResponse): void {
    response.writeHead(200, { ...SAFE_HEADERS, 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
    response.write(': here\n\n');
    const client: Client = {
      id,
      tell: <E extends EventName>(name: E, event: Events[E]) => void response.write(`event: ${name}\ndata: ${JSON.stringify(event)}\n\n`),
    };
    const beat = setInterval(() => response.write(': here\n\n'), HEARTBEAT);
    clients.set(id, { client, response, waiting: [] });
    host.join(client);
    response.on('close', () => {
      clearInterval(beat);
      // A window that listens anew has taken this one's place already.
      if (clients.get(id)?.client === client) clients.delete(id);
      host.leave(client);
    });
  }

  async function handle(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (!ownHost(request) || !ownOrigin(request)) return refuse(response, 403);
    const { pathname } = new URL(request.url ?? '/', `http://${own}`);
    if (request.method === 'GET' && pathname.startsWith('/print/')) {
      // The name in the address is a secret of its own, given to the window that built the file.
      const path = prints.get(pathname.slice('/print/'.length));
      if (path === undefined) return refuse(response, 404);
      return send(response, 200, 'application/pdf', await readFile(path));
    }
    if (request.method === 'GET' && pathname !== '/events') {
      const file = await windowFile(root, pathname);
      return file ? send(response, 200, file.type, file.bytes) : refuse(response, 404);
    }
    const id = clientId(request);
    if (!rightToken(request.headers['x-twelvefold-token']) || id === undefined) return refuse(response, 401);
    if (request.method === 'GET') return listen(id, response);
    if (request.method !== 'POST' || !pathname.startsWith('/call/')) return refuse(response, 405);
    if (request.headers['content-type'] !== 'application/json') return refuse(response, 415);
    const client = clients.get(id)?.client;
    if (!client) return refuse(response, 409);
    let ask: unknown;
    try {
      ask = await body(request);
    } catch {
      return refuse(response, 400);
    }
    send(response, 200, 'application/json; charset=utf-8', JSON.stringify(await host.call(pathname.slice('/call/'.length), ask, client)));
  }

  const server: Server = createServer((request, response) => {
    handle(request, response).catch(() => {
      if (!response.headersSent) refuse(response, 500);
      else response.end();
    });
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
  const bound = server.address();
  const number = typeof bound === 'object' && bound !== null ? bound.port : port;
  own = `127.0.0.1:${number}`;
  return {
    address: `http://${own}/`,
    token,
    port: number,
    async close() {
      for (const { response } of clients.values()) response.end();
      server.closeAllConnections();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
