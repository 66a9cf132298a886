// Whether a piece is its own mirror image, outline and notches: only such a piece may be cut twice the same way up.
import { flattenRing } from '../../geometry/flatten.ts';
import { polygonCentroid, resamplePolyline } from '../../geometry/polygon.ts';
import { distance } from '../../geometry/vector.ts';
import { closuresOn } from '../../pattern/darts.ts';
import type { Shape } from '../../pattern/model.ts';
import { notchPurpose } from '../../pattern/notchPurpose.ts';
import { seamlineOf } from '../../pattern/seamline.ts';

export interface Unevenness {
  /** How far the outline strays at most from its own mirror image, the best axis chosen. */
  readonly outlineMm: number;
  /** Marks without a mirror image: notches with their snips, dart and pleat mouths. */
  readonly marksAlone: number;
}

/** Places around the outline: between two of them a pattern piece turns little. */
const PLACES = 240;
const OUTLINE_CHORD_MM = 0.5;

/**
 * A line is its own mirror image when its distances from its centre read the same both ways from some place on it. Splits
 * into edges do not matter. @param withinMm how far a mark may be from the mirror image of its partner
 */
export function unevenness(shape: Shape, withinMm: number): Unevenness {
  const before = known.get(shape);
  if (before !== undefined && before.withinMm === withinMm) return before;
  const found = { withinMm, ...unevennessOf(shape, withinMm) };
  known.set(shape, found);
  return found;
}

const known = new WeakMap<Shape, Unevenness & { readonly withinMm: number }>();

function unevennessOf(shape: Shape, withinMm: number): Unevenness {
  const { edges } = seamlineOf(shape);
  const outline = flattenRing(
    edges.map(({ path }) => path),
    OUTLINE_CHORD_MM,
  );
  const around = [...outline, outline[0]!];
  let lengthMm = 0;
  for (let i = 1; i < around.length; i++) lengthMm += distance(around[i - 1]!, around[i]!);
  // The step of half a place less: rounding of the length never makes it one place more.
  const places = resamplePolyline(around, lengthMm / (PLACES - 1 / 2)).slice(0, -1);
  const centre = polygonCentroid(outline);
  const reach = places.map((p) => distance(p, centre));
  const marks = marksOf(shape);
  // A coarse look rules out nearly every axis; what is left is looked at place by place.
  const every = Array.from({ length: 2 * reach.length }, (_, twice) => twice);
  const coarse = leastMisfits(reach, every, COARSE, (least) => Math.max(withinMm, least + lengthMm / places.length));
  const axes = leastMisfits(
    reach,
    coarse.map(({ twice }) => twice),
    1,
    (least) => Math.max(withinMm, least),
  );
  const best = Math.min(...axes.map(({ outlineMm }) => outlineMm));
  // A square has several axes; the marks may be even about any of them.
  const slackMm = withinMm + lengthMm / places.length / 2;
  const marksAlone = Math.min(
    ...axes.map(({ twice }) => aloneAbout(marks, (twice * lengthMm) / places.length / 2, lengthMm, slackMm)),
  );
  return { outlineMm: best, marksAlone };
}

/** Every so many places are compared in the coarse look. */
const COARSE = 8;

interface Axis {
  readonly twice: number;
  readonly outlineMm: number;
}

/** The axes, by their places twice/2, whose misfit is at most what the least of all misfits allows. */
function leastMisfits(
  reach: readonly number[],
  axes: readonly number[],
  step: number,
  allowedMm: (leastMm: number) => number,
): readonly Axis[] {
  let leastMm = Number.POSITIVE_INFINITY;
  const looked = axes.map((twice): Axis => {
    // The least can only become less: what is beyond it now need not be known exactly.
    const outlineMm = misfit(reach, twice, step, allowedMm(leastMm));
    leastMm = Math.min(leastMm, outlineMm);
    return { twice, outlineMm };
  });
  const mostMm = allowedMm(leastMm);
  return looked.filter(({ outlineMm }) => outlineMm <= mostMm);
}

/**
 * The distances compared both ways from the place twice/2, every `step` places; 0 ≤ twice < 2n. Looks no further once they
 * differ by more than enoughMm.
 */
function misfit(reach: readonly number[], twice: number, step: number, enoughMm: number): number {
  const n = reach.length;
  let worst = 0;
  for (let k = 0; k < n && worst <= enoughMm; k += step) {
    const other = twice - k;
    const away = Math.abs(reach[k]! - reach[other < 0 ? other + n : other >= n ? other - n : other]!);
    if (away > worst) worst = away;
  }
  return worst;
}

interface Mark {
  readonly atMm: number;
  readonly kind: string;
}

/** Marks by their place around the seamline. */
function marksOf(shape: Shape): Mark[] {
  const starts = new Map<string, number>();
  let passed = 0;
  for (const { edge, lengthMm } of seamlineOf(shape).edges) {
    starts.set(edge.id, passed);
    passed += lengthMm;
  }
  const notches = shape.notches
    .filter((notch) => starts.has(notch.edge) && notchPurpose(shape, notch) === 'match')
    .map((notch) => ({ atMm: starts.get(notch.edge)! + notch.atMm, kind: `notch ${notch.count}` }));
  const mouths = [...starts].flatMap(([edge, start]) =>
    closuresOn(shape, edge).flatMap(({ kind, fromMm, toMm }) => [
      { atMm: start + fromMm, kind },
      { atMm: start + toMm, kind },
    ]),
  );
  return [...notches, ...mouths];
}

function aloneAbout(marks: readonly Mark[], axisMm: number, lengthMm: number, slackMm: number): number {
  return marks.filter(({ atMm, kind }) => {
    const mirrored = 2 * axisMm - atMm;
    return !marks.some((other) => other.kind === kind && aroundMm(other.atMm, mirrored, lengthMm) <= slackMm);
  }).length;
}

/** Distance of two places along a closed line. */
function aroundMm(a: number, b: number, lengthMm: number): number {
  const gap = (((a - b) % lengthMm) + lengthMm) % lengthMm;
  return Math.min(gap, lengthMm - gap);
}
