// What protects the loopback window: who may ask. Pure functions, so that hostile input can be thrown at them.
import { createHash, timingSafeEqual } from 'node:crypto';

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
