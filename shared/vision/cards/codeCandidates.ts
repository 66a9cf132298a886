// Finds dark quadrilaterals that may be the border of a code: adaptive thresholds at one scale, rims, four straight
// sides. Their corners are where lines fitted to the sides meet.
import type { Point } from '../../base/points.ts';
import type { GrayImage } from '../image.ts';
import type { OpenCv } from '../opencv/openCv.ts';
import { type Contour, contourArea, isConvex } from '../opencv/regions.ts';
import { QUAD_LIMITS, THRESHOLD_OFFSET, THRESHOLD_WINDOWS_PX } from './findLimits.ts';

/** Four corners, clockwise on the screen, in photo pixels. */
export type Quad = readonly [Point, Point, Point, Point];

/**
 * Looks at the photo reduced to `longSidePx` (or at full size when it is not larger).
 * @returns corners in pixel-centre coordinates of the photo itself
 */
export function codeCandidates(gray: GrayImage, longSidePx: number, cv: OpenCv): Quad[] {
  const shrink = Math.max(gray.widthPx, gray.heightPx) / longSidePx;
  const small = shrink > 1 ? reduced(gray, shrink, cv) : gray;
  const scaleX = gray.widthPx / small.widthPx;
  const scaleY = gray.heightPx / small.heightPx;
  const toPhoto = ([x, y]: Point): Point => [(x + 0.5) * scaleX - 0.5, (y + 0.5) * scaleY - 0.5];
  const quads: Quad[] = [];
  for (const windowPx of THRESHOLD_WINDOWS_PX) {
    const mask = cv.adaptiveThreshold(small, { windowPx, offset: THRESHOLD_OFFSET, pick: 'dark' });
    const { contours } = cv.findContours(mask, { which: 'list', points: 'every', minPoints: QUAD_LIMITS.minRimPx });
    for (const contour of contours) {
      const quad = quadOf(contour, cv);
      if (quad !== undefined) quads.push([toPhoto(quad[0]), toPhoto(quad[1]), toPhoto(quad[2]), toPhoto(quad[3])]);
    }
  }
  return quads;
}

function reduced(gray: GrayImage, shrink: number, cv: OpenCv): GrayImage {
  return cv.resizeArea(gray, {
    widthPx: Math.max(1, Math.round(gray.widthPx / shrink)),
    heightPx: Math.max(1, Math.round(gray.heightPx / shrink)),
  });
}

function quadOf(contour: Contour, cv: OpenCv): Quad | undefined {
  const rimPx = contour.length / 2; // steps of 1 or 1.4 pixels: near enough for a filter
  if (Math.abs(contourArea(contour)) < QUAD_LIMITS.minCompactnessRatio * rimPx * rimPx) return undefined;
  const polygon = cv.approxPolyDP(contour, QUAD_LIMITS.polygonToleranceRatio * rimPx);
  if (polygon.length !== 8 || !isConvex(polygon)) return undefined;
  const at = cornerIndices(contour, polygon);
  if (at === undefined) return undefined;
  const sides = [0, 1, 2, 3].map((k) => sideLine(contour, at[k]!, at[(k + 1) % 4]!));
  const outward = contourArea(contour) > 0 ? 1 : -1;
  const corners: Point[] = [];
  for (let k = 0; k < 4; k++) {
    const before = sides[(k + 3) % 4];
    const after = sides[k];
    if (before === undefined || after === undefined) return undefined;
    corners.push(crossing(shifted(before, outward), shifted(after, outward)));
  }
  if (outward < 0) corners.reverse();
  return [corners[0]!, corners[1]!, corners[2]!, corners[3]!];
}

/** Places of the polygon's corners in the chain, in the chain's order. */
function cornerIndices(contour: Contour, polygon: Contour): number[] | undefined {
  const n = contour.length / 2;
  const found: number[] = [];
  for (let k = 0; k < polygon.length; k += 2) {
    let index = -1;
    for (let i = 0; i < n && index < 0; i++) {
      if (contour[2 * i] === polygon[k] && contour[2 * i + 1] === polygon[k + 1]) index = i;
    }
    if (index < 0) return undefined;
    found.push(index);
  }
  return found.sort((a, b) => a - b);
}

interface Line {
  readonly through: Point;
  readonly direction: Point;
}

/** Total least squares through the middle part of the chain from one corner to the next. */
function sideLine(contour: Contour, from: number, to: number): Line | undefined {
  const n = contour.length / 2;
  const length = (to - from + n) % n;
  const trim = Math.ceil(length * QUAD_LIMITS.endTrimRatio);
  const count = length - 2 * trim + 1;
  if (count < 3) return undefined;
  let [sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0];
  for (let k = 0; k < count; k++) {
    const i = (from + trim + k) % n;
    const x = contour[2 * i]!;
    const y = contour[2 * i + 1]!;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
  }
  const [mx, my] = [sx / count, sy / count];
  const angle = 0.5 * Math.atan2(2 * (sxy / count - mx * my), sxx / count - mx * mx - (syy / count - my * my));
  const start: Point = [contour[2 * from]!, contour[2 * from + 1]!];
  const end: Point = [contour[2 * to]!, contour[2 * to + 1]!];
  const along = Math.cos(angle) * (end[0] - start[0]) + Math.sin(angle) * (end[1] - start[1]);
  const sign = along < 0 ? -1 : 1;
  return { through: [mx, my], direction: [sign * Math.cos(angle), sign * Math.sin(angle)] };
}

/** Moves a side from the rim pixels' centres out to the edge; `outward` is 1 when the chain runs clockwise. */
function shifted(line: Line, outward: number): Line {
  const [dx, dy] = line.direction;
  const by = outward * QUAD_LIMITS.rimInsetPx;
  return { ...line, through: [line.through[0] + dy * by, line.through[1] - dx * by] };
}

function crossing(a: Line, b: Line): Point {
  const cross = a.direction[0] * b.direction[1] - a.direction[1] * b.direction[0];
  const [dx, dy] = [b.through[0] - a.through[0], b.through[1] - a.through[1]];
  const t = (dx * b.direction[1] - dy * b.direction[0]) / cross;
  return [a.through[0] + t * a.direction[0], a.through[1] + t * a.direction[1]];
}
