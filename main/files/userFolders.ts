// Where this person's things lie: program data (journal, phone profiles), logs, and the archive of sets, by the custom of
// each system. NOTCHWISE_HOME puts everything below one folder.
import { join } from 'node:path';

export interface UserFolders {
  /** Recovery journal and phone profiles. */
  readonly data: string;
  /** Reports of unexpected errors. */
  readonly logs: string;
  /** Sets saved from the window when there is no dialog to choose a place. */
  readonly archive: string;
}

export interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly home: string;
  readonly env: Readonly<Record<string, string | undefined>>;
}

const APP = 'notchwise';
const APP_TITLE = 'Notchwise';

/** Source for Linux: XDG Base Directory Specification 0.8 (data and state); a relative value there is to be ignored. */
export function userFolders({ platform, home, env }: Surroundings): UserFolders {
  const own = env.NOTCHWISE_HOME;
  if (own) return { data: join(own, 'data'), logs: join(own, 'logs'), archive: join(own, 'archive') };
  const archive = join(home, 'Documents', APP_TITLE);
  if (platform === 'win32') {
    const local = env.LOCALAPPDATA ?? join(home, 'AppData', 'Local');
    return { data: join(local, APP_TITLE, 'data'), logs: join(local, APP_TITLE, 'logs'), archive };
  }
  if (platform === 'darwin') {
    const library = join(home, 'Library');
    return { data: join(library, 'Application Support', APP_TITLE), logs: join(library, 'Logs', APP_TITLE), archive };
  }
  const data = absolute(env.XDG_DATA_HOME) ?? join(home, '.local', 'share');
  const state = absolute(env.XDG_STATE_HOME) ?? join(home, '.local', 'state');
  const documents = absolute(env.XDG_DOCUMENTS_DIR) ?? join(home, 'Documents');
  return { data: join(data, APP), logs: join(state, APP), archive: join(documents, APP_TITLE) };
}

function absolute(path: string | undefined): string | undefined {
  return path?.startsWith('/') ? path : undefined;
}
