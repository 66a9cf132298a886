// What the command line says to other programs, and how a command ends without a value.
import type { Failure, Result } from '../../shared/base/result.ts';

export const EXIT = {
  /** Done; for check: nothing to stop for or to mend. */
  done: 0,
  /** check only: something is to stop for or to mend. */
  found: 1,
  /** Could not be done; one sentence on standard error says why. */
  failed: 2,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** An expected failure on its way out of a command; caught in one place (run.ts), never shown as a trace. */
export class CommandFailure extends Error {
  readonly failure: Failure;

  constructor(failure: Failure) {
    super(failure.sentence);
    this.failure = failure;
  }
}

/** The value, or the end of the command. */
export function need<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  throw new CommandFailure(result.error);
}

export function end(code: string, sentence: string): never {
  throw new CommandFailure({ code, sentence });
}
