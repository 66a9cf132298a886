// What the rules of one run read: the set, its limits, and the seams walked once for all of them.
import { groupedBy } from '../base/groupedBy.ts';
import { memoised } from '../base/memoised.ts';
import { hasSameParts } from '../base/sameValue.ts';
import { ASSUMED_ALLOWANCE_SIGMA, TOLERANCES, type Tolerances } from '../limits/tolerances.ts';
import { pieceById } from '../pattern/lookUp.ts';
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
  /** Every seam in every size. */
  readonly seamsInSizes: () => readonly SeamInSize[];
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

export interface SeamInSize {
  readonly seam: Seam;
  readonly size: Size;
  readonly result: WalkResult;
}

/** What one run found and the next may use again: every entry is compared with what it was made from. */
export interface Kept {
  /** By the id of the piece. */
  readonly pieces: Map<string, KeptPiece>;
  readonly shapes: Map<Piece, ShapeInSize>;
  readonly seams: Map<Seam, KeptSeam>;
}

interface KeptPiece {
  /** The piece in all of its sizes. */
  readonly whole: Piece;
  readonly inSize: Map<Size, Piece>;
}

interface KeptSeam {
  /** The pieces along the seam in all of their sizes. */
  readonly along: readonly (Piece | undefined)[];
  readonly inSize: Map<Size, KeptWalk>;
}

interface KeptWalk extends SeamInSize {
  /** The pieces along the seam as they were in its size. */
  readonly along: readonly (Piece | undefined)[];
}

export function nothingKept(): Kept {
  return { pieces: new Map(), shapes: new Map(), seams: new Map() };
}

const MEASURING: MeasureOptions = { assumedAllowanceSigmaMm: ASSUMED_ALLOWANCE_SIGMA.valueMm };

/** @param before what an earlier run kept, of this set or of another. @param kept is filled with what this one finds */
export function contextOf(set: PatternSet, before: Kept = nothingKept(), kept: Kept = nothingKept()): CheckContext {
  const sizes = sizesOf(set);
  const sets = new Map<Size, PatternSet>();
  const setIn = (size: Size): PatternSet => memoised(sets, size, () => setInSize(set, size, before, kept));
  const seamIn = (seam: Seam, size: Size): SeamInSize => {
    const earlier = before.seams.get(seam);
    const mine = memoised(kept.seams, seam, (): KeptSeam => {
      const along = piecesAlong(seam, set);
      return earlier !== undefined && hasSameParts(earlier.along, along) ? earlier : { along, inSize: new Map() };
    });
    return memoised(mine.inSize, size, () => {
      const view = setIn(size);
      const along = piecesAlong(seam, view);
      const known = earlier?.inSize.get(size);
      if (known !== undefined && hasSameParts(known.along, along)) return known;
      return { seam, size, along, result: walkSeam(view, seam, size, MEASURING) };
    });
  };
  let seamsInSizes: readonly SeamInSize[] | null = null;
  let walks: readonly SeamWalk[] | null = null;
  let claims: Claims | null = null;
  let shapes: readonly ShapeInSize[] | null = null;
  const done = new Map<unknown, Map<unknown, unknown>>();
  const context: CheckContext = {
    set,
    limits: TOLERANCES[set.preset.tolerance],
    measuring: MEASURING,
    say: wordsIn(set.displayUnits),
    sizes,
    setIn,
    walk: (seam, size) => seamIn(seam, size).result,
    seamsInSizes: () => {
      if (seamsInSizes === null) {
        const all: SeamInSize[] = [];
        for (const seam of set.seams) for (const size of sizes) all.push(seamIn(seam, size));
        seamsInSizes = all;
      }
      return seamsInSizes;
    },
    walks: () => {
      if (walks === null) {
        const all: SeamWalk[] = [];
        for (const { result } of context.seamsInSizes()) if (result.ok) all.push(result.value);
        walks = all;
      }
      return walks;
    },
    claims: (piece, edge) => {
      claims ??= claimsOf(set);
      return claims.get(piece)?.get(edge) ?? NO_SPANS;
    },
    shapes: () => {
      shapes ??= shapesIn(set, sizes, setIn, before, kept);
      return shapes;
    },
    once: <K, T>(work: (context: CheckContext, of: K) => T, of: K): T =>
      // What stands under `work` was made by it.
      memoised(memoised(done, work, () => new Map<unknown, unknown>()) as Map<K, T>, of, () => work(context, of)),
  };
  return context;
}

function setInSize(set: PatternSet, size: Size, before: Kept, kept: Kept): PatternSet {
  const pieces = set.pieces.map((piece) => {
    const earlier = before.pieces.get(piece.id);
    const now = kept.pieces.get(piece.id);
    const mine = now?.whole === piece ? now : earlier?.whole === piece ? earlier : { whole: piece, inSize: new Map() };
    if (mine !== now) kept.pieces.set(piece.id, mine);
    return memoised(mine.inSize, size, () => pieceInSize(piece, size, earlier?.inSize.get(size)));
  });
  return { ...set, pieces };
}

function piecesAlong({ sides }: Seam, set: PatternSet): readonly (Piece | undefined)[] {
  const along: (Piece | undefined)[] = [];
  for (const side of sides) for (const { piece } of side) along.push(pieceById(set, piece));
  return along;
}

function shapesIn(
  set: PatternSet,
  sizes: readonly Size[],
  setIn: (size: Size) => PatternSet,
  before: Kept,
  kept: Kept,
): ShapeInSize[] {
  const all: ShapeInSize[] = [];
  set.pieces.forEach((_, i) => {
    for (const size of sizes) {
      const piece = setIn(size).pieces[i]!;
      const shape = piece.shapes[size];
      if (shape === undefined) continue;
      const entry = before.shapes.get(piece) ?? { piece, size, shape };
      kept.shapes.set(piece, entry);
      all.push(entry);
    }
  });
  return all;
}

const NO_SPANS: readonly EdgeSpan[] = [];

/** By piece, then by edge. */
type Claims = ReadonlyMap<string, ReadonlyMap<string, readonly EdgeSpan[]>>;

function claimsOf({ seams }: PatternSet): Claims {
  const spans = groupedBy(
    seams.flatMap(({ sides }) => sides.flat()),
    ({ piece }) => [piece],
  );
  return new Map([...spans].map(([piece, own]) => [piece, groupedBy(own, ({ edge }) => [edge])]));
}

/** The sizes named by the set first, then any that only a piece carries. */
function sizesOf(set: PatternSet): Size[] {
  const traced = new Set(set.pieces.flatMap((piece) => Object.keys(piece.shapes)));
  return [...new Set([...set.sizes, ...traced])].filter((size) => traced.has(size));
}
