// A seam that meets in one size and not in another, or whose ease is not the same: one of its pieces was not graded, or was
// graded by other steps than its partner.
import { COINCIDENT_MM } from '../../geometry/tolerances.ts';
import type { SizeCompared } from '../../sizes/oddSizes.ts';
import type { CheckContext } from '../context.ts';
import { meetsItsBand } from '../parts/meetsItsBand.ts';
import { isStrayed, nestsThat, type SeamNest } from '../parts/seamNests.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { forcedGravity } from '../seams/forcedGravity.ts';
import { seamSubjects, sideName, stretchOverlay } from '../seams/seamPlaces.ts';
import type { Words } from '../words.ts';

interface Data {
  readonly seam: string;
  readonly size: string;
  readonly reference: string;
  /** Second side less first, in this size and in the reference. */
  readonly differenceMm: number;
  readonly referenceMm: number;
  readonly departureMm: number;
  readonly sigmaMm: number;
  readonly first: string;
  readonly second: string;
  readonly lengthsMm: readonly [number, number];
  readonly sizes: string;
  readonly notGraded: { readonly piece: string; readonly edge: string; readonly along: string } | null;
}

export const sizeDiffers = defineRule<SeamNest, Data>({
  id: 'size-differs',
  title: 'A seam does not meet in one size as it does in the others',
  why: 'Both sides of a seam are graded by the same step, so that what fits in one size fits in all. A piece that was left out of the grade, or taken from another size, can hide inside the range that its seam allows; beside the other sizes it shows.',
  source: 'As far as the seam itself may differ: Threads #200, 10 Patternwork Skills',
  messages: {
    clear: (d, say) => `${d.seam}: the same in sizes ${d.sizes}, to within ${say.length(Math.abs(d.departureMm))}.`,
    differs: (d, say) =>
      `${d.seam}: ${sides(d, say)} in size ${d.size}, a difference of ${say.length(d.differenceMm)}, but ${say.length(d.referenceMm)} in size ${d.reference}: ${say.uncertain(Math.abs(d.departureMm), d.sigmaMm)} apart. One side was graded by another step than its partner.`,
    notGraded: (d, say) =>
      `${d.seam}: ${sides(d, say)} in size ${d.size}, a difference of ${say.length(d.differenceMm)}, but ${say.length(d.referenceMm)} in size ${d.reference}: ${say.uncertain(Math.abs(d.departureMm), d.sigmaMm)} apart. ${d.notGraded?.piece} (${d.notGraded?.edge}) is as long as in size ${d.notGraded?.along}: was it not graded, or traced along that line?`,
    tooCoarse: (d, say) =>
      `${d.seam}: sizes ${d.size} and ${d.reference} differ by ${say.uncertain(Math.abs(d.departureMm), d.sigmaMm)}, too coarse to tell whether the seam was graded alike. Measure these pieces again, nearer and with more cards.`,
    byRatio: (d) => `${d.seam}: gathered, stretched and bound seams are judged by their ratio, size by size.`,
  },
  subjects: nestsThat(() => true),
  judge: (nest, context) => {
    const all = nest.walks.map(({ size }) => size).join(', ');
    // Of two that depart alike the first, whatever the last digits say.
    const worst = nest.compared.reduce<SeamNest['compared'][number] | undefined>(
      (best, one) => (best !== undefined && awayMm(one) - awayMm(best) <= COINCIDENT_MM ? best : one),
      undefined,
    );
    if (worst === undefined) {
      const walk = nest.walks[0]!;
      return [
        {
          verdict: 'not-applicable',
          key: 'byRatio',
          data: { ...dataOf(walk, walk, 0, 0), sizes: all },
          subjects: [{ seam: nest.seam.id }],
        },
      ];
    }
    const off = nest.compared.filter((one) => one.decision !== 'clear');
    const open = off.filter((one) => !isStrayed(one) && !isSaidAlready(one, context));
    if (open.length === 0 && off.length > 0) return [];
    const said = open.length === 0 ? [worst] : open;
    return said.map((one): Outcome<Data> => {
      const { walk, reference, departure, twice, decision } = one;
      const data: Data = {
        ...dataOf(walk, reference, departure.valueMm, departure.sigmaMm),
        sizes: all,
        notGraded: twice === null ? null : { piece: twice.piece.name, edge: twice.label, along: twice.along },
      };
      const rest = {
        data,
        subjects: decision === 'clear' ? [{ seam: nest.seam.id }] : seamSubjects(walk),
        measured: { value: departure.valueMm, sigma: departure.sigmaMm, unit: 'mm' },
        limit: { value: nest.toleranceMm, unit: 'mm', source: context.limits.seam.source },
      } as const;
      if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
      if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
      const shorterMm = Math.min(walk.compared[0].valueMm, walk.compared[1].valueMm);
      return {
        verdict: 'fault',
        gravity:
          meetsItsBand(walk, context) === 'fault' && walk.sorted.sort !== 'cap'
            ? forcedGravity(Math.abs(departure.valueMm), shorterMm)
            : 'mend',
        key: twice === null ? 'differs' : 'notGraded',
        ...rest,
        overlay: stretchOverlay(walk, walk.anchors[0]!, walk.anchors.at(-1)!),
        remedies: [{ grade: 'choice', sentence: remedyOf(one, context.say) }],
      };
    });
  },
});

function awayMm({ departure }: SizeCompared): number {
  return Math.abs(departure.valueMm);
}

/** A seam that is wrong by itself is told by the rule of its sort; that it is right in another size explains nothing more. */
function isSaidAlready({ walk, twice }: SizeCompared, context: CheckContext): boolean {
  return twice === null && walk.sorted.sort !== 'cap' && meetsItsBand(walk, context) === 'fault';
}

function dataOf(
  walk: SizeCompared['walk'],
  reference: SizeCompared['walk'],
  departureMm: number,
  sigmaMm: number,
): Omit<Data, 'sizes'> {
  return {
    seam: walk.seam.name,
    size: walk.size,
    reference: reference.size,
    differenceMm: walk.difference.valueMm,
    referenceMm: reference.difference.valueMm,
    departureMm,
    sigmaMm,
    first: sideName(walk.sides[0]),
    second: sideName(walk.sides[1]),
    lengthsMm: [walk.compared[0].valueMm, walk.compared[1].valueMm],
    notGraded: null,
  };
}

function remedyOf({ walk, departure, twice }: SizeCompared, say: Words): string {
  if (twice !== null)
    return `Grade ${twice.piece.name}: its ${twice.label} should be ${say.length(twice.expectedMm)} in size ${walk.size}.`;
  const longer = departure.valueMm > 0 ? 1 : 0;
  return `Bring ${sideName(walk.sides[longer])} and ${sideName(walk.sides[longer === 1 ? 0 : 1])} together by ${say.length(Math.abs(departure.valueMm))} in size ${walk.size}, by the same step on both.`;
}

function sides(d: Data, say: Words): string {
  return `${d.first} ${say.length(d.lengthsMm[0])}, ${d.second} ${say.length(d.lengthsMm[1])}`;
}
