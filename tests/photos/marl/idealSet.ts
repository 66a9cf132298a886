// The demo's set as a faultless camera would trace it: the drafted seamlines themselves, put into the plan. What the checks
// say about it is what the demo must say.
import type { Dart, Notch, PatternSet, Pleat, Shape } from '../../../shared/pattern/model.ts';
import { alongPolyline, densePath, polylineLength } from '../cubics.ts';
import { type MarlPiece, marlAfterFitting, marlPieces, type Version } from './draft.ts';
import { edgeId, marlPlan } from './plan.ts';

/** A point that a photo gives: the demo's photos measure to about a tenth of a millimetre. */
const POINT_SIGMA_MM = 0.1;
const SCALE_SIGMA_RATIO = 4e-4;

export function idealSet(version: Version): PatternSet {
  return withShapes(marlPlan(), marlPieces(version));
}

export function idealSetAfterFitting(): PatternSet {
  return withShapes(idealSet('as traced'), marlAfterFitting());
}

function withShapes(set: PatternSet, drafted: readonly MarlPiece[]): PatternSet {
  return {
    ...set,
    pieces: set.pieces.map((piece) => {
      const draft = drafted.find(({ id }) => id === piece.id);
      return draft === undefined ? piece : { ...piece, shapes: { M: idealShape(draft, piece.plan!) } };
    }),
  };
}

function idealShape(draft: MarlPiece, plan: NonNullable<PatternSet['pieces'][number]['plan']>): Shape {
  const taken = new Set<string>();
  const notches = draft.notches.map((notch, i): Notch => {
    const edge = edgeId(notch.edge);
    const planned = plan.notches.find(
      (candidate) =>
        !taken.has(candidate.id) &&
        candidate.edge === edge &&
        candidate.purpose === notch.purpose &&
        isNear(draft, notch, candidate.aboutRatio),
    );
    if (planned !== undefined) taken.add(planned.id);
    return {
      id: planned?.id ?? `read-${i + 1}`,
      edge,
      atMm: notch.atMm,
      count: notch.count,
      purpose: planned?.purpose ?? 'match',
      mate: planned?.mate ?? { kind: 'unknown' },
    };
  });
  return {
    ring: draft.ring.map((edge) => ({
      id: edgeId(edge.label),
      label: edge.label,
      role: edge.role,
      curve: edge.seam,
      allowanceMm: edge.allowanceMm,
      allowanceAssumed: false,
      sigmaMm: null,
    })),
    tracedLine: 'seam',
    notches,
    darts: draft.darts.map(
      (dart, i): Dart => ({ id: `d${i + 1}`, edge: edgeId(dart.edge), legs: dart.legs, apex: dart.apex, foldTo: null }),
    ),
    pleats: pleatsOf(notches),
    grainline: draft.grainline && { ...draft.grainline, heads: 2 },
    marks: [],
    accuracy: { scaleSources: [{ id: 'print:1', sigmaRatio: SCALE_SIGMA_RATIO }], pointSigmaMm: POINT_SIGMA_MM },
  };
}

const NEAR_RATIO = 0.08;

function isNear(draft: MarlPiece, notch: MarlPiece['notches'][number], aboutRatio: number): boolean {
  const edge = draft.ring.find(({ label }) => label === notch.edge)!;
  const dense = densePath(edge.seam);
  const expected = alongPolyline(dense, aboutRatio * polylineLength(dense)).at;
  const actual = alongPolyline(dense, notch.atMm).at;
  return Math.hypot(expected[0] - actual[0], expected[1] - actual[1]) < NEAR_RATIO * polylineLength(dense);
}

function pleatsOf(notches: readonly Notch[]): Pleat[] {
  const lines = notches.filter(({ purpose }) => purpose === 'pleat');
  return Array.from({ length: lines.length / 2 }, (_, i) => ({
    id: `pleat-${i + 1}`,
    edge: lines[2 * i]!.edge,
    fromMm: lines[2 * i]!.atMm,
    toMm: lines[2 * i + 1]!.atMm,
  }));
}
