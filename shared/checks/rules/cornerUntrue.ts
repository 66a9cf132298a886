// Where a seam ends, the edges beside it run on across it: the two inside angles add up to a straight line, 180 degrees.
import { INTENDED_CORNER, TURN_SHOWS } from '../../limits/tolerances.ts';
import { isBand, normalLabel } from '../../pattern/kinds.ts';
import type { PieceKind } from '../../pattern/model.ts';
import { type SideEnd, sideEnd } from '../../pattern/rollSeam.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { judgeTurn } from '../parts/turnVerdict.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inWalks } from '../subjects.ts';

interface Data {
  readonly seam: string;
  readonly end: string;
  readonly first: string;
  readonly second: string;
  readonly anglesDeg: readonly [number, number];
  readonly offDeg: number;
  readonly sigmaDeg: number;
  readonly limitDeg: number;
}

interface JoinedCorner {
  readonly walk: SeamWalk;
  readonly ends: readonly [SideEnd, SideEnd];
}

const STRAIGHT_DEG = 180;

export const cornerUntrue = defineRule<JoinedCorner, Data>({
  id: 'corner-untrue',
  title: 'The line is not smooth across a seam',
  why: 'Lay the two pieces together along the seam: the neckline, armhole, waist or hem must run on across it without a peak or a notch. That is so when the two inside angles add up to 180 degrees, whatever each of them is.',
  source: `The two angles sum to 180: common practice, geometry; the angle allowed is this program's own setting; to be mended from ${TURN_SHOWS.valueDeg} degrees: ${TURN_SHOWS.source}`,
  messages: {
    clear: (d, say) =>
      `${d.seam}: across its end at the ${d.end} the line runs on, ${sum(d)} (${say.uncertainAngle(d.offDeg, d.sigmaDeg)} off).`,
    untrue: (d, say) =>
      `${d.seam}: across its end at the ${d.end} the line has a ${d.offDeg < 0 ? 'peak' : 'dip'}: ${d.first} ${say.angle(d.anglesDeg[0])} and ${d.second} ${say.angle(d.anglesDeg[1])} add up to ${say.angle(d.anglesDeg[0] + d.anglesDeg[1])}, ${say.uncertainAngle(Math.abs(d.offDeg), d.sigmaDeg)} ${d.offDeg < 0 ? 'short of' : 'over'} 180°; ${say.angle(d.limitDeg)} is allowed.`,
    tooCoarse: (d, say) =>
      `${d.seam}: the corners at the ${d.end} miss 180° by ${say.uncertainAngle(Math.abs(d.offDeg), d.sigmaDeg)}, too coarse to judge ${say.angle(d.limitDeg)}. Measure these corners again, nearer and with more cards.`,
    intended: (d) => `${d.seam}: the line turns at the ${d.end} on purpose (${sum(d)}).`,
  },
  subjects: inWalks(joinedCorners),
  judge: (subject, context) => [judgeJoin(subject, context)],
});

function sum(d: Data): string {
  return `${d.anglesDeg[0].toFixed(1)} + ${d.anglesDeg[1].toFixed(1)} = ${(d.anglesDeg[0] + d.anglesDeg[1]).toFixed(1)}°`;
}

function judgeJoin({ walk, ends }: JoinedCorner, context: CheckContext): Outcome<Data> {
  const [a, b] = ends;
  const offDeg = a.corner.insideDeg + b.corner.insideDeg - STRAIGHT_DEG;
  const isSameCorner = a.corner === b.corner;
  const sigmaDeg = isSameCorner ? 2 * a.corner.sigmaDeg : Math.hypot(a.corner.sigmaDeg, b.corner.sigmaDeg);
  const { decision, gravity, limit } = judgeTurn(offDeg, sigmaDeg, context.limits.joinedCorner);
  const { valueDeg: limitDeg, source } = limit;
  const rest = {
    data: {
      seam: walk.seam.name,
      end: a.next.edge.label === '' ? 'next edge' : a.next.edge.label,
      first: a.walked.piece.name,
      second: b.walked.piece.name,
      anglesDeg: [a.corner.insideDeg, b.corner.insideDeg],
      offDeg,
      sigmaDeg,
      limitDeg,
    } satisfies Data,
    subjects: [
      { seam: walk.seam.id, size: walk.size },
      ...ends.map(({ walked, next }) => ({ piece: walked.piece.id, edge: next.edge.id, size: walk.size })),
    ],
    measured: { value: offDeg, sigma: sigmaDeg, unit: 'deg' },
    limit: { value: limitDeg, unit: 'deg', source },
  } as const;
  if (Math.abs(offDeg) > INTENDED_CORNER.valueDeg) return { verdict: 'not-applicable', key: 'intended', ...rest };
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return {
    verdict: 'fault',
    gravity,
    key: 'untrue',
    ...rest,
    overlay: ends.map(({ walked, corner }) => ({
      kind: 'point',
      piece: walked.piece.id,
      at: corner.at,
      label: context.say.angle(corner.insideDeg),
    })),
    remedies: [
      {
        grade: 'choice',
        sentence: `Lay both pieces together along the seam and redraw the ${rest.data.end} as one line across it.`,
      },
    ],
  };
}

