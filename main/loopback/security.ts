// What protects the loopback window: who may ask, what the page may load, which files may be served. Pure functions, so that
// hostile input can be thrown at them.
import { createHash, timingSafeEqual } from 'node:crypto';
import { extname, resolve, sep } from 'node:path';

/**
 * No inline script, no eval (the wasm of a later renderer needs 'wasm-unsafe-eval', never 'unsafe-eval'), nothing from
 * elsewhere. Pictures of shots come as blobs.
 */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "worker-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

export const PAGE_HEADERS = {
  'Content-Security-Policy': CONTENT_SECURITY_POLICY,
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'Cache-Control': 'no-store',
} as const;

const MIME: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.json': 'application/json',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
};

export interface ServedFile {
  readonly path: string;
  readonly mime: string;
}

/**
 * The file of `folder` that a URL path names, or null: outside the folder, of an unknown kind, or not a name at all.
 * `urlPath` is the raw path of the request, still percent-encoded.
 */
export function servedFile(folder: string, urlPath: string): ServedFile | null {
  let name: string;
  try {
    name = decodeURIComponent(urlPath);
  } catch {
    return null; // malformed percent-encoding names no file
  }
  if (!name.startsWith('/') || /[\0\\:]/.test(name)) return null;
  const root = resolve(folder);
  const path = resolve(root, `.${name === '/' ? '/index.html' : name}`);
  const mime = MIME[extname(path)];
  return path.startsWith(root + sep) && mime !== undefined ? { path, mime } : null;
}

/** DNS rebinding sends another host name to our address: only our own is answered. */
export function isOwnHost(host: string | undefined, port: number): boolean {
  return host === `127.0.0.1:${port}` || host === `localhost:${port}`;
}

/** A page of another origin may not ask; same-origin GETs carry no Origin at all. */
export function isOwnOrigin(origin: string | undefined, port: number): boolean {
  return origin === undefined || origin === `http://127.0.0.1:${port}` || origin === `http://localhost:${port}`;
}

/** Compares without telling by its time how much was right. */
export function isToken(given: string | undefined, token: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return given !== undefined && timingSafeEqual(digest(given), digest(token));
}
