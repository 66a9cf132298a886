// How much surer or less sure an edge's length is for the unsure stretches of its outline. Where a stretch touches a corner the
// corner itself may lie elsewhere, and that goes into the length of both its edges in full.
import type { TablePointMm } from '../../base/points.ts';
import { flattenPath } from '../../geometry/flatten.ts';
import { distanceToSegment } from '../../geometry/polygon.ts';
import { distance } from '../../geometry/vector.ts';
import type { TracedEdge, UnsureStretch } from '../traced.ts';

/** Standard deviation of where a corner lies, by the reason of the doubt beside it. Measured on rendered scenes: a shadow's rim
 * taken for the edge lies up to 5 mm off, a faint edge up to 3 mm, a bridge is straight on. */
const CORNER_SIGMA_MM: Readonly<Record<UnsureStretch['reason'], number>> = {
  shadow: 2.5,
  'weak-edge': 1.5,
  covered: 1,
  gap: 1,
};
/** A corner is set by about this much of the edges on either side. */
const CORNER_REACH_MM = 9;
/** A wavering or straightened stretch changes the length by about this share of itself, and hardly by more than this. */
const ALONG_RATIO = 0.02;
const MOST_ALONG_MM = 1.5;
const FLAT_MM = 1;

/**
 * The edges with the doubt of their stretches in sigmaMm and localSigmaMm; edges without any come back as they are.
 * @param points measured outline that `unsure` counts in
 */
export function edgesWithDoubt(
  edges: readonly TracedEdge[],
  points: readonly TablePointMm[],
  unsure: readonly UnsureStretch[],
): TracedEdge[] {
  if (unsure.length === 0) return [...edges];
  const flat = edges.map(({ curve }) => flattenPath(curve, FLAT_MM));
  const nearestEdge = (at: TablePointMm): number => {
    const away = flat.map((line) => Math.min(...line.map((p, i) => distanceToSegment(at, p, line[i + 1] ?? p))));
    return away.indexOf(Math.min(...away));
  };
  const alongMm = edges.map(() => 0);
  const startSigma = edges.map(() => 0);
  for (const { fromIndex, toIndex, reason } of unsure) {
    const n = points.length;
    const count = (((toIndex - fromIndex) % n) + n) % n;
    for (let k = 0; k <= count; k++) {
      const at = points[(fromIndex + k) % n]!;
      alongMm[nearestEdge(at)]! += distance(at, points[(fromIndex + k + 1) % n]!);
      edges.forEach(({ curve }, e) => {
        if (distance(curve[0]!, at) < CORNER_REACH_MM)
          startSigma[e] = Math.max(startSigma[e]!, CORNER_SIGMA_MM[reason]);
      });
    }
  }
  return edges.map((edge, e) => {
    const doubtMm = Math.hypot(
      Math.min(ALONG_RATIO * alongMm[e]!, MOST_ALONG_MM),
      startSigma[e]!,
      startSigma[(e + 1) % edges.length]!,
    );
    if (doubtMm === 0) return edge;
    return {
      ...edge,
      sigmaMm: Math.hypot(edge.sigmaMm, doubtMm),
      localSigmaMm: Math.hypot(edge.localSigmaMm, doubtMm),
    };
  });
}
