// What the host is made of: everything that differs between desktop, loopback and tests, handed in as values.

import type { EventName, EventValue } from '../../shared/contract/contract.ts';
import type { Disk } from '../files/disk.ts';
import type { UserFolders } from '../files/userFolders.ts';
import type { WorkerPool } from '../imaging/workerPool.ts';

/** What is to be chosen; `table`: body measurements as CSV or JSON. */
export type FileKind = 'set' | 'photos' | 'drawings' | 'table';

/** File dialogs of the desktop. Each gives null (or nothing) when the person changes their mind. */
export interface Dialogs {
  readonly pickFiles: (kind: FileKind) => Promise<readonly string[]>;
  readonly pickTarget: (suggestedName: string) => Promise<string | null>;
}

export interface HostParts {
  readonly kind: 'desktop' | 'loopback';
  readonly version: string;
  readonly disk: Disk;
  readonly folders: UserFolders;
  readonly pool: WorkerPool;
  /** Null where there are none: then the window sends and receives bytes. */
  readonly dialogs: Dialogs | null;
  readonly now: () => Date;
  readonly newHandle: () => string;
  /** A set to open at the start; null = whatever the journal holds, or nothing. */
  readonly openAtStart: string | null;
  /** A bug: something that is neither a failure nor the person's doing. Gives the sentence to show. */
  readonly reportBug: (error: unknown) => Promise<string>;
}

export type EventListener = <N extends EventName>(name: N, value: EventValue<N>) => void;
