// A level line carried round the body: across one piece, over the seam onto the next, until the middle of the body is reached
// on every side. Where a seam is not planned, nobody knows what continues there, and the girth is not told.
import type { Point } from '../base/points.ts';
import { isCentreName, normalLabel } from '../pattern/kinds.ts';
import { ASSUMED_ALLOWANCE, addLength, type Length, makeLength, NO_LENGTH } from '../pattern/measure.ts';
import type { Piece, Shape } from '../pattern/model.ts';
import { pointSigmaAt, pointSigmaOn } from '../pattern/pointSigma.ts';
import { seamEdge } from '../pattern/seamline.ts';
import { alongSide, openMm, spanAt, type WalkedSpan } from '../pattern/spans.ts';
import type { SeamWalk } from '../pattern/walk.ts';
import { acrossFrom, type EdgePlace } from './across.ts';
import { buttonExtension, lengthwise, type Traced } from './frame.ts';

export interface LevelPart {
  readonly piece: Piece;
  readonly from: Point;
  readonly to: Point;
  /** Across the piece as traced, darts closed, without what lies beyond the middle of the body. */
  readonly length: Length;
}

export interface LevelStart extends Traced {
  readonly place: EdgePlace;
}

export type LevelProblem =
  | { readonly kind: 'no-direction'; readonly piece: Piece }
  | { readonly kind: 'no-width'; readonly piece: Piece }
  | { readonly kind: 'open-end'; readonly piece: Piece; readonly edge: string };

export type Level =
  | { readonly ok: true; readonly value: readonly LevelPart[] }
  | { readonly ok: false; readonly error: LevelProblem };

export interface LevelOptions {
  /** The seams that run along each piece, by its id. */
  readonly walksOf: ReadonlyMap<string, readonly SeamWalk[]>;
  /** How far an assumed allowance may be off, 1 sigma. */
  readonly assumedAllowanceSigmaMm: number;
  /** All pieces, in the order in which the parts come back. */
  readonly pieces: readonly Traced[];
  /** Pieces that the level may run onto. */
  readonly isPart: (piece: Piece) => boolean;
  /** Names of edges at which the level ends although they are sewn: a trouser's rise. */
  readonly endsAt: readonly string[];
}

/** Both ways round: every piece is crossed once, from the first place at which the level reaches it. */
export function levelFrom(starts: readonly LevelStart[], options: LevelOptions): Level {
  const parts = new Map<string, LevelPart>();
  const queue = [...starts];
  for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
    const { piece, shape, place } = next;
    if (parts.has(piece.id)) continue;
    const direction = lengthwise(next);
    if (direction === null) return { ok: false, error: { kind: 'no-direction', piece } };
    const line = acrossFrom(shape, place, direction) ?? acrossFrom(shape, besideHollow(shape, place), direction);
    if (line === null) return { ok: false, error: { kind: 'no-width', piece } };
    const extension = buttonExtension(shape);
    const beyondMm = extension?.edge === line.end.edge ? extension.mm : 0;
    parts.set(piece.id, {
      piece,
      from: line.from,
      to: line.to,
      length: lengthAcross(shape, line.lengthMm - beyondMm, {
        ends: [place, line.end],
        darts: line.dartsCrossed,
        assumedAllowanceSigmaMm: options.assumedAllowanceSigmaMm,
      }),
    });
    queue.push(...partnersAt(piece, place, options));
    const edge = seamEdge(shape, line.end.edge)!.edge;
    if (edge.role === 'fold' || edge.role === 'opening' || isCentreName(edge.label)) continue;
    if (options.endsAt.includes(normalLabel(edge.label))) continue;
    const partners = partnersAt(piece, line.end, options);
    if (partners.length === 0) return { ok: false, error: { kind: 'open-end', piece, edge: edge.label } };
    queue.push(...partners);
  }
  return { ok: true, value: options.pieces.flatMap(({ piece }) => parts.get(piece.id) ?? []) };
}

/** How far a hollow edge, such as the armhole of a panel under the arm, dips below the level of its ends. Common practice, no source. */
const HOLLOW_MM = 25;

