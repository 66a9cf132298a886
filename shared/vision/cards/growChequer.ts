// From the code outward: predicts the nearest saddles of the chequer, measures them, and lets them predict the next.
// A saddle counts only when the four squares round it are dark and light as the card says.
import type { Point } from '../../base/points.ts';
import { type GrayImage, grayAt } from '../image.ts';
import { homographyOf, mapByHomography } from '../plane/homography.ts';
import { CODE_CORNERS_UPRIGHT, SADDLES_PER_SIDE, SQUARE_MM, saddleUprightMm } from './cardLayout.ts';
import { SADDLE_LIMITS } from './findLimits.ts';
import { flat, type SeenCode } from './readCode.ts';
import { refineSaddle } from './refineSaddle.ts';
import type { LatticePoint } from './smoothLattice.ts';

export interface Saddle extends LatticePoint {
  readonly column: number;
  readonly row: number;
}

/** From this many saddles on the code's corners, which are edges and less exact, no longer take part in predicting. */
const SADDLES_WITHOUT_CODE = 9;

/** Measured neighbours that correct a prediction. */
const NEIGHBOURS = 4;

/** Measures every saddle of the card that can be seen; may be empty. */
export function growChequer(gray: GrayImage, code: SeenCode): Saddle[] {
  const found: Saddle[] = [];
  let open = allSaddles();
  let photoFromUpright = code.photoFromUpright;
  for (;;) {
    const before = found.length;
    const missed: GridPlace[] = [];
    for (const place of open) {
      const isNear = found.length === 0 ? place.row === SADDLES_PER_SIDE - 1 : found.some((s) => isBeside(s, place));
      const saddle = isNear ? measure(gray, code, photoFromUpright, found, place) : undefined;
      if (saddle === undefined) missed.push(place);
      else found.push(saddle);
    }
    open = missed;
    if (found.length === before) break;
    photoFromUpright = refit(code, found) ?? photoFromUpright;
  }
  if (found.length === 0) return found;
  // Saddles behind something that lies across the card have no measured neighbour: try each once with the whole fit.
  for (const place of open) {
    const saddle = measure(gray, code, photoFromUpright, found, place);
    if (saddle !== undefined) found.push(saddle);
  }
  return found;
}

interface GridPlace {
  readonly column: number;
  readonly row: number;
}

/** Nearest to the code first: the lowest row, from the left. */
function allSaddles(): GridPlace[] {
  const places: GridPlace[] = [];
  for (let row = SADDLES_PER_SIDE - 1; row >= 0; row--) {
    for (let column = 0; column < SADDLES_PER_SIDE; column++) places.push({ column, row });
  }
  return places;
}

function isBeside(a: GridPlace, b: GridPlace): boolean {
  return Math.abs(a.column - b.column) <= 1 && Math.abs(a.row - b.row) <= 1;
}

function refit(code: SeenCode, found: readonly Saddle[]): number[] | null {
  const useCode = found.length < SADDLES_WITHOUT_CODE || isOnOneLine(found);
  const upright = found.map((s) => s.upright);
  const photo = found.map((s) => s.photo);
  return useCode
    ? homographyOf(flat([...upright, ...CODE_CORNERS_UPRIGHT]), flat([...photo, ...code.corners]))
    : homographyOf(flat(upright), flat(photo));
}

function isOnOneLine(found: readonly Saddle[]): boolean {
  return new Set(found.map((s) => s.row)).size < 3 || new Set(found.map((s) => s.column)).size < 3;
}

