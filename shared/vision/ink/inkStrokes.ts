// Pen strokes on the table: chains of ridge points carried into millimetres, kept only where paper lies on both sides,
// with the line's width, and cut where the pen turned a corner.
import { photoPx, type TablePointMm, tableMm } from '../../base/points.ts';
import { sub } from '../../geometry/vector.ts';
import { grayAt, type Photo } from '../image.ts';
import { type CellMask, keepOnly, leaveOut, openMask } from './cellMask.ts';
import { type InkChain, linkInk } from './inkChains.ts';
import { INK_LIMITS } from './inkLimits.ts';
import { findInkPoints, type InkPoints } from './inkPoints.ts';
import type { PlaneMap, TableRing } from './planeMap.ts';
import { angleBetweenDeg, pointAtLength, runningLength } from './polyline.ts';

/** One smooth stroke of the pen, from one end or corner to the next. */
export interface InkStroke {
  /** Centre of the line, about one photo pixel apart. */
  readonly points: readonly TablePointMm[];
  /** Width of the line at each point, between the half levels; 0 where it could not be measured. */
  readonly widthMm: readonly number[];
  /** How much darker than the paper, share of the paper's level (mean). */
  readonly contrastRatio: number;
  readonly lengthMm: number;
  /** One of its ends lies at the rim of the photo: the line goes on where nothing can be seen. */
  readonly leavesPhoto: boolean;
}

export interface InkSearch {
  /** Look only inside these rings; empty = the whole photo. */
  readonly within: readonly TableRing[];
  /** Not inside these: the cards. */
  readonly without: readonly TableRing[];
}

/** All strokes of dark ink on paper in a photo. */
export function findInkStrokes(photo: Photo, plane: PlaneMap, search: InkSearch): InkStroke[] {
  const points = findInkPoints(photo.gray, plane.mmPerPixel, maskFor(photo, plane, search));
  const strokes: InkStroke[] = [];
  for (const linked of linkInk(points)) {
    if (linked.length * plane.mmPerPixel < INK_LIMITS.leastChainMm) continue;
    const whole = measureChain(photo, plane, points, withoutFadingEnds(linked, points, plane.mmPerPixel));
    if (whole === null) continue;
    strokes.push(...cutAtCorners(whole));
  }
  return strokes;
}

function maskFor(photo: Photo, plane: PlaneMap, search: InkSearch): CellMask {
  const inPhoto = (ring: TableRing) => ring.map((p) => plane.photoFromTable(tableMm(p[0], p[1])));
  let mask = openMask(photo.gray.widthPx, photo.gray.heightPx);
  if (search.within.length > 0) mask = keepOnly(mask, search.within.map(inPhoto));
  return leaveOut(mask, search.without.map(inPhoto));
}

/** At the end of a line the ridge fades and bends toward whatever is near: those points do not count. */
function withoutFadingEnds(chain: InkChain, points: InkPoints, mmPerPixel: number): InkChain {
  const responses = chain.map((i) => points.response[i]!).sort((a, b) => a - b);
  const least = INK_LIMITS.fadedResponseRatio * responses[responses.length >> 1]!;
  const most = Math.min(Math.ceil(INK_LIMITS.fadingEndMm / mmPerPixel), chain.length >> 2);
  let from = 0;
  let to = chain.length;
  while (from < most && points.response[chain[from]!]! < least) from++;
  while (chain.length - to < most && points.response[chain[to - 1]!]! < least) to--;
  return chain.slice(from, to);
}

/** A photo pixel step for reading the line's cross section. */
const PROFILE_STEP_PX = 0.5;

interface CrossSection {
  readonly widthPx: number;
  readonly contrastRatio: number;
  readonly sidesAgree: boolean;
}

function crossSection(photo: Photo, x: number, y: number, nx: number, ny: number, sidePx: number): CrossSection {
  const at = (t: number): number => grayAt(photo.gray, [x + t * nx, y + t * ny]);
  const left = (at(-sidePx) + at(-sidePx - 1)) / 2;
  const right = (at(sidePx) + at(sidePx + 1)) / 2;
  const centre = at(0);
  const half = (side: number, sign: number): number => {
    const level = (side + centre) / 2;
    let before = centre;
    for (let t = PROFILE_STEP_PX; t <= sidePx; t += PROFILE_STEP_PX) {
      const value = at(sign * t);
      if (value >= level) return t - (PROFILE_STEP_PX * (value - level)) / (value - before || 1);
      before = value;
    }
    return Number.NaN;
  };
  const brighter = Math.max(left, right);
  const bothPaper = Math.abs(left - right) <= INK_LIMITS.sideInkRatio * (brighter - centre);
  const widthPx = bothPaper ? half(left, -1) + half(right, 1) : Number.NaN;
  const paper = Math.max((left + right) / 2, 1);
  return {
    widthPx: Number.isNaN(widthPx) ? 0 : widthPx,
    contrastRatio: (paper - centre) / paper,
    sidesAgree: sameColour(photo, [x - sidePx * nx, y - sidePx * ny], [x + sidePx * nx, y + sidePx * ny]),
  };
}

