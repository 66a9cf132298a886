// Corners that a spot of the table may have made or moved. Along an edge a spot that touches the paper is bridged like a notch;
// beside a corner the edge has no room to run straight on behind it, and the outline goes around the spot.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { cross, distance, sub, unit } from '../../geometry/vector.ts';
import { medianColour } from '../colour.ts';
import { type Photo, type Rgb, rgbAt } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { moved, turned } from '../ink/polyline.ts';
import { MARK_LIMITS } from '../marks/markLimits.ts';
import { OutlineIndex, type OutlinePlace } from '../marks/outlineIndex.ts';
import { apartRatio, hasPaperlikeSpots } from '../marks/tableSpots.ts';
import { splitCorners } from '../stages/splitCorners.ts';
import type { UnsureStretch } from '../traced.ts';

/** The sides of a corner as they run where a spot beside it bends them no more: between these places, away from the corner. */
const SIDE_MM = [14, 26] as const;
/** Looked at around the place where they would meet, in squares of STEP_MM, but not nearer to a side than its softness. */
const REACH_MM = 7;
const STEP_MM = 0.5;
const SOFT_MM = 0.8;
/** Paper's colour beyond both sides on more than this is a spot. */
const LEAST_SPOT_MM2 = 2;

/**
 * Corners beside spots of the paper's colour: those with such a spot beyond their sides, and those that stand no farther apart
 * than a spot is wide. Empty on a table without such spots.
 * @param points closed, clockwise on the screen, first point not repeated
 */
export function spottedCorners(photo: Photo, plane: PlaneMap, points: readonly TablePointMm[]): UnsureStretch[] {
  const outline = new OutlineIndex(points);
  if (!hasPaperlikeSpots(photo, plane, outline)) return [];
  const colourAt = (at: Point): Rgb => rgbAt(photo.rgb, plane.photoFromTable(tableMm(at[0], at[1])));
  const corners = splitCorners(points);
  const spotted = corners.flatMap((corner, i): (readonly [number, number])[] => {
    const next = corners[(i + 1) % corners.length]!;
    if (next !== corner && distance(corner.at, next.at) <= MARK_LIMITS.spots.mostMm)
      return [[corner.alongMm, next.alongMm]];
    return spotBeyondMm2(outline, corner.alongMm, colourAt) > LEAST_SPOT_MM2
      ? [[corner.alongMm - REACH_MM, corner.alongMm + REACH_MM]]
      : [];
  });
  const alongMm = [0];
  for (let i = 1; i < points.length; i++) alongMm.push(alongMm[i - 1]! + distance(points[i - 1]!, points[i]!));
  const indexAt = (mm: number): number => {
    const wrapped = (mm + outline.lengthMm) % outline.lengthMm;
    return Math.max(
      0,
      alongMm.findLastIndex((reached) => reached <= wrapped),
    );
  };
  return spotted.map(([from, to]) => ({
    fromIndex: indexAt(from),
    toIndex: (indexAt(to) + 1) % points.length,
    reason: 'weak-edge',
  }));
}

/** Area of the paper's colour around a corner, beyond its sides as they run farther off. */
function spotBeyondMm2(outline: OutlineIndex, cornerMm: number, colourAt: (at: Point) => Rgb): number {
  const [near, far] = SIDE_MM;
  const before = sideFrom(outline, cornerMm - far, cornerMm - near);
  const after = sideFrom(outline, cornerMm + near, cornerMm + far);
  const turn = cross(before.along, after.along);
  // Sides that run nearly the same way meet nowhere near; a dent has paper beyond its sides.
  if (turn < MIN_TURN_SINE) return 0;
  const t = cross(sub(after.point, before.point), after.along) / turn;
  const apex: Point = moved(before.point, before.along, t);
  const paper = medianColour(
    [before, after].flatMap(({ point, along }) =>
      MARK_LIMITS.cut.depthsMm.map((depth) => colourAt(moved(point, turned(along), depth))),
    ),
  );
  let spots = 0;
  for (let x = -REACH_MM; x <= REACH_MM; x += STEP_MM)
    for (let y = -REACH_MM; y <= REACH_MM; y += STEP_MM) {
      const at: Point = [apex[0] + x, apex[1] + y];
      const outMm = Math.max(outside(before, at), outside(after, at));
      if (outMm > SOFT_MM && apartRatio(colourAt(at), paper) <= MARK_LIMITS.cut.paperRatio) spots++;
    }
  return spots * STEP_MM ** 2;
}

const MIN_TURN_SINE = 0.3;

type Side = Pick<OutlinePlace, 'point' | 'along'>;

function sideFrom(outline: OutlineIndex, fromMm: number, toMm: number): Side {
  const [from, to] = [outline.placeAt(fromMm).point, outline.placeAt(toMm).point];
  return { point: from, along: unit(sub(to, from)) };
}

/** How far a point lies outside the straight line on which a place of the outline runs; inside is right of travel. */
function outside({ point, along }: Side, at: Point): number {
  return -cross(along, sub(at, point));
}
