// The shape of a piece of printed paper lying on the table: a quadratic bow of any direction, the shortening that comes
// with bending, and the height at which a bowed paper comes to rest.
import { BODY, BODY_COUNT } from './bodyLayout.ts';

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

/** Slopes of the placed point (x, y, height in turn) by the two print errors, then by the body's own numbers. */
export interface SurfaceSlopes {
  readonly values: Float64Array;
  at(xMm: number, yMm: number): void;
}

/** Differences for the numbers that shape the paper: small against their sigmas, large against rounding. */
const SHAPE_STEPS = { printRatio: 1e-6, bowMm: 1e-3 } as const;

export function surfaceSlopes(
  body: PaperShape,
  vector: ArrayLike<number>,
  printAt: number,
  bodyAt: number,
): SurfaceSlopes {
  const values = new Float64Array(3 * (2 + BODY_COUNT));
  const here = bodySurface(body, vector, printAt, bodyAt);
  const originX = vector[bodyAt + BODY.x]!;
  const originY = vector[bodyAt + BODY.y]!;
  const shaping = [
    ...[0, 1].map((k) => ({ index: printAt + k, row: k, step: SHAPE_STEPS.printRatio })),
    ...[0, 1, 2].map((k) => ({ index: bodyAt + BODY.bow + k, row: 2 + BODY.bow + k, step: SHAPE_STEPS.bowMm })),
  ].map(({ index, row, step }) => {
    const moved = (by: number): BodySurface => {
      const next = Float64Array.from(vector);
      next[index]! += by;
      return bodySurface(body, next, printAt, bodyAt);
    };
    return { row, step, plus: moved(step), minus: moved(-step) };
  });
  const set = (row: number, x: number, y: number, height: number): void => {
    values[3 * row] = x;
    values[3 * row + 1] = y;
    values[3 * row + 2] = height;
  };
  set(2 + BODY.x, 1, 0, 0);
  set(2 + BODY.y, 0, 1, 0);
  set(2 + BODY.lift, 0, 0, 1);
  return {
    values,
    at(xMm, yMm): void {
      here.place(xMm, yMm);
      set(2 + BODY.turn, -(here.y - originY), here.x - originX, 0);
      for (const { row, step, plus, minus } of shaping) {
        plus.place(xMm, yMm);
        minus.place(xMm, yMm);
        const per = 1 / (2 * step);
        set(row, per * (plus.x - minus.x), per * (plus.y - minus.y), per * (plus.heightMm - minus.heightMm));
      }
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
