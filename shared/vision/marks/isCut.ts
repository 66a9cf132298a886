// Whether a bump or dent of the outline is a notch cut in the paper: what stands out must be paper all over, and what is cut
// in must not be. Lines printed on the table beside the edge bulge an outline too, but only with their own width; where the
// table is nearly as light as the paper, its colour tells.
import { type Point, tableMm } from '../../base/points.ts';
import { medianColour } from '../colour.ts';
import { type Photo, type Rgb, rgbAt } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { moved, turned } from '../ink/polyline.ts';
import type { ExcursionTip } from '../outline/findExcursions.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { OutlinePlace } from './outlineIndex.ts';
import { apartRatio } from './tableSpots.ts';

/** Places looked at in a triangle: share of its depth, and of its width there to either side. */
const DEPTHS = [0.2, 0.35, 0.5, 0.65];
const SIDES = [-0.3, 0, 0.3];
/** A dent is widest at its mouth. */
const MOUTH_DEPTHS = [0.2, 0.35, 0.5];

/** @param place the outline at the tip's foot */
export function isCut(photo: Photo, plane: PlaneMap, tip: ExcursionTip, place: OutlinePlace): boolean {
  const { cut } = MARK_LIMITS;
  const inward = turned(place.along);
  const colour = (alongMm: number, insideMm: number): Rgb => {
    const at: Point = moved(moved(place.point, place.along, alongMm), inward, insideMm);
    return rgbAt(photo.rgb, plane.photoFromTable(tableMm(at[0], at[1])));
  };
  // beyond the tip: beside it there may be the next notch
  const beyond = (sign: 1 | -1): Rgb =>
    medianColour(
      cut.beyondAlongMm.flatMap((along) => cut.beyondMm.map((by) => colour(along, sign * (tip.depthMm + by)))),
    );
  if (tip.shape !== 'triangle-out') {
    const paper = beyond(1);
    const off = MOUTH_DEPTHS.map((share) => apartRatio(colour(0, share * tip.depthMm), paper));
    return Math.max(...off) >= cut.tableRatio;
  }
  if (tip.depthMm < cut.outLeastDepthMm || tip.widthMm < cut.outLeastWidthMm) return false;
  const paper = medianColour(cut.besideMm.flatMap((along) => cut.depthsMm.map((depth) => colour(along, depth))));
  const table = beyond(-1);
  const places = DEPTHS.flatMap((share) =>
    SIDES.map((side) => colour(2 * side * (1 - share) * tip.widthMm, -share * tip.depthMm)),
  );
  const paperlike = places.filter(
    (c) => apartRatio(c, paper) <= cut.paperRatio && apartRatio(c, paper) < apartRatio(c, table),
  );
  return paperlike.length >= cut.bumpShare * places.length;
}
