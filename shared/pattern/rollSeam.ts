// One side of a seam rolled along the other, as it is walked on the table: where they touch at a given length, how every
// piece lies then, which notches have been passed and what one side has had more than the other so far. Geometry only:
// nothing is judged, nothing drawn.
import type { Point } from '../base/points.ts';
import { pointAtLength } from '../geometry/arcLength.ts';
import { flattenRing } from '../geometry/flatten.ts';
import { isClockwise } from '../geometry/polygon.ts';
import { type Affine, apply, compose, identity } from '../geometry/transform.ts';
import { angleDeg, scale } from '../geometry/vector.ts';
import { type Corner, cornersOf } from './corners.ts';
import type { Piece, Shape } from './model.ts';
import { type SeamEdge, seamlineOf } from './seamline.ts';
import { openMm, spanAt, type WalkedSide, type WalkedSpan } from './spans.ts';
import type { Anchor, SeamWalk } from './walk.ts';

/**
 * `even`: equal lengths touch, as when one paper piece is rolled along the other. `eased`: what one side has more is spread
 * evenly between each two notches, so that every pair meets, as it is sewn.
 */
export type Rolling = 'even' | 'eased';

export interface RolledPiece {
  readonly piece: Piece;
  readonly shape: Shape;
  /** Takes piece millimetres into the frame of the first piece of the first side; never stretches. */
  readonly firstFromPiece: Affine;
  /** The piece lies face down. */
  readonly turnedOver: boolean;
}

export interface Touch {
  readonly piece: string;
  readonly edge: string;
  /** Along the edge's seamline from its start, mouths open. */
  readonly edgeMm: number;
  /** In the frame of its own piece. */
  readonly at: Point;
}

export interface PassedAnchor {
  readonly anchor: Anchor;
  /** How far the second partner lies beyond the place that the first one touches; 0 when they meet. Negative: before it. */
  readonly missMm: number;
}

export interface RolledSeam {
  /** Along each side from the seam's start, mouths closed: the places that touch. */
  readonly atMm: readonly [number, number];
  readonly touches: readonly [Touch, Touch];
  /** The pieces of each side, chained so that their seamlines run on; the second side as it is rolled. */
  readonly sides: readonly [readonly RolledPiece[], readonly RolledPiece[]];
  /** Turn of the second side's first piece against the first side's, degrees, clockwise as seen (after turning it over). */
  readonly turnDeg: number;
  /** Start, notches and joints that the first side has reached, in order. */
  readonly passed: readonly PassedAnchor[];
  /** What the second side has had more than the first up to here, by the notches; at the end the difference of the seam. */
  readonly runningMm: number;
}

/**
 * @param alongMm how far the first side is rolled, 0 to its length, mouths closed; beyond the ends it counts as the end
 * A closed dart or pleat is stepped over: the walk goes on at its other leg. A side that is used up stays at its end.
 */
export function rollSeam(walk: SeamWalk, alongMm: number, rolling: Rolling): RolledSeam {
  const [first, second] = walk.sides;
  const a = clamp(alongMm, first.total.valueMm);
  const partnerMm = a + runningAt(walk.anchors, a);
  const b = clamp(rolling === 'even' ? a : partnerMm, second.total.valueMm);
  const chains = [chained(first), chained(second)] as const;
  const [p, q] = [touchAt(first, a), touchAt(second, b)];
  const turnOver = runsRightHanded(first.spans[0]!) === runsRightHanded(second.spans[0]!);
  const [onFirst, onSecond] = [inChain(p, chains[0]), inChain(q, chains[1])];
  const firstFromSecond = laidOn(onFirst, onSecond, turnOver);
  const rolled = chains[1].map((link) => ({
    ...link,
    firstFromPiece: compose(firstFromSecond, link.firstFromPiece),
    turnedOver: link.turnedOver !== turnOver,
  }));
  return {
    atMm: [a, b],
    touches: [p.touch, q.touch],
    sides: [chains[0], rolled],
    turnDeg: turnOf(rolled[0]!.firstFromPiece),
    passed: walk.anchors
      .filter(({ kind, atMm }) => kind !== 'end' && atMm[0] <= a)
      .map((anchor) => ({ anchor, missMm: rolling === 'even' ? anchor.atMm[1] - anchor.atMm[0] : 0 })),
    runningMm: partnerMm - a,
  };
}

/** The first pair that misses by more than toleranceMm when the sides are rolled evenly from the start; null when none does. */
export function partingPlace(walk: SeamWalk, toleranceMm: number): PassedAnchor | null {
  const missed = walk.anchors.map((anchor) => ({ anchor, missMm: anchor.atMm[1] - anchor.atMm[0] }));
  return missed.find(({ missMm }) => Math.abs(missMm) > toleranceMm) ?? null;
}

/** Where a side of a seam ends: the corner there and the edge that runs on across the seam. */
export interface SideEnd {
  readonly walked: WalkedSpan;
  readonly corner: Corner;
  readonly next: SeamEdge;
}

