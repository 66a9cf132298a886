// The contract over HTTP to the server that served this page: requests as frames, events as a stream. The token stands
// behind the # of the address, where it reaches no log. What arrives is what the host's own writer made, so that it is
// taken at its type; documents are read again by their formats before they are used.
import type { Failure } from '../../shared/base/result.ts';
import { type Bridge, CALL_NAMES, EVENT_NAMES } from '../../shared/contract/contract.ts';
import { FRAME_MIME, packFrame, type TextCodec, unpackFrame } from '../../shared/contract/frame.ts';

const utf8: TextCodec = {
  encode: (text) => new TextEncoder().encode(text),
  decode: (bytes) => new TextDecoder().decode(bytes),
};

export function loopbackBridge(token: string): Bridge {
  const events = new EventSource(`/api/events?token=${encodeURIComponent(token)}`);
  const call = Object.fromEntries(CALL_NAMES.map((name) => [name, (args: unknown) => ask(token, name, args)]));
  const on = Object.fromEntries(
    EVENT_NAMES.map((name) => [
      name,
      (listener: (value: unknown) => void) => {
        const heard = (event: MessageEvent<string>) => listener(JSON.parse(event.data));
        events.addEventListener(name, heard);
        return () => events.removeEventListener(name, heard);
      },
    ]),
  );
  // Built from the same lists that the type is derived from; the compiler cannot follow the names through fromEntries.
  return { call, on } as unknown as Bridge;
}

async function ask(token: string, name: string, args: unknown): Promise<unknown> {
  let response: Response;
  try {
    response = await fetch(`/api/${name}`, {
      method: 'POST',
      headers: { 'Content-Type': FRAME_MIME, 'X-Notchwise-Token': token },
      body: new Uint8Array(packFrame(args, utf8)),
    });
  } catch {
    // Whatever broke the connection, the person can do the same about it.
    return refused('no-host', 'The program behind this window does not answer; start it again and reload the window.');
  }
  if (response.status === 403) {
    return refused('no-token', 'This address has no key for the program; open the address that the program printed.');
  }
  if (response.status === 413)
    return refused('too-large', 'These files are too large to hand over; give fewer at once.');
  const reply = response.ok ? unpackFrame(new Uint8Array(await response.arrayBuffer()), utf8) : null;
  if (reply === null) return refused('bug', `The program could not answer (${response.status}); try again.`);
  return reply.ok ? reply.value : refused(reply.error.code, reply.error.sentence);
}

function refused(code: string, sentence: string): { readonly ok: false; readonly error: Failure } {
  return { ok: false, error: { code, sentence } };
}
