// Which size to start from, region by region: the one whose own body is nearest, or, where the sizes name no bodies, the
// smallest that leaves enough room. Bodies rarely have one size throughout: where the regions differ, it is said.
import { easeOnMm, WEARING_EASE } from '../limits/wearingEase.ts';
import type { Body, PatternSet, Size } from '../pattern/model.ts';
import { bodiesOfSizes } from './bodies.ts';
import type { FinishedMeasures } from './finished.ts';

export const REGIONS = ['bust', 'waist', 'hip'] as const;
export type Region = (typeof REGIONS)[number];

export interface RegionAdvice {
  readonly region: Region;
  readonly bodyMm: number;
  readonly size: Size;
  /** `body`: by the body that the size was drafted for. `finished`: by the room that the finished garment leaves. */
  readonly by: 'body' | 'finished';
  /** What the size has there: its own body, or the finished garment. */
  readonly sizeMm: number;
  /** Null, or why this is not a good start: even the largest size is smaller, even the smallest larger. */
  readonly beyond: 'larger than every size' | 'smaller than every size' | null;
}

export interface SizeAdvice {
  readonly regions: readonly RegionAdvice[];
  /** The size to start from: that of the bust, or of the hip where the garment has no bust. */
  readonly start: Size;
  /** The regions that another size suits better. */
  readonly differing: readonly RegionAdvice[];
}

/**
 * @param body measures under their one spelling
 * @param finished the finished measures of each size that was traced
 * @returns null when neither bodies of sizes nor finished measures can be compared
 */
export function adviseSize(
  set: Pick<PatternSet, 'bodies' | 'sizes' | 'preset'>,
  body: Body,
  finished: ReadonlyMap<Size, FinishedMeasures>,
): SizeAdvice | null {
  const regions = REGIONS.flatMap((region) => {
    const bodyMm = body.measuresMm[region];
    if (bodyMm === undefined || bodyMm <= 0) return [];
    const advice = byBodies(set, region, bodyMm) ?? byFinished(set, region, bodyMm, finished);
    return advice === null ? [] : [advice];
  });
  const hasBust = [...finished.values()].some(({ bust }) => bust.ok);
  const order: readonly Region[] = hasBust || finished.size === 0 ? ['bust', 'hip', 'waist'] : ['hip', 'waist', 'bust'];
  const first = order.flatMap((region) => regions.filter((one) => one.region === region))[0];
  if (first === undefined) return null;
  return { regions, start: first.size, differing: regions.filter(({ size }) => size !== first.size) };
}

interface SizedMm {
  readonly size: Size;
  readonly mm: number;
}

function byBodies(set: Pick<PatternSet, 'bodies' | 'sizes'>, region: Region, bodyMm: number): RegionAdvice | null {
  const bodies = bodiesOfSizes(set);
  const known = set.sizes.flatMap((size): SizedMm[] => {
    const mm = bodies.get(size)?.measuresMm[region];
    return mm === undefined ? [] : [{ size, mm }];
  });
  if (known.length < 2) return null;
  const steps = known.map(({ mm }) => mm).toSorted((a, b) => a - b);
  // Of two sizes that are equally near the larger: taking in is easier than letting out.
  const nearest = known.reduce((best, one) => {
    const [away, least] = [Math.abs(one.mm - bodyMm), Math.abs(best.mm - bodyMm)];
    return away < least || (away === least && one.mm > best.mm) ? one : best;
  });
  const [halfFirst, halfLast] = [(steps[1]! - steps[0]!) / 2, (steps.at(-1)! - steps.at(-2)!) / 2];
  const beyond =
    bodyMm > steps.at(-1)! + halfLast
      ? 'larger than every size'
      : bodyMm < steps[0]! - halfFirst
        ? 'smaller than every size'
        : null;
  return { region, bodyMm, size: nearest.size, by: 'body', sizeMm: nearest.mm, beyond };
}

function byFinished(
  { sizes, preset }: Pick<PatternSet, 'sizes' | 'preset'>,
  region: Region,
  bodyMm: number,
  finished: ReadonlyMap<Size, FinishedMeasures>,
): RegionAdvice | null {
  const { clearFrom } = WEARING_EASE[preset.cloth][region];
  const neededMm = bodyMm + easeOnMm(clearFrom, bodyMm);
  const known = sizes
    .flatMap((size): SizedMm[] => {
      const taken = finished.get(size)?.[region];
      return taken?.ok === true ? [{ size, mm: taken.value.length.valueMm }] : [];
    })
    .toSorted((a, b) => a.mm - b.mm);
  const largest = known.at(-1);
  if (largest === undefined) return null;
  const enough = known.find(({ mm }) => mm >= neededMm);
  const { size, mm } = enough ?? largest;
  return {
    region,
    bodyMm,
    size,
    by: 'finished',
    sizeMm: mm,
    beyond: enough === undefined ? 'larger than every size' : null,
  };
}
