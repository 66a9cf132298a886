// How inked the photo is at points of the table: 0 = paper, 1 = as dark as the pen line asked about. Paper is judged from
// the neighbourhood, so that shadows do not count.
import { type Point, tableMm } from '../../base/points.ts';
import { distance, sub, unit } from '../../geometry/vector.ts';
import { grayAt, type Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { moved } from '../ink/polyline.ts';

export interface InkPatch {
  /** Inkedness at `along` and `across` millimetres from the patch's centre; 0 outside. */
  readonly at: (alongMm: number, acrossMm: number) => number;
}

/** Share of a patch that is surely paper, as a quantile of its grey levels. */
const PAPER_QUANTILE = 0.75;

export interface PatchFrame {
  readonly centre: Point;
  /** Unit direction of "along"; "across" is a quarter turn clockwise on the screen. */
  readonly along: Point;
  readonly fromMm: number;
  readonly toMm: number;
  readonly halfWidthMm: number;
  readonly pitchMm: number;
}

/**
 * Samples a patch of the original photo.
 * @param contrastRatio the pen's darkness, share of the paper's level, that counts as fully inked
 */
export function inkPatch(photo: Photo, plane: PlaneMap, frame: PatchFrame, contrastRatio: number): InkPatch {
  const { centre, along, fromMm, toMm, halfWidthMm, pitchMm } = frame;
  const across: Point = [-along[1], along[0]];
  const columns = Math.round((toMm - fromMm) / pitchMm) + 1;
  const rows = Math.round((2 * halfWidthMm) / pitchMm) + 1;
  const levels = new Float32Array(columns * rows);
  for (let i = 0; i < columns; i++) {
    const base = moved(centre, along, fromMm + i * pitchMm);
    const a = plane.photoFromTable(tableMm(...moved(base, across, -halfWidthMm)));
    const b = plane.photoFromTable(tableMm(...moved(base, across, halfWidthMm)));
    for (let j = 0; j < rows; j++) {
      const t = j / (rows - 1);
      levels[i * rows + j] = grayAt(photo.gray, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
    }
  }
  const paper = levels.toSorted()[Math.floor(PAPER_QUANTILE * (levels.length - 1))]!;
  const depth = Math.max(1, paper * contrastRatio);
  return {
    at: (alongMm, acrossMm) => {
      const i = Math.round((alongMm - fromMm) / pitchMm);
      const j = Math.round((acrossMm + halfWidthMm) / pitchMm);
      if (i < 0 || j < 0 || i >= columns || j >= rows) return 0;
      return Math.min(1, Math.max(0, (paper - levels[i * rows + j]!) / depth));
    },
  };
}

const WAY = { pitchMm: 0.3, asideMm: 0.6, paperMm: 4 } as const;

/** Share of the straight way between two points that is ink, within a little to its sides. */
export function inkedWay(photo: Photo, plane: PlaneMap, from: Point, to: Point, contrastRatio: number): number {
  const lengthMm = distance(from, to);
  const { pitchMm, asideMm, paperMm } = WAY;
  if (lengthMm < pitchMm) return 1;
  const along = unit(sub(to, from));
  const frame = { centre: from, along, fromMm: 0, toMm: lengthMm, halfWidthMm: asideMm + paperMm, pitchMm };
  const patch = inkPatch(photo, plane, frame, contrastRatio);
  const ways = [-asideMm, 0, asideMm].map((across) =>
    inkedShare(patch, { fromAlong: 0, toAlong: lengthMm, across, stepMm: pitchMm }),
  );
  return Math.max(...ways);
}

/** Inkedness along a straight way, each point as inked as the darkest within `asideMm` to its sides. */
export function inkedShare(
  patch: InkPatch,
  way: { fromAlong: number; toAlong: number; across: number; stepMm: number },
): number {
  let inked = 0;
  let count = 0;
  const sense = Math.sign(way.toAlong - way.fromAlong) || 1;
  for (let s = way.fromAlong; sense * s <= sense * way.toAlong; s += sense * way.stepMm) {
    if (patch.at(s, way.across) > 0.5) inked++;
    count++;
  }
  return count === 0 ? 0 : inked / count;
}
