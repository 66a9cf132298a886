// Whose body a garment is compared with, and in which size: a body named as a size is the one that size was drafted for, any
// other is a person who sews one of the sizes.
import { normalMeasures } from '../pattern/bodyMeasures.ts';
import type { Body, PatternSet, Size } from '../pattern/model.ts';

/** A body with its measures under their one spelling. */
export function knownBody(body: Body): Body {
  return { ...body, measuresMm: normalMeasures(body.measuresMm) };
}

/** The bodies that the sizes were drafted for, by size. */
export function bodiesOfSizes(set: Pick<PatternSet, 'bodies' | 'sizes'>): ReadonlyMap<Size, Body> {
  return new Map(
    set.bodies.flatMap((body) => (set.sizes.includes(body.name) ? [[body.name, knownBody(body)] as const] : [])),
  );
}

/** In the order in which they speak for a size. */
const DECIDING = ['bust', 'hip', 'waist', 'height'] as const;

/**
 * The size that is judged for a body: the one it names, the one it is named after, the only one there is, the one whose own
 * body is nearest, or else the base size. Null when that size was not traced.
 * @param traced sizes in which anything was traced, in the order of the set
 */
export function sizeFor(set: Pick<PatternSet, 'bodies' | 'sizes' | 'baseSize'>, body: Body, traced: readonly Size[]) {
  const named = body.size ?? (set.sizes.includes(body.name) ? body.name : null);
  if (named !== null) return traced.includes(named) ? named : null;
  if (traced.length < 2) return traced[0] ?? null;
  return nearestSize(set, knownBody(body), traced) ?? (traced.includes(set.baseSize) ? set.baseSize : traced[0]!);
}

function nearestSize(
  set: Pick<PatternSet, 'bodies' | 'sizes'>,
  { measuresMm }: Body,
  traced: readonly Size[],
): Size | null {
  const bodies = bodiesOfSizes(set);
  for (const measure of DECIDING) {
    const wanted = measuresMm[measure];
    if (wanted === undefined) continue;
    const known = traced.flatMap((size) => {
      const mm = bodies.get(size)?.measuresMm[measure];
      return mm === undefined ? [] : [{ size, awayMm: Math.abs(mm - wanted) }];
    });
    const nearest = known.toSorted((a, b) => a.awayMm - b.awayMm)[0];
    if (nearest !== undefined && known.length > 1) return nearest.size;
  }
  return null;
}
