// From a measured outline to a traced piece: corners, edges with their lengths and how sure those are.
import { type TablePointMm, tableMm } from '../base/points.ts';
import type { Warning } from '../base/result.ts';
import { distance } from '../geometry/vector.ts';
import { edgesWithDoubt } from '../vision/outline/doubtSigma.ts';
import { fitEdges } from '../vision/stages/fitEdges.ts';
import { splitCorners } from '../vision/stages/splitCorners.ts';
import type { TracedPiece, UnsureStretch } from '../vision/traced.ts';

/** An outline measured on one photo or put together from several, wherever it came from. */
export interface MeasuredOutline {
  readonly line: TracedPiece['line'];
  readonly points: readonly TablePointMm[];
  /** By index into `points`. */
  readonly unsure: readonly UnsureStretch[];
  readonly pointSigmaMm: number;
}

export interface PieceFacts {
  readonly id: string;
  readonly photos: readonly string[];
  readonly scaleSigmaRatio: number;
  /** Standard uncertainty of a length along a path that camera and cards bring in. */
  readonly planeSigmaMm: (path: readonly TablePointMm[]) => number;
  /** The marks, once the fitted outline is known. */
  readonly marks: (outline: readonly TablePointMm[]) => TracedPiece['marks'];
}

export function pieceFromOutline(measured: MeasuredOutline, facts: PieceFacts): TracedPiece {
  const { line, points, pointSigmaMm } = measured;
  const { id, photos, scaleSigmaRatio, planeSigmaMm } = facts;
  const fitted = fitEdges(points, splitCorners(points), { pointSigmaMm, planeSigmaMm });
  const edges = edgesWithDoubt(fitted.edges, points, measured.unsure);
  const { outline, unsure } = unsureOn(fitted.outline, points, measured.unsure);
  const marks = facts.marks(outline).filter((mark) => mark.kind !== 'notch' || !isCovered(mark.at, outline, unsure));
  return { id, photos, line, outline, edges, marks, unsure, pointSigmaMm, scaleSigmaRatio };
}

/** Whether something lay over the outline's place nearest to a point: what is seen there is not on the paper. */
function isCovered(at: TablePointMm, outline: readonly TablePointMm[], unsure: readonly UnsureStretch[]): boolean {
  const n = outline.length;
  const place = Math.floor(footOn(outline, at));
  return unsure.some(
    ({ fromIndex, toIndex, reason }) =>
      reason === 'covered' && (place - fromIndex + n) % n <= (toIndex - fromIndex - 1 + n) % n,
  );
}

/** Unsure stretches together longer than this share of the outline are worth a sentence. */
const SAID_RATIO = 0.02;

/** What to say about a piece whose outline the photo does not prove everywhere; empty when it is sure enough. */
export function outlineWarnings({ outline, unsure }: TracedPiece): Warning[] {
  const n = outline.length;
  const isUnsure = new Uint8Array(n);
  for (const { fromIndex, toIndex } of unsure) {
    for (let i = fromIndex; i !== toIndex; i = (i + 1) % n) isUnsure[i] = 1;
  }
  let unsureMm = 0;
  let wholeMm = 0;
  outline.forEach((point, i) => {
    const lengthMm = distance(point, outline[(i + 1) % n]!);
    wholeMm += lengthMm;
    if (isUnsure[i] === 1) unsureMm += lengthMm;
  });
  if (unsureMm <= SAID_RATIO * wholeMm) return [];
  return [
    {
      code: 'outline-unsure',
      message: `${Math.round(unsureMm / 10)} cm of the outline of a piece could lie elsewhere: the photo does not tell the paper from the table, from a shadow or from what covers it there. Look at the marked stretches, or photograph the piece again on a plain surface of another colour in even light.`,
    },
  ];
}

/** The stretches on the final outline, which gets points of its own where they begin and end. */
function unsureOn(
  outline: readonly TablePointMm[],
  points: readonly TablePointMm[],
  stretches: readonly UnsureStretch[],
): { outline: readonly TablePointMm[]; unsure: readonly UnsureStretch[] } {
  const n = points.length;
  const feet = stretches.flatMap(({ fromIndex, toIndex }) => [
    footOn(outline, points[fromIndex % n]!),
    footOn(outline, points[toIndex % n]!),
  ]);
  const inOrder = [...new Set(feet)].sort((a, b) => a - b);
  const grown: TablePointMm[] = [];
  const placeOf = new Map<number, number>();
  let next = 0;
  outline.forEach((point, i) => {
    grown.push(point);
    for (; next < inOrder.length && inOrder[next]! < i + 1; next++) {
      const t = inOrder[next]! - i;
      if (t > 0) {
        const end = outline[(i + 1) % outline.length]!;
        grown.push(tableMm(point[0] + t * (end[0] - point[0]), point[1] + t * (end[1] - point[1])));
      }
      placeOf.set(inOrder[next]!, grown.length - 1);
    }
  });
  const unsure = stretches.map((stretch, k) => ({
    ...stretch,
    fromIndex: placeOf.get(feet[2 * k]!)!,
    toIndex: placeOf.get(feet[2 * k + 1]!)!,
  }));
  return { outline: grown, unsure };
}

/** The nearest place on a closed outline as index of its segment plus the share of it, below the number of points. */
function footOn(outline: readonly TablePointMm[], at: TablePointMm): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const squared = dx * dx + dy * dy;
    const along = squared === 0 ? 0 : ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / squared;
    const t = Math.min(Math.max(along, 0), 1);
    const away = Math.hypot(at[0] - a[0] - t * dx, at[1] - a[1] - t * dy);
    if (away >= least) return;
    least = away;
    best = t === 1 ? (i + 1) % outline.length : i + t;
  });
  return best;
}