/**
 * Pairs of edges that run on from one piece to the next: neighbours in a chain of some seam, and hem to hem. Edges that are
 * themselves sewn to each other meet in a point that is turned, as at the tip of a collar: nothing runs on there.
 */
function continuations({ set }: CheckContext): (a: SideEnd, b: SideEnd) => boolean {
  const chained = new Set<string>();
  const sewn = new Set<string>();
  for (const seam of set.seams) {
    const [first, second] = seam.sides;
    for (const a of first) for (const b of second) sewn.add(chainKey(...[a, b].map(edgeKey).toSorted()));
    for (const side of seam.sides) {
      side.slice(1).forEach((span, i) => {
        chained.add(chainKey(side[i]!.piece, side[i]!.edge, span.piece, span.edge));
        chained.add(chainKey(span.piece, span.edge, side[i]!.piece, side[i]!.edge));
      });
    }
  }
  return (a, b) => {
    const bothHems = a.next.edge.role === 'hem' && b.next.edge.role === 'hem';
    const isSameEdge = a.walked.piece.id === b.walked.piece.id && a.next.edge.id === b.next.edge.id;
    const isChained = chained.has(chainKey(a.walked.piece.id, a.next.edge.id, b.walked.piece.id, b.next.edge.id));
    if (!bothHems && !isSameEdge && !isChained) return false;
    const isTurnedPoint = sewn.has(
      chainKey(...[a, b].map(({ walked, next }) => edgeKey({ piece: walked.piece.id, edge: next.edge.id })).toSorted()),
    );
    return !isTurnedPoint;
  };
}

function edgeKey({ piece, edge }: { readonly piece: string; readonly edge: string }): string {
  return chainKey(piece, edge);
}

function chainKey(...parts: readonly string[]): string {
  return JSON.stringify(parts);
}

/** Two layers of one piece, as of a collar or a cuff, lie on each other: what runs on from one is not the other. */
function joinsLayers({ sides, sorted }: SeamWalk): boolean {
  if (sorted.sort !== 'mirror') return false;
  const { piece, seam } = sides[0].spans[0]!;
  if (normalLabel(seam.edge.label).startsWith('centre')) return false;
  return piece.cut.some(({ onFold }) => onFold) || isBand(piece.kind) || LAYERED.includes(piece.kind);
}

const LAYERED: readonly PieceKind[] = ['facing', 'pocket', 'yoke'];

/** Four pieces meet in the crotch, where the rises run on across the inseam; the inseams of the two legs make a point. */
function isCrotch({ sorted, sides }: SeamWalk, { next }: SideEnd): boolean {
  const isRise = normalLabel(sides[0].spans[0]!.seam.edge.label) === 'rise';
  return sorted.sort === 'mirror' && isRise && normalLabel(next.edge.label) === 'inseam';
}

function joinedCorners(walk: SeamWalk, context: CheckContext): readonly JoinedCorner[] {
  if (joinsLayers(walk)) return [];
  const runsOn = context.once(continuations, null);
  return (['start', 'end'] as const).flatMap((end) => {
    const a = sideEnd(walk.sides[0], end);
    const b = sideEnd(walk.sides[1], end);
    // A fold is not a line that runs on: its corner is judged by itself.
    if (a === null || b === null || a.next.edge.role === 'fold' || b.next.edge.role === 'fold') return [];
    if (isCrotch(walk, a)) return [];
    return runsOn(a, b) ? [{ walk, ends: [a, b] as const }] : [];
  });
}
