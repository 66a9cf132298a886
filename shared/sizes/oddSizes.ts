// A seam looked at in all sizes at once: the sizes in which its sides differ by something else than in the others, and which
// line was then traced twice. A cap that was not graded may lie in its range by itself; beside its neighbours it does not.
import { COVERAGE_FACTOR } from '../base/measured.ts';
import { DRAWN_TO } from '../limits/grading.ts';
import { type Length, subtractLength } from '../pattern/measure.ts';
import type { Piece, Size } from '../pattern/model.ts';
import type { SeamWalk } from '../pattern/walk.ts';

export interface SizeCompared {
  readonly walk: SeamWalk;
  /** The size that it is compared with: one that agrees with the others. */
  readonly reference: SeamWalk;
  /** Difference of the sides here less their difference there. */
  readonly departure: Length;
  /** The edge that runs along another size's line and so explains the departure; null when none does. */
  readonly twice: TwiceTraced | null;
}

export interface TwiceTraced {
  readonly piece: Piece;
  readonly edge: string;
  readonly label: string;
  /** The size whose line it has. */
  readonly along: Size;
  readonly lengthMm: number;
  /** What it would have to be to meet its partner as in the other sizes. */
  readonly expectedMm: number;
  /** True when the line is that of a size nearer to the base: then the piece was more likely not graded than mistraced. */
  readonly isTowardBase: boolean;
}

export interface OddSizeOptions {
  /** All sizes of the set in their order. */
  readonly sizes: readonly Size[];
  readonly baseSize: Size;
  readonly toleranceMm: number;
  /** Whether a seam is right in that size by itself. */
  readonly meets: (walk: SeamWalk) => boolean;
}

/**
 * @param walks one seam in at least two sizes, in the order of the sizes
 * @returns every size but the reference, compared with the nearest size towards the reference that agrees with it, so that
 * an ease that grows a little from size to size is no departure
 */
export function compareSizes(walks: readonly SeamWalk[], options: OddSizeOptions): readonly SizeCompared[] {
  const start = referenceOf(walks, options);
  const found = new Map<SeamWalk, SizeCompared>();
  for (const way of [1, -1]) {
    let reference = walks[start]!;
    for (let i = start + way; i >= 0 && i < walks.length; i += way) {
      const walk = walks[i]!;
      const departure = subtractLength(walk.difference, reference.difference);
      const isOdd = Math.abs(departure.valueMm) > options.toleranceMm;
      const twice = isOdd ? tracedTwice(walk, departure.valueMm, walks, options) : null;
      found.set(walk, { walk, reference, departure, twice });
      if (!isOdd) reference = walk;
    }
  }
  return walks.flatMap((walk) => found.get(walk) ?? []);
}

/** The size that is right by itself and agrees with most of the others; of equals the base size. */
function referenceOf(walks: readonly SeamWalk[], { toleranceMm, meets, baseSize }: OddSizeOptions): number {
  const agree = (a: SeamWalk, b: SeamWalk) => Math.abs(a.difference.valueMm - b.difference.valueMm) <= toleranceMm;
  const base = walks.findIndex(({ size }) => size === baseSize);
  if (base >= 0 && walks.every((walk) => agree(walk, walks[base]!))) return base;
  const scores = walks.map((walk) => {
    const agreeing = walks.filter((other) => agree(walk, other)).length;
    return [meets(walk) ? 1 : 0, agreeing, walk.size === baseSize ? 1 : 0] as const;
  });
  const better = (a: number, b: number) => {
    const k = scores[a]!.findIndex((score, i) => score !== scores[b]![i]);
    return k >= 0 && scores[b]![k]! > scores[a]![k]! ? b : a;
  };
  return walks.map((_, i) => i).reduce(better);
}

function tracedTwice(
  walk: SeamWalk,
  departureMm: number,
  walks: readonly SeamWalk[],
  options: OddSizeOptions,
): TwiceTraced | null {
  for (const side of [1, 0] as const) {
    const times = walk.compared[side].valueMm / walk.sides[side].total.valueMm;
    const excessMm = (side === 1 ? departureMm : -departureMm) / times;
    for (const index of walk.sides[side].spans.keys()) {
      const found = twiceAt({ walk, side, index, excessMm }, walks, options);
      if (found !== null) return found;
    }
  }
  return null;
}

/** One edge of the odd size that may have been traced along another size's line. */
interface Suspect {
  readonly walk: SeamWalk;
  readonly side: 0 | 1;
  /** Along the side. */
  readonly index: number;
  /** By how much it would then be too long. */
  readonly excessMm: number;
}

function twiceAt(
  { walk, side, index, excessMm }: Suspect,
  walks: readonly SeamWalk[],
  { sizes, baseSize, toleranceMm }: OddSizeOptions,
): TwiceTraced | null {
  const { piece, span, seam, length } = walk.sides[side].spans[index]!;
  // A stretch of an edge is as long as someone has said, in every size.
  if (span.stretch !== null) return null;
  const order = ({ size }: SeamWalk) => sizes.indexOf(size);
  const apart = (other: SeamWalk) => Math.abs(order(other) - order(walk));
  const lengthIn = (other: SeamWalk) => other.sides[side].spans[index]?.length;
  const others = walks
    .filter((other) => other !== walk && lengthIn(other) !== undefined)
    .toSorted((a, b) => apart(a) - apart(b));
  const twin = others.find((other) => {
    const gap = subtractLength(length, lengthIn(other)!);
    return Math.abs(gap.valueMm) <= COVERAGE_FACTOR * gap.sigmaMm + DRAWN_TO.valueMm;
  });
  if (twin === undefined) return null;
  const [near, far] = others;
  const gradedMm = (mmOf: (other: SeamWalk) => number): number | null =>
    near === undefined || far === undefined
      ? null
      : along(order(walk), [order(near), mmOf(near)], [order(far), mmOf(far)]);
  const ownMm = gradedMm((other) => lengthIn(other)!.valueMm);
  const partnerMm = (other: SeamWalk) => other.sides[side === 1 ? 0 : 1].total.valueMm;
  const partnersMm = gradedMm(partnerMm);
  // Where this edge keeps to its own grade and the partner does not, the partner is the one that strayed.
  const keepsItsGrade = ownMm !== null && Math.abs(length.valueMm - ownMm) <= DRAWN_TO.valueMm;
  const partnerStrays = partnersMm !== null && Math.abs(partnerMm(walk) - partnersMm) > toleranceMm;
  if (keepsItsGrade && partnerStrays) return null;
  const expectedMm = length.valueMm - excessMm;
  const wouldFit = ownMm !== null && Math.abs(expectedMm - ownMm) <= toleranceMm;
  const partnerStepMm = Math.abs(partnerMm(walk) - partnerMm(twin));
  if (!wouldFit && Math.abs(partnerStepMm - Math.abs(excessMm)) > toleranceMm) return null;
  const towardBase = Math.sign(sizes.indexOf(baseSize) - order(walk));
  return {
    piece,
    edge: span.edge,
    label: seam.edge.label,
    along: twin.size,
    lengthMm: length.valueMm,
    expectedMm,
    isTowardBase: towardBase !== 0 && Math.sign(order(twin) - order(walk)) === towardBase,
  };
}

/** The straight line through two places, at another place. */
function along(x: number, [x1, y1]: readonly [number, number], [x2, y2]: readonly [number, number]): number {
  return y1 + ((y2 - y1) * (x - x1)) / (x2 - x1);
}
