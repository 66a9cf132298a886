// A cap that lies on several edges (top sleeve and under sleeve, or front and back of one sleeve): each edge takes its own part
// of the change, one of its points moves and both of its ends stay, so that the seams between the parts need not follow.
import { fail, ok, type Result } from '../../base/result.ts';
import { edgeLabels } from '../../pattern/guessEdges.ts';
import type { Shape } from '../../pattern/model.ts';
import { openMm, type WalkedSpan } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { ChangedShape } from '../record.ts';
import { edgeOf, sewnMm } from './corners.ts';
import { freerEnd, lengthenEdge } from './followLength.ts';
import { betweenPlaces, type Carry, type Change, type Reshaped, reshape } from './reshape.ts';
import { SOLVED_MM } from './solve.ts';

/** A stretch of an edge's seamline, from its start, and how much longer it becomes. */
interface Stretch {
  readonly fromMm: number;
  readonly toMm: number;
  readonly byMm: number;
}

/** Every shape that carries a part of the cap, redrawn so that each section grows by its change. */
export function redrawCapInParts(walk: SeamWalk, changesMm: readonly number[]): Result<readonly ChangedShape[]> {
  const { spans } = walk.sides[walk.sorted.fuller];
  const changed = new Map<string, ChangedShape>();
  for (const edgeId of new Set(spans.map(keyOf))) {
    const own = spans.filter((walked) => keyOf(walked) === edgeId);
    const before = changed.get(own[0]!.piece.id);
    const redrawn = redrawPart(walk, own, changesMm, before);
    if (!redrawn.ok) return redrawn;
    changed.set(redrawn.value.piece, redrawn.value);
  }
  if (changed.size === 0) return fail('no-cap', `The seam "${walk.seam.name}" has no cap to redraw.`);
  return ok([...changed.values()]);
}

function keyOf({ span }: WalkedSpan): string {
  return JSON.stringify([span.piece, span.edge]);
}

function redrawPart(
  walk: SeamWalk,
  own: readonly WalkedSpan[],
  changesMm: readonly number[],
  before: ChangedShape | undefined,
): Result<ChangedShape> {
  const { piece, span } = own[0]!;
  const shape = before?.shape ?? own[0]!.shape;
  const stretches = own
    .flatMap((walked) => stretchesOn(walk, walked, changesMm))
    .toSorted((a, b) => a.fromMm - b.fromMm);
  const edge = edgeOf(shape, span.edge);
  const lengthMm = sewnMm(shape, edge.id);
  const byMm = stretches.reduce((sum, stretch) => sum + stretch.byMm, 0);
  const place = { piece, size: walk.size, shape, labels: edgeLabels(piece, shape) };
  const places = carryOver(stretches, lengthMm);
  let now = reshape(shape, new Map([[edge.id, { curve: edge.curve, carry: places }]]));
  if (Math.abs(byMm) > SOLVED_MM) {
    // A part that is straight cannot become shorter between its ends.
    const byPoint = lengthenEdge(place, edge, byMm, { atMm: movingPlace(walk, own, lengthMm) });
    const longer = byPoint.ok ? byPoint : lengthenEdge(place, edge, byMm, freerEnd(place, edge));
    if (!longer.ok) return longer;
    now = withPlaces(shape, longer.value, edge.id, places);
  }
  const carry: ChangedShape['carry'] = (id, atMm) => now.carry(id, before?.carry(id, atMm) ?? atMm);
  return ok({ piece: piece.id, size: walk.size, shape: now.shape, carry });
}

/** The redrawn shape with the marks of one edge where its parts have their wanted lengths. */
function withPlaces(shape: Shape, redrawn: Reshaped, edgeId: string, places: Carry): Reshaped {
  const changes = shape.ring.flatMap((edge): [string, Change][] => {
    const { curve } = edgeOf(redrawn.shape, edge.id);
    if (curve === edge.curve) return [];
    return [[edge.id, { curve, carry: edge.id === edgeId ? places : (atMm) => redrawn.carry(edge.id, atMm) }]];
  });
  return reshape(shape, new Map(changes), new Map(redrawn.shape.darts.map((dart) => [dart.id, dart])));
}

function carryOver(stretches: readonly Stretch[], lengthMm: number): Carry {
  const wasMm = [0];
  const nowMm = [0];
  for (const stretch of stretches) {
    const shiftMm = nowMm.at(-1)! - wasMm.at(-1)!;
    wasMm.push(stretch.fromMm, stretch.toMm);
    nowMm.push(stretch.fromMm + shiftMm, stretch.toMm + shiftMm + stretch.byMm);
  }
  const shiftMm = nowMm.at(-1)! - wasMm.at(-1)!;
  return betweenPlaces([...wasMm, lengthMm], [...nowMm, lengthMm + shiftMm]);
}

/** The parts of the walk's sections that lie on one span, each with its share of the section's change. */
function stretchesOn(walk: SeamWalk, walked: WalkedSpan, changesMm: readonly number[]): readonly Stretch[] {
  const cap = walk.sorted.fuller;
  const endsMm = walked.startsAtMm + walked.length.valueMm;
  return walk.sections.flatMap((section, i): Stretch[] => {
    const [from, to] = [section.from.atMm[cap], section.to.atMm[cap]];
    const [a, b] = [Math.max(from, walked.startsAtMm), Math.min(to, endsMm)];
    if (b <= a) return [];
    const [p, q] = [openMm(walked, a), openMm(walked, b)];
    return [{ fromMm: Math.min(p, q), toMm: Math.max(p, q), byMm: ((changesMm[i] ?? 0) * (b - a)) / (to - from) }];
  });
}

/** A point nearer to an end than this share of the edge would kink it: the middle moves instead. */
const NEAR_END_RATIO = 0.2;

/** Where the shoulder seam meets this edge, when it does; else its middle. */
function movingPlace(walk: SeamWalk, own: readonly WalkedSpan[], lengthMm: number): number {
  const cap = walk.sorted.fuller;
  const joints = walk.anchors.filter(({ kind, pair }) => kind === 'joint' || pair?.first.kind !== pair?.second.kind);
  const inside = joints.flatMap(({ atMm }) =>
    own
      .filter(({ startsAtMm, length }) => atMm[cap] > startsAtMm && atMm[cap] < startsAtMm + length.valueMm)
      .map((walked) => openMm(walked, atMm[cap])),
  );
  const fit = inside.find((mm) => mm > NEAR_END_RATIO * lengthMm && mm < (1 - NEAR_END_RATIO) * lengthMm);
  return fit ?? lengthMm / 2;
}
