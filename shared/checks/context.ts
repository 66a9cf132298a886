// What the rules of one run read: the set, its limits, and the seams walked once for all of them.
import { ASSUMED_ALLOWANCE_SIGMA, TOLERANCES, type Tolerances } from '../limits/tolerances.ts';
import type { MeasureOptions } from '../pattern/measure.ts';
import type { EdgeSpan, PatternSet, Piece, Seam, Shape, Size } from '../pattern/model.ts';
import { type SeamWalk, type WalkResult, walkSeam } from '../pattern/walk.ts';
import { type Words, wordsIn } from './words.ts';

export interface CheckContext {
  readonly set: PatternSet;
  readonly limits: Tolerances;
  readonly measuring: MeasureOptions;
  readonly say: Words;
  /** Every size in which anything was traced, in the order of the set. */
  readonly sizes: readonly Size[];
  readonly walk: (seam: Seam, size: Size) => WalkResult;
  /** All seams that can be walked, in every size in which both of their sides exist. */
  readonly walks: () => readonly SeamWalk[];
  readonly shapes: () => readonly ShapeInSize[];
  /** Every span of a seam that lies on the edge. */
  readonly claims: (piece: string, edge: string) => readonly EdgeSpan[];
}

export interface ShapeInSize {
  readonly piece: Piece;
  readonly size: Size;
  readonly shape: Shape;
}

export function contextOf(set: PatternSet): CheckContext {
  const measuring: MeasureOptions = { assumedAllowanceSigmaMm: ASSUMED_ALLOWANCE_SIGMA.valueMm };
  const sizes = sizesOf(set);
  const known = new Map<Seam, Map<Size, WalkResult>>();
  const walk = (seam: Seam, size: Size): WalkResult => {
    let bySize = known.get(seam);
    if (bySize === undefined) {
      bySize = new Map();
      known.set(seam, bySize);
    }
    let result = bySize.get(size);
    if (result === undefined) {
      result = walkSeam(set, seam, size, measuring);
      bySize.set(size, result);
    }
    return result;
  };
  let walks: readonly SeamWalk[] | null = null;
  let claims: ReadonlyMap<string, readonly EdgeSpan[]> | null = null;
  const shapes = set.pieces.flatMap((piece) =>
    sizes.flatMap((size) => {
      const shape = piece.shapes[size];
      return shape === undefined ? [] : [{ piece, size, shape }];
    }),
  );
  return {
    set,
    limits: TOLERANCES[set.preset.tolerance],
    measuring,
    say: wordsIn(set.displayUnits),
    sizes,
    walk,
    walks: () => {
      walks ??= set.seams.flatMap((seam) =>
        sizes.flatMap((size) => {
          const result = walk(seam, size);
          return result.ok ? [result.value] : [];
        }),
      );
      return walks;
    },
    claims: (piece, edge) => {
      claims ??= claimsOf(set);
      return claims.get(claimKey(piece, edge)) ?? [];
    },
    shapes: () => shapes,
  };
}

function claimsOf(set: PatternSet): ReadonlyMap<string, readonly EdgeSpan[]> {
  const byEdge = new Map<string, EdgeSpan[]>();
  for (const span of set.seams.flatMap((seam) => seam.sides.flat())) {
    const key = claimKey(span.piece, span.edge);
    const spans = byEdge.get(key);
    if (spans === undefined) byEdge.set(key, [span]);
    else spans.push(span);
  }
  return byEdge;
}

function claimKey(piece: string, edge: string): string {
  return JSON.stringify([piece, edge]);
}

/** The sizes named by the set first, then any that only a piece carries. */
function sizesOf(set: PatternSet): Size[] {
  const traced = new Set(set.pieces.flatMap((piece) => Object.keys(piece.shapes)));
  return [...new Set([...set.sizes, ...traced])].filter((size) => traced.has(size));
}
