// An expected failure is a value; a throw is a bug. Failures carry a code for programs and one sentence for the person:
// what was wrong and what to do.

export interface Failure {
  readonly code: string;
  /** One plain sentence: what was wrong, what to do. Shown to the person as it is. */
  readonly sentence: string;
}

export type Result<T, E = Failure> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: E };

export function ok<T>(value: T): Result<T, never> {
  return { ok: true, value };
}

export function fail(code: string, sentence: string): Result<never, Failure> {
  return { ok: false, error: { code, sentence } };
}

/** Something worth saying that does not stop the work: a card that is bent, a layer that could not be read. */
export interface Warning {
  readonly code: string;
  readonly message: string;
}

/** Broken input yields what was readable, plus what was wrong with the rest. */
export interface Salvaged<T> {
  readonly value: T;
  readonly warnings: readonly Warning[];
}
