// How a piece lies on the body: which way is along the body's length, which pieces go round it, and how far a button front
// runs on beyond the middle.
import type { Point } from '../base/points.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import { distance, leftNormal, sub, unit } from '../geometry/vector.ts';
import { isOuter } from '../pattern/cutList.ts';
import { isCentreName, normalLabel } from '../pattern/kinds.ts';
import type { PatternSet, Piece, Shape, Size } from '../pattern/model.ts';
import { type SeamEdge, seamlineOf } from '../pattern/seamline.ts';

export interface Traced {
  readonly piece: Piece;
  readonly shape: Shape;
}

/** The pieces of the outer garment that were traced in that size; pieces cut from lining or facing alone are left out. */
export function outerPieces(set: PatternSet, size: Size): readonly Traced[] {
  return set.pieces.flatMap((piece) => {
    const shape = piece.shapes[size];
    return shape === undefined || !isOuter(piece) ? [] : [{ piece, shape }];
  });
}

/** The edges of that name, in one spelling. */
export function edgesNamed(shape: Shape, label: string): readonly SeamEdge[] {
  return seamlineOf(shape).edges.filter(({ edge }) => normalLabel(edge.label) === label);
}

/** The edge on the middle of the body: the fold, or else an edge that is named as a centre. */
export function centreEdge(shape: Shape): SeamEdge | null {
  const { edges } = seamlineOf(shape);
  const longest = (some: readonly SeamEdge[]) => some.toSorted((a, b) => b.lengthMm - a.lengthMm)[0] ?? null;
  return (
    longest(edges.filter(({ edge }) => edge.role === 'fold')) ??
    longest(edges.filter(({ edge }) => normalLabel(edge.label).startsWith('centre')))
  );
}

/**
 * The unit vector along the body's length, its sign open: along the fold, the grainline (across it when the piece is meant to
 * be cut crosswise), or a centre edge. Null when none of them tells.
 */
export function lengthwise({ piece, shape }: Traced): Point | null {
  const centre = centreEdge(shape);
  if (centre?.edge.role === 'fold') return directionOf(centre);
  const grain = shape.grainline;
  if (grain !== null && piece.grainIntent !== 'bias' && distance(grain.from, grain.to) > 0) {
    const along = unit(sub(grain.to, grain.from));
    return piece.grainIntent === 'cross' ? leftNormal(along) : along;
  }
  return centre === null ? null : directionOf(centre);
}

function directionOf({ path }: SeamEdge): Point | null {
  const chord = sub(path.at(-1)!, path[0]!);
  return chord[0] === 0 && chord[1] === 0 ? null : unit(chord);
}

export interface Extension {
  readonly edge: string;
  readonly mm: number;
}

/** Farther from the edge than this, buttons stand on something else than a front edge: cuffs, pockets, tabs. */
const WIDEST_EXTENSION_MM = 60;

/** How far a piece runs on beyond the middle of the body to carry buttons; null without buttons along an open edge. */
export function buttonExtension(shape: Shape): Extension | null {
  const buttons = shape.marks.flatMap((mark) => (mark.kind === 'button' ? [mark.at] : []));
  if (buttons.length === 0 || shape.ring.some(({ role }) => role === 'fold')) return null;
  const edges = seamlineOf(shape).edges.filter(({ edge }) => edge.role === 'opening' || isCentreName(edge.label));
  for (const { edge, path } of edges) {
    const awayMm = buttons.map((at) => nearestOnPath(path, at).distanceMm).toSorted((a, b) => a - b);
    if (awayMm.at(-1)! <= WIDEST_EXTENSION_MM) return { edge: edge.id, mm: awayMm[Math.floor(awayMm.length / 2)]! };
  }
  return null;
}
