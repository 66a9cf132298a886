// Every edge of a garment piece is something: sewn to another, folded, hemmed, or an opening. One that is none of these has
// been forgotten in the plan of seams.
import { UNCLAIMED } from '../../limits/tolerances.ts';
import { mayHaveFreeEdges } from '../../pattern/kinds.ts';
import type { EdgeSpan } from '../../pattern/model.ts';
import { type SeamEdge, seamlineOf } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { EVERY_SHAPE } from '../subjects.ts';
import { edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly freeMm: number;
  readonly lengthMm: number;
}

interface Stretch {
  readonly fromMm: number;
  readonly toMm: number;
}

export const edgeUnclaimed = defineRule<ShapeInSize, Data>({
  id: 'edge-unclaimed',
  title: 'An edge is sewn to nothing',
  why: 'An edge is a seam, a fold, a hem or an opening. One that is none of these has no partner to be compared with, so nothing vouches for it.',
  source: 'Finished, faced, bound and placed edges need no partner: common practice, no source',
  messages: {
    clear: (d) => `${d.piece}: every edge is a seam, a fold, a hem or an opening.`,
    unclaimed: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edge)} (${say.length(d.lengthMm)}) is neither sewn, folded, hemmed nor left open.`,
    partly: (d, say) =>
      `${d.piece}: ${say.length(d.freeMm)} of the ${edgeWords(d.edge)} (${say.length(d.lengthMm)}) are in no seam.`,
    placed: (d) => `${d.piece}: edges of this kind of piece may be finished or placed, so none needs a partner.`,
  },
  subjects: EVERY_SHAPE,
  judge: (subject, context) => judgeShape(subject, context),
});

function judgeShape({ piece, shape, size }: ShapeInSize, context: CheckContext): Outcome<Data>[] {
  const quiet = {
    data: { piece: piece.name, edge: '', freeMm: 0, lengthMm: 0 },
    subjects: [{ piece: piece.id, size }],
  };
  if (mayHaveFreeEdges(piece.kind)) return [{ verdict: 'not-applicable', key: 'placed', ...quiet }];
  const free = seamlineOf(shape).edges.flatMap((edge): Outcome<Data>[] => {
    if (edge.edge.role !== 'seam') return [];
    const freeMm = longestFree(edge, claims(context.claims(piece.id, edge.edge.id), edge));
    if (freeMm <= Math.min(UNCLAIMED.valueMm, edge.lengthMm / 2)) return [];
    return [
      {
        verdict: 'fault',
        gravity: 'look',
        key: freeMm >= edge.lengthMm ? 'unclaimed' : 'partly',
        data: { piece: piece.name, edge: edge.edge.label, freeMm, lengthMm: edge.lengthMm },
        subjects: [{ piece: piece.id, edge: edge.edge.id, size }],
        measured: { value: freeMm, sigma: 0, unit: 'mm' },
        limit: { value: UNCLAIMED.valueMm, unit: 'mm', source: UNCLAIMED.source },
        overlay: [{ kind: 'edge', piece: piece.id, edge: edge.edge.id }],
        remedies: [
          { grade: 'choice', sentence: 'Choose what this edge is sewn to, or mark it as hem, fold or opening.' },
        ],
      },
    ];
  });
  return free.length > 0 ? free : [{ verdict: 'clear', key: 'clear', ...quiet }];
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
