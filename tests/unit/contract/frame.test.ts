import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { packFrame, type TextCodec, unpackFrame } from '../../../shared/contract/frame.ts';

const utf8: TextCodec = {
  encode: (text) => new TextEncoder().encode(text),
  decode: (bytes) => new TextDecoder().decode(bytes),
};
const there = (value: unknown) => unpackFrame(packFrame(value, utf8), utf8);

describe('a message with bytes in it', () => {
  it('arrives as it was sent, whatever it holds', () => {
    const leaf = fc.oneof(fc.uint8Array({ maxLength: 20 }), fc.string(), fc.integer(), fc.boolean(), fc.constant(null));
    // "$bytes" is the frame's own word, and a prototype is no field of a message.
    const key = fc.string().filter((name) => name !== '$bytes' && name !== '__proto__');
    const value = fc.letrec((tie) => ({
      any: fc.oneof({ maxDepth: 4 }, leaf, fc.array(tie('any')), fc.dictionary(key, tie('any'))),
    })).any;
    fc.assert(
      fc.property(value, (sent) => {
        expect(there(sent)).toEqual({ ok: true, value: sent });
      }),
    );
  });

  it('carries subclasses of byte arrays as bytes', () => {
    expect(there({ a: Buffer.from([1, 2]) })).toEqual({ ok: true, value: { a: new Uint8Array([1, 2]) } });
  });

  it('is refused when it is cut short anywhere', () => {
    const frame = packFrame({ a: new Uint8Array([1, 2, 3]), b: 'x' }, utf8);
    for (let length = 0; length < frame.length; length++) {
      expect(unpackFrame(frame.subarray(0, length), utf8).ok).toBe(false);
    }
  });

  it('is refused when it claims bytes that are not there', () => {
    const head = utf8.encode('{"a":{"$bytes":99}}');
    const frame = new Uint8Array(4 + head.length);
    new DataView(frame.buffer).setUint32(0, head.length);
    frame.set(head, 4);
    expect(unpackFrame(frame, utf8)).toMatchObject({ ok: false, error: { code: 'broken-message' } });
  });
});
