// Whom a rule examines: what it finds in each shape, in each seam of a size, in each piece or seam, or in the set as a whole.
// A rule says where it looks, thing by thing, so that a check that remembers looks again only at the things that changed.
import type { Dart, Piece, Seam } from '../pattern/model.ts';
import type { SeamWalk } from '../pattern/walk.ts';
import type { CheckContext, SeamInSize, ShapeInSize } from './context.ts';

/** In the order in which the findings are told. */
export type Subjects<S> = readonly Source<S>[];

export interface Source<S> {
  /** Plain data that stays the same object as long as it says the same. Rules that look at the same things share the function. */
  readonly things: Things;
  /** What is to be judged in one of them; reads it and the context, and nothing else. */
  readonly within: (thing: unknown, context: CheckContext) => readonly S[];
}

export type Things = (context: CheckContext) => readonly unknown[];

/** The subject of a rule that examines the set as a whole, once. */
export const WHOLE_SET = 'the whole set';
const ONE_SET: readonly (typeof WHOLE_SET)[] = [WHOLE_SET];

/** One dart of a shape. */
export interface DartInSize extends ShapeInSize {
  readonly dart: Dart;
}

const SHAPES = (context: CheckContext) => context.shapes();
const WALKS = (context: CheckContext) => context.walks();
const SEAMS_IN_SIZES = (context: CheckContext) => context.seamsInSizes();
const SEAMS = ({ set }: CheckContext) => set.seams;
const PIECES = ({ set }: CheckContext) => set.pieces;
const SET = () => ONE_SET;

/** Shapes hold one size alone: a change in one size concerns no other. */
export function inShapes<S>(within: (entry: ShapeInSize, context: CheckContext) => readonly S[]): Subjects<S> {
  return inEach(SHAPES, within);
}

/** Every shape of which this is true is itself a subject. */
export function shapesThat(isWanted: (entry: ShapeInSize, context: CheckContext) => boolean): Subjects<ShapeInSize> {
  return inShapes((entry, context) => (isWanted(entry, context) ? [entry] : []));
}

export const EVERY_SHAPE: Subjects<ShapeInSize> = inShapes((entry) => [entry]);

export const EVERY_DART: Subjects<DartInSize> = inShapes((entry) =>
  entry.shape.darts.map((dart) => ({ ...entry, dart })),
);

/** Seams that can be walked, in every size in which they can. */
export function inWalks<S>(within: (walk: SeamWalk, context: CheckContext) => readonly S[]): Subjects<S> {
  return inEach(WALKS, within);
}

/** Every walk of which this is true is itself a subject. */
export function walksThat(isWanted: (walk: SeamWalk) => boolean): Subjects<SeamWalk> {
  return inWalks((walk) => (isWanted(walk) ? [walk] : []));
}

/** Every seam in every size, whether it can be walked or not. */
export function inSeamsOfSizes<S>(within: (seam: SeamInSize, context: CheckContext) => readonly S[]): Subjects<S> {
  return inEach(SEAMS_IN_SIZES, within);
}

/** Seams in all of their sizes. */
export function inSeams<S>(within: (seam: Seam, context: CheckContext) => readonly S[]): Subjects<S> {
  return inEach(SEAMS, within);
}

/** Pieces in all of their sizes. */
export function inPieces<S>(within: (piece: Piece, context: CheckContext) => readonly S[]): Subjects<S> {
  return inEach(PIECES, within);
}

/** Found by looking at everything: looked for again after every change of what `find` read. */
export function inSet<S>(find: (context: CheckContext) => readonly S[]): Subjects<S> {
  return inEach(SET, (_, context) => find(context));
}

/** The set itself, unless it is empty. */
export const SET_WITH_PIECES: Subjects<typeof WHOLE_SET> = inSet(({ set }) => (set.pieces.length === 0 ? [] : ONE_SET));

function inEach<T, S>(
  things: (context: CheckContext) => readonly T[],
  within: (thing: T, context: CheckContext) => readonly S[],
): Subjects<S> {
  // It is asked about these things and no others.
  return [{ things, within: (thing, context) => within(thing as T, context) }];
}
