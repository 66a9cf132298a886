// Drill holes: small round holes punched through the paper, whatever shows through them, and the circles, crosses and dots
// that are drawn instead. A spot of that size and form that is no letter and no dot of the paper's own pattern.
import { type Point, tableMm } from '../../base/points.ts';
import { distance, sub } from '../../geometry/vector.ts';
import type { Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import type { TracedMark } from '../traced.ts';
import { type Blob, interiorBlobs } from './interiorBlobs.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export type HoleMark = Extract<TracedMark, { kind: 'hole' }>;

const LEAST_CONFIDENCE = 0.5;

interface Spot {
  readonly blob: Blob;
  readonly form: 'round' | 'cross';
  readonly middle: Point;
  readonly radiusMm: number;
  readonly off: number;
}

/** @param apart tips of arrow heads and points of darts: a spot there belongs to them */
export function findHoles(photo: Photo, plane: PlaneMap, outline: OutlineIndex, apart: readonly Point[]): HoleMark[] {
  const { hole } = MARK_LIMITS;
  const small = interiorBlobs(photo, plane, outline).filter(({ reachMm }) => reachMm <= hole.writingReachMm);
  const spots = small.flatMap((blob) => spotOf(blob) ?? []);
  const pattern = new Set(spots.filter((spot) => isPattern(spot, spots)).map(({ blob }) => blob));
  const writing = small.filter((blob) => !pattern.has(blob));
  return spots
    .filter(({ blob, radiusMm }) => !pattern.has(blob) && radiusMm >= hole.leastRadiusMm)
    .filter(({ middle }) => !apart.some((point) => distance(point, middle) < hole.apartMm))
    .filter(({ middle }) => outline.nearest(middle, hole.outlineMm) === null && outline.contains(middle))
    .filter((spot) => !isLetter(spot, writing, spots))
    .map(({ middle, off }) => ({
      kind: 'hole',
      at: tableMm(middle[0], middle[1]),
      confidence: Math.min(1, LEAST_CONFIDENCE + off),
    }));
}

const SECTORS = 12;

/** The blob as a round spot, a ring or a cross of a drill hole's size; null when it is neither. */
function spotOf(blob: Blob): Spot | null {
  const { hole } = MARK_LIMITS;
  if (blob.reachMm > 2 * hole.mostRadiusMm) return null;
  const full = strengthOf(blob);
  if (full < hole.leastDipRatio) return null;
  // what is at least about half as far off as the middle: blur does not make it larger
  const cells = blob.cells.filter(({ off }) => off >= hole.halfRatio * full);
  const box = boxMiddle(cells.map(({ at }) => at));
  const extents = new Float64Array(SECTORS);
  let [two, four, weight] = [[0, 0], [0, 0], 0] as [number[], number[], number];
  let inner = 0;
  for (const { at } of cells) {
    const [x, y] = sub(at, box);
    const r = Math.hypot(x, y);
    const angle = Math.atan2(y, x);
    const sector = Math.floor(((angle + Math.PI) / (2 * Math.PI)) * SECTORS) % SECTORS;
    extents[sector] = Math.max(extents[sector]!, r);
    if (r < hole.innerCells * hole.pitchMm) inner++;
    const w = r * r;
    weight += w;
    two[0]! += w * Math.cos(2 * angle);
    two[1]! += w * Math.sin(2 * angle);
    four[0]! += w * Math.cos(4 * angle);
    four[1]! += w * Math.sin(4 * angle);
  }
  const sorted = extents.toSorted();
  const radiusMm = sorted[SECTORS - 2]! + hole.pitchMm / 2;
  if (radiusMm > hole.mostRadiusMm) return null;
  const spot = { blob, middle: box, radiusMm, off: full };
  const filled = (cells.length * hole.pitchMm ** 2) / (Math.PI * (sorted[SECTORS - 1]! + hole.pitchMm / 2) ** 2);
  if (filled >= hole.filledRatio || sorted[0]! + hole.pitchMm / 2 >= hole.roundRatio * radiusMm)
    return { ...spot, form: 'round' };
  const oval = Math.hypot(two[0]!, two[1]!) / weight;
  const fourfold = Math.hypot(four[0]!, four[1]!) / weight;
  if (blob.sign < 0 && inner > 0 && fourfold >= hole.crossRatio && oval <= hole.crossOvalRatio)
    return { ...spot, form: 'cross' };
  return null;
}

function boxMiddle(points: readonly Point[]): Point {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

/** Dots of the paper: very many alike. */
function isPattern(spot: Spot, spots: readonly Spot[]): boolean {
  const { patternCount, patternRatio } = MARK_LIMITS.hole;
  const near = (a: number, b: number): boolean => Math.max(a, b) <= patternRatio * Math.min(a, b);
  const alike = spots.filter(
    ({ blob, radiusMm, off }) => blob.sign === spot.blob.sign && near(radiusMm, spot.radiusMm) && near(off, spot.off),
  );
  return alike.length >= patternCount;
}

/** Ink of about its own size close beside it that is no such spot itself: a letter among letters. */
function isLetter(
  { blob, form, middle, radiusMm, off }: Spot,
  writing: readonly Blob[],
  spots: readonly Spot[],
): boolean {
  const { hole } = MARK_LIMITS;
  if (blob.sign > 0) return false;
  const reachMm = radiusMm + Math.max(hole.letterGapLeastMm, hole.letterGap * 2 * radiusMm);
  return writing.some((other) => {
    if (other === blob || other.sign > 0 || other.reachMm < hole.letterSize * radiusMm) return false;
    if (distance(other.middle, middle) > reachMm + other.reachMm) return false;
    if (strengthOf(other) < hole.letterStrength * off) return false;
    if (spots.some((spot) => spot.blob === other && spot.form === form)) return false;
    return other.cells.some(({ at }) => distance(at, middle) <= reachMm);
  });
}

/** How far off the paper the spot is where it is most so, a few specks aside. */
function strengthOf({ cells }: Blob): number {
  const offs = cells.map(({ off }) => off).sort((a, b) => a - b);
  return offs[Math.floor(MARK_LIMITS.hole.strongShare * offs.length)]!;
}
