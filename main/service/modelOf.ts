// The set that a window sent, as the model.
import { ok, type Result } from '../../shared/base/result.ts';
import { readSetDocument } from '../../shared/formats/set/read.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';

/** A document's set as the model, or the sentence that says what does not hold together. */
export function modelOf(document: unknown): Result<PatternSet> {
  const read = readSetDocument('The set', document);
  return read.ok ? ok(read.value.set) : read;
}
