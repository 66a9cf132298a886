// The marks of a shape as things that can be picked, moved and counted through by keyboard: corners, points of the selected
// edge, notches, dart points, the grainline. One list serves the mouse, the arrow keys and the drawing.
import { assertNever } from '../../../shared/base/assertNever.ts';
import type { Point } from '../../../shared/base/points.ts';
import { pointAtLength } from '../../../shared/geometry/arcLength.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import { add, distance, lerp, sub } from '../../../shared/geometry/vector.ts';
import type { Dart, Shape } from '../../../shared/pattern/model.ts';
import { seamEdge, seamlineOf } from '../../../shared/pattern/seamline.ts';
import { moveControl, moveCorner } from './outline.ts';
import { dartMark, kept, withNotchKept } from './repairing.ts';

export type MarkRef =
  | { readonly kind: 'corner'; readonly index: number }
  /** A control point inside an edge: every third lies on the line, the others are handles. */
  | { readonly kind: 'control'; readonly edge: string; readonly index: number }
  | { readonly kind: 'notch'; readonly id: string }
  | { readonly kind: 'dart-leg'; readonly id: string; readonly leg: 0 | 1 }
  | { readonly kind: 'dart-apex'; readonly id: string }
  | { readonly kind: 'grain'; readonly part: 'from' | 'to' | 'whole' };

export interface PlacedMark {
  readonly ref: MarkRef;
  readonly at: Point;
}

/** Every mark of the shape and where it is, in an order that a person can follow; the handles only of the given edge. */
export function marksOf(shape: Shape, openEdge: string | null): PlacedMark[] {
  const refs: MarkRef[] = [
    ...shape.ring.map((_, index): MarkRef => ({ kind: 'corner', index })),
    ...shape.ring
      .filter((edge) => edge.id === openEdge)
      .flatMap((edge) =>
        edge.curve.slice(1, -1).map((_, i): MarkRef => ({ kind: 'control', edge: edge.id, index: i + 1 })),
      ),
    ...shape.notches.map(({ id }): MarkRef => ({ kind: 'notch', id })),
    ...shape.darts.flatMap(({ id }): MarkRef[] => [
      { kind: 'dart-leg', id, leg: 0 },
      { kind: 'dart-leg', id, leg: 1 },
      { kind: 'dart-apex', id },
    ]),
    ...(shape.grainline === null
      ? []
      : (['from', 'to', 'whole'] as const).map((part): MarkRef => ({ kind: 'grain', part }))),
  ];
  return refs.flatMap((ref) => {
    const at = markPoint(shape, ref);
    return at === null ? [] : [{ ref, at }];
  });
}

/** Where a mark is; null when the shape has it no more. */
export function markPoint(shape: Shape, ref: MarkRef): Point | null {
  switch (ref.kind) {
    case 'corner':
      return shape.ring[ref.index]?.curve.at(-1) ?? null;
    case 'control':
      return shape.ring.find((edge) => edge.id === ref.edge)?.curve[ref.index] ?? null;
    case 'notch': {
      const notch = shape.notches.find(({ id }) => id === ref.id);
      const seam = notch && seamEdge(shape, notch.edge);
      return notch === undefined || seam === undefined ? null : pointAtLength(seam.path, notch.atMm).point;
    }
    case 'dart-leg':
      return shape.darts.find(({ id }) => id === ref.id)?.legs[ref.leg] ?? null;
    case 'dart-apex':
      return shape.darts.find(({ id }) => id === ref.id)?.apex ?? null;
    case 'grain': {
      const grain = shape.grainline;
      if (grain === null) return null;
      return ref.part === 'whole' ? lerp(grain.from, grain.to, 0.5) : grain[ref.part];
    }
    default:
      return assertNever(ref);
  }
}

