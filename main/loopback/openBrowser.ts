// Opens the system's browser, where there is a display to open it on.
import { spawn } from 'node:child_process';

export interface Desktop {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
}

export function hasDisplay({ platform, env }: Desktop): boolean {
  if (platform === 'win32' || platform === 'darwin') return true;
  return Boolean(env.DISPLAY) || Boolean(env.WAYLAND_DISPLAY);
}

/** The command that opens an address; the address is never seen by a shell. */
export function browserCommand(platform: NodeJS.Platform, address: string): readonly [string, readonly string[]] {
  if (platform === 'win32') return ['rundll32', ['url.dll,FileProtocolHandler', address]];
  return platform === 'darwin' ? ['open', [address]] : ['xdg-open', [address]];
}

/** True when a browser was started; false when there is none to start. */
export function openBrowser(desktop: Desktop, address: string): Promise<boolean> {
  const [command, args] = browserCommand(desktop.platform, address);
  return new Promise((done) => {
    const child = spawn(command, args, { stdio: 'ignore', detached: true });
    child.once('error', () => done(false));
    child.once('spawn', () => {
      child.unref();
      done(true);
    });
  });
}