function measure(
  gray: GrayImage,
  code: SeenCode,
  photoFromUpright: readonly number[],
  found: readonly Saddle[],
  { column, row }: GridPlace,
): Saddle | undefined {
  const upright = saddleUprightMm(column, row);
  const predicted = mapByHomography(photoFromUpright, upright[0], upright[1]);
  const [ox, oy] = localOffset(photoFromUpright, found, upright);
  const start: Point = [predicted[0] + ox, predicted[1] + oy];
  const axes = squareAxes(photoFromUpright, upright);
  const squarePx = Math.min(Math.hypot(...axes.right), Math.hypot(...axes.down));
  if (!(squarePx >= SADDLE_LIMITS.minSquarePx)) return undefined;
  const radiusPx = windowRadiusPx(squarePx);
  const maxShiftPx = SADDLE_LIMITS.maxShiftRatio * squarePx;
  const coarse = refineSaddle(gray, start, radiusPx, maxShiftPx);
  if (coarse === undefined) return undefined;
  // On large squares the wide window has caught the saddle; a narrow one measures it, less touched by uneven light.
  const { maxRadiusPx } = SADDLE_LIMITS;
  const photo = radiusPx > maxRadiusPx ? refineSaddle(gray, coarse, maxRadiusPx, maxRadiusPx) : coarse;
  if (photo === undefined) return undefined;
  const firstIsDark = (column + row) % 2 === 0;
  if (!isSaddleOfChequer(gray, photo, axes, firstIsDark, code.contrast)) return undefined;
  return { column, row, upright, photo };
}

function windowRadiusPx(squarePx: number): number {
  const { windowRatio, smallWindowRatio, minRadiusPx } = SADDLE_LIMITS;
  return Math.max(windowRatio * squarePx, Math.min(minRadiusPx, smallWindowRatio * squarePx));
}

/** Mean of what the nearest measured saddles are off the homography: the lens bends neighbours alike. */
function localOffset(photoFromUpright: readonly number[], found: readonly Saddle[], upright: Point): Point {
  const nearest = found
    .map((saddle) => ({ saddle, far: Math.hypot(saddle.upright[0] - upright[0], saddle.upright[1] - upright[1]) }))
    .filter(({ far }) => far < 2 * SQUARE_MM)
    .sort((a, b) => a.far - b.far)
    .slice(0, NEIGHBOURS);
  if (nearest.length === 0) return [0, 0];
  let [dx, dy] = [0, 0];
  for (const { saddle } of nearest) {
    const [x, y] = mapByHomography(photoFromUpright, saddle.upright[0], saddle.upright[1]);
    dx += (saddle.photo[0] - x) / nearest.length;
    dy += (saddle.photo[1] - y) / nearest.length;
  }
  return [dx, dy];
}

interface SquareAxes {
  readonly right: Point;
  readonly down: Point;
}

/** One square to the right and one down at a place on the card, in photo pixels. */
function squareAxes(photoFromUpright: readonly number[], [x, y]: Point): SquareAxes {
  const half = SQUARE_MM / 2;
  const from = (dx: number, dy: number) => mapByHomography(photoFromUpright, x + dx, y + dy);
  const [west, east, north, south] = [from(-half, 0), from(half, 0), from(0, -half), from(0, half)];
  return { right: [east[0] - west[0], east[1] - west[1]], down: [south[0] - north[0], south[1] - north[1]] };
}

function isSaddleOfChequer(
  gray: GrayImage,
  [x, y]: Point,
  { right, down }: SquareAxes,
  firstIsDark: boolean,
  codeContrast: number,
): boolean {
  const reach = SADDLE_LIMITS.squareProbeRatio;
  const level = (a: number, b: number) =>
    grayAt(gray, [x + a * right[0] + b * down[0], y + a * right[1] + b * down[1]]);
  // Each square is probed at three places about its probe point, the middle one counts.
  const square = (a: number, b: number) =>
    middleOf(
      level(a * reach, b * reach),
      level(a * reach * 1.3, b * reach * 0.9),
      level(a * reach * 0.9, b * reach * 1.3),
    );
  const main = [square(-1, -1), square(1, 1)];
  const other = [square(1, -1), square(-1, 1)];
  const [dark, light] = firstIsDark ? [main, other] : [other, main];
  const contrast = Math.min(...light) - Math.max(...dark);
  return contrast >= Math.max(SADDLE_LIMITS.minContrast, SADDLE_LIMITS.minContrastRatio * codeContrast);
}

function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
