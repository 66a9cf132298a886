// A piece's outline is one closed line that never crosses itself: anything else cannot be cut.
import { memoised } from '../../base/memoised.ts';
import type { Point } from '../../base/points.ts';
import { type RingCrossing, selfIntersections } from '../../geometry/intersect.ts';
import { distance } from '../../geometry/vector.ts';
import { OPEN_OUTLINE } from '../../limits/tolerances.ts';
import type { Shape } from '../../pattern/model.ts';
import type { ShapeInSize } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { EVERY_SHAPE } from '../subjects.ts';

interface Data {
  readonly piece: string;
  readonly crossings: number;
  readonly gapMm: number;
}

export const outlineCrosses = defineRule<ShapeInSize, Data>({
  id: 'outline-crosses',
  title: 'The outline crosses itself or is not closed',
  why: 'A cutting line that crosses itself has no inside, so nothing that is measured on it means anything. It usually comes from a loop at a corner or from two edges taken in the wrong order.',
  source: 'A closed outline that does not cross itself: geometry; the gap allowed is common practice, no source',
  messages: {
    clear: (d) => `${d.piece}: the outline is closed and does not cross itself.`,
    crosses: (d) =>
      `${d.piece}: the outline crosses itself in ${d.crossings === 1 ? 'one place' : `${d.crossings} places`}.`,
    open: (d, say) => `${d.piece}: the outline is open: two edges that should meet are ${say.length(d.gapMm)} apart.`,
  },
  subjects: EVERY_SHAPE,
  judge: (subject) => [judgeOutline(subject)],
});

function judgeOutline({ piece, shape, size }: ShapeInSize): Outcome<Data> {
  const rest = { subjects: [{ piece: piece.id, size }] };
  const gap = widestGap(shape);
  if (gap.gapMm > OPEN_OUTLINE.valueMm) {
    return {
      verdict: 'fault',
      gravity: 'stop',
      key: 'open',
      data: { piece: piece.name, crossings: 0, gapMm: gap.gapMm },
      ...rest,
      measured: { value: gap.gapMm, sigma: 0, unit: 'mm' },
      limit: { value: OPEN_OUTLINE.valueMm, unit: 'mm', source: OPEN_OUTLINE.source },
      overlay: [{ kind: 'segment', piece: piece.id, from: gap.from, to: gap.to, label: 'open' }],
      remedies: [{ grade: 'choice', sentence: 'Move the two edge ends together.' }],
    };
  }
  const crossings = crossingsOf(shape);
  const data: Data = { piece: piece.name, crossings: crossings.length, gapMm: gap.gapMm };
  const measured = { value: crossings.length, sigma: 0, unit: 'count' } as const;
  if (crossings.length === 0) return { verdict: 'clear', key: 'clear', data, ...rest, measured };
  return {
    verdict: 'fault',
    gravity: 'stop',
    key: 'crosses',
    data,
    ...rest,
    measured,
    overlay: crossings.map(({ point }) => ({ kind: 'point', piece: piece.id, at: point, label: 'crosses' })),
    remedies: [{ grade: 'choice', sentence: 'Redraw the outline where it crosses, or take its edges in order again.' }],
  };
}

const known = new WeakMap<Shape, readonly RingCrossing[]>();

function crossingsOf(shape: Shape): readonly RingCrossing[] {
  return memoised(known, shape, () => selfIntersections(shape.ring.map((edge) => edge.curve)));
}

function widestGap(shape: Shape): { readonly gapMm: number; readonly from: Point; readonly to: Point } {
  const gaps = shape.ring.map((edge, i) => {
    const from = edge.curve.at(-1)!;
    const to = shape.ring[(i + 1) % shape.ring.length]!.curve[0]!;
    return { gapMm: distance(from, to), from, to };
  });
  return gaps.reduce((widest, gap) => (gap.gapMm > widest.gapMm ? gap : widest), {
    gapMm: 0,
    from: [0, 0],
    to: [0, 0],
  });
}
