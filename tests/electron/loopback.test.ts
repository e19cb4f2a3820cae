/** The loopback host answers its own window and nobody else. */
import { mkdtemp, symlink, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Loopback } from '../../electron/loopback/server.js';
import { startInBrowser } from '../../electron/loopback/start.js';

let loopback: Loopback;
let root = '';
let secret = '';

beforeAll(async () => {
  const window = await mkdtemp(join(tmpdir(), 'twelvefold-window-'));
  root = await mkdtemp(join(tmpdir(), 'twelvefold-root-'));
  secret = join(await mkdtemp(join(tmpdir(), 'twelvefold-else-')), 'secret.html');
  await writeFile(secret, 'secret');
  await writeFile(join(window, 'index.html'), '<p>here</p>');
  await writeFile(join(window, 'notes.txt'), 'of no served type');
  await symlink(secret, join(window, 'link.html'));
  await symlink(join(secret, '..'), join(root, 'out'));
  loopback = await startInBrowser({
    window,
    root,
    data: join(root, 'own'),
    demo: '/none.twelvefold',
    version: '1',
    port: 0,
    open: undefined,
    firstRun: true,
    now: () => '2026-03-01T10:00:00.000Z',
    launch: () => ({ post: () => undefined, listen: () => undefined, ended: () => undefined, stop: () => undefined }),
  });
});
afterAll(() => loopback.close());

type Ask = { path?: string; method?: string; headers?: Record<string, string>; body?: string };

/** Plain requests, in which any header may be set. */
function ask({
  path = '/',
  method = 'GET',
  headers = {},
  body,
}: Ask): Promise<{ status: number; headers: Record<string, unknown>; text: string }> {
  return new Promise((resolve, reject) => {
    const sent = request({ host: '127.0.0.1', port: loopback.port, path, method, headers }, (response) => {
      let text = '';
      response.on('data', (chunk) => {
        text += chunk;
      });
      response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers, text }));
    });
    sent.on('error', reject);
    sent.end(body);
  });
}

/** A window that listens, with the headers of its calls. */
function joined(): Promise<{ headers: Record<string, string>; leave: () => void }> {
  const headers = { 'x-twelvefold-token': loopback.token, 'x-twelvefold-window': 'window-0001', 'content-type': 'application/json' };
  return new Promise((resolve) => {
    const sent = request({ host: '127.0.0.1', port: loopback.port, path: '/events', headers }, () =>
      resolve({ headers, leave: () => sent.destroy() }),
    );
    sent.on('error', () => undefined);
    sent.end();
  });
}

describe('files of the window', () => {
  it('are served with a strict policy', async () => {
    const answer = await ask({});
    expect(answer.text).toBe('<p>here</p>');
    expect(answer.headers['content-security-policy']).toContain("default-src 'none'");
    expect(answer.headers['content-security-policy']).not.toMatch(/unsafe|https?:|\*/);
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
  });

  it.each([
    ['/../secret.html'],
    ['/%2e%2e/secret.html'],
    ['/..%2fsecret.html'],
    ['/..%5csecret.html'],
    ['/%00'],
    ['/%E0%A4'],
    ['/link.html'],
    ['/notes.txt'],
    ['/nothing.js'],
    ['//etc/passwd'],
  ])('%s is not', async (path) => {
    expect((await ask({ path })).status).toBe(404);
  });

  it('what was not built is not printed', async () => {
    expect((await ask({ path: '/print/x.pdf' })).status).toBe(404);
  });
});

describe('calls', () => {
  const call = { path: '/call/about', method: 'POST', body: '{}' };

  it('are answered with the token', async () => {
    const { headers, leave } = await joined();
    const answer = await ask({ ...call, headers });
    expect(JSON.parse(answer.text)).toMatchObject({ ok: true, value: { host: 'loopback', today: '2026-03-01' } });
    leave();
  });

  it.each([
    ['without a token', { 'x-twelvefold-token': '' }, 401],
    ['with a wrong token', { 'x-twelvefold-token': 'x'.repeat(32) }, 401],
    ['from a page of another site', { origin: 'https://example.com' }, 403],
    ['from another site, as the browser says', { 'sec-fetch-site': 'cross-site' }, 403],
    ['under another name (rebinding)', { host: 'example.com' }, 403],
    ['under the name localhost', { host: 'localhost' }, 403],
    ['as a form', { 'content-type': 'text/plain' }, 415],
    ['from a window that does not listen', { 'x-twelvefold-window': 'window-9999' }, 409],
    ['with an odd window name', { 'x-twelvefold-window': '../..' }, 401],
  ])('%s: refused', async (_name, changed, status) => {
    const { headers, leave } = await joined();
    expect((await ask({ ...call, headers: { ...headers, ...changed } })).status).toBe(status);
    leave();
  });

  it('in another form: refused', async () => {
    const { headers, leave } = await joined();
    expect((await ask({ ...call, headers, body: 'no json' })).status).toBe(400);
    expect((await ask({ ...call, headers, method: 'PUT' })).status).toBe(405);
    leave();
  });

  it('reach no file outside the root, through links either', async () => {
    const { headers, leave } = await joined();
    for (const path of ['/etc/x.twelvefold', join(root, '..', 'x.twelvefold'), join(root, 'out', 'x.twelvefold')]) {
      const answer = await ask({ path: '/call/book-open', method: 'POST', headers, body: JSON.stringify({ path }) });
      expect(JSON.parse(answer.text), path).toMatchObject({ ok: false, issues: [{ code: 'not-allowed' }] });
    }
    leave();
  });
});

it('listens on this machine only', () => {
  expect(loopback.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
  expect(loopback.token.length).toBeGreaterThanOrEqual(32);
});
