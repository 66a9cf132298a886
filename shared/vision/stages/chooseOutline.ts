// Stage: which line is the piece, the paper's edge or a line drawn on the paper. A closed line that runs at one distance
// inside the paper's edge is the seamline of a cut piece; any other closed line is a piece drawn on a sheet.
import type { TablePointMm } from '../../base/points.ts';
import { pointInPolygon, resamplePolyline } from '../../geometry/polygon.ts';
import { distance } from '../../geometry/vector.ts';
import type { PaperRegion } from '../segment/paperRegion.ts';
import type { DrawnOutline } from './traceInk.ts';

export type OutlineWish = 'auto' | 'paper' | 'drawn';

export interface ChosenOutlines {
  readonly paper: readonly PaperRegion[];
  readonly drawn: readonly DrawnOutline[];
}

/** What still counts as an allowance: common practice, no source (seams to 25 mm, hems to 60 mm). */
const ALLOWANCE = { medianMm: 26, widestMm: 62, spreadMm: 14 } as const;
/** A seamline fills most of its piece; something smaller is a pocket or a label drawn on it. */
const LEAST_FILL_RATIO = 0.35;
const SAMPLE_STEP_MM = 8;

export function chooseOutline(
  regions: readonly PaperRegion[],
  drawn: readonly DrawnOutline[],
  wish: OutlineWish,
): ChosenOutlines {
  const outer = drawn.filter((ring) => !drawn.some((other) => other !== ring && encloses(other.points, ring)));
  switch (wish) {
    case 'paper':
      return { paper: regions, drawn: [] };
    case 'drawn':
      return { paper: [], drawn: outer };
    case 'auto': {
      const pieces = outer.filter((ring) => {
        const home = regions.find((region) => encloses(region.coarse.polygon, ring));
        return home === undefined || !isSeamlineOf(ring, home);
      });
      const sheets = new Set(regions.filter((region) => pieces.some((ring) => isSheetOf(region, ring))));
      const kept = pieces.filter((ring) => {
        const home = regions.find((region) => encloses(region.coarse.polygon, ring));
        return home === undefined || sheets.has(home);
      });
      return { paper: regions.filter((region) => !sheets.has(region)), drawn: kept };
    }
  }
}

/** A drawn ring makes a sheet of the paper around it when the paper is cut as a sheet, or the ring is a large part of it. */
function isSheetOf(region: PaperRegion, ring: DrawnOutline): boolean {
  if (!encloses(region.coarse.polygon, ring)) return false;
  return region.sheet || region.cutOff || ring.areaMm2 > LEAST_FILL_RATIO * region.areaMm2;
}

function isSeamlineOf(ring: DrawnOutline, region: PaperRegion): boolean {
  if (ring.areaMm2 < LEAST_FILL_RATIO * region.areaMm2) return false;
  const edge = region.coarse.polygon;
  const gaps = resamplePolyline(ring.points, SAMPLE_STEP_MM)
    .map((at) => Math.min(...edge.map((p) => distance(p, at))))
    .sort((a, b) => a - b);
  const quantile = (share: number) => gaps[Math.min(gaps.length - 1, Math.floor(share * gaps.length))]!;
  // A wide hem may lie far from the edge while all other allowances are alike.
  return (
    quantile(0.5) <= ALLOWANCE.medianMm &&
    quantile(1) <= ALLOWANCE.widestMm &&
    quantile(0.7) - quantile(0.15) <= ALLOWANCE.spreadMm
  );
}

function encloses(outer: readonly TablePointMm[], ring: DrawnOutline): boolean {
  const sample = resamplePolyline(ring.points, SAMPLE_STEP_MM * 4);
  const inside = sample.filter((at) => pointInPolygon(at, outer)).length;
  return inside > 0.95 * sample.length;
}
