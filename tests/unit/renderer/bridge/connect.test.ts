// The window's end of both carriers: the desktop's bridge where there is one, else the loopback server, whose every failure
// becomes one sentence.
import { afterEach, describe, expect, it, vi } from 'vitest';
import { connect } from '../../../../renderer/bridge/connect.ts';
import { loopbackBridge } from '../../../../renderer/bridge/loopbackBridge.ts';
import { BRIDGE_GLOBAL, CALL_NAMES, EVENT_NAMES } from '../../../../shared/contract/contract.ts';
import { packFrame, unpackFrame } from '../../../../shared/contract/frame.ts';
import { utf8 } from '../../../support/loopbackClient.ts';

class FakeEvents {
  static readonly opened: FakeEvents[] = [];
  readonly listeners = new Map<string, (event: { data: string }) => void>();
  constructor(readonly url: string) {
    FakeEvents.opened.push(this);
  }
  addEventListener(name: string, listener: (event: { data: string }) => void) {
    this.listeners.set(name, listener);
  }
  removeEventListener(name: string) {
    this.listeners.delete(name);
  }
}

vi.stubGlobal('EventSource', FakeEvents);
afterEach(() => FakeEvents.opened.splice(0));

const answering = (status: number, reply: unknown = null) =>
  vi.fn(async (_url: string, _init: RequestInit) => new Response(new Uint8Array(packFrame(reply, utf8)), { status }));

describe('the window connects', () => {
  it('to the bridge that the desktop put on the page', () => {
    const given = { call: {}, on: {} };
    // Only the two things that connect looks at.
    const page = { [BRIDGE_GLOBAL]: given, location: { hash: '' } } as unknown as Window;
    expect(connect(page)).toBe(given);
  });

  it('to the loopback server with the token behind the # of its address', () => {
    const page = { location: { hash: '#secret' } } as unknown as Window;
    const bridge = connect(page);
    expect(Object.keys(bridge.call)).toEqual(CALL_NAMES);
    expect(Object.keys(bridge.on)).toEqual(EVENT_NAMES);
    expect(FakeEvents.opened[0]!.url).toBe('/api/events?token=secret');
  });
});

describe('the loopback bridge', () => {
  it('sends the request as a frame with the token and gives the reply', async () => {
    const fetched = answering(200, { ok: true, value: { unsaved: true } });
    vi.stubGlobal('fetch', fetched);
    const reply = await loopbackBridge('secret').call['set.save']({ document: 'd1' });
    expect(reply).toEqual({ ok: true, value: { unsaved: true } });
    const [url, init] = fetched.mock.calls[0]!;
    expect(url).toBe('/api/set.save');
    expect(init.headers).toMatchObject({ 'X-Notchwise-Token': 'secret' });
    expect(unpackFrame(init.body as Uint8Array, utf8)).toEqual({ ok: true, value: { document: 'd1' } });
  });

  it.each([
    [403, 'no-token'],
    [413, 'too-large'],
    [500, 'bug'],
  ])('makes a sentence of status %i', async (status, code) => {
    vi.stubGlobal('fetch', answering(status));
    const reply = await loopbackBridge('secret').call['app.info']({});
    expect(reply).toMatchObject({ ok: false, error: { code, sentence: expect.stringMatching(/\w+.*\.$/) } });
  });

  it('says so when the program does not answer', async () => {
    vi.stubGlobal('fetch', async () => {
      throw new TypeError('connection refused');
    });
    expect(await loopbackBridge('secret').call['app.info']({})).toMatchObject({
      ok: false,
      error: { code: 'no-host' },
    });
  });

  it('hears an event until it stops listening', () => {
    const heard: unknown[] = [];
    const stop = loopbackBridge('secret').on['job.ended']((value) => heard.push(value));
    const events = FakeEvents.opened[0]!;
    events.listeners.get('job.ended')?.({ data: '{"job":"j1","state":"done"}' });
    stop();
    expect(heard).toEqual([{ job: 'j1', state: 'done' }]);
    expect(events.listeners.size).toBe(0);
  });
});
