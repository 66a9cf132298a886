// What a tool is: one way to change a piece with the pointer. A tool says what a press on the piece begins; the canvas runs it
// and puts the outcome into the history as one step. Adding a tool: a folder here and a line in registry.ts.
import type { Point } from '../../shared/base/points.ts';
import type { PatternSet, Piece, Shape, Size } from '../../shared/pattern/model.ts';
import type { MarkRef } from '../state/edits/marks.ts';
import type { ToolId } from '../state/windowState.ts';

export interface Press {
  readonly piece: Piece;
  readonly size: Size;
  readonly shape: Shape;
  /** Where the pointer went down, piece millimetres. */
  readonly at: Point;
  /** How near counts as on it, millimetres at the present zoom. */
  readonly reachMm: number;
  readonly openEdge: string | null;
  /** How far a pulled edge follows, millimetres. */
  readonly pullMm: number;
}

/** What a press begins; the canvas shows `shape` while the pointer moves. */
export type Begun =
  | {
      readonly kind: 'drag';
      /** Selected when the press begins. */
      readonly mark: MarkRef | null;
      readonly edge: string | null;
      readonly shapeAt: (to: Point) => Shape;
      readonly label: string;
    }
  | {
      /** A stroke drawn freely; the shape comes at its end. */
      readonly kind: 'stroke';
      readonly edge: string;
      readonly shapeOf: (stroke: readonly Point[]) => Shape | null;
      readonly label: string;
      /** What to say when the stroke gave no shape. */
      readonly refusal: string;
    }
  | {
      readonly kind: 'change';
      readonly mark: MarkRef | null;
      readonly change: (set: PatternSet) => PatternSet;
      readonly label: string;
    }
  | { readonly kind: 'select'; readonly edge: string | null };

export interface Tool {
  readonly id: ToolId;
  readonly name: string;
  /** One sentence: what to do with the pointer. */
  readonly hint: string;
  /** Pressed alone, chooses the tool. */
  readonly key: string;
  /** A drawing in a 24 × 24 box, stroked. */
  readonly icon: string;
  readonly press: (press: Press) => Begun;
}
