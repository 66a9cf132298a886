// What the rules of one run read: the set, its limits, and the seams walked once for all of them.
import { groupedBy } from '../base/groupedBy.ts';
import { ASSUMED_ALLOWANCE_SIGMA, TOLERANCES, type Tolerances } from '../limits/tolerances.ts';
import type { MeasureOptions } from '../pattern/measure.ts';
import type { EdgeSpan, PatternSet, Piece, Seam, Shape, Size } from '../pattern/model.ts';
import { type SeamWalk, type WalkResult, walkSeam } from '../pattern/walk.ts';
import { pieceInSize } from './pieceInSize.ts';
import { type Words, wordsIn } from './words.ts';

export interface CheckContext {
  readonly set: PatternSet;
  readonly limits: Tolerances;
  readonly measuring: MeasureOptions;
  readonly say: Words;
  /** Every size in which anything was traced, in the order of the set. */
  readonly sizes: readonly Size[];
  /** The set as it is in one size: each piece holds the shape of that size alone. */
  readonly setIn: (size: Size) => PatternSet;
  /** Pieces on a walk hold the shape of its size alone. */
  readonly walk: (seam: Seam, size: Size) => WalkResult;
  /** All seams that can be walked, in every size in which both of their sides exist. */
  readonly walks: () => readonly SeamWalk[];
  readonly shapes: () => readonly ShapeInSize[];
  /** Every span of a seam that lies on the edge. */
  readonly claims: (piece: string, edge: string) => readonly EdgeSpan[];
  /**
   * What several rules or subjects need, worked out once for each `of`. `work` is a function of the module (it is known by
   * its identity) and reads nothing but the context and `of`.
   */
  readonly once: <K, T>(work: (context: CheckContext, of: K) => T, of: K) => T;
}

export interface ShapeInSize {
  /** Holds this shape alone: what is said of one size cannot depend on another. */
  readonly piece: Piece;
  readonly size: Size;
  readonly shape: Shape;
}

/** What one run found and the next may use again: every entry is compared with what it was made from. */
export interface Kept {
  readonly pieces: Map<string, Map<Size, Piece>>;
  readonly shapes: Map<Piece, ShapeInSize>;
  readonly walks: Map<Seam, Map<Size, KeptWalk>>;
}

interface KeptWalk {
  /** The pieces along the seam as they were in its size. */
  readonly pieces: readonly (Piece | undefined)[];
  readonly result: WalkResult;
}

export function nothingKept(): Kept {
  return { pieces: new Map(), shapes: new Map(), walks: new Map() };
}

const MEASURING: MeasureOptions = { assumedAllowanceSigmaMm: ASSUMED_ALLOWANCE_SIGMA.valueMm };

/** @param before what an earlier run kept, of this set or of another. @param kept is filled with what this one finds */
export function contextOf(set: PatternSet, before: Kept = nothingKept(), kept: Kept = nothingKept()): CheckContext {
  const sizes = sizesOf(set);
  const sets = new Map<Size, SetInSize>();
  const inSize = (size: Size): SetInSize => memoised(sets, size, () => setInSize(set, size, before, kept));
  const walk = (seam: Seam, size: Size): WalkResult =>
    memoised(
      memoised(kept.walks, seam, () => new Map<Size, KeptWalk>()),
      size,
      () => {
        const { byId, view } = inSize(size);
        const pieces = seam.sides.flat().map((span) => byId.get(span.piece));
        const known = before.walks.get(seam)?.get(size);
        if (known?.pieces.every((piece, i) => piece === pieces[i]) === true) return known;
        return { pieces, result: walkSeam(view, seam, size, MEASURING) };
      },
    ).result;
  let walks: readonly SeamWalk[] | null = null;
  let claims: ReadonlyMap<string, readonly EdgeSpan[]> | null = null;
  let shapes: readonly ShapeInSize[] | null = null;
  const done = new Map<unknown, Map<unknown, unknown>>();
  const context: CheckContext = {
    set,
    limits: TOLERANCES[set.preset.tolerance],
    measuring: MEASURING,
    say: wordsIn(set.displayUnits),
    sizes,
    setIn: (size) => inSize(size).view,
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
      return claims.get(claimKey(piece, edge)) ?? NO_SPANS;
    },
    shapes: () => {
      shapes ??= shapesIn(set, sizes, inSize, before, kept);
      return shapes;
    },
    once: <K, T>(work: (context: CheckContext, of: K) => T, of: K): T =>
      // What stands under `work` was made by it.
      memoised(memoised(done, work, () => new Map<unknown, unknown>()) as Map<K, T>, of, () => work(context, of)),
  };
  return context;
}

function memoised<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  const known = map.get(key);
  if (known !== undefined || map.has(key)) return known as V;
  const made = make();
  map.set(key, made);
  return made;
}

interface SetInSize {
  readonly view: PatternSet;
  readonly byId: ReadonlyMap<string, Piece>;
}

function setInSize(set: PatternSet, size: Size, before: Kept, kept: Kept): SetInSize {
  const pieces = set.pieces.map((piece) => {
    const view = pieceInSize(piece, size, before.pieces.get(piece.id)?.get(size));
    memoised(kept.pieces, piece.id, () => new Map<Size, Piece>()).set(size, view);
    return view;
  });
  return { view: { ...set, pieces }, byId: new Map(pieces.toReversed().map((piece) => [piece.id, piece])) };
}

function shapesIn(
  set: PatternSet,
  sizes: readonly Size[],
  inSize: (size: Size) => SetInSize,
  before: Kept,
  kept: Kept,
): ShapeInSize[] {
  return set.pieces.flatMap((_, i) =>
    sizes.flatMap((size) => {
      const piece = inSize(size).view.pieces[i]!;
      const shape = piece.shapes[size];
      if (shape === undefined) return [];
      const entry = before.shapes.get(piece) ?? { piece, size, shape };
      kept.shapes.set(piece, entry);
      return [entry];
    }),
  );
}

const NO_SPANS: readonly EdgeSpan[] = [];

function claimsOf(set: PatternSet): ReadonlyMap<string, readonly EdgeSpan[]> {
  const spans = set.seams.flatMap((seam) => seam.sides.flat());
  return groupedBy(spans, ({ piece, edge }) => [claimKey(piece, edge)]);
}

function claimKey(piece: string, edge: string): string {
  return JSON.stringify([piece, edge]);
}

/** The sizes named by the set first, then any that only a piece carries. */
function sizesOf(set: PatternSet): Size[] {
  const traced = new Set(set.pieces.flatMap((piece) => Object.keys(piece.shapes)));
  return [...new Set([...set.sizes, ...traced])].filter((size) => traced.has(size));
}
