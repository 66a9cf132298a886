// How a message with bytes in it travels over HTTP: 4 bytes of length (big endian), JSON in UTF-8, then the byte arrays one
// after the other. In the JSON a byte array stands as {"$bytes": length}. The desktop needs none of this (structured clone).
import { fail, ok, type Result } from '../base/result.ts';

export const FRAME_MIME = 'application/x-notchwise-frame';

const LENGTH_BYTES = 4;
const BYTES_KEY = '$bytes';

/** UTF-8 conversion, handed in because shared code knows neither Node nor the DOM. */
export interface TextCodec {
  readonly encode: (text: string) => Uint8Array;
  readonly decode: (bytes: Uint8Array) => string;
}

/** One message as bytes. Values must be JSON values or Uint8Array. */
export function packFrame(value: unknown, text: TextCodec): Uint8Array {
  const chunks: Uint8Array[] = [];
  const json = JSON.stringify(value, function (this: Record<string, unknown>, key, part: unknown) {
    const whole = this[key]; // a subclass with its own toJSON arrives converted in `part`
    if (!(whole instanceof Uint8Array)) return part;
    chunks.push(whole);
    return { [BYTES_KEY]: whole.length };
  });
  const head = text.encode(json ?? 'null');
  const total = chunks.reduce((sum, chunk) => sum + chunk.length, LENGTH_BYTES + head.length);
  const frame = new Uint8Array(total);
  new DataView(frame.buffer).setUint32(0, head.length);
  frame.set(head, LENGTH_BYTES);
  let at = LENGTH_BYTES + head.length;
  for (const chunk of chunks) {
    frame.set(chunk, at);
    at += chunk.length;
  }
  return frame;
}

/** The message back; byte arrays are views into `frame`. Fails on a frame that is cut short or not JSON. */
export function unpackFrame(frame: Uint8Array, text: TextCodec): Result<unknown> {
  if (frame.length < LENGTH_BYTES) return broken();
  const headLength = new DataView(frame.buffer, frame.byteOffset, frame.byteLength).getUint32(0);
  let at = LENGTH_BYTES + headLength;
  if (at > frame.length) return broken();
  let short = false;
  // JSON.parse revives in the order in which stringify met the values: depth first, in key order.
  const revive = (_key: string, part: unknown): unknown => {
    if (typeof part !== 'object' || part === null || !(BYTES_KEY in part)) return part;
    const length = part[BYTES_KEY];
    if (typeof length !== 'number' || !Number.isInteger(length) || length < 0 || at + length > frame.length) {
      short = true;
      return null;
    }
    at += length;
    return frame.subarray(at - length, at);
  };
  try {
    const value: unknown = JSON.parse(text.decode(frame.subarray(LENGTH_BYTES, LENGTH_BYTES + headLength)), revive);
    return short ? broken() : ok(value);
  } catch (error) {
    if (error instanceof SyntaxError) return broken();
    throw error;
  }
}

function broken(): Result<never> {
  return fail('broken-message', 'The message between window and program is damaged; reload the window.');
}
