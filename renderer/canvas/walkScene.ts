// The walk of a seam on the canvas: the first side lies where its first piece lies on the sheet, the second is rolled along it.
import type { Point } from '../../shared/base/points.ts';
import { pointOnChain, type WalkMark } from '../../shared/checks/seams/walkMarks.ts';
import { subPath } from '../../shared/geometry/arcLength.ts';
import type { CubicPath } from '../../shared/geometry/cubicPath.ts';
import { flattenPath } from '../../shared/geometry/flatten.ts';
import { type Affine, apply, compose } from '../../shared/geometry/transform.ts';
import { type Box, boxOf } from '../../shared/pattern/pieceLines.ts';
import { meetingAngleDeg, type RolledPiece } from '../../shared/pattern/rollSeam.ts';
import { openMm, type WalkedSide } from '../../shared/pattern/spans.ts';
import { lengthsOf } from '../app/lengths.ts';
import { shortWords } from '../seams/markWords.ts';
import { type ShownWalk, shownWalk } from '../seams/seamWalks.ts';
import type { WindowState } from '../state/windowState.ts';
import type { Lay } from './layout.ts';

export interface WalkLine {
  readonly path: CubicPath;
  readonly canvasFromPiece: Affine;
  readonly side: 0 | 1;
  readonly isPassed: boolean;
}

/** A mark where it lies on each side, canvas millimetres. */
export interface PlacedMark {
  readonly mark: WalkMark;
  /** A word or two beside it; none while it lies ahead. */
  readonly words: string;
  readonly at: readonly [Point | null, Point | null];
}

export interface WalkScene {
  readonly pieces: readonly { readonly rolled: RolledPiece; readonly canvasFromPiece: Affine }[];
  readonly lines: readonly WalkLine[];
  readonly marks: readonly PlacedMark[];
  readonly touch: Point;
  readonly angles: readonly { readonly at: Point; readonly words: string }[];
  /** Holds the first side, which does not move. */
  readonly box: Box;
}

const MARGIN_MM = 60;
const CHORD_MM = 2;

/** Null while no seam is walked. */
export function walkScene(state: WindowState, lay: Lay | null): WalkScene | null {
  const shown = shownWalk(state);
  if (shown === null) return null;
  const { walk, rolled, marks } = shown;
  const canvasFromFirst = lay?.places.get(walk.sides[0].spans[0]!.piece.id)?.canvasFromPiece;
  if (canvasFromFirst === undefined) return null;
  const onCanvas = (link: RolledPiece) => compose(canvasFromFirst, link.firstFromPiece);
  const placed = (side: 0 | 1, mm: number | null) =>
    mm === null ? null : apply(canvasFromFirst, pointOnChain(walk.sides[side], rolled.sides[side], mm));
  const lines = ([0, 1] as const).flatMap((side) => linesOf(shown, side, onCanvas));
  return {
    pieces: uniquePieces(rolled.sides).map((link) => ({ rolled: link, canvasFromPiece: onCanvas(link) })),
    lines,
    marks: marks.map((mark) => ({
      mark,
      words: shortWords(mark, lengthsOf(state)),
      at: [placed(0, mark.atMm[0]), placed(1, mark.atMm[1])],
    })),
    touch: placed(0, rolled.atMm[0])!,
    angles: (['start', 'end'] as const).flatMap((end) => {
      const deg = meetingAngleDeg(walk, end);
      const at = placed(0, end === 'start' ? 0 : walk.sides[0].total.valueMm);
      return deg === null || at === null ? [] : [{ at, words: `${deg.toFixed(1)}°` }];
    }),
    box: boxAround(lines.filter(({ side }) => side === 0)),
  };
}

/** A piece that lies twice in one chain at the same place is drawn once. */
function uniquePieces(sides: ShownWalk['rolled']['sides']): readonly RolledPiece[] {
  return sides.flatMap((chain) =>
    chain.filter((link, i) => chain.findIndex((other) => isLaidAlike(link, other)) === i),
  );
}

const SAME_PLACE_MM = 0.01;

function isLaidAlike(a: RolledPiece, b: RolledPiece): boolean {
  return (
    a.piece.id === b.piece.id &&
    a.firstFromPiece.every((value, i) => Math.abs(value - b.firstFromPiece[i]!) < SAME_PLACE_MM)
  );
}

/** The seamlines of a side: what was walked, and what lies ahead. */
function linesOf({ walk, rolled }: ShownWalk, side: 0 | 1, onCanvas: (link: RolledPiece) => Affine): WalkLine[] {
  const walkedSide: WalkedSide = walk.sides[side];
  const toMm = rolled.atMm[side];
  return walkedSide.spans.flatMap((walked, i) => {
    const canvasFromPiece = onCanvas(rolled.sides[side][i]!);
    const insideMm = Math.min(Math.max(toMm - walked.startsAtMm, 0), walked.length.valueMm);
    const atMm = openMm(walked, walked.startsAtMm + insideMm);
    const part = (fromMm: number, untilMm: number, isPassed: boolean): WalkLine[] =>
      untilMm <= fromMm ? [] : [{ path: subPath(walked.seam.path, fromMm, untilMm), canvasFromPiece, side, isPassed }];
    const isReversed = walked.span.reversed;
    const cut = Math.min(Math.max(atMm, walked.fromMm), walked.toMm);
    return [...part(walked.fromMm, cut, !isReversed), ...part(cut, walked.toMm, isReversed)];
  });
}

function boxAround(lines: readonly WalkLine[]): Box {
  const [minX, minY, maxX, maxY] = boxOf(
    lines.flatMap(({ path, canvasFromPiece }) =>
      flattenPath(path, CHORD_MM).map((point) => apply(canvasFromPiece, point)),
    ),
  );
  return [minX - MARGIN_MM, minY - MARGIN_MM, maxX + MARGIN_MM, maxY + MARGIN_MM];
}
