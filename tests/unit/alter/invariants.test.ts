// What holds for every alteration alike, on seamlines and on cutting lines.
import { describe, expect, it } from 'vitest';
import { alter } from '../../../shared/alter/alteration.ts';
import { ALTERATIONS, alterationById } from '../../../shared/alter/alterations.ts';
import type { Params } from '../../../shared/alter/params.ts';
import type { Result } from '../../../shared/base/result.ts';
import { flattenPath } from '../../../shared/geometry/flatten.ts';
import { selfIntersections } from '../../../shared/geometry/intersect.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { seamlineOf } from '../../../shared/pattern/seamline.ts';
import { repeatStep } from '../../../shared/usecases/alterSet.ts';
import { cutTraced, seamTraced, twoSizes } from '../../support/alterSets.ts';
import { mirroredSet, movedSet } from '../../support/moveSet.ts';

interface Case {
  readonly id: string;
  readonly params: Params;
  /** Every edge that may change, piece by piece. */
  readonly edges: Readonly<Record<string, readonly string[]>>;
  /** How near the opposite amount comes to the old curves; null = not by the opposite amount, only by undo. */
  readonly backMm: number | null;
}

const BODICE_SIDES = ['armhole', 'side'];
const CASES: readonly Case[] = [
  { id: 'armhole-depth', params: { byMm: 12.7 }, edges: both(BODICE_SIDES), backMm: 0.05 },
  {
    id: 'biceps',
    params: { byMm: 10 },
    edges: { sleeve: ['cap', 'underarm-front', 'underarm-back', 'hem'] },
    backMm: 0.05,
  },
  { id: 'shoulder-point', params: { byMm: 10 }, edges: both(['shoulder', 'armhole']), backMm: 0.05 },
  // The strip that one piece gives is drawn anew on the other: its curvature is not quite that of the old one.
  { id: 'shoulder-forward', params: { byMm: 8 }, edges: both(['shoulder', 'armhole', 'neck']), backMm: 0.25 },
  { id: 'shoulder-slope', params: { byMm: 6 }, edges: both(['shoulder', 'armhole', 'neck']), backMm: 0.05 },
  { id: 'neckline', params: { byMm: 20 }, edges: { 'front-bodice': ['neck', 'centre-front'] }, backMm: 0.05 },
  {
    id: 'bodice-length',
    params: { byMm: 20 },
    edges: { 'front-bodice': ['side', 'waist', 'centre-front'], 'back-bodice': ['side', 'waist', 'centre-back'] },
    backMm: 0.05,
  },
  {
    id: 'sleeve-length',
    params: { byMm: 15 },
    edges: { sleeve: ['underarm-front', 'underarm-back', 'hem'] },
    backMm: 0.05,
  },
  {
    id: 'skirt-length',
    params: { byMm: 40 },
    edges: { 'front-skirt': ['side', 'hem', 'centre-front'], 'back-skirt': ['side', 'hem', 'centre-back'] },
    backMm: 0.05,
  },
  { id: 'side-seam', params: { byMm: 6 }, edges: both([...BODICE_SIDES, 'waist']), backMm: 0.05 },
  {
    id: 'bust',
    params: { byMm: 8 },
    edges: { 'front-bodice': [...BODICE_SIDES, 'waist', 'centre-front'] },
    backMm: 0.05,
  },
  { id: 'swayback', params: { byMm: 10 }, edges: { 'back-bodice': ['centre-back', 'waist'] }, backMm: 0.05 },
  {
    id: 'slash-spread',
    params: { byMm: 152.4, cuts: 3 },
    edges: { 'front-skirt': ['waist', 'side', 'hem'], 'back-skirt': ['waist', 'side', 'hem'] },
    backMm: null,
  },
  {
    id: 'rotate-dart',
    params: { atMm: 150, piece: 'front-bodice', dart: 'd1', toEdge: 'waist' },
    edges: { 'front-bodice': ['side', 'waist'] },
    backMm: null,
  },
];

function both(edges: readonly string[]): Case['edges'] {
  return { 'front-bodice': edges, 'back-bodice': edges };
}

function altered(set: PatternSet, { id, params }: Pick<Case, 'id' | 'params'>) {
  return valueIn(alter(set, alterationById(id)!, params));
}

function valueIn<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value;
}

it('every alteration has a case', () => {
  expect(CASES.map(({ id }) => id)).toEqual(ALTERATIONS.map(({ id }) => id));
});

