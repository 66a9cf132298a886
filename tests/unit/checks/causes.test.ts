// One cause planted in a sound dress is one finding: what follows from it lies under it, and nothing else does.
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { runChecks } from '../../../shared/checks/engine.ts';
import type { Finding } from '../../../shared/checks/finding.ts';
import type { PatternSet, Shape } from '../../../shared/pattern/model.ts';
import { idealSet, idealSetAfterFitting } from '../../photos/marl/idealSet.ts';
import { scaledShape } from '../../support/mapShape.ts';
import { mirroredShape } from '../../support/moveSet.ts';
import { armholeSet, SOUND_ARMHOLE, sleeveHem } from '../../support/scenarioSets.ts';

const sound = idealSet('as designed');

function withPiece(set: PatternSet, id: string, change: (shape: Shape) => Shape): PatternSet {
  return {
    ...set,
    pieces: set.pieces.map((p) =>
      p.id === id
        ? { ...p, shapes: Object.fromEntries(Object.entries(p.shapes).map(([size, shape]) => [size, change(shape)])) }
        : p,
    ),
  };
}

const faultsOf = (set: PatternSet) => runChecks(set).findings.filter(({ verdict }) => verdict === 'fault');
const rulesUnder = ({ consequences }: Finding): string[] =>
  consequences.flatMap((c) => [c.rule, ...rulesUnder(c)]).toSorted();

/** The one finding to see to; fails when there are more. */
function only(set: PatternSet): Finding {
  const faults = faultsOf(set);
  expect(faults.map(({ rule }) => rule)).toHaveLength(1);
  return faults[0]!;
}

describe('one cause is one finding', () => {
  it('for none in the dress as designed', () => {
    expect(faultsOf(sound)).toEqual([]);
  });

  it('for an armhole that was opened', () => {
    const [head] = faultsOf(idealSetAfterFitting()).filter(({ subjects }) =>
      subjects.some((s) => s.seam === 'sleeve-cap'),
    );
    expect(head?.rule).toBe('cap-ease');
    expect(rulesUnder(head!)).toContain('cap-ease-spread');
    const open = only(armholeSet({ ...SOUND_ARMHOLE, front: [91, 132], back: [101, 132] }));
    expect(open.rule).toBe('cap-ease');
    expect(rulesUnder(open)).toEqual(['cap-ease-spread']);
  });

  it('for a piece on another scale: all of its seams, and the cap that it is half of', () => {
    const front = only(withPiece(sound, 'front-bodice', (shape) => scaledShape(shape, 1.03)));
    expect([front.rule, ...rulesUnder(front)].toSorted()).toEqual([
      'cap-ease',
      'length-differs',
      'length-differs',
      'length-differs',
      'notch-shifted',
      'trim-differs',
    ]);
    expect(front.sentence).toMatch(
      /All seams of Front bodice are longer by about 3\.0 %: was it photographed with another/,
    );
    const skirt = only(withPiece(sound, 'back-skirt', (shape) => scaledShape(shape, 0.99)));
    expect(skirt.sentence).toMatch(/All seams of Back skirt are shorter by about 1\.0 %/);
    expect(skirt.consequences).toEqual([]);
  });

  it('for an allowance that is wrong all round one piece', () => {
    const head = only(
      withPiece(sound, 'front-bodice', (shape) => ({
        ...shape,
        ring: shape.ring.map((edge) => (edge.role === 'seam' ? { ...edge, allowanceMm: 10 } : edge)),
      })),
    );
    expect(head.rule).toBe('allowance-differs');
    expect(rulesUnder(head)).toEqual([
      'allowance-differs',
      'allowance-differs',
      'allowance-differs',
      'allowance-differs',
    ]);
    expect(head.sentence).toMatch(/So 4 more seams do: was the allowance of Front bodice entered wrongly\?/);
  });

  it('for a piece that was traced face down, with the notches it turns round', () => {
    const head = only(withPiece(sound, 'front-bodice', mirroredShape));
    expect(head.rule).toBe('turned-round');
    expect(rulesUnder(head)).toEqual(['notch-alone', 'notch-alone', 'turned-round', 'turned-round', 'turned-round']);
    expect(head.sentence).toMatch(/3 more seams run the other way too: was Front bodice traced face down\?/);
  });

  it('for a sleeve whose front and back were swapped', () => {
    const head = only(withPiece(sound, 'sleeve', mirroredShape));
    expect(head.rule).toBe('turned-round');
    expect(rulesUnder(head)).toEqual([
      'cap-ease-spread',
      'notch-count',
      'notch-count',
      'notch-shifted',
      'notch-shifted',
    ]);
  });

  it('for one notch that was moved', () => {
    const head = only(
      withPiece(sound, 'sleeve', (shape) => ({
        ...shape,
        notches: shape.notches.map((n) => (n.id === 'cap-1' ? { ...n, atMm: n.atMm + 9 } : n)),
      })),
    );
    expect(head.rule).toBe('notch-shifted');
    expect(rulesUnder(head)).toEqual(['cap-ease-spread']);
  });

  it('for a dart that was not closed: the edge is too long and turns at its mouth', () => {
    const head = only(withPiece(sound, 'back-skirt', (shape) => ({ ...shape, darts: [] })));
    expect(head.rule).toBe('length-differs');
    expect(rulesUnder(head)).toEqual(['curve-kink']);
  });

  it('for a pleat that was missed', () => {
    const head = only(sleeveHem(1));
    expect(head.rule).toBe('trim-differs');
    expect(rulesUnder(head)).toEqual(['length-differs']);
  });

  it('for a waist that strayed to the next size', () => {
    const [waist, ...others] = faultsOf(idealSet('as traced')).filter(({ subjects }) =>
      subjects.some(({ seam }) => seam === 'back-waist'),
    );
    expect(others).toEqual([]);
    expect(waist?.rule).toBe('length-differs');
    expect(waist?.consequences).toEqual([]);
  });
});

