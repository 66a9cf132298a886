// Where an outline follows the rim of the photo instead of the piece: such stretches are no measurement, and marks near them
// are no marks.
import { type PhotoPointPx, type TablePointMm, tableMm } from '../../base/points.ts';
import { distance } from '../../geometry/vector.ts';
import type { TracedMark } from '../traced.ts';

export interface PhotoRim {
  readonly photoFromTable: (point: TablePointMm) => PhotoPointPx;
  readonly photo: { readonly widthPx: number; readonly heightPx: number };
  readonly mmPerPixel: number;
  /** The part of the table that was straightened; pieces end there too. */
  readonly table: { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number };
}

const RIM = {
  /** Paper found this near to the rim may be cut by it. */
  nearMm: 5,
  /** Beside the rim the outline bends round the artificial corner; this much of it is given up too. */
  besideMm: 9,
} as const;

/** 1 for every point of a closed outline that lies at the rim or just beside it. */
export function rimFlags(points: readonly TablePointMm[], rim: PhotoRim): Uint8Array {
  const flags = Uint8Array.from(points, (point) => (isNear(point, rim) ? 1 : 0));
  const near = [...flags.keys()].filter((i) => flags[i] === 1);
  const n = points.length;
  for (const start of near)
    for (const step of [1, n - 1]) {
      let along = 0;
      let i = start;
      for (;;) {
        const next = (i + step) % n;
        along += distance(points[i]!, points[next]!);
        if (along > RIM.besideMm || next === start) break;
        flags[next] = 1;
        i = next;
      }
    }
  return flags;
}

/** Without the marks that lie at the rim; long ones are kept when one end lies well inside the photo. */
export function marksAwayFromRim(marks: readonly TracedMark[], rim: PhotoRim): TracedMark[] {
  return marks.filter((mark) => !isAtRim(mark, rim));
}

function isAtRim(mark: TracedMark, rim: PhotoRim): boolean {
  switch (mark.kind) {
    case 'notch':
    case 'hole':
      return isBeside(mark.at, rim);
    case 'dart':
      return [...mark.legs, mark.apex].some((point) => isBeside(point, rim));
    case 'grainline':
    case 'fold':
    case 'lengthen-shorten':
      return isBeside(mark.from, rim) && isBeside(mark.to, rim);
  }
}

function isNear(point: TablePointMm, rim: PhotoRim): boolean {
  return isWithin(point, rim, RIM.nearMm);
}

function isBeside(point: TablePointMm, rim: PhotoRim): boolean {
  return isWithin(point, rim, RIM.nearMm + RIM.besideMm);
}

function isWithin(
  [x, y]: TablePointMm,
  { photoFromTable, photo, mmPerPixel, table }: PhotoRim,
  reachMm: number,
): boolean {
  if (x < table.left + reachMm || x > table.right - reachMm) return true;
  if (y < table.top + reachMm || y > table.bottom - reachMm) return true;
  const [u, v] = photoFromTable(tableMm(x, y));
  const reachPx = reachMm / mmPerPixel;
  return u < reachPx || v < reachPx || u > photo.widthPx - reachPx || v > photo.heightPx - reachPx;
}