for (const [line, build] of [
  ['seamline', seamTraced],
  ['cutting line', cutTraced],
] as const) {
  describe(`traced on the ${line}`, () => {
    it.each(CASES)('$id leaves the old set as it was and every other edge bit for bit', (one) => {
      const set = build();
      const copy = structuredClone(set);
      const { set: after } = altered(set, one);
      expect(set).toEqual(copy);
      for (const piece of after.pieces) {
        const was = set.pieces.find(({ id }) => id === piece.id)!;
        const names = one.edges[piece.id];
        if (names === undefined) expect(piece).toBe(was);
        piece.shapes.M!.ring.forEach((edge, i) => {
          if (!(names ?? []).includes(edge.id)) expect(edge.curve).toBe(was.shapes.M!.ring[i]!.curve);
        });
      }
    });

    it.each(CASES)('$id keeps every ring closed and free of crossings', (one) => {
      for (const piece of altered(build(), one).set.pieces) {
        const { ring } = piece.shapes.M!;
        ring.forEach((edge, i) => {
          expect(edge.curve.at(-1)).toEqual(near(ring[(i + 1) % ring.length]!.curve[0]!));
        });
        expect(selfIntersections(ring.map((edge) => edge.curve))).toEqual([]);
        const seams = seamlineOf(piece.shapes.M!);
        for (const notch of piece.shapes.M!.notches) {
          expect(notch.atMm).toBeGreaterThanOrEqual(0);
          expect(notch.atMm).toBeLessThanOrEqual(seams.byId.get(notch.edge)!.lengthMm);
        }
      }
    });

    it.each(CASES.filter(({ backMm }) => backMm !== null))('$id is taken back by the opposite amount', (one) => {
      const set = build();
      const params = { ...one.params, byMm: -Number(one.params.byMm) };
      const back = altered(altered(set, one).set, { ...one, params }).set;
      for (const piece of set.pieces) {
        const now = back.pieces.find(({ id }) => id === piece.id)!.shapes.M!;
        piece.shapes.M!.ring.forEach((edge, i) => {
          if (now.ring[i]!.curve === edge.curve) return;
          const strays = flattenPath(now.ring[i]!.curve, 0.05).map((p) => nearestOnPath(edge.curve, p).distanceMm);
          expect(Math.max(...strays)).toBeLessThan(backTolerance(one, line));
        });
        piece.shapes.M!.notches.forEach((notch, i) => {
          expect(Math.abs(now.notches[i]!.atMm - notch.atMm)).toBeLessThan(backTolerance(one, line));
        });
      }
    });
  });
}

/** On a cutting line the corners of the seam are mitres of two redrawn edges: twice the room. */
function backTolerance({ backMm }: Case, line: string): number {
  return (backMm ?? 0) * (line === 'cutting line' ? 2 : 1);
}

function near([x, y]: readonly [number, number]) {
  return [expect.closeTo(x, 5), expect.closeTo(y, 5)];
}

describe('every alteration', () => {
  it.each(CASES)('$id gives the same amounts on the set turned and moved', (one) => {
    const plain = altered(seamTraced(), one);
    const turned = altered(movedSet(seamTraced(), 37, [120, -45]), one);
    sameAmounts(turned, plain);
  });

  it.each(CASES.filter(({ id }) => id !== 'rotate-dart'))(
    '$id gives the same amounts on the set turned over',
    (one) => {
      sameAmounts(altered(mirroredSet(seamTraced()), one), altered(seamTraced(), one));
    },
  );

  it.each(CASES)('$id changes every traced size', (one) => {
    const set = twoSizes();
    const { changed, set: after } = altered(set, one);
    for (const id of Object.keys(one.edges)) {
      const piece = after.pieces.find((candidate) => candidate.id === id)!;
      expect(piece.shapes.L).not.toBe(set.pieces.find((candidate) => candidate.id === id)!.shapes.L);
    }
    expect(new Set(changed.map(({ size }) => size)).size).toBe(changed.length === 0 ? 0 : 2);
  });

  it.each(CASES)('$id stands in the history with its amounts and can be repeated on another set', (one) => {
    const { set: after } = altered(seamTraced(), one);
    const step = after.history.at(-1)!;
    expect(step.what).toBe(`alter:${one.id}`);
    expect(step.params).toMatchObject(one.params);
    const again = valueIn(repeatStep(movedSet(seamTraced(), -20, [5, 5]), step));
    expect(again.history.at(-1)).toEqual(step);
    expect(again.pieces.filter((piece) => piece.before !== undefined).map(({ id }) => id)).toEqual(
      after.pieces.filter((piece) => piece.before !== undefined).map(({ id }) => id),
    );
  });

  it.each(CASES)('$id keeps the shape from before the first of several changes', (one) => {
    const set = seamTraced();
    const twice = altered(altered(set, one).set, { id: 'armhole-depth', params: { byMm: 2 } }).set;
    for (const id of Object.keys(one.edges)) {
      const was = set.pieces.find((piece) => piece.id === id)!.shapes.M;
      expect(twice.pieces.find((piece) => piece.id === id)!.before!.M).toBe(was);
    }
  });

  it('refuses amounts that are missing, out of range or unknown with a sentence', () => {
    const depth = alterationById('armhole-depth')!;
    for (const params of [{}, { byMm: 4000 }, { byMm: 5, depth: 3 }, { byMm: Number.NaN }]) {
      const result = alter(seamTraced(), depth, params);
      expect(result.ok).toBe(false);
      if (!result.ok) expect(result.error.sentence).toMatch(/^["T].*\.$/);
    }
  });

  it.each(CASES)('$id says what the set lacks when it has nothing to alter', (one) => {
    const set = { ...seamTraced(), pieces: seamTraced().pieces.filter(({ id }) => id === 'pocket-bag'), seams: [] };
    const result = alter(set, alterationById(one.id)!, one.params);
    expect(result.ok).toBe(false);
  });
});

function sameAmounts(a: ReturnType<typeof altered>, b: ReturnType<typeof altered>): void {
  const key = (changes: typeof a.changed) => changes.map(({ piece, edge, size }) => `${piece} ${edge} ${size}`).sort();
  expect(key(a.changed)).toEqual(key(b.changed));
  for (const change of b.changed) {
    const same = a.changed.find(({ piece, edge }) => piece === change.piece && edge === change.edge)!;
    expect(same.byMm).toBeCloseTo(change.byMm, 2);
  }
  expect(a.followers.map(({ seam }) => seam.id)).toEqual(b.followers.map(({ seam }) => seam.id));
}
