// window: the window served on 127.0.0.1 and opened in the system's browser, until Ctrl-C.
import { reportBug } from '../../files/errorLog.ts';
import { makeWorkerPool } from '../../imaging/workerPool.ts';
import { hasDisplay, openBrowser } from '../../loopback/openBrowser.ts';
import { startLoopback } from '../../loopback/server.ts';
import { makeDispatch } from '../../service/dispatch.ts';
import { makeHost } from '../../service/host.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { pathOf } from '../paths.ts';
import { RENDERER_FOLDER } from '../programFolders.ts';
import type { CliSurroundings } from '../surroundings.ts';
import { productVersion } from '../version.ts';

interface WindowOptions {
  readonly port: number;
  readonly browser: boolean;
  readonly json?: boolean;
}

export async function window(
  typed: string | undefined,
  { port, browser, json }: WindowOptions,
  around: CliSurroundings,
): Promise<ExitCode> {
  const page = await around.disk.read(`${RENDERER_FOLDER}/index.html`);
  if (!page.ok) end('not-built', 'The window has not been built yet; run "npm run build" once.');
  const bug = (error: unknown) => reportBug(around.disk, around.folders.logs, error, around.now());
  const host = need(
    await makeHost({
      kind: 'loopback',
      version: productVersion(),
      disk: around.disk,
      folders: around.folders,
      pool: makeWorkerPool(),
      dialogs: null,
      now: around.now,
      newHandle: around.newHandle,
      openAtStart: typed === undefined ? null : pathOf(around, typed),
      reportBug: bug,
    }),
  );
  const server = need(
    await startLoopback({
      dispatch: makeDispatch(host.handlers, bug),
      listen: host.listen,
      rendererFolder: RENDERER_FOLDER,
      token: around.newHandle(),
      port,
      reportBug: bug,
    }),
  );
  const opened = browser && hasDisplay(around) && (await openBrowser(around, server.address));
  around.out(json ? JSON.stringify({ address: server.address, opened }) : `The window is at ${server.address}`);
  if (!json)
    around.out(
      opened ? 'Press Ctrl-C here to end it.' : 'Open this address in a browser; press Ctrl-C here to end it.',
    );
  await aborted(around.signal);
  await server.close();
  await host.close();
  return EXIT.done;
}

function aborted(signal: AbortSignal): Promise<void> {
  return signal.aborted
    ? Promise.resolve()
    : new Promise((done) => signal.addEventListener('abort', () => done(), { once: true }));
}
