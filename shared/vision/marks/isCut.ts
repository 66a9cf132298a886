// Whether a bump or dent of the outline is a notch cut in the paper: what stands out must be paper all over, and what is cut
// in must not be. Lines printed on the table beside the edge bulge an outline too, but only with their own width.
import { type Point, tableMm } from '../../base/points.ts';
import { grayAt, type Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { moved, turned } from '../ink/polyline.ts';
import type { ExcursionTip } from '../outline/findExcursions.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { OutlinePlace } from './outlineIndex.ts';

/** Places looked at in a triangle: share of its depth, and of its width there to either side. */
const DEPTHS = [0.2, 0.35, 0.5, 0.65];
const SIDES = [-0.3, 0, 0.3];
/** A dent is widest at its mouth. */
const MOUTH_DEPTHS = [0.2, 0.35, 0.5];

/** @param place the outline at the tip's foot */
export function isCut(photo: Photo, plane: PlaneMap, tip: ExcursionTip, place: OutlinePlace): boolean {
  const { cut } = MARK_LIMITS;
  const inward = turned(place.along);
  const level = (alongMm: number, insideMm: number): number => {
    const at: Point = moved(moved(place.point, place.along, alongMm), inward, insideMm);
    return grayAt(photo.gray, plane.photoFromTable(tableMm(at[0], at[1])));
  };
  const besides = cut.paperBesideMm.flatMap((along) => cut.paperDepthsMm.map((inside) => level(along, inside)));
  const paper = Math.max(1, besides.sort((a, b) => a - b)[besides.length >> 1]!);
  if (tip.shape !== 'triangle-out') {
    const off = MOUTH_DEPTHS.map((share) => Math.abs(level(0, share * tip.depthMm) / paper - 1));
    return Math.max(...off) >= cut.tableRatio;
  }
  if (tip.depthMm < cut.outLeastDepthMm || tip.widthMm < cut.outLeastWidthMm) return false;
  const places = DEPTHS.flatMap((share) =>
    SIDES.map((side) => level(2 * side * (1 - share) * tip.widthMm, -share * tip.depthMm)),
  );
  const paperlike = places.filter((value) => Math.abs(value / paper - 1) <= cut.paperRatio);
  return paperlike.length >= cut.bumpShare * places.length;
}
