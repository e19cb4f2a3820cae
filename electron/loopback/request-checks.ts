/** Who may ask on the loopback: every request is held against these before anything is done. */
import { timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

export function isToken(given: string | string[] | undefined, token: string): boolean {
  const a = Buffer.from(typeof given === 'string' ? given : '');
  const b = Buffer.from(token);
  return a.length === b.length && timingSafeEqual(a, b);
}

/** A browser names the host it believes to talk to, and where its page comes from; only our own name and number will do. */
export function isFromOwnPage({ headers }: IncomingMessage, own: string): boolean {
  const site = headers['sec-fetch-site'];
  return (
    headers.host === own &&
    (headers.origin === undefined || headers.origin === `http://${own}`) &&
    (site === undefined || site === 'same-origin' || site === 'none')
  );
}

/** The window's name for itself, if it is one. */
export function windowId({ headers }: IncomingMessage): string | undefined {
  const id = headers['x-twelvefold-window'];
  return typeof id === 'string' && /^[A-Za-z0-9-]{8,64}$/.test(id) ? id : undefined;
}
