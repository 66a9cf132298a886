// Where a hand takes hold of an alteration: a millimetre of the amount takes the corner that lies under the grasp as far, and
// in the direction, that the grasp says. The corner is found in the altered piece by its place in the ring, not by the grasp.
import { describe, expect, it } from 'vitest';
import { alter } from '../../../shared/alter/alteration.ts';
import { ALTERATIONS, alterationById } from '../../../shared/alter/alterations.ts';
import { amountUnder, type Grasp, graspAt } from '../../../shared/alter/grasp.ts';
import { EVERYWHERE } from '../../../shared/alter/kernel/find.ts';
import type { Params } from '../../../shared/alter/params.ts';
import type { Point } from '../../../shared/base/points.ts';
import { dartOnSeam } from '../../../shared/pattern/darts.ts';
import type { PatternSet, Shape } from '../../../shared/pattern/model.ts';
import { seamlineOf } from '../../../shared/pattern/seamline.ts';
import { apart, cutTraced, seamTraced, twoSizes } from '../../support/alterSets.ts';
import { mirroredSet, movedSet } from '../../support/moveSet.ts';

interface Case {
  readonly id: string;
  /** What must be named besides the amounts. */
  readonly names?: Params;
  /** An amount for every grasp, by the amount that it sets, and on how many shapes of the dress it can be held. */
  readonly amounts: Readonly<Record<string, readonly [byMm: number, grasps: number]>>;
  /**
   * How far the corner may lie from where the grasp says, as a share of the amount: nothing where it slides along a straight
   * line, more where its path bends or another length is kept at the same time.
   */
  readonly strayRatio: number;
}

const CASES: readonly Case[] = [
  { id: 'armhole-depth', amounts: { byMm: [12.7, 2] }, strayRatio: 0.02 },
  // The underarm points also rise or sink a little, so that the underarm seams keep their length.
  { id: 'biceps', amounts: { byMm: [10, 2], hemMm: [10, 2] }, strayRatio: 0.2 },
  { id: 'shoulder-point', amounts: { byMm: [10, 2] }, strayRatio: 0.02 },
  // The armhole bends, and on the piece that takes, the point also goes along the shoulder.
  { id: 'shoulder-forward', amounts: { byMm: [8, 2] }, strayRatio: 0.2 },
  { id: 'shoulder-slope', amounts: { byMm: [6, 2] }, strayRatio: 0.1 },
  { id: 'neckline', amounts: { byMm: [20, 1], backMm: [15, 1], shoulderMm: [10, 2] }, strayRatio: 0.02 },
  { id: 'bodice-length', amounts: { byMm: [20, 2] }, strayRatio: 0.001 },
  { id: 'sleeve-length', amounts: { byMm: [15, 1] }, strayRatio: 0.001 },
  { id: 'skirt-length', amounts: { byMm: [40, 2] }, strayRatio: 0.001 },
  { id: 'side-seam', amounts: { byMm: [6, 2], lowerMm: [4, 2] }, strayRatio: 0.02 },
  { id: 'bust', amounts: { byMm: [8, 1] }, strayRatio: 0.1 },
  { id: 'swayback', amounts: { byMm: [10, 1] }, strayRatio: 0.02 },
  // The corner swings on an arc.
  { id: 'slash-spread', amounts: { byMm: [60, 2] }, strayRatio: 0.1 },
  {
    id: 'rotate-dart',
    names: { piece: 'front-bodice', dart: 'd1', toEdge: 'waist' },
    amounts: { atMm: [150, 1] },
    strayRatio: 0.001,
  },
];

const SETS: readonly (readonly [string, () => PatternSet])[] = [
  ['traced on the seamline', seamTraced],
  ['traced on the cutting line', cutTraced],
  ['turned and moved', () => movedSet(seamTraced(), 37, [120, -45])],
  ['turned over', () => mirroredSet(seamTraced())],
];

it('every alteration has a case', () => {
  expect(CASES.map(({ id }) => id)).toEqual(ALTERATIONS.map(({ id }) => id));
});

const LENGTHS = ['bodice-length', 'sleeve-length', 'skirt-length'];
const CORNERS = CASES.filter(({ id }) => id !== 'rotate-dart' && !LENGTHS.includes(id));

