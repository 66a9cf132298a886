import { describe, expect, it } from 'vitest';
import { APP_ORIGIN, callChannel } from '../../../../main/electron/channels.ts';
import { type CallEvent, registerCalls } from '../../../../main/electron/register.ts';
import { CALL_NAMES } from '../../../../shared/contract/contract.ts';

function registered() {
  const handlers = new Map<string, (event: CallEvent, args: unknown) => Promise<unknown>>();
  const dispatched: unknown[] = [];
  const log: string[] = [];
  registerCalls(
    { handle: (channel, listener) => handlers.set(channel, listener) },
    async (name, args) => {
      dispatched.push([name, args]);
      return { ok: true, value: null };
    },
    (sentence) => log.push(sentence),
  );
  return { handlers, dispatched, log };
}

/** An event from the main frame at that address. */
function from(url: string): CallEvent {
  const frame = { url };
  return { senderFrame: frame, sender: { mainFrame: frame } };
}

describe('messages from a window', () => {
  it('come in on one channel for each entry of the contract and no other', () => {
    expect([...registered().handlers.keys()].sort()).toEqual(CALL_NAMES.map(callChannel).sort());
  });

  it('are passed on when they come from the main frame of our page', async () => {
    const { handlers, dispatched, log } = registered();
    await handlers.get(callChannel('app.info'))!(from(`${APP_ORIGIN}/index.html`), { a: 1 });
    expect(dispatched).toEqual([['app.info', { a: 1 }]]);
    expect(log).toEqual([]);
  });

  for (const [who, event] of [
    ['a frame inside our page', { senderFrame: { url: `${APP_ORIGIN}/index.html` }, sender: { mainFrame: {} } }],
    ['a page of the network', from('https://evil.example/')],
    ['a page that only starts like ours', from(`${APP_ORIGIN}.evil.example/`)],
    ['another scheme', from('file:///index.html')],
    ['an address that is none', from('nonsense')],
    ['a frame that is gone', { senderFrame: null, sender: { mainFrame: null } }],
  ] as const) {
    it(`are refused and logged when they come from ${who}`, async () => {
      const { handlers, dispatched, log } = registered();
      const reply = await handlers.get(callChannel('app.info'))!(event, {});
      expect(reply).toMatchObject({ ok: false, error: { code: 'not-our-page' } });
      expect(dispatched).toEqual([]);
      expect(log).toHaveLength(1);
    });
  }
});
