// What a finished measure is: a length of the sewn garment as it is worn, with its uncertainty, where on the pieces it was
// taken, and, where it could not be taken, why not.
import type { Point } from '../base/points.ts';
import type { Length } from '../pattern/measure.ts';
import type { Piece } from '../pattern/model.ts';

/** Girths and widths first, then lengths, then openings; each is compared with the body measure beside it. */
export const FINISHED_MEASURES = [
  { id: 'bust', body: 'bust' },
  { id: 'waist', body: 'waist' },
  { id: 'hip', body: 'hip' },
  { id: 'biceps', body: 'biceps' },
  { id: 'thigh', body: 'thigh' },
  { id: 'across back', body: 'across back' },
  { id: 'across front', body: 'across front' },
  { id: 'shoulder', body: 'shoulder' },
  { id: 'back length', body: 'back length' },
  { id: 'sleeve length', body: 'sleeve length' },
  { id: 'crotch depth', body: 'crotch depth' },
  { id: 'inseam', body: 'inseam' },
  { id: 'skirt length', body: 'skirt length' },
  { id: 'neck opening', body: 'head' },
  { id: 'waist opening', body: 'hip' },
  { id: 'hand opening', body: 'hand' },
  { id: 'foot opening', body: 'foot' },
] as const;
export type MeasureId = (typeof FINISHED_MEASURES)[number]['id'];

export type MeasuredLine =
  | { readonly kind: 'segment'; readonly piece: string; readonly from: Point; readonly to: Point }
  | { readonly kind: 'edge'; readonly piece: string; readonly edge: string };

export interface FinishedMeasure {
  readonly id: MeasureId;
  /** As worn, in the round where it is a girth; an opening closed. */
  readonly length: Length;
  /** The pieces show half of the round: people measure the half on the table. */
  readonly isHalved: boolean;
  readonly lines: readonly MeasuredLine[];
  readonly notes: readonly FinishedNote[];
  readonly opening: Opening | null;
}

/** `pleats-open`: counted open, as they hang at that level. `without-cuff`: a cuff is sewn on and not counted. */
export type FinishedNote = 'pleats-open' | 'by-band' | 'without-cuff';

/** What a garment passes over: closed girth, and how much more when it is undone. */
export interface Opening {
  /** How far it opens beside the edge; null where nothing opens. */
  readonly slitMm: number | null;
  /** The girth undone: both sides of the slit added; that of the garment where an elastic holds it in. */
  readonly passes: Length;
  /** False when an edge beside it is neither seam, fold nor opening: it may open there. */
  readonly isSaid: boolean;
}

export type FitProblem =
  | { readonly kind: 'no-piece' }
  | { readonly kind: 'one-half'; readonly missing: 'front' | 'back' }
  | { readonly kind: 'no-edge'; readonly piece: Piece; readonly edge: string }
  | { readonly kind: 'ends-above'; readonly piece: Piece }
  | { readonly kind: 'no-direction'; readonly piece: Piece }
  | { readonly kind: 'no-width'; readonly piece: Piece }
  | { readonly kind: 'open-end'; readonly piece: Piece; readonly edge: string };

export type Finished =
  | { readonly ok: true; readonly value: FinishedMeasure }
  | { readonly ok: false; readonly error: FitProblem };

export function missing(error: FitProblem): Finished {
  return { ok: false, error };
}

export function taken(
  id: MeasureId,
  length: Length,
  lines: readonly MeasuredLine[],
  more: Partial<Pick<FinishedMeasure, 'isHalved' | 'notes' | 'opening'>> = {},
): Finished {
  return { ok: true, value: { id, length, lines, isHalved: false, notes: [], opening: null, ...more } };
}
