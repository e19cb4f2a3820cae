/**
 * The loopback host: the window in a plain browser, the services behind it on 127.0.0.1. Every request must carry the
 * random token, come from this very address, and name it as its host (against rebinding of names).
 */
import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { SAFE_HEADERS } from '../services/host/content-policy.js';
import type { Host } from '../services/host/host.js';
import type { Client } from '../services/host/platform.js';
import { windowFile } from '../services/host/window-files.js';
import { type EventStreams, eventStreams } from './event-streams.js';
import { isFromOwnPage, isToken, windowId } from './request-checks.js';

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

async function body(request: IncomingMessage): Promise<unknown> {
  const chunks: Buffer[] = [];
  let size = 0;
  const stream: AsyncIterable<Buffer> = request;
  for await (const chunk of stream) {
    size += chunk.length;
    if (size > MOST_BYTES) throw new RangeError('too large');
    chunks.push(chunk);
  }
  return JSON.parse(Buffer.concat(chunks).toString('utf8'));
}

function send(response: ServerResponse, status: number, type: string, bytes: string | Uint8Array): void {
  response.writeHead(status, { ...SAFE_HEADERS, 'content-type': type, 'cache-control': 'no-store' });
  response.end(bytes);
}

const refuse = (response: ServerResponse, status: number): void => send(response, status, 'text/plain; charset=utf-8', 'Refused.\n');

/** What one request may come to: `own` is our name and number, as a browser writes them. */
type Serving = Omit<LoopbackSpec, 'port'> & { readonly own: string; readonly token: string; readonly streams: EventStreams };

/** Files of the window, and finished files to print. Their addresses hold no secret of the window, so they need no token. */
async function answerFile(pathname: string, response: ServerResponse, { window: root, prints }: Serving): Promise<void> {
  if (pathname.startsWith('/print/')) {
    // The name in the address is a secret of its own, given to the window that built the file.
    const path = prints.get(pathname.slice('/print/'.length));
    return path === undefined ? refuse(response, 404) : send(response, 200, 'application/pdf', await readFile(path));
  }
  const file = await windowFile(root, pathname);
  return file ? send(response, 200, file.type, file.bytes) : refuse(response, 404);
}

async function answerCall(request: IncomingMessage, pathname: string, response: ServerResponse, client: Client, host: Host): Promise<void> {
  let ask: unknown;
  try {
    ask = await body(request);
  } catch {
    return refuse(response, 400);
  }
  const answer = await host.call(pathname.slice('/call/'.length), ask, client);
  send(response, 200, 'application/json; charset=utf-8', JSON.stringify(answer));
}

async function handle(request: IncomingMessage, response: ServerResponse, serving: Serving): Promise<void> {
  const { own, token, streams, host } = serving;
  if (!isFromOwnPage(request, own)) return refuse(response, 403);
  const { pathname } = new URL(request.url ?? '/', `http://${own}`);
  if (request.method === 'GET' && pathname !== '/events') return answerFile(pathname, response, serving);
  const id = windowId(request);
  if (!isToken(request.headers['x-twelvefold-token'], token) || id === undefined) return refuse(response, 401);
  if (request.method === 'GET') return streams.open(id, response);
  if (request.method !== 'POST' || !pathname.startsWith('/call/')) return refuse(response, 405);
  if (request.headers['content-type'] !== 'application/json') return refuse(response, 415);
  const client = streams.client(id);
  return client ? answerCall(request, pathname, response, client, host) : refuse(response, 409);
}

/** Gives the number of the port that it listens on. */
async function listening(server: Server, port: number): Promise<number> {
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
  const bound = server.address();
  return typeof bound === 'object' && bound !== null ? bound.port : port;
}

export async function startLoopback({ port: wanted, ...spec }: LoopbackSpec): Promise<Loopback> {
  const token = randomBytes(24).toString('base64url');
  const streams = eventStreams(spec.host);
  // Known when the server listens, so before the first request.
  let own = '';
  const server = createServer((request, response) => {
    handle(request, response, { ...spec, own, token, streams }).catch(() => {
      if (!response.headersSent) refuse(response, 500);
      else response.end();
    });
  });
  const port = await listening(server, wanted);
  own = `127.0.0.1:${port}`;
  return {
    address: `http://${own}/`,
    token,
    port,
    async close() {
      streams.close();
      server.closeAllConnections();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