describe('two causes are two findings', () => {
  it('of two pieces, though they share a seam', () => {
    const set = withPiece(withPiece(sound, 'back-skirt', mirroredShape), 'sleeve', (shape) => ({
      ...shape,
      notches: shape.notches.map((n) => (n.id === 'cap-1' ? { ...n, atMm: n.atMm + 9 } : n)),
    }));
    expect(faultsOf(set).map(({ rule }) => rule)).toEqual(['turned-round', 'notch-shifted']);
  });

  it('of one piece: a notch that was moved is no matter of its scale', () => {
    const set = withPiece(
      withPiece(sound, 'front-bodice', (shape) => scaledShape(shape, 1.03)),
      'sleeve',
      (shape) => ({
        ...shape,
        notches: shape.notches.map((n) => (n.id === 'cap-1' ? { ...n, count: 1 as const } : n)),
      }),
    );
    expect(
      faultsOf(set)
        .map(({ rule }) => rule)
        .toSorted(),
    ).toContain('notch-count');
  });

  it('where one seam of a piece is off and the others are not, no scale is suspected', () => {
    const [waist] = faultsOf(idealSet('as traced')).filter(({ subjects }) =>
      subjects.some(({ seam }) => seam === 'back-waist'),
    );
    expect(waist?.sentence).not.toMatch(/print scale/);
  });

  it('where a kink lies on the shorter side', () => {
    const kinked = (set: PatternSet) =>
      withPiece(set, 'back-bodice', (shape) => ({
        ...shape,
        ring: shape.ring.map((edge) => (edge.id === 'waist' ? { ...edge, curve: bent(edge.curve) } : edge)),
      }));
    const faults = faultsOf(kinked(withPiece(sound, 'back-skirt', (shape) => ({ ...shape, darts: [] }))));
    const kink = faults.find(({ rule }) => rule === 'curve-kink');
    expect(kink?.subjects[0]).toMatchObject({ piece: 'back-bodice', edge: 'waist' });
  });
});

/** The same ends, in two straight lines that meet 14 mm beside the middle. */
function bent(curve: readonly Point[]): Point[] {
  const [from, to] = [curve[0]!, curve.at(-1)!];
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const mm = Math.hypot(dx, dy);
  const middle: Point = [(from[0] + to[0]) / 2 - (14 * dy) / mm, (from[1] + to[1]) / 2 + (14 * dx) / mm];
  const third = (a: Point, b: Point, k: number): Point => [
    a[0] + (k * (b[0] - a[0])) / 3,
    a[1] + (k * (b[1] - a[1])) / 3,
  ];
  return [from, third(from, middle, 1), third(from, middle, 2), middle, third(middle, to, 1), third(middle, to, 2), to];
}

describe('the order of work', () => {
  it('puts the outline and how pieces lie before measures of the same gravity, and the piece with most against it first', () => {
    const set = withPiece(withPiece(idealSet('as traced'), 'front-skirt', mirroredShape), 'sleeve', (shape) => shape);
    const mends = faultsOf(set).filter(({ gravity }) => gravity === 'mend');
    expect(mends[0]?.rule).toBe('turned-round');
    expect(mends.map(({ rule }) => rule)).toContain('length-differs');
  });
});
