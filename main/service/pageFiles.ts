// What the window's page may load and which files may be served to it, for both carriers. Pure functions, so that hostile
// input can be thrown at them.
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
