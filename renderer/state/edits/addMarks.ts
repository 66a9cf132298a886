// Marks put on a shape, counted differently, or taken off again.
import type { Point } from '../../../shared/base/points.ts';
import { pathLengthMm, pointAtLength } from '../../../shared/geometry/arcLength.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import { distance, lerp } from '../../../shared/geometry/vector.ts';
import type { Grainline, Notch, Shape } from '../../../shared/pattern/model.ts';
import { seamEdge } from '../../../shared/pattern/seamline.ts';
import { type MarkRef, nearestOnSeam } from './marks.ts';
import { nearestEdge } from './outline.ts';
import { dartMark, kept, notchMark, withNotchKept } from './repairing.ts';

/** Mouth of a new dart before its legs are put in place: a plain small dart. */
const NEW_DART_MOUTH_MM = 20;

/** A single notch on the nearest seamline. */
export function addNotch(shape: Shape, at: Point): { readonly shape: Shape; readonly ref: MarkRef } {
  const { edge, atMm } = nearestOnSeam(shape, at);
  const id = freeId(shape, 'n');
  const notch: Notch = { id, edge, atMm, count: 1, purpose: 'match', mate: { kind: 'unknown' } };
  const after = { ...shape, notches: [...shape.notches, notch] };
  const deed = { kind: 'mark-added', mark: notchMark(after, notch) } as const;
  return { shape: kept(shape, after, deed), ref: { kind: 'notch', id } };
}

export function setNotch(shape: Shape, id: string, change: Partial<Pick<Notch, 'count' | 'purpose' | 'atMm'>>): Shape {
  const notches = shape.notches.map((notch) => {
    if (notch.id !== id) return notch;
    const lengthMm = seamEdge(shape, notch.edge)?.lengthMm ?? Number.POSITIVE_INFINITY;
    const atMm = Math.min(Math.max(change.atMm ?? notch.atMm, 0), lengthMm);
    return { ...notch, ...change, atMm };
  });
  return withNotchKept(shape, { ...shape, notches }, id);
}

/** A dart whose mouth opens where the nearest edge is, its point at `apex`. */
export function addDart(shape: Shape, mouth: Point, apex: Point): { readonly shape: Shape; readonly ref: MarkRef } {
  const { edge } = nearestEdge(shape, mouth);
  const { atMm } = nearestOnPath(edge.curve, mouth);
  const lengthMm = pathLengthMm(edge.curve);
  const half = Math.min(NEW_DART_MOUTH_MM, lengthMm) / 2;
  const middle = Math.min(Math.max(atMm, half), lengthMm - half);
  const id = freeId(shape, 'd');
  const leg = (mm: number) => pointAtLength(edge.curve, mm).point;
  const dart = { id, edge: edge.id, legs: [leg(middle - half), leg(middle + half)] as const, apex, foldTo: null };
  const after = { ...shape, darts: [...shape.darts, dart] };
  return { shape: kept(shape, after, { kind: 'mark-added', mark: dartMark(dart) }), ref: { kind: 'dart-apex', id } };
}

/** A grainline from one point to another; nothing when both are the same. */
export function setGrainline(shape: Shape, from: Point, to: Point): Shape {
  if (distance(from, to) === 0) return shape;
  const heads: Grainline['heads'] = shape.grainline?.heads ?? 2;
  const mark = { kind: 'grainline', from, to, heads } as const;
  return kept(shape, { ...shape, grainline: { from, to, heads } }, { kind: 'mark-added', mark });
}

/** Takes the mark off; corners and points of the line stay, since the line needs them. */
export function removeMark(shape: Shape, ref: MarkRef): Shape {
  switch (ref.kind) {
    case 'corner':
    case 'control':
      return shape;
    case 'notch': {
      const gone = shape.notches.find(({ id }) => id === ref.id);
      if (gone === undefined) return shape;
      const after = { ...shape, notches: shape.notches.filter((notch) => notch !== gone) };
      return kept(shape, after, { kind: 'mark-removed', mark: 'notch', at: notchMark(shape, gone).at });
    }
    case 'dart-leg':
    case 'dart-apex': {
      const gone = shape.darts.find(({ id }) => id === ref.id);
      if (gone === undefined) return shape;
      const after = { ...shape, darts: shape.darts.filter((dart) => dart !== gone) };
      return kept(shape, after, { kind: 'mark-removed', mark: 'dart', at: gone.apex });
    }
    case 'grain': {
      const { grainline } = shape;
      if (grainline === null) return shape;
      const at = lerp(grainline.from, grainline.to, 0.5);
      return kept(shape, { ...shape, grainline: null }, { kind: 'mark-removed', mark: 'grainline', at });
    }
  }
}

/** An id that no mark of the shape has. */
function freeId(shape: Shape, letter: string): string {
  const taken = new Set([...shape.notches, ...shape.darts, ...shape.pleats, ...shape.marks].map(({ id }) => id));
  let count = 1;
  while (taken.has(`${letter}${count}`)) count++;
  return `${letter}${count}`;
}
