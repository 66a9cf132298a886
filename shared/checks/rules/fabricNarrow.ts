// A piece that is wider than the cloth, square to its grain, cannot be cut from it: unfolded where it lies on the fold.
import type { Point } from '../../base/points.ts';
import { flattenRing } from '../../geometry/flatten.ts';
import { dot, leftNormal, sub, unit } from '../../geometry/vector.ts';
import { FABRIC_SOURCE } from '../../limits/bodyFit.ts';
import { isOuter } from '../../pattern/cutList.ts';
import type { Piece, Shape, Size } from '../../pattern/model.ts';
import { pieceLines } from '../../pattern/pieceLines.ts';
import { pointSigmaAround } from '../../pattern/pointSigma.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inSet, inShapes } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';

interface Data {
  readonly piece: string;
  readonly size: string;
  readonly widthMm: number;
  readonly sigmaMm: number;
  readonly fabricMm: number;
  readonly isUnfolded: boolean;
}

interface OnCloth {
  readonly piece: Piece;
  readonly size: Size;
  readonly fabricMm: number;
}

/** The set does not say how wide the cloth is: said once. */
const NO_FABRIC = 'no fabric';

export const fabricNarrow = defineRule<OnCloth | typeof NO_FABRIC, Data>({
  id: 'fabric-narrow',
  title: 'A piece is wider than the cloth',
  why: 'Pieces lie with their grain along the selvage, so what counts is how wide they are square to it, with their allowances, and unfolded where they are cut on the fold. A wide skirt on narrow cloth is found out at the cutting table, when the cloth is already bought.',
  source: FABRIC_SOURCE,
  messages: {
    clear: (d, say) =>
      `${d.piece}, size ${d.size}: ${say.uncertain(d.widthMm, d.sigmaMm)} wide square to its grain${unfolded(d)}, on cloth of ${say.length(d.fabricMm)}.`,
    wide: (d, say) =>
      `${d.piece}, size ${d.size}: ${say.uncertain(d.widthMm, d.sigmaMm)} wide square to its grain${unfolded(d)}, but the cloth is only ${say.length(d.fabricMm)}.`,
    tooCoarse: (d, say) =>
      `${d.piece}, size ${d.size}: ${say.uncertain(d.widthMm, d.sigmaMm)} wide square to its grain${unfolded(d)}, too coarse to judge cloth of ${say.length(d.fabricMm)}. Measure it again, nearer and with more cards.`,
    noGrain: (d) => `${d.piece}, size ${d.size}: without a grainline or a fold nobody knows how it lies on the cloth.`,
    noFabric: () => 'The width of the cloth was not said, so no piece is compared with it.',
  },
  subjects: [
    ...inSet(({ set }): readonly (typeof NO_FABRIC)[] =>
      set.pieces.length > 0 && set.fabric === undefined ? [NO_FABRIC] : [],
    ),
    ...inShapes(({ piece, size }, { set }): readonly OnCloth[] =>
      set.fabric !== undefined && isOuter(piece) ? [{ piece, size, fabricMm: set.fabric.widthMm }] : [],
    ),
  ],
  judge: (subject, context) => [judgePiece(subject, context)],
});

function judgePiece(subject: OnCloth | typeof NO_FABRIC, { say }: CheckContext): Outcome<Data> {
  if (subject === NO_FABRIC) return { verdict: 'not-applicable', key: 'noFabric', data: NO_DATA, subjects: [] };
  const { piece, size, fabricMm } = subject;
  const about = { ...NO_DATA, piece: piece.name, size, fabricMm };
  const subjects = [{ piece: piece.id, size }];
  const width = widthOnCloth(piece, size);
  if (width === null) return { verdict: 'not-applicable', key: 'noGrain', data: about, subjects };
  const { valueMm, sigmaMm, isUnfolded, ends } = width;
  const rest = {
    data: { ...about, widthMm: valueMm, sigmaMm, isUnfolded },
    subjects,
    measured: { value: valueMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: fabricMm, unit: 'mm', source: FABRIC_SOURCE },
    overlay: ends.map((at) => ({ kind: 'point', piece: piece.id, at }) as const),
  } as const;
  const decision = judgeInterval(valueMm, sigmaMm, 0, fabricMm);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return {
    verdict: 'fault',
    gravity: 'stop',
    key: 'wide',
    ...rest,
    remedies: [
      {
        grade: 'choice',
        sentence: isUnfolded
          ? 'Cut it as two pieces with a seam where the fold was, or lay it across the cloth if pattern and nap allow.'
          : 'Divide it with a seam, or lay it across the cloth if pattern and nap allow.',
      },
      { grade: 'choice', sentence: `Or take cloth of ${say.length(valueMm)} or wider.` },
    ],
  };
}

interface Width {
  readonly valueMm: number;
  readonly sigmaMm: number;
  readonly isUnfolded: boolean;
  readonly ends: readonly Point[];
}

/** Coarse is enough for a piece on a table. */
const OUTLINE_CHORD_MM = 0.1;

/** How wide the cut piece is square to its grain; null when nothing says how it lies. */
function widthOnCloth(piece: Piece, size: Size): Width | null {
  const lines = pieceLines(piece, size);
  if (lines === null) return null;
  const { shape, cutting } = lines;
  const grain = grainOf(piece, shape);
  if (grain === null) return null;
  const across = leftNormal(grain);
  const outline = flattenRing(cutting, OUTLINE_CHORD_MM).toSorted((a, b) => dot(a, across) - dot(b, across));
  const [first, last] = [outline[0]!, outline.at(-1)!];
  const drawnMm = dot(sub(last, first), across);
  const fold = lines.folds[0];
  // A fold along the grain opens the piece sideways; one across it only makes it longer.
  const isUnfolded = fold !== undefined && Math.abs(dot(directionOf(fold), grain)) > Math.SQRT1_2;
  const times = isUnfolded ? 2 : 1;
  const scaleRatio = Math.hypot(...shape.accuracy.scaleSources.map(({ sigmaRatio }) => sigmaRatio));
  const sigmaMm = times * Math.hypot(drawnMm * scaleRatio, Math.SQRT2 * pointSigmaAround(shape));
  return { valueMm: times * drawnMm, sigmaMm, isUnfolded, ends: [first, last] };
}

/** The direction of the selvage: the arrow, or the fold, which is the grain unless the piece is meant to lie otherwise. */
function grainOf({ grainIntent }: Piece, shape: Shape): Point | null {
  const { grainline } = shape;
  if (grainline !== null) {
    const along = sub(grainline.to, grainline.from);
    return along[0] === 0 && along[1] === 0 ? null : unit(along);
  }
  const fold = shape.ring.find(({ role }) => role === 'fold');
  if (fold === undefined || grainIntent === 'bias') return null;
  const along = directionOf(fold.curve);
  return grainIntent === 'cross' ? leftNormal(along) : along;
}

function directionOf(path: readonly Point[]): Point {
  return unit(sub(path.at(-1)!, path[0]!));
}

const NO_DATA: Data = { piece: '', size: '', widthMm: 0, sigmaMm: 0, fabricMm: 0, isUnfolded: false };

function unfolded({ isUnfolded }: Data): string {
  return isUnfolded ? ' unfolded' : '';
}
