// What may mend one piece, or a line across a seam: corners trued, folds squared, darts and grain redrawn.
import { meeting } from '../../alter/kernel/corners.ts';
import type { CheckContext } from '../../checks/context.ts';
import { walkOf } from '../../checks/findingPlace.ts';
import type { WalkedSpan } from '../../pattern/spans.ts';
import { type Candidate, edgeName, insideDegAt, nameOf, type Propose, shapeIn, sizeNameOf } from './candidate.ts';

const STRAIGHT_DEG = 180;
const SQUARE_DEG = 90;

/** Either piece's line is turned to run on from the other's. */
export const forJoinedCorner: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  const [, first, second] = finding.subjects;
  if (walk === null || first?.edge === undefined || second?.edge === undefined) return [];
  const corners = ([first, second] as const).map((subject, side) => {
    const spans = walk.sides[side as 0 | 1].spans;
    return cornerOn(spans, subject.piece ?? '', subject.edge ?? '');
  });
  const [a, b] = corners;
  if (!a || !b) return [];
  const size = sizeNameOf(finding);
  return [turned(context, b, STRAIGHT_DEG - a.insideDeg, size), turned(context, a, STRAIGHT_DEG - b.insideDeg, size)];
};

interface CornerPlace {
  readonly piece: string;
  readonly edge: string;
  readonly end: 'start' | 'end';
  readonly insideDeg: number;
}

/** The corner at which the line that runs on meets the seam. */
function cornerOn(spans: readonly WalkedSpan[], piece: string, edge: string): CornerPlace | null {
  for (const { span, shape } of spans) {
    const met = span.piece === piece ? meeting(shape, edge, span.edge) : null;
    const insideDeg = met === null ? null : insideDegAt(shape, edge, met.endA);
    if (met !== null && insideDeg !== null) return { piece, edge, end: met.endA, insideDeg };
  }
  return null;
}

function turned(context: CheckContext, { piece, edge, end }: CornerPlace, insideDeg: number, size: string): Candidate {
  return {
    id: 'true-corner',
    params: { insideDeg, piece, edge, end, size },
    grade: 'choice',
    sentence: `Redraw the end of the ${edgeName(shapeIn(context, piece, size), edge)} of ${nameOf(context, piece)}, so that its corner has ${context.say.angle(insideDeg)}.`,
    way: `corner ${piece} ${edge}`,
  };
}

/** The edge is turned square to its fold, or the whole fold is drawn anew. */
export const forFoldCorner: Propose = (finding, context) => {
  const size = sizeNameOf(finding);
  const [subject] = finding.subjects;
  const shape = shapeIn(context, subject?.piece ?? '', size);
  if (shape === null || subject?.piece === undefined || subject.edge === undefined) return [];
  const { piece, edge } = subject;
  const folds = shape.ring.filter(({ role }) => role === 'fold');
  const ends = folds.flatMap((fold) => meeting(shape, edge, fold.id)?.endA ?? []);
  return [
    ...ends.map((end) => turned(context, { piece, edge, end, insideDeg: SQUARE_DEG }, SQUARE_DEG, size)),
    ...folds.map((fold) => squared(context, piece, fold.id, size)),
  ];
};

export const forFoldBent: Propose = (finding, context) => {
  const [subject] = finding.subjects;
  if (subject?.piece === undefined || subject.edge === undefined) return [];
  return [squared(context, subject.piece, subject.edge, sizeNameOf(finding))];
};

function squared(context: CheckContext, piece: string, edge: string, size: string): Candidate {
  return {
    id: 'square-fold',
    params: { piece, edge, size },
    grade: 'choice',
    sentence: `Draw the fold of ${nameOf(context, piece)} straight and its corners square.`,
    way: 'fold',
  };
}

/** The remedy of a dart that bears the rule's own name. */
export const forDart: Propose = (finding, context) => {
  const [subject] = finding.subjects;
  if (subject?.piece === undefined || subject.dart === undefined) return [];
  const { piece, dart } = subject;
  const size = sizeNameOf(finding);
  const name = nameOf(context, piece);
  const edge = edgeName(shapeIn(context, piece, size), subject.edge ?? '');
  const offer = (id: string, sentence: string): Candidate => ({
    id,
    params: { piece, dart, size },
    grade: 'choice',
    sentence,
    way: id,
  });
  const legs = offer('dart-legs', `Make both legs of the dart of ${name} equally long; the ${edge} follows them.`);
  const cap = offer('dart-cap', `Redraw the ${edge} of ${name} across the dart as one line with the dart folded.`);
  return finding.rule === 'dart-legs' ? [legs] : [cap];
};

/** Parallel to the fold or centre; on the cross or the bias by what is missing, whichever way that is. */
export const forGrain: Propose = (finding, context) => {
  const [subject] = finding.subjects;
  const piece = context.set.pieces.find(({ id }) => id === subject?.piece);
  const offDeg = finding.measured?.value;
  if (piece === undefined || offDeg === undefined) return [];
  const size = sizeNameOf(finding);
  const turns = piece.grainIntent === 'straight' ? [0] : [offDeg, -offDeg];
  return turns.map(
    (turnDeg): Candidate => ({
      id: 'align-grain',
      params: { turnDeg, piece: piece.id, size },
      grade: 'choice',
      sentence: `Turn the grainline of ${piece.name} by ${context.say.angle(Math.abs(offDeg))} about its middle.`,
      way: 'grain',
    }),
  );
};
