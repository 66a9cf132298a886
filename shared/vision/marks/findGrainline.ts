// The grainline: a long straight line inside the piece with one or two arrow heads, whatever crosses it. Without heads only
// a long line that stands free and alone passes.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { distance } from '../../geometry/vector.ts';
import type { Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { inLine, lineAngleDeg, moved } from '../ink/polyline.ts';
import type { TracedMark } from '../traced.ts';
import { crossesPiece } from './acrossPiece.ts';
import { type ArrowHead, arrowHeadAt } from './arrowHead.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export type GrainlineMark = Extract<TracedMark, { kind: 'grainline' }>;

interface Candidate {
  readonly index: number;
  readonly from: Point;
  readonly to: Point;
  readonly fromHead: ArrowHead | null;
  readonly toHead: ArrowHead | null;
  readonly lengthMm: number;
}

export function findGrainline(
  photo: Photo,
  plane: PlaneMap,
  lines: readonly MarkLine[],
  outline: OutlineIndex,
): { grainline: GrainlineMark; line: MarkLine } | null {
  const { grainline } = MARK_LIMITS;
  const candidates = lines.flatMap((line, index): Candidate[] => {
    if (line.lengthMm < grainline.leastMm || line.lengthMm > grainline.mostMm) return [];
    if (line.straight.rms > grainline.straightMm || line.inkedMm < grainline.inkedRatio * line.lengthMm) return [];
    const [from, to] = endsOnFit(line);
    const out = line.straight.direction;
    const fromHead = arrowHeadAt(photo, plane, from, [-out[0], -out[1]], line.contrastRatio);
    const toHead = arrowHeadAt(photo, plane, to, out, line.contrastRatio);
    const score = Math.max(fromHead?.score ?? 0, toHead?.score ?? 0);
    const tipsMm = distance(fromHead?.tip ?? from, toHead?.tip ?? to);
    if (tipsMm < grainline.plainLeastMm && score < grainline.surelyHeadScore) return [];
    if (score < grainline.surelyHeadScore && followsOutline(line, outline)) return [];
    return [{ index, from: fromHead?.tip ?? from, to: toHead?.tip ?? to, fromHead, toHead, lengthMm: line.lengthMm }];
  });
  const headed = candidates.filter((c) => c.fromHead !== null || c.toHead !== null);
  const worth = (c: Candidate): number => c.lengthMm * (1 + (c.fromHead?.score ?? 0) + (c.toHead?.score ?? 0));
  const best = headed.sort((a, b) => worth(b) - worth(a))[0] ?? loneFreeLine(candidates, lines, outline);
  if (best === undefined) return null;
  const heads = ((best.fromHead ? 1 : 0) + (best.toHead ? 1 : 0)) as 0 | 1 | 2;
  const put = (p: Point): TablePointMm => tableMm(p[0], p[1]);
  const score = Math.max(best.fromHead?.score ?? 0, best.toHead?.score ?? 0);
  const mark: GrainlineMark = {
    kind: 'grainline',
    // a single head points to `to`
    from: put(heads === 1 && best.fromHead ? best.to : best.from),
    to: put(heads === 1 && best.fromHead ? best.from : best.to),
    heads,
    confidence: heads === 0 ? HEADLESS_CONFIDENCE : Math.min(1, HEADED_CONFIDENCE + score / 4),
  };
  return { grainline: mark, line: lines[best.index]! };
}

const HEADLESS_CONFIDENCE = 0.4;
const HEADED_CONFIDENCE = 0.7;

/** Both ends of a line, put onto its straight fit. */
export function endsOnFit(line: MarkLine): [Point, Point] {
  const alongs = line.points.map((p) => inLine(line.straight, p).along);
  const least = alongs.reduce((a, b) => Math.min(a, b));
  const most = alongs.reduce((a, b) => Math.max(a, b));
  return [
    moved(line.straight.centre, line.straight.direction, least),
    moved(line.straight.centre, line.straight.direction, most),
  ];
}

const OUTLINE_SAMPLES = 9;

/** A line that keeps its distance to the outline is a seamline, not a grainline. */
export function followsOutline(line: MarkLine, outline: OutlineIndex): boolean {
  const { seamlineMm, seamlineDriftMm } = MARK_LIMITS.grainline;
  const distances: number[] = [];
  for (let k = 0; k < OUTLINE_SAMPLES; k++) {
    const p = line.points[Math.round((k * (line.points.length - 1)) / (OUTLINE_SAMPLES - 1))]!;
    const place = outline.nearest(p, seamlineMm);
    if (place === null) return false;
    distances.push(place.insideMm);
  }
  const least = Math.min(...distances);
  const most = Math.max(...distances);
  // both ends reach into the corners of the seamline: as near to the outline's ends as to its side
  const [a, b] = [line.points[0]!, line.points[line.points.length - 1]!];
  const corners = [a, b].every((end) => cornerNear(end, most, outline));
  return most - least <= seamlineDriftMm && corners;
}

/** Whether the outline bends round the point: near it also in another direction. */
function cornerNear(end: Point, distanceMm: number, outline: OutlineIndex): boolean {
  const near = outline.nearest(end, distanceMm + 1);
  if (near === null) return false;
  for (const sign of [1, -1]) {
    const ahead = outline.placeAt(near.atMm + sign * 2.5 * distanceMm);
    if (lineAngleDeg(ahead.along, near.along) > MARK_LIMITS.onOutlineDeg) return true;
  }
  return false;
}

/** Without heads: the only long line whose ends are free, not one of a pair, and not drawn across the piece. */
function loneFreeLine(
  candidates: readonly Candidate[],
  lines: readonly MarkLine[],
  outline: OutlineIndex,
): Candidate | undefined {
  const { headlessLeastMm, freeEndMm, pairMm, pairDeg } = MARK_LIMITS.grainline;
  const free = candidates.filter((c) => {
    const line = lines[c.index]!;
    if (c.lengthMm < headlessLeastMm || line.endsInsideMm.some((inside) => inside < freeEndMm)) return false;
    if (crossesPiece(line, outline)) return false;
    return !lines.some(
      (other, index) =>
        index !== c.index &&
        other.lengthMm > c.lengthMm / 2 &&
        lineAngleDeg(other.straight.direction, line.straight.direction) < pairDeg &&
        Math.abs(inLine(line.straight, other.straight.centre).across) < pairMm,
    );
  });
  return free.length === 1 ? free[0] : undefined;
}
