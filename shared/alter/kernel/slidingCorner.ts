// A corner that goes along one of its edges, as several alterations move it: found by those edges, taken hold of, and slid.
import { ok, type Result } from '../../base/result.ts';
import type { Edge } from '../../pattern/model.ts';
import { endGrasp, type Grasp } from '../grasp.ts';
import type { ChangedShape } from '../record.ts';
import { meeting, slideCorner } from './corners.ts';
import type { End } from './ends.ts';
import type { Place } from './find.ts';

export interface SlidingCorner {
  /** The edge that the corner goes along, and its end there. */
  readonly along: Edge;
  readonly end: End;
  /** The edge that is redrawn to it. */
  readonly other: Edge;
}

/** Null where the piece lacks one of the edges or they do not meet. */
export function slidingCorner({ shape }: Place, along: Edge | null, other: Edge | null): SlidingCorner | null {
  if (along === null || other === null) return null;
  const met = meeting(shape, along.id, other.id);
  return met && { along, end: met.endA, other };
}

/** Held by an amount that makes the edge along which it goes shorter. */
export function slidingGrasps(place: Place, param: string, corner: SlidingCorner | null): readonly Grasp[] {
  return corner === null ? [] : endGrasp(place, param, corner.along, corner.end);
}

/** The shape with the corner slid so that the edge along which it goes becomes byMm shorter; none without the corner. */
export function slid(place: Place, corner: SlidingCorner | null, byMm: number): readonly Result<ChangedShape>[] {
  if (corner === null) return [];
  const result = slideCorner(place.shape, corner.along.id, corner.other.id, byMm);
  return [result.ok ? ok({ piece: place.piece.id, size: place.size, ...result.value }) : result];
}
