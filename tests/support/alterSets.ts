// Sets that are altered in the tests, and lengths worked out without the program's own measuring: chords of a densely walked
// curve, with the mouths of darts and pleats taken out by hand.
import type { Point } from '../../shared/base/points.ts';
import { pointAt } from '../../shared/geometry/cubicPath.ts';
import { intersectLine } from '../../shared/geometry/intersect.ts';
import type { Edge, PatternSet, Piece, Shape } from '../../shared/pattern/model.ts';
import { pieceLines } from '../../shared/pattern/pieceLines.ts';
import { segmentsOf } from '../photos/cubics.ts';
import { idealSet } from '../photos/marl/idealSet.ts';
import { e, line, pieceOf, rectangle, seam } from './sets.ts';

/** Sets never change, so the drafts are worked out once for all tests of a file. */
function once(build: () => PatternSet): () => PatternSet {
  let built: PatternSet | null = null;
  return () => {
    built ??= build();
    return built;
  };
}

/** The demo's dress as designed, traced on its seamlines. */
export const seamTraced = once(() => idealSet('as designed'));

/** The same dress traced on its cutting lines. */
export const cutTraced = once(() =>
  withShapes(seamTraced(), (shape, lines) => {
    const ring = shape.ring.map((edge, i) => ({ ...edge, curve: lines[i]! }));
    const darts = shape.darts.map((dart) => {
      const { curve } = ring.find(({ id }) => id === dart.edge)!;
      const legs = dart.legs.map((leg) =>
        nearest(
          intersectLine(dart.apex, leg, curve).map((t) => pointAt(curve, t)),
          leg,
        ),
      );
      return { ...dart, legs: [legs[0]!, legs[1]!] as const };
    });
    return { ...shape, tracedLine: 'cutting', ring, darts };
  }),
);

/** Sizes M and L; L is M enlarged by 5 %. */
export function twoSizes(): PatternSet {
  const set = seamTraced();
  const factor = 1.05;
  const big = (p: Point): Point => [p[0] * factor, p[1] * factor];
  return {
    ...set,
    sizes: ['M', 'L'],
    pieces: set.pieces.map((piece) => {
      const shape = piece.shapes.M!;
      const large: Shape = {
        ...shape,
        ring: shape.ring.map((edge) => ({ ...edge, curve: edge.curve.map(big) })),
        notches: shape.notches.map((notch) => ({ ...notch, atMm: notch.atMm * factor })),
        pleats: shape.pleats.map((pleat) => ({ ...pleat, fromMm: pleat.fromMm * factor, toMm: pleat.toMm * factor })),
        darts: shape.darts.map((dart) => ({
          ...dart,
          legs: [big(dart.legs[0]), big(dart.legs[1])] as const,
          apex: big(dart.apex),
        })),
        grainline: shape.grainline && {
          ...shape.grainline,
          from: big(shape.grainline.from),
          to: big(shape.grainline.to),
        },
      };
      return { ...piece, shapes: { M: shape, L: large } };
    }),
  };
}

/**
 * The same bodice with a sleeve in two pieces: the top sleeve covers the armhole from notch to notch over the shoulder, the
 * under sleeve the rest; the underarm point lies inside the under sleeve.
 */
export const twoPieceSleeve = once((): PatternSet => {
  const set = seamTraced();
  const bodice = set.pieces
    .filter(({ kind }) => kind === 'front bodice' || kind === 'back bodice')
    // The back's notch lies where the seam begins, at the hindarm.
    .map((p) => (p.kind === 'back bodice' ? { ...p, shapes: { M: { ...p.shapes.M!, notches: [] } } } : p));
  const top = sleevePart('top', 'top sleeve', 292, -1, ['forearm', 'hindarm'], [148]);
  const under = sleevePart('under', 'under sleeve', 170, 1, ['hindarm', 'forearm'], [80]);
  const kept = set.seams.filter(({ id }) => id === 'shoulder' || id === 'side');
  const seams = [
    ...kept,
    seam(
      'sleeve-cap',
      'back-bodice.armhole@90-222 + front-bodice.armhole + back-bodice.armhole@0-90',
      'top.cap + under.cap',
      {
        join: 'eased',
        wantedEaseMm: 28,
      },
    ),
    seam('hindarm', 'under.hindarm', '-top.hindarm', { join: 'eased' }),
    seam('forearm', 'top.forearm', '-under.forearm', { join: 'eased' }),
  ];
  return { ...set, pieces: [...bodice, top, under], seams, expectedPieces: [] };
});

