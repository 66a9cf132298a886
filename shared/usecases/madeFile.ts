// A file that a use case makes: named and filled, not yet anywhere.

export interface MadeFile {
  readonly name: string;
  readonly mime: string;
  /** Text is written as UTF-8. */
  readonly content: string | Uint8Array;
}
