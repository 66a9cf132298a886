// Every edge of a garment piece is something: sewn to another, folded, hemmed, or an opening. One that is none of these has
// been forgotten in the plan of seams. What one piece has of them is one finding.
import { UNCLAIMED } from '../../limits/tolerances.ts';
import { isBand, isCollar, isFinishedEdge, mayHaveFreeEdges } from '../../pattern/kinds.ts';
import type { EdgeSpan, Piece } from '../../pattern/model.ts';
import { type SeamEdge, seamlineOf } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { EVERY_SHAPE } from '../subjects.ts';
import { edgeName, edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  /** Names of the edges, the longest free stretch first. */
  readonly edges: readonly string[];
  /** Of the first of them. */
  readonly freeMm: number;
  readonly lengthMm: number;
}

interface Stretch {
  readonly fromMm: number;
  readonly toMm: number;
}

interface FreeEdge {
  readonly seam: SeamEdge;
  readonly freeMm: number;
}

export const edgeUnclaimed = defineRule<ShapeInSize, Data>({
  id: 'edge-unclaimed',
  title: 'An edge is sewn to nothing',
  why: 'An edge is a seam, a fold, a hem or an opening. One that is none of these has no partner to be compared with, so nothing vouches for it.',
  source: 'Finished, faced, bound and placed edges need no partner: common practice, no source',
  messages: {
    clear: (d) => `${d.piece}: every edge is a seam, a fold, a hem or an opening.`,
    unclaimed: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edges[0] ?? '')} (${say.length(d.lengthMm)}) is neither sewn, folded, hemmed nor left open.`,
    partly: (d, say) =>
      `${d.piece}: ${say.length(d.freeMm)} of the ${edgeWords(d.edges[0] ?? '')} (${say.length(d.lengthMm)}) are in no seam.`,
    several: (d) =>
      `${d.piece}: ${d.edges.length} edges are in no seam, neither folded, hemmed nor left open: ${d.edges.join(', ')}.`,
    placed: (d) => `${d.piece}: edges of this kind of piece may be finished or placed, so none needs a partner.`,
  },
  subjects: EVERY_SHAPE,
  judge: (subject, context) => [judgeShape(subject, context)],
});

function judgeShape({ piece, shape, size }: ShapeInSize, context: CheckContext): Outcome<Data> {
  const quiet = {
    data: { piece: piece.name, edges: [], freeMm: 0, lengthMm: 0 },
    subjects: [{ piece: piece.id, size }],
  };
  if (mayHaveFreeEdges(piece.kind)) return { verdict: 'not-applicable', key: 'placed', ...quiet };
  const { edges } = seamlineOf(shape);
  const isSewn = edges.some(({ edge }) => context.claims(piece.id, edge.id).length > 0);
  const free = edges
    .filter(({ edge }) => edge.role === 'seam')
    .map(
      (seam): FreeEdge => ({ seam, freeMm: longestFree(seam, claims(context.claims(piece.id, seam.edge.id), seam)) }),
    )
    .filter(({ seam, freeMm }) => freeMm > Math.min(UNCLAIMED.valueMm, seam.lengthMm / 2))
    .filter((one) => !isFinished(piece, one, isSewn))
    .toSorted((a, b) => Math.round(b.freeMm - a.freeMm) || a.seam.edge.id.localeCompare(b.seam.edge.id));
  const [longest] = free;
  if (longest === undefined) return { verdict: 'clear', key: 'clear', ...quiet };
  const { seam, freeMm } = longest;
  const isSeveral = free.length > 1;
  return {
    verdict: 'fault',
    gravity: 'look',
    key: isSeveral ? 'several' : freeMm >= seam.lengthMm ? 'unclaimed' : 'partly',
    data: { piece: piece.name, edges: free.map((one) => edgeName(one.seam.edge)), freeMm, lengthMm: seam.lengthMm },
    subjects: free.map((one) => ({ piece: piece.id, edge: one.seam.edge.id, size })),
    measured: { value: freeMm, sigma: 0, unit: 'mm' },
    limit: { value: UNCLAIMED.valueMm, unit: 'mm', source: UNCLAIMED.source },
    overlay: free.map((one) => ({ kind: 'edge', piece: piece.id, edge: one.seam.edge.id })),
    remedies: [
      {
        grade: 'choice',
        sentence: `Choose what ${isSeveral ? 'these edges are' : 'this edge is'} sewn to, or mark ${isSeveral ? 'them' : 'it'} as hem, fold or opening.`,
      },
    ],
  };
}

/**
 * A band or a collar that is sewn on somewhere is closed by itself: folded over, or by its second layer. So are the outer
 * edges of a piece that is cut from two cloths.
 */
function isFinished(piece: Piece, { seam, freeMm }: FreeEdge, isSewn: boolean): boolean {
  if (freeMm < seam.lengthMm) return false;
  if (isSewn && (isBand(piece.kind) || isCollar(piece.kind))) return true;
  const cloths = new Set(piece.cut.map(({ material }) => material));
  cloths.delete('interfacing');
  return cloths.size > 1 && isFinishedEdge(seam.edge.label);
}

function claims(spans: readonly EdgeSpan[], { lengthMm }: SeamEdge): Stretch[] {
  return spans.map((span) => span.stretch ?? { fromMm: 0, toMm: lengthMm }).sort((a, b) => a.fromMm - b.fromMm);
}

/** The longest stretch that no seam claims; claims are in order of their starts. */
function longestFree({ lengthMm }: SeamEdge, claimed: readonly Stretch[]): number {
  let longest = 0;
  let reached = 0;
  for (const { fromMm, toMm } of claimed) {
    longest = Math.max(longest, fromMm - reached);
    reached = Math.max(reached, toMm);
  }
  return Math.max(longest, lengthMm - reached);
}