/** A straight panel with a cap of the given length, which leaves its corners so steeply (down where positive); right edge, then left. */
function sleevePart(
  id: string,
  kind: 'top sleeve' | 'under sleeve',
  capMm: number,
  slope: number,
  [right, left]: readonly [string, string],
  joints: readonly number[],
): Piece {
  const drawn: Point[] = [
    [0, 0],
    [60, 60 * slope],
    [140, 60 * slope],
    [200, 0],
  ];
  const factor = capMm / chords(drawn);
  const cap = drawn.map(([x, y]): Point => [x * factor, y * factor]);
  const width = cap[3]![0];
  const base = rectangle({
    top: [e('cap', 200)],
    right: [e(right, 400)],
    bottom: [e('hem', 200)],
    left: [e(left, 400)],
  });
  const corners: readonly Point[] = [
    [0, 0],
    [width, 0],
    [width, 400],
    [0, 400],
  ];
  const ring = base.ring.map((edge, i) => ({
    ...edge,
    curve: i === 0 ? cap : line(corners[i]!, corners[(i + 1) % corners.length]!),
  }));
  const notches = joints.map((atMm, i) => ({
    id: `cap-${i + 1}`,
    edge: 'cap',
    atMm,
    count: 1 as const,
    purpose: 'match' as const,
    mate: { kind: 'seam-end' as const },
  }));
  return pieceOf(id, kind, { M: { ...base, ring, notches, tracedLine: 'seam' } });
}

export function shapeOf(set: PatternSet, piece: string, size = 'M'): Shape {
  return set.pieces.find(({ id }) => id === piece)!.shapes[size]!;
}

export function edgeIn(set: PatternSet, piece: string, edge: string, size = 'M'): Edge {
  return shapeOf(set, piece, size).ring.find(({ id }) => id === edge)!;
}

/** Chords of every cubic walked in this many steps: short of the curve by less than a thousandth of a millimetre. */
const STEPS = 400;

export function chords(curve: readonly Point[]): number {
  return segmentsOf(curve).reduce((sum, [a, b, c, d]) => {
    const at = (t: number): Point => {
      const u = 1 - t;
      const mix = (k: 0 | 1) => u * u * u * a[k] + 3 * u * u * t * b[k] + 3 * u * t * t * c[k] + t * t * t * d[k];
      return [mix(0), mix(1)];
    };
    let total = sum;
    for (let i = 1; i <= STEPS; i++) {
      const [p, q] = [at((i - 1) / STEPS), at(i / STEPS)];
      total += Math.hypot(q[0] - p[0], q[1] - p[1]);
    }
    return total;
  }, 0);
}

/** Length by chords of an edge of a seam-traced piece, open. */
export function lengthOf(set: PatternSet, piece: string, edge: string, size = 'M'): number {
  return chords(edgeIn(set, piece, edge, size).curve);
}

export function start(set: PatternSet, piece: string, edge: string): Point {
  return edgeIn(set, piece, edge).curve[0]!;
}

export function end(set: PatternSet, piece: string, edge: string): Point {
  return edgeIn(set, piece, edge).curve.at(-1)!;
}

export function apart(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** Direction from a to b in degrees. */
export function headingDeg(a: Point, b: Point): number {
  return (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
}

function withShapes(
  set: PatternSet,
  change: (shape: Shape, lines: readonly (readonly Point[])[]) => Shape,
): PatternSet {
  return {
    ...set,
    pieces: set.pieces.map((piece) => ({
      ...piece,
      shapes: Object.fromEntries(
        Object.entries(piece.shapes).map(([size, shape]) => [size, change(shape, pieceLines(piece, size)!.cutting)]),
      ),
    })),
  };
}

function nearest(points: readonly Point[], to: Point): Point {
  return points.toSorted((p, q) => apart(p, to) - apart(q, to))[0]!;
}
