// The open sets: handles for the window, the state the host keeps of each, and the journal that survives a kill.
import { basename, extname } from 'node:path';
import { fail, ok, type Result, type Warning } from '../../shared/base/result.ts';
import type { OpenDocument } from '../../shared/contract/values.ts';
import { setDocument } from '../../shared/formats/set/write.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { openJournal } from '../files/journal.ts';
import { openSet, saveSet } from '../files/setStore.ts';
import type { HostParts } from './parts.ts';

export interface DocumentState {
  readonly handle: string;
  readonly title: string;
  /** Null = never saved, or opened from something that is not a set file. */
  readonly path: string | null;
  readonly set: PatternSet;
  readonly pictures: ReadonlyMap<string, Uint8Array>;
  readonly unsaved: boolean;
  readonly warnings: readonly Warning[];
}

export interface Documents {
  readonly get: (handle: string) => Result<DocumentState>;
  readonly current: () => DocumentState | null;
  readonly add: (state: Omit<DocumentState, 'handle'>) => DocumentState;
  readonly openPath: (path: string) => Promise<Result<DocumentState>>;
  /** Keeps a change and journals it. Pictures are added to those that are there. */
  readonly change: (
    handle: string,
    change: { readonly set: PatternSet; readonly pictures?: ReadonlyMap<string, Uint8Array> },
  ) => Promise<Result<DocumentState>>;
  readonly saveTo: (handle: string, path: string) => Promise<Result<DocumentState>>;
  /** Opens what an earlier run left unsaved. */
  readonly recover: () => Promise<readonly Warning[]>;
}

export function openDocuments(parts: HostParts): Documents {
  const { disk } = parts;
  const journal = openJournal(disk, parts.folders.data);
  const states = new Map<string, DocumentState>();
  let latest: string | null = null;

  const keep = (state: DocumentState): DocumentState => {
    states.set(state.handle, state);
    latest = state.handle;
    return state;
  };
  const get = (handle: string): Result<DocumentState> => {
    const state = states.get(handle);
    return state === undefined
      ? fail('no-document', 'This set is no longer open in the program; open it again.')
      : ok(state);
  };

  return {
    get,
    current: () => (latest === null ? null : (states.get(latest) ?? null)),
    add: (state) => keep({ ...state, handle: parts.newHandle() }),
    openPath: async (path) => {
      const opened = await openSet(disk, path);
      if (!opened.ok) return opened;
      const { set, pictures, warnings } = opened.value;
      const own = extname(path) === '.notchwise';
      const state = { handle: parts.newHandle(), title: set.name, path: own ? path : null, set, pictures };
      return ok(keep({ ...state, unsaved: false, warnings }));
    },
    change: async (handle, { set, pictures }) => {
      const before = get(handle);
      if (!before.ok) return before;
      const all = pictures === undefined ? before.value.pictures : new Map([...before.value.pictures, ...pictures]);
      const state = keep({ ...before.value, title: set.name, set, pictures: all, unsaved: true });
      for (const [file, bytes] of pictures ?? []) {
        const kept = await journal.keepPicture(handle, file, bytes);
        if (!kept.ok) return kept;
      }
      const kept = await journal.keep({ id: handle, title: state.title, path: state.path, set });
      return kept.ok ? ok(state) : kept;
    },
    saveTo: async (handle, path) => {
      const before = get(handle);
      if (!before.ok) return before;
      const saved = await saveSet(disk, path, before.value, parts.now());
      if (!saved.ok) return saved;
      // Changes that came in while the file was written are still unsaved.
      const now = states.get(handle) ?? before.value;
      const unsaved = now.set !== before.value.set;
      if (!unsaved) {
        const forgotten = await journal.forget(handle);
        if (!forgotten.ok) return forgotten;
      }
      return ok(keep({ ...now, path, unsaved }));
    },
    recover: async () => {
      const { entries, unreadable } = await journal.left();
      for (const entry of entries) {
        const pictures = await journal.pictures(entry.id);
        const found = `"${entry.title}" had unsaved changes when the program ended; they were brought back.`;
        keep({
          handle: entry.id,
          title: entry.title,
          path: entry.path,
          set: entry.set,
          pictures,
          unsaved: true,
          warnings: [{ code: 'recovered', message: found }],
        });
      }
      return unreadable.map((name) => ({
        code: 'broken-journal',
        message: `The recovery file ${name} could not be read and was left where it is.`,
      }));
    },
  };
}

/** What the window is told of a document. */
export function shown(state: DocumentState): OpenDocument {
  return {
    document: state.handle,
    title: state.title,
    savedAs: state.path === null ? null : basename(state.path),
    unsaved: state.unsaved,
    set: setDocument(state.set),
    pictures: state.set.shots
      .filter((shot) => shot.picture && state.pictures.has(shot.picture.file))
      .map(({ id }) => id),
    warnings: [...state.warnings],
  };
}
