// Bad sets, each with one planted fault that a remedy can mend: the demo's dress with one thing wrong, or a few edges of exact
// length.

import { remedyById } from '../../shared/alter/remedies.ts';
import { applyRemedy } from '../../shared/alter/remedy.ts';
import type { Point } from '../../shared/base/points.ts';
import { polylinePath } from '../../shared/geometry/cubicPath.ts';
import type { PatternSet, Piece, Shape } from '../../shared/pattern/model.ts';
import { seamTraced } from './alterSets.ts';
import { notchedSides } from './nestSets.ts';
import { changed, withCurve } from './polygonPiece.ts';
import { e, type NotchSpec, piece, seam, setOf } from './sets.ts';

/** One thing done to the demo's dress as if it had been drawn so: nothing remembers how it was. */
function planted(id: string, params: Readonly<Record<string, string | number>>): PatternSet {
  const result = applyRemedy(seamTraced(), remedyById(id)!, params);
  if (!result.ok) throw new Error(result.error.sentence);
  const pieces = result.value.pieces.map(({ before: _, ...piece }): Piece => piece);
  return { ...result.value, pieces, history: [] };
}

function withShape(set: PatternSet, id: string, change: (shape: Shape) => Partial<Shape>): PatternSet {
  const pieces = set.pieces.map((p) =>
    p.id === id ? { ...p, shapes: { ...p.shapes, M: { ...p.shapes.M!, ...change(p.shapes.M!) } } } : p,
  );
  return { ...set, pieces };
}

export const shiftedNotch = () => planted('move-notch', { byMm: 7, piece: 'front-bodice', notch: 'armhole-1' });
export const dippedShoulder = () =>
  planted('true-corner', { insideDeg: 100, piece: 'front-bodice', edge: 'armhole', end: 'start' });
export const peakedNeck = () =>
  planted('true-corner', { insideDeg: 82, piece: 'front-bodice', edge: 'waist', end: 'end' });
export const tiltedGrain = () =>
  setOf([
    withGrain(
      piece('front', 'front bodice', { left: [e('fold', 400)], right: [e('side', 400)] }),
      [100, 350],
      [105, 50],
    ),
  ]);
export const tiltedBias = () =>
  setOf([
    {
      ...withGrain(
        piece('front', 'front bodice', { left: [e('fold', 400)], right: [e('side', 400)] }),
        [50, 350],
        [257, 150],
      ),
      grainIntent: 'bias',
    },
  ]);

function withGrain(p: Piece, from: Point, to: Point): Piece {
  return { ...p, shapes: { M: { ...p.shapes.M!, grainline: { from, to, heads: 2 } } } };
}

/** Two sides of 300 and 304 with notches where they are told. */
function sides(front: readonly NotchSpec[], back: readonly NotchSpec[]): PatternSet {
  return setOf(
    [
      piece('front', 'front skirt', { right: [e('side', 300, { notches: front })] }),
      piece('back', 'back skirt', { left: [e('side', 302, { notches: back })] }),
    ],
    [seam('side', 'front.side', '-back.side')],
  );
}

export const loneNotch = () => sides([{ at: 80, count: 2 }], []);
export const loneNotches = () => sides([{ at: 80 }], [{ at: 120 }]);
export const strayMate = () => sides([{ at: 80, mate: { kind: 'notch', piece: 'back', notch: 'gone' } }], []);
export const adriftNotch = () => sides([{ at: 312 }], [{ at: 20 }]);
export const notchInMouth = () =>
  setOf(
    [
      piece('front', 'front skirt', {
        top: [e('waist', 330, { darts: [[100, 30]], notches: [{ at: 108, purpose: 'match' }] })],
      }),
      piece('band', 'waistband', { bottom: [e('edge', 300, { notches: [{ at: 200 }] })] }),
    ],
    [seam('waist', 'front.waist', '-band.edge')],
  );

export const stayedNotch = () =>
  notchedSides({ M: { mm: 205, front: [100], back: [100] }, L: { mm: 215, front: [105], back: [100] } });
export const missingNotch = () =>
  notchedSides({ M: { mm: 205, front: [100], back: [100] }, L: { mm: 215, front: [105], back: [] } });

export const bentFold = () =>
  withShape(seamTraced(), 'front-bodice', ({ ring }) => ({
    ring: ring.map((edge) => {
      if (edge.role !== 'fold') return edge;
      const [a, b] = [edge.curve[0]!, edge.curve.at(-1)!];
      const aside = (p: Point, q: Point): Point => [p[0] + (q[0] - p[0]) / 3 + 4, p[1] + (q[1] - p[1]) / 3];
      return { ...edge, curve: [a, aside(a, b), aside(b, a), b] };
    }),
  }));

/** A dart on a waist of 300: the waist rises to it by so many degrees on each side, and one leg ends further out. */
function waistDart(riseDeg: number, furtherMm: number): PatternSet {
  const rise = 135 * Math.tan((riseDeg * Math.PI) / 180);
  const apex: Point = [150, 100];
  const first: Point = [135, -rise];
  const legMm = Math.hypot(15, 100 + rise);
  const longer = (legMm + furtherMm) / legMm;
  const second: Point = [150 + 15 * longer, 100 - (100 + rise) * longer];
  const back = piece('back', 'back skirt', { top: [e('waist', 300)], right: [e('side', 400)] });
  const waist = polylinePath([[0, 0], first, [150, -rise - 2], second, [300, 0]]);
  const dart = { id: 'd', edge: 'waist', legs: [first, second], apex, foldTo: null } as const;
  return setOf([changed(withCurve(back, 'waist', waist), () => ({ darts: [dart] }))]);
}

export const unequalLegs = () => waistDart(8.5, 5);
export const kinkedDart = () => waistDart(3, 0);
