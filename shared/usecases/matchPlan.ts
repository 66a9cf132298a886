// Which planned piece a traced piece is, and which of its edges are which: the traced edge lengths, in order round the
// piece, are laid against the planned ones in every turn, face up and face down; corners too many or too few cost
// something. Lengths in a plan are rough, so only the pattern of long and short edges decides.
import type { PiecePlan } from '../pattern/model.ts';

/** One planned edge as it was found: whole traced edges joined, or a part of one. */
export interface EdgeMatch {
  readonly planned: number;
  /** Indices of traced edges in the order of the planned ring. */
  readonly traced: readonly number[];
  /** Part of the (single) traced edge in the order of travel; 0 to 1 = all of it. */
  readonly fromRatio: number;
  readonly toRatio: number;
}

export interface PlanMatch {
  /** In the order of the plan. */
  readonly edges: readonly EdgeMatch[];
  /** The piece lay face down: the plan's order runs the other way round. */
  readonly faceDown: boolean;
  /** Mean squared misfit per planned edge, in standard deviations of a rough length; below 1 is ordinary. */
  readonly misfit: number;
}

/** What is known of a traced piece for recognising it. */
export interface TracedRing {
  readonly lengthsMm: readonly number[];
  /** Notches on each traced edge. */
  readonly notchCounts: readonly number[];
  /** Whether a fold mark lies along the traced edge. */
  readonly folds: readonly boolean[];
}

export const PLAN_MATCHING = {
  /** A plan's lengths are rough: another size or an altered edge is this far off. */
  roughRatio: 0.08,
  roughMm: 8,
  /** Cost of a corner too many or too few, and of a notch or fold mark that is not where the plan has it. */
  cornerCost: 2,
  notchCost: 0.5,
  foldCost: 2,
  /** More corners between two planned ones than this are not the planned edge. */
  mostJoined: 4,
  /** A piece lies face up unless face down fits better by this much. */
  faceDownCost: 2,
  /** Above this a piece is not recognised. */
  worstMisfit: 4,
} as const;

/** The best way to lay a traced ring on a plan; null when none is possible. */
export function matchPlan(plan: PiecePlan, ring: TracedRing): PlanMatch | null {
  const count = ring.lengthsMm.length;
  if (count === 0) return null;
  let best: PlanMatch | null = null;
  for (const faceDown of [false, true]) {
    for (let start = 0; start < count; start++) {
      const order = Array.from({ length: count }, (_, i) => (faceDown ? start - i + count : start + i) % count);
      const found = layInOrder(plan, ring, order);
      if (found === null) continue;
      const misfit = (found.cost + (faceDown ? PLAN_MATCHING.faceDownCost : 0)) / plan.edges.length;
      if (best === null || misfit < best.misfit) best = { edges: found.edges, faceDown, misfit };
    }
  }
  return best;
}

/** Traced piece → planned piece, best fits first, each used once; what fits no plan is left out. */
export function assignPlans(
  plans: readonly PiecePlan[],
  rings: readonly TracedRing[],
): ReadonlyMap<number, { readonly plan: number; readonly match: PlanMatch }> {
  const offers = rings.flatMap((ring, traced) =>
    plans.flatMap((plan, index) => {
      const match = matchPlan(plan, ring);
      return match === null || match.misfit > PLAN_MATCHING.worstMisfit ? [] : [{ traced, plan: index, match }];
    }),
  );
  const given = new Map<number, { readonly plan: number; readonly match: PlanMatch }>();
  const used = new Set<number>();
  for (const { traced, plan, match } of offers.toSorted((a, b) => a.match.misfit - b.match.misfit)) {
    if (given.has(traced) || used.has(plan)) continue;
    given.set(traced, { plan, match });
    used.add(plan);
  }
  return given;
}

interface Laid {
  readonly cost: number;
  readonly edges: readonly EdgeMatch[];
}

/** Dynamic programme over (planned edges used, traced edges used): joins traced edges, or shares one among several. */
function layInOrder(plan: PiecePlan, ring: TracedRing, order: readonly number[]): Laid | null {
  const planned = plan.edges.length;
  const traced = order.length;
  const best: (Laid | null)[][] = Array.from({ length: planned + 1 }, () =>
    new Array<Laid | null>(traced + 1).fill(null),
  );
  best[0]![0] = { cost: 0, edges: [] };
  const offer = (p: number, t: number, laid: Laid) => {
    const known = best[p]![t];
    if (!known || laid.cost < known.cost) best[p]![t] = laid;
  };
  for (let p = 0; p < planned; p++) {
    for (let t = 0; t < traced; t++) {
      const from = best[p]![t];
      if (!from) continue;
      for (let joined = 1; joined <= PLAN_MATCHING.mostJoined && t + joined <= traced; joined++) {
        const group = order.slice(t, t + joined);
        const cost = from.cost + edgesCost(plan, ring, [p], group) + PLAN_MATCHING.cornerCost * (joined - 1);
        const match = { planned: p, traced: group, fromRatio: 0, toRatio: 1 };
        offer(p + 1, t + joined, { cost, edges: [...from.edges, match] });
      }
      for (let shared = 2; shared <= PLAN_MATCHING.mostJoined && p + shared <= planned; shared++) {
        const group = Array.from({ length: shared }, (_, i) => p + i);
        const cost = from.cost + edgesCost(plan, ring, group, [order[t]!]) + PLAN_MATCHING.cornerCost * (shared - 1);
        offer(p + shared, t + 1, { cost, edges: [...from.edges, ...shares(plan, group, order[t]!)] });
      }
    }
  }
  return best[planned]![traced] ?? null;
}

function edgesCost(plan: PiecePlan, ring: TracedRing, planned: readonly number[], traced: readonly number[]): number {
  const edges = planned.map((index) => plan.edges[index]!);
  const aboutMm = edges.reduce((sum, edge) => sum + edge.aboutMm, 0);
  const lengthMm = traced.reduce((sum, index) => sum + ring.lengthsMm[index]!, 0);
  const roughMm = PLAN_MATCHING.roughRatio * aboutMm + PLAN_MATCHING.roughMm;
  const ids = new Set(edges.map((edge) => edge.id));
  const notches = plan.notches.filter((notch) => ids.has(notch.edge)).length;
  const read = traced.reduce((sum, index) => sum + ring.notchCounts[index]!, 0);
  const fold = edges.some((edge) => edge.role === 'fold') !== traced.some((index) => ring.folds[index]!);
  return (
    ((lengthMm - aboutMm) / roughMm) ** 2 +
    PLAN_MATCHING.notchCost * Math.abs(notches - read) +
    (fold ? PLAN_MATCHING.foldCost : 0)
  );
}

/** A traced edge without the corners that the plan has on it, divided in proportion. */
function shares(plan: PiecePlan, planned: readonly number[], traced: number): readonly EdgeMatch[] {
  const totalMm = planned.reduce((sum, index) => sum + plan.edges[index]!.aboutMm, 0);
  let fromMm = 0;
  return planned.map((index) => {
    const toMm = fromMm + plan.edges[index]!.aboutMm;
    const match = { planned: index, traced: [traced], fromRatio: fromMm / totalMm, toRatio: toMm / totalMm };
    fromMm = toMm;
    return match;
  });
}
