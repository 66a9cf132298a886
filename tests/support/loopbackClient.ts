// Speaks to the loopback server as the window does.
import { FRAME_MIME, packFrame, type TextCodec, unpackFrame } from '../../shared/contract/frame.ts';

export const utf8: TextCodec = {
  encode: (text) => new TextEncoder().encode(text),
  decode: (bytes) => new TextDecoder().decode(bytes),
};

export interface Answer {
  readonly status: number;
  readonly reply: unknown;
}

/** One request; `headers` override or add. */
export async function ask(
  origin: string,
  token: string,
  name: string,
  args: unknown,
  headers: Record<string, string> = {},
): Promise<Answer> {
  const response = await fetch(`${origin}/api/${name}`, {
    method: 'POST',
    headers: { 'Content-Type': FRAME_MIME, 'X-Notchwise-Token': token, ...headers },
    body: new Uint8Array(packFrame(args, utf8)),
  });
  const body = new Uint8Array(await response.arrayBuffer());
  if (response.status !== 200) return { status: response.status, reply: null };
  const reply = unpackFrame(body, utf8);
  if (!reply.ok) throw new Error(reply.error.sentence);
  return { status: 200, reply: reply.value };
}
