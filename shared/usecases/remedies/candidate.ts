// What may mend a finding, before it was tried: a remedy of shared/alter with its amounts and the sentence that offers it.
import type { Params } from '../../alter/params.ts';
import type { CheckContext } from '../../checks/context.ts';
import { sizeOf } from '../../checks/findingPlace.ts';
import type { FindingJson } from '../../checks/toFindingsJson.ts';
import { cornersOf } from '../../pattern/corners.ts';
import { pieceById } from '../../pattern/lookUp.ts';
import type { Shape } from '../../pattern/model.ts';

export interface Candidate {
  /** Id of a remedy. */
  readonly id: string;
  readonly params: Params;
  readonly grade: 'safe' | 'choice';
  /** What it would do, as an instruction. */
  readonly sentence: string;
  /** Of several candidates of one way only the first that mends is offered. */
  readonly way: string;
}

/** A goal is set this much inside its limit, beyond the uncertainty. */
export const INSIDE_MM = 0.5;

/** Candidates for one finding; whether they mend is found out by whoever tries them. */
export type Propose = (finding: FindingJson, context: CheckContext) => readonly Candidate[];

/** The size that a finding is about; empty where it speaks of all. */
export function sizeNameOf(finding: FindingJson): string {
  return sizeOf(finding) ?? '';
}

export function nameOf(context: CheckContext, piece: string): string {
  return pieceById(context.set, piece)?.name ?? piece;
}

export function shapeIn(context: CheckContext, piece: string, size: string): Shape | null {
  return pieceById(context.set, piece)?.shapes[size] ?? null;
}

/** "side seam edge" by its label, else by its id. */
export function edgeName(shape: Shape | null, edge: string): string {
  const label = shape?.ring.find(({ id }) => id === edge)?.label.trim() ?? '';
  return label === '' ? edge : label;
}

/** Angle inside the corner at that end of an edge, degrees; null when the shape has no such edge. */
export function insideDegAt(shape: Shape, edge: string, end: 'start' | 'end'): number | null {
  const index = shape.ring.findIndex(({ id }) => id === edge);
  if (index < 0) return null;
  return cornersOf(shape).at(end === 'end' ? index : index - 1)?.insideDeg ?? null;
}
