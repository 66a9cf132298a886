// What lies on a fold of the cloth is not cut there: no zip can be set in and no seam sewn along it.
import { isCentreName } from '../../pattern/kinds.ts';
import type { Edge, Piece, Size } from '../../pattern/model.ts';
import { neighbours } from '../../pattern/seamline.ts';
import type { WalkedSide } from '../../pattern/spans.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import type { Overlay } from '../finding.ts';
import { openCentre } from '../parts/openCentre.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { shapesThat } from '../subjects.ts';
import { edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  /** The piece whose opening the fold meets. */
  readonly other: string;
  readonly otherEdge: string;
}

export const foldInOpening = defineRule<ShapeInSize, Data>({
  id: 'fold-in-opening',
  title: 'A fold lies where a zip or a seam runs',
  why: 'A piece cut on the fold is whole there. If the zip of the pieces beside it runs on into that line, the piece closes the opening; if a seam is planned there, its allowance is missing. It is cut as two pieces with an allowance instead.',
  source: 'A fold where a zip or a seam runs is a fault: common practice, no source',
  messages: {
    clear: (d) => `${d.piece}: no opening and no seam runs along the fold.`,
    onOpening: (d) =>
      `${d.piece} is marked to be cut on the fold, but its ${edgeWords(d.edge)} is where the piece is open or seamed.`,
    sewn: (d) => `${d.piece}: a seam is planned along the fold edge, where the cloth is not cut.`,
    meets: (d) =>
      `${d.piece} is cut on the fold where the ${d.otherEdge} of ${d.other} is open: sewn on, it would close the opening.`,
  },
  subjects: shapesThat(({ piece, shape }) => isCutOnFold(piece) || shape.ring.some((edge) => edge.role === 'fold')),
  judge: (subject, context) => [judgeFold(subject, context)],
});

function isCutOnFold(piece: Piece): boolean {
  return piece.cut.some(({ onFold }) => onFold);
}

function judgeFold({ piece, shape, size }: ShapeInSize, context: CheckContext): Outcome<Data> {
  const said = (edge: Edge | null) => ({
    data: { piece: piece.name, edge: edge?.label ?? '', other: '', otherEdge: '' } satisfies Data,
    subjects: [{ piece: piece.id, ...(edge === null ? {} : { edge: edge.id }), size }],
    overlay: edge === null ? [] : [{ kind: 'edge', piece: piece.id, edge: edge.id } as const],
  });
  const asTwo = {
    grade: 'choice',
    sentence: `Cut ${piece.name} as a mirrored pair, with an allowance along its middle, instead of on the fold.`,
  } as const;
  const open = openCentre(piece, shape, context);
  if (isCutOnFold(piece) && open !== null) {
    return { verdict: 'fault', gravity: 'stop', key: 'onOpening', ...said(open), remedies: [asTwo] };
  }
  const folds = shape.ring.filter(({ role }) => role === 'fold');
  const sewn = folds.find(({ id }) => context.claims(piece.id, id).length > 0);
  if (sewn !== undefined) {
    const unplan = { grade: 'choice', sentence: 'Or take the seam along the fold out of the plan.' } as const;
    return { verdict: 'fault', gravity: 'stop', key: 'sewn', ...said(sewn), remedies: [asTwo, unplan] };
  }
  for (const fold of folds) {
    const met = meetsOpening({ piece, shape, size }, fold, context);
    if (met === null) continue;
    const about = said(fold);
    return {
      verdict: 'fault',
      gravity: 'stop',
      key: 'meets',
      ...about,
      data: { ...about.data, other: met.piece.name, otherEdge: met.edge.label },
      overlay: [...about.overlay, { kind: 'edge', piece: met.piece.id, edge: met.edge.id } satisfies Overlay],
      remedies: [asTwo],
    };
  }
  const { data, subjects } = said(null);
  return { verdict: 'clear', key: 'clear', data, subjects };
}

interface Met {
  readonly piece: Piece;
  readonly edge: Edge;
}

function meetsOpening({ piece, size }: ShapeInSize, fold: Edge, context: CheckContext): Met | null {
  return context.once(openingsAtFolds, size).get(foldKey(piece, fold)) ?? null;
}

/** Openings that a seam brings to the end of a fold in one size, by the fold. */
function openingsAtFolds({ set, walk: walkIn }: CheckContext, size: Size): ReadonlyMap<string, Met> {
  const met = new Map<string, Met>();
  for (const seam of set.seams) {
    const result = walkIn(seam, size);
    if (!result.ok) continue;
    const walk = result.value;
    // Where one side is laid out as a half and the other whole, their ends do not meet.
    if (walk.basis === 'round' || walk.sorted.sort === 'mirror') continue;
    for (const end of ['start', 'end'] as const) {
      const ends = [edgeBeyond(walk.sides[0], end), edgeBeyond(walk.sides[1], end)];
      const fold = ends.find((beyond) => beyond?.edge.role === 'fold');
      const open = ends.find((beyond) => beyond?.edge.role === 'opening' && isCentreName(beyond.edge.label));
      if (fold && open) met.set(foldKey(fold.piece, fold.edge), open);
    }
  }
  return met;
}

function foldKey(piece: Piece, fold: Edge): string {
  return JSON.stringify([piece.id, fold.id]);
}

/** The edge into which a side of a seam runs at one of its ends; null when it stops before the corner. */
function edgeBeyond(side: WalkedSide, end: 'start' | 'end'): Met | null {
  const walked = end === 'start' ? side.spans[0]! : side.spans.at(-1)!;
  const atRingEnd = walked.span.reversed === (end === 'start');
  const reaches = atRingEnd ? walked.toMm >= walked.seam.lengthMm : walked.fromMm <= 0;
  if (!reaches) return null;
  const { before, after } = neighbours(walked.shape, walked.seam.index);
  return { piece: walked.piece, edge: (atRingEnd ? after : before).edge };
}