/** Null when the side stops before its edge does. */
export function sideEnd(side: WalkedSide, end: 'start' | 'end'): SideEnd | null {
  const walked = end === 'start' ? side.spans[0]! : side.spans.at(-1)!;
  const atRingEnd = walked.span.reversed === (end === 'start');
  const reaches = atRingEnd ? walked.toMm >= walked.seam.lengthMm : walked.fromMm <= 0;
  if (!reaches) return null;
  const corner = cornersOf(walked.shape).at(atRingEnd ? walked.seam.index : walked.seam.index - 1)!;
  return { walked, corner, next: atRingEnd ? corner.after : corner.before };
}

/**
 * The angle in which the edges beside the seam meet across it, 180 where the line runs straight on: the two inside angles
 * added. Null when a side stops before its edge does.
 */
export function meetingAngleDeg(walk: SeamWalk, end: 'start' | 'end'): number | null {
  const [a, b] = [sideEnd(walk.sides[0], end), sideEnd(walk.sides[1], end)];
  return a === null || b === null ? null : a.corner.insideDeg + b.corner.insideDeg;
}

function clamp(mm: number, mostMm: number): number {
  return Math.min(mostMm, Math.max(0, mm));
}

/** Second less first up to a place along the first, spread evenly between the anchors. */
function runningAt(anchors: readonly Anchor[], aMm: number): number {
  const k = Math.max(
    1,
    anchors.findIndex(({ atMm }) => atMm[0] >= aMm),
  );
  const [from, to] = [anchors[k - 1]!.atMm, anchors[k]!.atMm];
  const ratio = to[0] === from[0] ? 1 : (aMm - from[0]) / (to[0] - from[0]);
  return from[1] - from[0] + ratio * (to[1] - from[1] - (to[0] - from[0]));
}

/** A place on a side: its point, and the direction in which the walk goes on there. */
interface Place {
  readonly at: Point;
  readonly direction: Point;
}

interface PlaceOnSide {
  readonly touch: Touch;
  readonly place: Place;
  /** Index of the span. */
  readonly link: number;
}

function touchAt(side: WalkedSide, sideMm: number): PlaceOnSide {
  const walked = spanAt(side, sideMm);
  const edgeMm = openMm(walked, sideMm);
  const place = placeOn(walked, edgeMm);
  const touch = { piece: walked.piece.id, edge: walked.span.edge, edgeMm, at: place.at };
  return { touch, place, link: side.spans.indexOf(walked) };
}

function placeOn(walked: WalkedSpan, edgeMm: number): Place {
  const { point, tangent } = pointAtLength(walked.seam.path, edgeMm);
  return { at: point, direction: walked.span.reversed ? scale(tangent, -1) : tangent };
}

/** The pieces of a side in the frame of its first piece, each laid so that the seamline runs on from the one before. */
function chained(side: WalkedSide): RolledPiece[] {
  const links: RolledPiece[] = [];
  for (const [i, walked] of side.spans.entries()) {
    const before = links[i - 1];
    const { piece, shape } = walked;
    if (before === undefined) {
      links.push({ piece, shape, firstFromPiece: identity, turnedOver: false });
      continue;
    }
    const last = side.spans[i - 1]!;
    const end = moved(before.firstFromPiece, placeOn(last, last.span.reversed ? last.fromMm : last.toMm));
    const start = placeOn(walked, walked.span.reversed ? walked.toMm : walked.fromMm);
    const turnOver = runsRightHanded(side.spans[0]!) !== runsRightHanded(walked);
    links.push({ piece, shape, firstFromPiece: laidOn(end, start, turnOver), turnedOver: turnOver });
  }
  return links;
}

function inChain({ place, link }: PlaceOnSide, chain: readonly RolledPiece[]): Place {
  return moved(chain[link]!.firstFromPiece, place);
}

function moved(map: Affine, { at, direction }: Place): Place {
  const [x, y] = direction;
  return { at: apply(map, at), direction: [map[0] * x + map[2] * y, map[1] * x + map[3] * y] };
}

/** True where the piece lies to the right of the walk, as seen. */
function runsRightHanded({ shape, span }: WalkedSpan): boolean {
  const outline = seamlineOf(shape).edges.map(({ path }) => path);
  return isClockwise(flattenRing(outline, ORIENTATION_CHORD_MM)) !== span.reversed;
}

/** Coarse is enough to tell which way round a ring runs. */
const ORIENTATION_CHORD_MM = 1;

/** Brings `source` onto `target`, points and directions, turned over first where it must be. */
function laidOn(target: Place, source: Place, turnOver: boolean): Affine {
  const flip: Affine = turnOver ? [1, 0, 0, -1, 0, 0] : identity;
  const from = moved(flip, source);
  const turnRad = ((angleDeg(target.direction) - angleDeg(from.direction)) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
  const turned: Affine = compose([cos, sin, -sin, cos, 0, 0], flip);
  const [x, y] = apply(turned, source.at);
  return [turned[0], turned[1], turned[2], turned[3], target.at[0] - x, target.at[1] - y];
}

/** Degrees, −180 to 180. */
function turnOf(map: Affine): number {
  return angleDeg([map[0], map[1]]);
}
