// The fold bracket: a line beside an edge whose both ends turn square toward that edge. The turned ends are judged by ink in
// the photo, since their arrow heads hide most of their lines.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { cross, sub } from '../../geometry/vector.ts';
import type { Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { lineAngleDeg, moved } from '../ink/polyline.ts';
import type { TracedMark } from '../traced.ts';
import { endsOnFit } from './findGrainline.ts';
import { inkedShare, inkPatch } from './inkProbe.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export type FoldMark = Extract<TracedMark, { kind: 'fold' }>;

export interface FoundFold {
  readonly fold: FoldMark;
  /** Line of the bracket's long run. */
  readonly index: number;
  /** The two turned ends, from the bracket to the edge. */
  readonly arms: readonly (readonly [Point, Point])[];
}

export function findFold(
  photo: Photo,
  plane: PlaneMap,
  lines: readonly MarkLine[],
  outline: OutlineIndex,
): FoundFold | null {
  let best: FoundFold | null = null;
  lines.forEach((line, index) => {
    const found = bracketOf(photo, plane, line, index, outline);
    if (found !== null && (best === null || found.fold.confidence > best.fold.confidence)) best = found;
  });
  return best;
}

function bracketOf(
  photo: Photo,
  plane: PlaneMap,
  line: MarkLine,
  index: number,
  outline: OutlineIndex,
): FoundFold | null {
  const { fold, grainline } = MARK_LIMITS;
  if (line.lengthMm < fold.leastMm || line.straight.rms > grainline.straightMm) return null;
  const [from, to] = endsOnFit(line);
  const a = outline.nearest(from, fold.farMm);
  const b = outline.nearest(to, fold.farMm);
  if (a === null || b === null) return null;
  if (Math.min(a.insideMm, b.insideMm) < fold.nearMm) return null;
  const edge = sub(b.point, a.point);
  if (lineAngleDeg(edge, line.straight.direction) > fold.parallelDeg) return null;
  const toEdge: Point = squareToward(line.straight.direction, sub(a.point, from));
  // both feet on the same side, square to the run
  if (cross(line.straight.direction, sub(a.point, from)) * cross(line.straight.direction, sub(b.point, to)) <= 0)
    return null;
  const armFrom = armAt(photo, plane, line, from, toEdge, a.insideMm);
  const armTo = armAt(photo, plane, line, to, toEdge, b.insideMm);
  if (Math.min(armFrom.inked, armTo.inked) < fold.armInkRatio) return null;
  const middles = MIDDLES.map((t) => {
    const at: Point = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    return armAt(photo, plane, line, at, toEdge, (a.insideMm + b.insideMm) / 2).inked;
  }).sort((p, q) => p - q);
  if (middles[middles.length >> 1]! > fold.middleInkRatio) return null;
  const put = (p: Point): TablePointMm => tableMm(p[0], p[1]);
  return {
    fold: {
      kind: 'fold',
      from: put(armFrom.root),
      to: put(armTo.root),
      confidence: Math.min(armFrom.inked, armTo.inked),
    },
    index,
    arms: [
      [armFrom.root, moved(armFrom.root, toEdge, a.insideMm)],
      [armTo.root, moved(armTo.root, toEdge, b.insideMm)],
    ],
  };
}

const MIDDLES = [0.2, 0.35, 0.5, 0.65, 0.8];

function squareToward(direction: Point, toward: Point): Point {
  return cross(direction, toward) > 0 ? [-direction[1], direction[0]] : [direction[1], -direction[0]];
}

/** The bracket's own corner and the edge's shadow are left out of the way. */
const SKIP_START_MM = 1;
const SKIP_END_MM = 1.5;
const PITCH_MM = 0.4;

/** The most inked way from a place of the run to the edge, within a small search to both sides. */
function armAt(
  photo: Photo,
  plane: PlaneMap,
  line: MarkLine,
  at: Point,
  toEdge: Point,
  lengthMm: number,
): { inked: number; root: Point } {
  const { armSearchMm } = MARK_LIMITS.fold;
  const patch = inkPatch(
    photo,
    plane,
    { centre: at, along: toEdge, fromMm: -6, toMm: lengthMm + 1, halfWidthMm: armSearchMm + 6, pitchMm: PITCH_MM },
    line.contrastRatio,
  );
  const across: Point = [-toEdge[1], toEdge[0]];
  let best = { inked: -1, root: at };
  for (let side = 0; side <= armSearchMm; side += PITCH_MM)
    for (const offset of side === 0 ? [0] : [side, -side]) {
      const inked = inkedShare(patch, {
        fromAlong: SKIP_START_MM,
        toAlong: lengthMm - SKIP_END_MM,
        across: offset,
        stepMm: PITCH_MM,
      });
      if (inked > best.inked) best = { inked, root: moved(at, across, offset) };
    }
  return best;
}
