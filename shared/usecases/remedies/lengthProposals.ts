// What may mend two edges that differ in length: either of them made longer or shorter, by moving one end or one point.
import { freerEnd } from '../../alter/kernel/followLength.ts';
import type { CheckContext } from '../../checks/context.ts';
import { walkOf } from '../../checks/findingPlace.ts';
import { type Comparison, comparisonsOf, judgedAsRatio, mostBeyond } from '../../checks/seams/compareSeam.ts';
import { expanded } from '../../checks/verdict.ts';
import { edgeLabels } from '../../pattern/guessEdges.ts';
import { openMm, spanAt, type WalkedSpan } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { type Candidate, edgeName, INSIDE_MM, nameOf, type Propose } from './candidate.ts';
import { gradedCap } from './capProposals.ts';

/** As INSIDE_MM, for a limit that is a ratio. */
const INSIDE_RATIO = 0.005;

export const forLengths: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  if (walk === null) return [];
  const ratio = judgedAsRatio(walk, context);
  if (ratio !== null) {
    const { measured, limit } = finding;
    if (measured?.unit !== 'ratio' || limit === undefined) return [];
    const inside = expanded(measured.sigma) + INSIDE_RATIO;
    const goal = measured.value < limit.value ? limit.value + inside : limit.value - inside;
    const top = ratio.fuller === 0 ? 1 : 0;
    const changeMm = (goal - measured.value) * walk.compared[top === 0 ? 1 : 0].valueMm;
    return bothWays(walk, null, top === 1 ? changeMm : -changeMm, context);
  }
  const worst = mostBeyond(comparisonsOf(walk, context));
  if (worst === null) return [];
  return bothWays(walk, worst.section, goalOf(worst) - worst.difference.valueMm, context);
};

/** The back shoulder may be longer, the front never: brought to the seam's own limit or a little beyond. */
export const forShoulder: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  return walk === null ? [] : bothWays(walk, null, -walk.difference.valueMm, context);
};

/** A seam that one size left out of the grade: brought to the difference that it has in the others. */
export const forSizes: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  if (walk === null || finding.measured === undefined) return [];
  if (walk.sorted.sort === 'cap') return gradedCap(finding, walk, context);
  return bothWays(walk, null, -finding.measured.value, context);
};

/** An edge traced along another size's line: brought to the length that its size should have. */
export const forStrayed: Propose = (finding, context) => {
  const [subject] = finding.subjects;
  const walk = walkOf(finding, context);
  if (walk === null || subject?.piece === undefined || finding.measured === undefined) return [];
  if (walk.sorted.sort === 'cap') return gradedCap(finding, walk, context);
  const walked = walk.sides.flatMap(({ spans }) => spans).find(({ span }) => span.piece === subject.piece);
  if (walked === undefined) return [];
  return anyMover(walked, null, -finding.measured.value, context, walk.size);
};

/** The middle of an even band; the nearest clearly allowed value of an eased one. */
function goalOf({ band, difference }: Comparison): number {
  const middleMm = (band.fromMm + band.toMm) / 2;
  if (band.kind === 'even') return middleMm;
  const roomMm = Math.min(expanded(difference.sigmaMm) + INSIDE_MM, (band.toMm - band.fromMm) / 2);
  return Math.min(band.toMm - roomMm, Math.max(band.fromMm + roomMm, difference.valueMm));
}

/** The second side changed by what is missing, or the first by the opposite. */
function bothWays(walk: SeamWalk, section: number | null, changeMm: number, context: CheckContext): Candidate[] {
  return ([1, 0] as const).flatMap((side) => {
    const signedMm = side === 1 ? changeMm : -changeMm;
    const { spans, total } = walk.sides[side];
    if (section !== null) {
      const { from, to } = walk.sections[section]!;
      const walked = spanAt(walk.sides[side], (from.atMm[side] + to.atMm[side]) / 2);
      const ends = [openMm(walked, from.atMm[side]), openMm(walked, to.atMm[side])].sort((a, b) => a - b);
      const stretch = { fromMm: ends[0]!, toMm: ends[1]! };
      return anyMover(walked, stretch, signedMm, context, walk.size);
    }
    // Where lengths of the round are compared, the drawn edge takes its part of the change.
    const drawnMm = (signedMm * total.valueMm) / walk.compared[side].valueMm;
    return spans.flatMap((walked) => anyMover(walked, null, drawnMm, context, walk.size));
  });
}

interface Stretch {
  readonly fromMm: number;
  readonly toMm: number;
}

/** A stretch that reaches this near to an end of its edge is changed by moving that end. */
const AT_END_MM = 0.5;

/** Every way to change one edge: by the end that is freer, by the other, or by a point between. */
function anyMover(
  walked: WalkedSpan,
  stretch: Stretch | null,
  byMm: number,
  context: CheckContext,
  size: string,
): Candidate[] {
  const { piece, shape, span, seam } = walked;
  const labels = edgeLabels(piece, shape);
  const free = freerEnd({ piece, size, shape, labels }, seam.edge);
  const ends = [free, free === 'end' ? 'start' : 'end'] as const;
  const reached = ends.filter((end) => {
    if (stretch === null) return true;
    return end === 'start' ? stretch.fromMm <= AT_END_MM : stretch.toMm >= seam.lengthMm - AT_END_MM;
  });
  const middleMm = stretch === null ? seam.lengthMm / 2 : (stretch.fromMm + stretch.toMm) / 2;
  const movers = [...reached.map((move) => ({ move, atMm: 0 })), { move: 'point', atMm: middleMm }];
  const { say } = context;
  const verb = byMm > 0 ? 'Lengthen' : 'Shorten';
  const inSize = Object.keys(piece.shapes).length > 1 ? ` in size ${size}` : '';
  return movers.map(({ move, atMm }) => ({
    id: 'edge-length',
    params: { byMm, piece: piece.id, edge: span.edge, move, atMm, size },
    grade: 'choice',
    sentence: `${verb} the ${edgeName(shape, span.edge)} of ${nameOf(context, piece.id)} by ${say.length(Math.abs(byMm))}${inSize}, ${
      move === 'point' ? 'by moving a point of it' : `at its end toward the ${neighbourName(walked, move)}`
    }.`,
    way: `${piece.id} ${span.edge}`,
  }));
}

function neighbourName({ shape, seam }: WalkedSpan, end: string): string {
  const { ring } = shape;
  const index = ring.findIndex(({ id }) => id === seam.edge.id);
  const beside = ring.at(end === 'end' ? (index + 1) % ring.length : index - 1)!;
  return edgeName(shape, beside.id);
}
