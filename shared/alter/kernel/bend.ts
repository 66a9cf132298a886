// A path bent at hinges, as paper is opened along a slash: beyond a hinge everything turns as one rigid part, near it the
// turn is spread over a short reach so that no kink is left. The line that keeps its length may lie beside the path: a slash
// hinges on the seamline while the cutting line was traced.
import type { Point } from '../../base/points.ts';
import { cubicLengthMm, parameterAtLength, pathLengthMm } from '../../geometry/arcLength.ts';
import {
  type Cubic,
  type CubicPath,
  cubicDerivative,
  pointAt,
  segment,
  segmentCount,
  splitCubic,
} from '../../geometry/cubicPath.ts';
import { type Affine, apply, rigid } from '../../geometry/transform.ts';
import { add, scale, sub } from '../../geometry/vector.ts';
import { cutAt } from './blend.ts';

export interface Hinge {
  /** Millimetres along the path. */
  readonly atMm: number;
  /** Turn of everything beyond it, clockwise as seen. */
  readonly turnDeg: number;
  /** Half of the stretch over which the turn is spread. */
  readonly reachMm: number;
}

export interface Bent {
  readonly path: CubicPath;
  /** What carries the paper beside the place so far along the old path. */
  readonly mapAt: (atMm: number) => Affine;
}

/** Cubics across one hinge. */
const PIECES_AT_HINGE = 8;

/**
 * The path with its start fixed. `keptMm` is how far to the left of travel the line lies that keeps its length (negative:
 * right); 0 keeps the path's own.
 */
export function bendPath(path: CubicPath, hinges: readonly Hinge[], keptMm: number): Bent {
  const cut = cutFor(path, hinges);
  const rotated = (sMm: number, direction: Point): Point => apply(rigid(turnAt(hinges, sMm), [0, 0]), direction);
  const shrink = (sMm: number) => 1 - (keptMm * turnRateDeg(hinges, sMm) * Math.PI) / 180;
  const out: Point[] = [cut[0]!];
  let sMm = 0;
  for (let i = 0; i < segmentCount(cut); i++) {
    const cubic = segment(cut, i);
    const lengthMm = cubicLengthMm(cubic, 0, 1);
    const start = out.at(-1)!;
    const speed = (u: number): Point => {
      const atMm = sMm + cubicLengthMm(cubic, 0, u);
      return scale(rotated(atMm, cubicDerivative(cubic, u)), shrink(atMm));
    };
    const end = add(start, integral(speed));
    out.push(add(start, scale(rotated(sMm, sub(cubic[1], cubic[0])), shrink(sMm))));
    const endMm = sMm + lengthMm;
    out.push(sub(end, scale(rotated(endMm, sub(cubic[3], cubic[2])), shrink(endMm))));
    out.push(end);
    sMm = endMm;
  }
  const mapAt = (atMm: number): Affine => {
    const was = pointAt(cut, parameterAtLength(cut, atMm));
    const now = pointAt(out, parameterAtLength(cut, atMm));
    const turn = rigid(turnAt(hinges, atMm), [0, 0]);
    const offset = sub(now, apply(turn, was));
    return [turn[0], turn[1], turn[2], turn[3], offset[0], offset[1]];
  };
  return { path: out, mapAt };
}

/** Turn of the paper at a place: the smooth steps of all hinges before it. */
function turnAt(hinges: readonly Hinge[], sMm: number): number {
  return hinges.reduce((sum, { atMm, turnDeg, reachMm }) => {
    const x = Math.min(1, Math.max(0, (sMm - atMm + reachMm) / (2 * reachMm)));
    return sum + turnDeg * x * x * (3 - 2 * x);
  }, 0);
}

/** Degrees per millimetre. */
function turnRateDeg(hinges: readonly Hinge[], sMm: number): number {
  return hinges.reduce((sum, { atMm, turnDeg, reachMm }) => {
    const x = Math.min(1, Math.max(0, (sMm - atMm + reachMm) / (2 * reachMm)));
    return sum + (turnDeg * 6 * x * (1 - x)) / (2 * reachMm);
  }, 0);
}

function cutFor(path: CubicPath, hinges: readonly Hinge[]): CubicPath {
  const totalMm = pathLengthMm(path);
  const inside = (atMm: number) => Math.min(totalMm, Math.max(0, atMm));
  const knotted = hinges
    .flatMap(({ atMm, reachMm }) => [inside(atMm - reachMm), inside(atMm), inside(atMm + reachMm)])
    .reduce((cut, atMm) => cutAt(cut, atMm, 0), path);
  const out: Point[] = [knotted[0]!];
  let doneMm = 0;
  for (let i = 0; i < segmentCount(knotted); i++) {
    const cubic = segment(knotted, i);
    const lengthMm = cubicLengthMm(cubic, 0, 1);
    const middleMm = doneMm + lengthMm / 2;
    const hinge = hinges.find(({ atMm, reachMm }) => Math.abs(middleMm - atMm) < reachMm);
    const pieces = hinge === undefined ? 1 : Math.ceil((PIECES_AT_HINGE * lengthMm) / (2 * hinge.reachMm));
    for (const [, q, r, s] of evenParts(cubic, Math.max(1, pieces))) out.push(q, r, s);
    doneMm += lengthMm;
  }
  return out;
}

function evenParts(cubic: Cubic, pieces: number): Cubic[] {
  const parts: Cubic[] = [];
  let rest = cubic;
  for (let k = pieces; k > 1; k--) {
    const [left, right] = splitCubic(rest, 1 / k);
    parts.push(left);
    rest = right;
  }
  return [...parts, rest];
}

/** Integral over [0, 1] by the 5-point Gauss-Legendre rule (Abramowitz & Stegun, table 25.4). */
function integral(f: (u: number) => Point): Point {
  return GAUSS_5.reduce<Point>((sum, [node, weight]) => add(sum, scale(f((1 + node) / 2), weight / 2)), [0, 0]);
}

const GAUSS_5: readonly (readonly [node: number, weight: number])[] = [
  [-0.906179845938664, 0.236926885056189],
  [-0.538469310105683, 0.478628670499366],
  [0, 0.568888888888889],
  [0.538469310105683, 0.478628670499366],
  [0.906179845938664, 0.236926885056189],
];