for (const [name, build] of SETS) {
  describe(`the dress ${name}`, () => {
    it.each(CORNERS)('$id takes the corner under the grasp along with the amount', (one) => {
      const set = build();
      for (const [param, [byMm, count]] of Object.entries(one.amounts)) {
        const held = graspsOf(set, one).filter((grasp) => grasp.param === param);
        expect(held).toHaveLength(count);
        const after = altered(set, one, param, byMm);
        for (const grasp of held) {
          const corner = cornerUnder(shapeIn(set, grasp), grasp.at);
          const now = corner(shapeIn(after, grasp));
          expect(apart(now, graspAt(grasp, byMm))).toBeLessThan(one.strayRatio * byMm);
          expect(Math.abs(amountUnder(grasp, now) - byMm)).toBeLessThan(one.strayRatio * byMm);
        }
      }
    });

    it.each(CASES.filter(({ id }) => LENGTHS.includes(id)))('$id takes everything beyond its line along', (one) => {
      const set = build();
      const [byMm, count] = one.amounts.byMm!;
      const held = graspsOf(set, one);
      expect(held).toHaveLength(count);
      const after = altered(set, one, 'byMm', byMm);
      for (const { line, at, toward, ...grasp } of held) {
        expect(apart(at, middle(line![0], line![1]))).toBeLessThan(1e-9);
        const was = shapeIn(set, grasp).ring.map(({ curve }) => curve[0]!);
        const now = shapeIn(after, grasp).ring.map(({ curve }) => curve[0]!);
        const beyond = was.map(([x, y]) => (x - at[0]) * toward[0] + (y - at[1]) * toward[1] > 0);
        expect(new Set(beyond)).toEqual(new Set([true, false]));
        was.forEach(([x, y], i) => {
          const by = beyond[i] ? byMm : 0;
          expect(apart(now[i]!, [x + by * toward[0], y + by * toward[1]])).toBeLessThan(0.001);
        });
      }
    });
  });
}

it.each(CASES)('$id can be held in every size, or in one', (one) => {
  const set = twoSizes();
  const sizes = (scope = EVERYWHERE) => new Set(graspsOf(set, one, scope).map(({ size }) => size));
  expect(sizes()).toEqual(new Set(['M', 'L']));
  expect(sizes({ pieces: null, sizes: ['L'] })).toEqual(new Set(['L']));
});

it.each([0.5, 60, 150])('a rotated dart opens under the grasp, %f mm along its edge', (atMm) => {
  const one = CASES.find(({ id }) => id === 'rotate-dart')!;
  const set = seamTraced();
  const [grasp] = graspsOf(set, { ...one, names: { ...one.names, atMm } });
  expect(graspAt(grasp!, atMm)).toEqual(grasp!.at);
  const after = shapeIn(altered(set, one, 'atMm', atMm), grasp!);
  const dart = after.darts.find(({ id }) => id === 'd1')!;
  expect(dart.edge).toBe('waist');
  expect(dartOnSeam(after, dart)).not.toBeNull();
  // One leg stays with the part of the piece that does not turn.
  expect(Math.min(...dart.legs.map((leg) => apart(leg, grasp!.at)))).toBeLessThan(0.01);
});

it('a dart that is not named yet cannot be held', () => {
  expect(alterationById('rotate-dart')!.grasps(seamTraced(), {}, EVERYWHERE)).toEqual([]);
});

function graspsOf(set: PatternSet, { id, names = {} }: Case, scope = EVERYWHERE): readonly Grasp[] {
  return alterationById(id)!.grasps(set, names, scope);
}

function altered(set: PatternSet, { id, names = {} }: Case, param: string, byMm: number): PatternSet {
  // Amounts that must be given besides the one that is tried.
  const rest = param === 'byMm' || id === 'rotate-dart' ? {} : { byMm: 0 };
  const result = alter(set, alterationById(id)!, { ...rest, ...names, [param]: byMm });
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value.set;
}

function shapeIn(set: PatternSet, { piece, size }: Pick<Grasp, 'piece' | 'size'>): Shape {
  return set.pieces.find(({ id }) => id === piece)!.shapes[size]!;
}

function middle(a: Point, b: Point): Point {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}

/** The corner (of the seamline or of the traced line) or the dart's point that lies there, to be found in another state. */
function cornerUnder(shape: Shape, at: Point): (after: Shape) => Point {
  const finders = shape.ring.flatMap((_, i): ((one: Shape) => Point)[] => [
    (one) => seamlineOf(one).edges[i]!.path[0]!,
    (one) => one.ring[i]!.curve[0]!,
  ]);
  const apexes = shape.darts.map((_, i) => (one: Shape) => one.darts[i]!.apex);
  const found = [...finders, ...apexes].find((finder) => apart(finder(shape), at) < 1e-6);
  if (found === undefined) throw new Error(`no corner lies under the grasp at ${at.join(', ')}`);
  return found;
}
