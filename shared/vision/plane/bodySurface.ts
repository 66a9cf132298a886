// The shape of a piece of printed paper lying on the table: a quadratic bow of any direction, the shortening that comes
// with bending, and the height at which a bowed paper comes to rest.
import { BODY } from './bodyLayout.ts';

interface PaperShape {
  readonly halfSizeMm: number;
  readonly paperMiddleMm: readonly [number, number];
}

export interface BodySurface {
  /** Places a printed point (body millimetres, about the body's middle) on the table; results in x, y, heightMm. */
  place(xMm: number, yMm: number): void;
  x: number;
  y: number;
  heightMm: number;
}

/** Rounds the corner of max(0, .) so that the solver sees a smooth function; far below any height that matters. */
const SMOOTH_MM = 0.05;

/**
 * Surface of one body: height = lift + b0 (x^2 + y^2) + b1 (x^2 - y^2) + 2 b2 x y, x and y from the paper's
 * middle over the half size.
 * Bending does not stretch paper: a point at arc length t along the bend comes to lie at t - k^2 t^3 / 6.
 */
export function bodySurface(body: PaperShape, vector: ArrayLike<number>, printAt: number, bodyAt: number): BodySurface {
  const stretchX = 1 + vector[printAt]!;
  const stretchY = 1 + vector[printAt + 1]!;
  const turn = vector[bodyAt + BODY.turn]!;
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const originX = vector[bodyAt + BODY.x]!;
  const originY = vector[bodyAt + BODY.y]!;
  const lift = vector[bodyAt + BODY.lift]!;
  const b0 = vector[bodyAt + BODY.bow]!;
  const b1 = vector[bodyAt + BODY.bow + 1]!;
  const b2 = vector[bodyAt + BODY.bow + 2]!;
  const perSize = 1 / (body.halfSizeMm * body.halfSizeMm);
  return {
    x: 0,
    y: 0,
    heightMm: 0,
    place(xMm: number, yMm: number): void {
      let px = stretchX * xMm;
      let py = stretchY * yMm;
      const dx = px - body.paperMiddleMm[0];
      const dy = py - body.paperMiddleMm[1];
      const slopeX = 2 * perSize * ((b0 + b1) * dx + b2 * dy);
      const slopeY = 2 * perSize * (b2 * dx + (b0 - b1) * dy);
      const bow = (slopeX * dx + slopeY * dy) / 2;
      px -= (bow * slopeX) / 3;
      py -= (bow * slopeY) / 3;
      this.x = originX + cos * px - sin * py;
      this.y = originY + sin * px + cos * py;
      this.heightMm = lift + bow;
    },
  };
}

/** Height of the middle of a bowed paper whose lowest rim touches the table: 0 when its edges curl up, the sagitta when it domes. */
export function restingLiftMm(vector: ArrayLike<number>, bowAt: number): number {
  const b0 = vector[bowAt]!;
  const b1 = vector[bowAt + 1]!;
  const b2 = vector[bowAt + 2]!;
  const lowestRim = Math.sqrt(b1 * b1 + b2 * b2 + SMOOTH_MM * SMOOTH_MM) - b0;
  return (lowestRim + Math.sqrt(lowestRim * lowestRim + SMOOTH_MM * SMOOTH_MM)) / 2;
}
