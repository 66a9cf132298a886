// Edges that are sewn together usually carry the same allowance, so that their cut edges lie on each other. Felled, zip,
// inlay and enclosed seams differ on purpose: worth a look, no more.

import { spanAt, type WalkedSpan } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inWalks } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';

interface Data {
  readonly seam: string;
  readonly first: string;
  readonly second: string;
  readonly allowancesMm: readonly [number, number];
  readonly limitMm: number;
}

interface FacingEdges {
  readonly walk: SeamWalk;
  readonly spans: readonly [WalkedSpan, WalkedSpan];
}

export const allowanceDiffers = defineRule<FacingEdges, Data>({
  id: 'allowance-differs',
  title: 'Two edges of a seam carry different allowances',
  why: 'Cut edges are laid on each other and guided along one mark of the machine. With unequal allowances the line of one piece is missed by the difference, all along the seam. Felled, zip and enclosed seams differ on purpose.',
  source:
    'BBC Bitesize, Textiles, Accuracy and quality control; seams that differ on purpose: common practice, no source',
  messages: {
    clear: (d, say) => `${d.seam}: ${d.first} and ${d.second} carry ${say.length(d.allowancesMm[0])} of allowance.`,
    differs: (d, say) =>
      `${d.seam}: ${d.first} carries ${say.length(d.allowancesMm[0])} of allowance and ${d.second} ${say.length(d.allowancesMm[1])}; more than ${say.length(d.limitMm)} apart is worth a look, unless the seam is meant so.`,
    assumed: (d, say) =>
      `${d.seam}: the allowances seem to be ${say.length(d.allowancesMm[0])} on ${d.first} and ${say.length(d.allowancesMm[1])} on ${d.second}, but one of them is only assumed. Enter it.`,
  },
  subjects: inWalks((walk) =>
    walk.sorted.sort !== 'mirror' && walk.sorted.sort !== 'rises' && walk.basis !== 'round' ? facingEdges(walk) : [],
  ),
  judge: (subject, context) => judgePair(subject, context),
});

function judgePair({ walk, spans }: FacingEdges, context: CheckContext): Outcome<Data>[] {
  const { valueMm: limitMm, source } = context.limits.allowance;
  const [a, b] = [spans[0].seam.edge, spans[1].seam.edge];
  const differenceMm = b.allowanceMm - a.allowanceMm;
  const rest = {
    data: {
      seam: walk.seam.name,
      first: spans[0].piece.name,
      second: spans[1].piece.name,
      allowancesMm: [a.allowanceMm, b.allowanceMm],
      limitMm,
    } satisfies Data,
    subjects: [
      { seam: walk.seam.id, size: walk.size },
      ...spans.map((s) => ({ piece: s.piece.id, edge: s.span.edge, size: walk.size })),
    ],
    measured: { value: differenceMm, sigma: 0, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source },
  } as const;
  if (judgeDifference(differenceMm, 0, limitMm) === 'clear') return [{ verdict: 'clear', key: 'clear', ...rest }];
  if (a.allowanceAssumed || b.allowanceAssumed)
    return [{ verdict: 'unsure', reason: 'not-said', key: 'assumed', ...rest }];
  return [
    {
      verdict: 'fault',
      gravity: 'look',
      key: 'differs',
      ...rest,
      overlay: spans.map((s) => ({ kind: 'edge', piece: s.piece.id, edge: s.span.edge })),
      remedies: [
        {
          grade: 'choice',
          sentence: 'Give both edges the same allowance, or leave it when the seam is felled, enclosed or holds a zip.',
        },
      ],
    },
  ];
}

/** Every pair of edges that lie opposite each other, once. A traced seamline carries the allowance that was entered. */
function facingEdges(walk: SeamWalk): FacingEdges[] {
  const shares = walk.sides.flatMap((side) => side.spans.map((s) => s.startsAtMm / side.total.valueMm));
  const starts = [...new Set(shares)].sort((a, b) => a - b);
  const pairs = new Map<string, FacingEdges>();
  starts.forEach((start, i) => {
    const middle = (start + (starts[i + 1] ?? 1)) / 2;
    const spans = [
      spanAt(walk.sides[0], middle * walk.sides[0].total.valueMm),
      spanAt(walk.sides[1], middle * walk.sides[1].total.valueMm),
    ] as const;
    const hasAllowance = spans.every(({ shape, seam }) => shape.tracedLine === 'cutting' || seam.edge.allowanceMm > 0);
    // Joints that nearly meet leave a sliver between them that faces the wrong neighbour.
    const isSliver = (starts[i + 1] ?? 1) - start < SLIVER_RATIO;
    if (hasAllowance && !isSliver)
      pairs.set(JSON.stringify(spans.map((s) => [s.piece.id, s.span.edge])), { walk, spans });
  });
  return [...pairs.values()];
}

/** A stretch below this part of the seam, between two joints that should meet, is not a pair of edges of its own. */
const SLIVER_RATIO = 0.1;