function sameColour(photo: Photo, a: readonly [number, number], b: readonly [number, number]): boolean {
  const { widthPx, heightPx, data } = photo.rgb;
  const index = (p: readonly [number, number]): number => {
    const x = Math.min(Math.max(Math.round(p[0]), 0), widthPx - 1);
    const y = Math.min(Math.max(Math.round(p[1]), 0), heightPx - 1);
    return 3 * (y * widthPx + x);
  };
  const i = index(a);
  const j = index(b);
  let brightest = 1;
  let apart = 0;
  for (let c = 0; c < 3; c++) {
    brightest = Math.max(brightest, data[i + c]!, data[j + c]!);
    apart = Math.max(apart, Math.abs(data[i + c]! - data[j + c]!));
  }
  return apart / brightest <= INK_LIMITS.sidesDifferRatio;
}

function measureChain(photo: Photo, plane: PlaneMap, points: InkPoints, chain: InkChain): InkStroke | null {
  const onTable: TablePointMm[] = [];
  const widthMm: number[] = [];
  let agreeing = 0;
  let contrast = 0;
  const sidePx = Math.max(INK_LIMITS.leastSidePx, INK_LIMITS.sideMm / plane.mmPerPixel);
  for (const i of chain) {
    const [x, y, nx, ny] = [points.x[i]!, points.y[i]!, points.nx[i]!, points.ny[i]!];
    const section = crossSection(photo, x, y, nx, ny, sidePx);
    const centre = plane.tableFromPhoto(photoPx(x, y));
    const beside = plane.tableFromPhoto(photoPx(x + nx, y + ny));
    onTable.push(centre);
    widthMm.push(section.widthPx * Math.hypot(beside[0] - centre[0], beside[1] - centre[1]));
    contrast += section.contrastRatio / chain.length;
    if (section.sidesAgree) agreeing++;
  }
  if (agreeing < INK_LIMITS.sidesAgreeShare * chain.length) return null;
  const lengths = runningLength(onTable);
  return {
    points: onTable,
    widthMm,
    contrastRatio: contrast,
    lengthMm: lengths[lengths.length - 1]!,
    leavesPhoto: [chain[0]!, chain[chain.length - 1]!].some((i) => atPhotoRim(photo, points.x[i]!, points.y[i]!)),
  };
}

/** Ridges cannot be seen nearer to the photo's rim than the filter is wide; the fading end is dropped as well. */
const RIM_PX = 14;

function atPhotoRim({ gray }: Photo, x: number, y: number): boolean {
  return x < RIM_PX || y < RIM_PX || x > gray.widthPx - RIM_PX || y > gray.heightPx - RIM_PX;
}

/** Cuts a stroke where its direction changes at once, and drops the rounded ridge points there. */
function cutAtCorners(stroke: InkStroke): InkStroke[] {
  const lengths = runningLength(stroke.points);
  const corners = cornersOf(stroke, lengths);
  if (corners.length === 0) return stroke.lengthMm >= INK_LIMITS.leastChainMm ? [stroke] : [];
  const parts: InkStroke[] = [];
  let from = 0;
  const cut = (fromMm: number, toMm: number): void => {
    const keep: number[] = [];
    for (let i = 0; i < lengths.length; i++) if (lengths[i]! >= fromMm && lengths[i]! <= toMm) keep.push(i);
    if (keep.length < 2) return;
    const lengthMm = lengths[keep[keep.length - 1]!]! - lengths[keep[0]!]!;
    if (lengthMm < INK_LIMITS.leastChainMm / 2) return;
    parts.push({
      points: keep.map((i) => stroke.points[i]!),
      widthMm: keep.map((i) => stroke.widthMm[i]!),
      contrastRatio: stroke.contrastRatio,
      lengthMm,
      leavesPhoto: stroke.leavesPhoto && (keep[0] === 0 || keep[keep.length - 1] === lengths.length - 1),
    });
  };
  for (const corner of corners) {
    cut(from, lengths[corner]! - INK_LIMITS.cornerTrimMm);
    from = lengths[corner]! + INK_LIMITS.cornerTrimMm;
  }
  cut(from, stroke.lengthMm);
  return parts;
}

function cornersOf(stroke: InkStroke, lengths: Float64Array): number[] {
  const { cornerArmFromMm, cornerArmToMm, cornerTurnDeg } = INK_LIMITS;
  const turn = new Float64Array(stroke.points.length);
  const at = (mm: number) => pointAtLength(stroke.points, lengths, mm);
  for (let i = 0; i < turn.length; i++) {
    const s = lengths[i]!;
    const armMm = Math.min(cornerArmToMm, s, stroke.lengthMm - s);
    if (armMm < 2 * cornerArmFromMm) continue;
    const before = sub(at(s - cornerArmFromMm), at(s - armMm));
    const after = sub(at(s + armMm), at(s + cornerArmFromMm));
    turn[i] = angleBetweenDeg(before, after);
  }
  const corners: number[] = [];
  for (let i = 0; i < turn.length; i++) {
    if (turn[i]! < cornerTurnDeg) continue;
    let greatest = true;
    for (let j = i - 1; j >= 0 && lengths[i]! - lengths[j]! < cornerArmToMm; j--)
      if (turn[j]! >= turn[i]!) greatest = false;
    for (let j = i + 1; j < turn.length && lengths[j]! - lengths[i]! < cornerArmToMm; j++)
      if (turn[j]! > turn[i]!) greatest = false;
    if (greatest) corners.push(i);
  }
  return corners;
}
