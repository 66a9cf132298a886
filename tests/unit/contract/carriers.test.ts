import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBridge, type RendererIpc } from '../../../main/electron/bridge.ts';
import { APP_ORIGIN, eventChannel } from '../../../main/electron/channels.ts';
import { type CallEvent, registerCalls } from '../../../main/electron/register.ts';
import { type LoopbackServer, startLoopback } from '../../../main/loopback/server.ts';
import { makeDispatch } from '../../../main/service/dispatch.ts';
import { BRIDGE_GLOBAL, type Bridge, CALL_NAMES, calls, EVENT_NAMES } from '../../../shared/contract/contract.ts';
import { exposed, invoked, playEvent } from '../../support/fakes/electron.ts';
import { ask } from '../../support/loopbackClient.ts';
import { smallSet } from '../../support/setJson.ts';
import { testHost } from '../../support/testHost.ts';

const bug = async (error: unknown) => `Bug: ${String(error)}`;

/** The real bridge and the real registration, joined by what the runtime does to messages: a structured clone each way. */
function joined(host: Awaited<ReturnType<typeof testHost>>): Bridge {
  const handlers = new Map<string, (event: CallEvent, args: unknown) => Promise<unknown>>();
  registerCalls(
    { handle: (channel, listener) => handlers.set(channel, listener) },
    makeDispatch(host.handlers, bug),
    () => {},
  );
  const frame = { url: `${APP_ORIGIN}/index.html` };
  const ipc: RendererIpc = {
    invoke: async (channel, args) => {
      const handler = handlers.get(channel);
      if (handler === undefined) throw new Error(`nobody listens on ${channel}`);
      return structuredClone(
        await handler({ senderFrame: frame, sender: { mainFrame: frame } }, structuredClone(args)),
      );
    },
    on: () => {},
    removeListener: () => {},
  };
  return makeBridge(ipc);
}

describe('both carriers carry the whole contract', () => {
  let host: Awaited<ReturnType<typeof testHost>>;
  let server: LoopbackServer;
  let bridge: Bridge;
  beforeAll(async () => {
    host = await testHost();
    bridge = joined(host);
    const started = await startLoopback({
      dispatch: makeDispatch(host.handlers, bug),
      listen: host.listen,
      rendererFolder: '/nowhere',
      token: 'token',
      port: 0,
      reportBug: bug,
    });
    if (!started.ok) throw new Error(started.error.sentence);
    server = started.value;
  });
  afterAll(() => server.close());

  for (const name of CALL_NAMES) {
    it(`${name} is reached by both, and both refuse wrong arguments with the same sentence`, async () => {
      const wrong = { nonsense: 1 };
      const byBridge = await (bridge.call[name] as (args: unknown) => Promise<unknown>)(wrong);
      const { reply } = await ask(server.origin, 'token', name, wrong);
      expect(byBridge).toMatchObject({ ok: false, error: { code: 'bad-arguments' } });
      expect(reply).toEqual(byBridge);
    });
  }

  it('a whole visit works over each: open, check, export, with values as the contract promises', async () => {
    const bytes = new TextEncoder().encode(JSON.stringify(smallSet()));
    const overHttp = async (name: string, args: unknown) => (await ask(server.origin, 'token', name, args)).reply;
    const overIpc = (name: keyof Bridge['call'], args: unknown) =>
      (bridge.call[name] as (args: unknown) => Promise<unknown>)(args);
    for (const call of [overHttp, overIpc] as const) {
      const visit = async (name: keyof Bridge['call'], args: unknown) => {
        const reply = (await call(name, args)) as { ok: boolean; value: never };
        if (!reply.ok) throw new Error(JSON.stringify(reply));
        // Replies are checked here, in the tests: a handler cannot drift from the list.
        return calls[name].value.parse(reply.value) as Record<string, unknown>;
      };
      const opened = await visit('set.open', { from: { kind: 'given', files: [{ name: 'a.json', bytes }] } });
      expect((await visit('checks.run', { set: opened.set })).format).toBe('notchwise-findings/1');
      const svg = await visit('export', { set: opened.set, as: 'svg', to: { kind: 'window' } });
      const [file] = svg.files as { bytes: Uint8Array }[];
      expect(new TextDecoder().decode(file!.bytes)).toContain('<svg');
      expect((await visit('seams.propose', { set: opened.set })).set).toMatchObject({ seams: [{ name: 'side' }] });
      expect(await visit('app.info', {})).toMatchObject({ host: 'loopback', canPick: false });
    }
  });

  it('a name that is not in the list is refused', async () => {
    for (const name of ['constructor', '__proto__', 'files.read']) {
      expect((await ask(server.origin, 'token', name, {})).reply).toMatchObject({ error: { code: 'unknown-request' } });
    }
  });
});

describe('the preload', () => {
  it('puts exactly one function for each entry on the window, and nothing of the runtime', async () => {
    await import('../../../main/electron/preload.ts');
    expect([...exposed.keys()]).toEqual([BRIDGE_GLOBAL]);
    const bridge = exposed.get(BRIDGE_GLOBAL) as Bridge;
    expect(Object.keys(bridge).sort()).toEqual(['call', 'on']);
    expect(Object.keys(bridge.call)).toEqual(CALL_NAMES);
    expect(Object.keys(bridge.on)).toEqual(EVENT_NAMES);
    await bridge.call['app.info']({});
    expect(invoked.at(-1)).toEqual({ channel: 'notchwise:call:app.info', args: {} });
  });

  it('gives listeners values, never the event, and lets them go', () => {
    const bridge = exposed.get(BRIDGE_GLOBAL) as Bridge;
    const heard: unknown[][] = [];
    const stop = bridge.on['job.ended']((...values) => heard.push(values));
    const value = { job: 'j', state: 'done' as const };
    playEvent(eventChannel('job.ended'), value);
    stop();
    playEvent(eventChannel('job.ended'), value);
    expect(heard).toEqual([[value]]);
  });
});
