// Serves the built renderer on our own scheme, and nothing outside its folder.
import { readFile } from 'node:fs/promises';
import { PAGE_HEADERS, servedFile } from '../service/pageFiles.ts';
import { APP_ORIGIN } from './channels.ts';

/** Standard and secure, so that origin, CSP and fetch work as on a web page; no privilege that bypasses the CSP. */
export const SCHEME_PRIVILEGES = { standard: true, secure: true, supportFetchAPI: true } as const;

/** The handler for `protocol.handle`. Unknown hosts, methods and names are 404. */
export function appProtocol(rendererFolder: string): (request: Request) => Promise<Response> {
  return async (request) => {
    const path = request.url.startsWith(`${APP_ORIGIN}/`)
      ? request.url.slice(APP_ORIGIN.length).split(/[?#]/)[0]!
      : null;
    const file = path === null || request.method !== 'GET' ? null : servedFile(rendererFolder, path);
    if (file === null) return notFound();
    try {
      const content = new Uint8Array(await readFile(file.path));
      return new Response(content, { headers: { ...PAGE_HEADERS, 'Content-Type': file.mime } });
    } catch {
      return notFound(); // what cannot be read is not served, whatever the reason
    }
  };
}

function notFound(): Response {
  return new Response('404\n', { status: 404, headers: PAGE_HEADERS });
}