/** A place further along the edge, away from its nearer end, where the level no longer runs through the hollow. */
function besideHollow(shape: Shape, { edge, atMm }: EdgePlace): EdgePlace {
  const lengthMm = seamEdge(shape, edge)?.lengthMm ?? 0;
  return { edge, atMm: atMm < lengthMm / 2 ? atMm + HOLLOW_MM : atMm - HOLLOW_MM };
}

/** The sum of the parts, each as often as it goes round the body. */
export function roundOf(parts: readonly LevelPart[], times: (piece: Piece) => number): Length {
  return parts.reduce((sum, { piece, length }) => addLength(sum, length, times(piece)), NO_LENGTH);
}

interface EndPlace extends Pick<EdgePlace, 'edge'> {
  readonly atMm: number | null;
}

export interface AcrossErrors {
  /** The edges at which the line begins and ends, and where on them when that is known. */
  readonly ends: readonly [EndPlace, EndPlace];
  readonly darts: number;
  readonly assumedAllowanceSigmaMm: number;
}

/** A length straight across a shape with its errors: the scale, both ends and every dart leg, and allowances nobody has said. */
export function lengthAcross(
  shape: Shape,
  valueMm: number,
  { ends, darts, assumedAllowanceSigmaMm }: AcrossErrors,
): Length {
  const shared = new Map<string, number>();
  for (const { id, sigmaRatio } of shape.accuracy.scaleSources) {
    shared.set(id, (shared.get(id) ?? 0) + valueMm * sigmaRatio);
  }
  const assumed = ends.filter((end) => {
    const edge = seamEdge(shape, end.edge)?.edge;
    return shape.tracedLine === 'cutting' && edge?.allowanceAssumed === true && edge.role !== 'fold';
  });
  if (assumed.length > 0) shared.set(ASSUMED_ALLOWANCE, -assumed.length * assumedAllowanceSigmaMm);
  const endsMm = ends.map(({ edge, atMm }) =>
    atMm === null ? pointSigmaOn(shape, edge, 0, Number.POSITIVE_INFINITY) : pointSigmaAt(shape, edge, atMm),
  );
  return makeLength(valueMm, shared, endsMm[0]! ** 2 + endsMm[1]! ** 2 + 2 * darts * shape.accuracy.pointSigmaMm ** 2);
}

/** The places on other pieces that are sewn to this place. */
function partnersAt(piece: Piece, place: EdgePlace, { walksOf, isPart }: LevelOptions): readonly LevelStart[] {
  return (walksOf.get(piece.id) ?? []).flatMap((walk) =>
    ([0, 1] as const).flatMap((side): LevelStart[] => {
      const here = walk.sides[side].spans.find((span) => holds(span, piece, place));
      if (here === undefined) return [];
      const there = walk.sides[side === 0 ? 1 : 0];
      const thereMm = metMm(walk, side, alongSide(here, place.atMm));
      const other = spanAt(there, thereMm);
      if (!isPart(other.piece)) return [];
      const at = { edge: other.span.edge, atMm: openMm(other, thereMm) };
      return [{ piece: other.piece, shape: other.shape, place: at }];
    }),
  );
}

function holds({ piece, span, fromMm, toMm }: WalkedSpan, wanted: Piece, { edge, atMm }: EdgePlace): boolean {
  return piece.id === wanted.id && span.edge === edge && atMm >= fromMm && atMm <= toMm;
}

/** Where along the other side the place along this one is sewn: in proportion between the notches that meet. */
function metMm({ anchors }: SeamWalk, side: 0 | 1, atMm: number): number {
  const other = side === 0 ? 1 : 0;
  const next = anchors.findIndex((anchor, i) => i > 0 && anchor.atMm[side] >= atMm);
  const [from, to] = [anchors[Math.max(0, next - 1)]!, anchors[next < 0 ? anchors.length - 1 : next]!];
  const lengthMm = to.atMm[side] - from.atMm[side];
  const ratio = lengthMm === 0 ? 0 : (atMm - from.atMm[side]) / lengthMm;
  return from.atMm[other] + ratio * (to.atMm[other] - from.atMm[other]);
}
