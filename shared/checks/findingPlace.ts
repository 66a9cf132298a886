// What a finding is about, read from its subjects: the pieces, the seam, the size, and the seam as it is walked in that size.
import type { Seam } from '../pattern/model.ts';
import type { SeamWalk } from '../pattern/walk.ts';
import type { CheckContext } from './context.ts';
import type { Subject } from './finding.ts';

interface Placed {
  readonly subjects: readonly Subject[];
}

export function piecesOf({ subjects }: Placed): readonly string[] {
  return [...new Set(subjects.flatMap(({ piece }) => (piece === undefined ? [] : [piece])))];
}

export function seamOf({ subjects }: Placed): string | undefined {
  return subjects.find(({ seam }) => seam !== undefined)?.seam;
}

export function sizeOf({ subjects }: Placed): string | undefined {
  return subjects.find(({ size }) => size !== undefined)?.size;
}

/** The seam that a finding is about, walked in its size; null when it is about none, or cannot be walked. */
export function walkOf(finding: Placed, context: CheckContext): SeamWalk | null {
  const id = seamOf(finding);
  const seam = id === undefined ? undefined : context.once(seamsById, null).get(id);
  if (seam === undefined) return null;
  const walked = context.walk(seam, sizeOf(finding) ?? '');
  return walked.ok ? walked.value : null;
}

/** Of several with one id the first. */
function seamsById({ set }: CheckContext): ReadonlyMap<string, Seam> {
  return new Map(set.seams.toReversed().map((seam) => [seam.id, seam]));
}
