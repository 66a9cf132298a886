// A step of the grade that is far smaller or larger than the step beside it. Published tables step unevenly too, so this is
// told and never held against the set.
import { groupedBy } from '../../base/groupedBy.ts';
import { GRADE_STEP } from '../../limits/grading.ts';
import type { Piece } from '../../pattern/model.ts';
import { type GradeStep, type SizedEdge, sizedEdges, stepsOf } from '../../sizes/edgeSteps.ts';
import type { CheckContext } from '../context.ts';
import { seamNests } from '../parts/seamNests.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inSet } from '../subjects.ts';
import { expanded } from '../verdict.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly from: string;
  readonly middle: string;
  readonly to: string;
  readonly beforeMm: number;
  readonly stepMm: number;
  readonly sigmaMm: number;
  /** Other edges that step as unevenly there. */
  readonly others: number;
  readonly edges: number;
}

interface Jump {
  readonly edge: SizedEdge;
  readonly before: GradeStep;
  readonly step: GradeStep;
  readonly shrinks: boolean;
  readonly byMm: number;
}

interface SetSteps {
  readonly edges: readonly SizedEdge[];
}

export const gradeJump = defineRule<SetSteps, Data>({
  id: 'grade-jump',
  title: 'The grade jumps from one size to the next',
  why: 'Sizes grow by steps that change slowly. A step that is suddenly twice as large or half as small may be how the size table is, above all at its ends; it may also be a piece that was taken from another size.',
  source: GRADE_STEP.source,
  messages: {
    even: (d) => `The ${d.edges} edges that were traced in three sizes or more grow by even steps.`,
    jumps: (d, say) =>
      `${d.piece}, ${d.edge}: ${say.length(d.beforeMm)} from size ${d.from} to ${d.middle}, but ${say.length(d.stepMm)} from ${d.middle} to ${d.to}${others(d)}. If the size table steps so, leave it.`,
    shrinks: (d, say) =>
      `${d.piece}, ${d.edge}: ${say.length(d.beforeMm)} from size ${d.from} to ${d.middle}, but ${say.length(d.stepMm)} from ${d.middle} to ${d.to}${others(d)}: it turns round. Was size ${d.middle} or ${d.to} taken from elsewhere?`,
  },
  subjects: inSet((context) => {
    if (context.sizes.length < 3) return [];
    const explained = explainedEdges(context);
    const edges = context.set.pieces
      .flatMap((piece) => context.once(edgesOf, piece))
      .filter(
        ({ lengths, piece, edge, role }) =>
          lengths.length > 2 && (role === 'seam' || role === 'hem') && !explained.has(keyOf(piece.id, edge)),
      );
    return edges.length === 0 ? [] : [{ edges }];
  }),
  judge: ({ edges }, context) => {
    const jumps = edges.flatMap((edge) => context.once(jumpsOf, edge));
    if (jumps.length === 0) {
      const data = { ...NO_DATA, edges: edges.length };
      return [{ verdict: 'clear', key: 'even', data, subjects: [] }];
    }
    const groups = groupedBy(jumps, ({ step, shrinks }) => [JSON.stringify([step.from, step.to, shrinks])]);
    return [...groups.values()].map((group) => told(group, edges.length));
  },
});

function edgesOf({ sizes, measuring }: CheckContext, piece: Piece): readonly SizedEdge[] {
  return sizedEdges(piece, sizes, measuring);
}

function told(group: readonly Jump[], edges: number): Outcome<Data> {
  const { edge, before, step, shrinks } = group.toSorted(byAmount)[0]!;
  const { valueMm, sigmaMm } = step.perSize;
  const limitRatio = shrinks || valueMm < before.perSize.valueMm ? GRADE_STEP.fromRatio : GRADE_STEP.toRatio;
  return {
    verdict: 'fault',
    gravity: shrinks ? 'look' : 'note',
    key: shrinks ? 'shrinks' : 'jumps',
    data: {
      piece: edge.piece.name,
      edge: edge.label,
      from: before.from,
      middle: before.to,
      to: step.to,
      beforeMm: before.perSize.valueMm,
      stepMm: valueMm,
      sigmaMm,
      others: group.length - 1,
      edges,
    },
    subjects: group
      .toSorted(byAmount)
      .map((jump) => ({ piece: jump.edge.piece.id, edge: jump.edge.edge, size: jump.step.to })),
    measured: { value: valueMm, sigma: sigmaMm, unit: 'mm' },
    limit: {
      value: tenths(limitRatio * before.perSize.valueMm),
      unit: 'mm',
      source: GRADE_STEP.source,
    },
    overlay: group.map((jump) => ({ kind: 'edge', piece: jump.edge.piece.id, edge: jump.edge.edge })),
    remedies: [
      {
        grade: 'choice',
        sentence: `Compare the step from ${step.from} to ${step.to} with the size table of the pattern.`,
      },
    ],
  };
}

function tenths(mm: number): number {
  return Math.round(10 * mm) / 10;
}

/** Equal jumps are told in the order of their names, however the piece lies. */
function byAmount(a: Jump, b: Jump): number {
  const [mmA, mmB] = [a, b].map(({ byMm }) => Math.round(byMm)) as [number, number];
  return mmB - mmA || (nameOf(a) < nameOf(b) ? -1 : 1);
}

function nameOf({ edge }: Jump): string {
  return `${edge.piece.name}, ${edge.label}`;
}

function jumpsOf({ sizes }: CheckContext, edge: SizedEdge): Jump[] {
  const steps = stepsOf(edge, sizes);
  return steps.slice(1).flatMap((step, i): Jump[] => {
    const before = steps[i]!;
    const [a, b] = [before.perSize.valueMm, step.perSize.valueMm];
    const slackMm = GRADE_STEP.slackMm + expanded(Math.hypot(before.perSize.sigmaMm, step.perSize.sigmaMm));
    const shrinks = a * b < 0 && Math.min(Math.abs(a), Math.abs(b)) > slackMm;
    const [less, more] = [Math.abs(a), Math.abs(b)].toSorted((p, q) => p - q) as [number, number];
    const byMm = shrinks ? less : more - GRADE_STEP.toRatio * less - slackMm;
    return byMm > 0 ? [{ edge, before, step, shrinks, byMm }] : [];
  });
}

/** Edges that another rule of the nest has already named. */
function explainedEdges(context: CheckContext): ReadonlySet<string> {
  return new Set(
    seamNests(context).flatMap(({ compared }) =>
      compared.flatMap((one) =>
        one.decision === 'fault' && one.twice !== null ? [keyOf(one.twice.piece.id, one.twice.edge)] : [],
      ),
    ),
  );
}

function keyOf(piece: string, edge: string): string {
  return JSON.stringify([piece, edge]);
}

function others({ others: n }: Data): string {
  return n === 0 ? '' : ` (and ${n} more ${n === 1 ? 'edge' : 'edges'} like it)`;
}

const NO_DATA = {
  piece: '',
  edge: '',
  from: '',
  middle: '',
  to: '',
  beforeMm: 0,
  stepMm: 0,
  sigmaMm: 0,
  others: 0,
} as const;
