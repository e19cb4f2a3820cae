/** The address of the window: an own scheme, whose pages come from one folder and carry the content policy. */
import { protocol, type Session } from 'electron';
import { SAFE_HEADERS } from '../services/host/content-policy.js';
import { windowFile } from '../services/host/window-files.js';

export const SCHEME = 'twelvefold';
export const ORIGIN = `${SCHEME}://window`;
export const START = `${ORIGIN}/index.html`;

/** Before the app is ready, once. Checklist item 18: no file:// for the window. The policy is never bypassed. */
export function registerScheme(): void {
  protocol.registerSchemesAsPrivileged([{ scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true } }]);
}

/** True for addresses of the window itself; everything else is somewhere else. */
export function isOwnAddress(address: string): boolean {
  try {
    const { protocol: scheme, host, username, port } = new URL(address);
    return scheme === `${SCHEME}:` && host === 'window' && username === '' && port === '';
  } catch {
    return false;
  }
}

export async function answerWindow(root: string, address: string): Promise<Response> {
  const refuse = (status: number) => new Response('Refused.', { status, headers: SAFE_HEADERS });
  if (!isOwnAddress(address)) return refuse(403);
  const file = await windowFile(root, new URL(address).pathname);
  if (!file) return refuse(404);
  return new Response(file.bytes as Uint8Array<ArrayBuffer>, { headers: { ...SAFE_HEADERS, 'content-type': file.type } });
}

export function serveWindow(session: Session, root: string): void {
  session.protocol.handle(SCHEME, (request) =>
    request.method === 'GET' ? answerWindow(root, request.url) : new Response(null, { status: 405 }),
  );
}