/** The mark moved as near to `to` as it can be: notches and dart legs stay on their line. */
export function moveMark(shape: Shape, ref: MarkRef, to: Point): Shape {
  switch (ref.kind) {
    case 'corner':
      return moveCorner(shape, ref.index, to);
    case 'control':
      return moveControl(shape, ref.edge, ref.index, to);
    case 'notch':
      return withNotchKept(shape, moveNotchTo(shape, ref.id, to), ref.id);
    case 'dart-leg':
      return withDart(shape, ref.id, (dart) => {
        const curve = shape.ring.find(({ id }) => id === dart.edge)?.curve;
        const at = curve === undefined ? to : nearestOnPath(curve, to).point;
        return { ...dart, legs: ref.leg === 0 ? [at, dart.legs[1]] : [dart.legs[0], at] };
      });
    case 'dart-apex':
      return withDart(shape, ref.id, (dart) => ({ ...dart, apex: to }));
    case 'grain':
      return grainKept(shape, moveGrain(shape, ref.part, to));
    default:
      return assertNever(ref);
  }
}

/** What a mark is called, for lists, the status line and undo. */
export function markName(shape: Shape, ref: MarkRef): string {
  switch (ref.kind) {
    case 'corner': {
      const next = shape.ring[(ref.index + 1) % shape.ring.length];
      return `the corner of ${shape.ring[ref.index]?.label ?? '?'} and ${next?.label ?? '?'}`;
    }
    case 'control': {
      const label = shape.ring.find(({ id }) => id === ref.edge)?.label ?? '?';
      return ref.index % 3 === 0 ? `a point on ${label}` : `a handle of ${label}`;
    }
    case 'notch': {
      const notch = shape.notches.find(({ id }) => id === ref.id);
      return `the notch on ${shape.ring.find(({ id }) => id === notch?.edge)?.label ?? '?'}`;
    }
    case 'dart-leg':
      return 'a dart leg';
    case 'dart-apex':
      return 'the dart point';
    case 'grain':
      return 'the grainline';
    default:
      return assertNever(ref);
  }
}

export function sameMark(a: MarkRef | null, b: MarkRef | null): boolean {
  return a !== null && b !== null && JSON.stringify(a) === JSON.stringify(b);
}

/** A notch goes to the seamline that is nearest, its own edge or another. */
function moveNotchTo(shape: Shape, id: string, to: Point): Shape {
  const place = nearestOnSeam(shape, to);
  return {
    ...shape,
    notches: shape.notches.map((notch) => (notch.id === id ? { ...notch, edge: place.edge, atMm: place.atMm } : notch)),
  };
}

/** The seamline nearest to a point, and where along it. */
export function nearestOnSeam(
  shape: Shape,
  to: Point,
): { readonly edge: string; readonly atMm: number; readonly point: Point } {
  const places = seamlineOf(shape).edges.map(({ edge, path }) => ({ edge: edge.id, ...nearestOnPath(path, to) }));
  const best = places.toSorted((a, b) => a.distanceMm - b.distanceMm)[0];
  if (best === undefined) throw new Error('a shape has at least one edge');
  return best;
}

function withDart(shape: Shape, id: string, change: (dart: Dart) => Dart): Shape {
  const before = shape.darts.find((dart) => dart.id === id);
  if (before === undefined) return shape;
  const next = change(before);
  const after = { ...shape, darts: shape.darts.map((dart) => (dart === before ? next : dart)) };
  return kept(shape, after, { kind: 'mark-moved', from: before.apex, mark: dartMark(next) });
}

function grainKept(before: Shape, after: Shape): Shape {
  const [was, is] = [before.grainline, after.grainline];
  if (was === null || is === null || was === is) return after;
  const from = lerp(was.from, was.to, 0.5);
  return kept(before, after, { kind: 'mark-moved', from, mark: { kind: 'grainline', ...is } });
}

function moveGrain(shape: Shape, part: 'from' | 'to' | 'whole', to: Point): Shape {
  const grain = shape.grainline;
  if (grain === null) return shape;
  if (part !== 'whole') {
    const other = part === 'from' ? grain.to : grain.from;
    return distance(other, to) === 0 ? shape : { ...shape, grainline: { ...grain, [part]: to } };
  }
  const delta = sub(to, lerp(grain.from, grain.to, 0.5));
  return { ...shape, grainline: { ...grain, from: add(grain.from, delta), to: add(grain.to, delta) } };
}
