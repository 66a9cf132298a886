// What a change leaves behind, and the carrying through of it.
import { describe, expect, it } from 'vitest';
import { alter } from '../../../shared/alter/alteration.ts';
import { alterationById } from '../../../shared/alter/alterations.ts';
import { carryThrough } from '../../../shared/alter/carryThrough.ts';
import { runChecks } from '../../../shared/checks/engine.ts';
import { beforeAlterations, leftBehind } from '../../../shared/pattern/followers.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { alterSet } from '../../../shared/usecases/alterSet.ts';
import { idealSet, idealSetAfterFitting } from '../../photos/marl/idealSet.ts';
import { cutTraced, edgeIn, lengthOf, seamTraced, shapeOf, twoPieceSleeve, twoSizes } from '../../support/alterSets.ts';
import { mirroredSet } from '../../support/moveSet.ts';

function changed(set: PatternSet, id: string, byMm: number): PatternSet {
  const result = alter(set, alterationById(id)!, { byMm });
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value.set;
}

function stops(set: PatternSet): readonly string[] {
  return runChecks(set)
    .findings.filter(({ verdict, gravity }) => verdict === 'fault' && (gravity === 'stop' || gravity === 'mend'))
    .map(({ rule, sentence }) => `${rule}: ${sentence}`);
}

describe('an armhole opened by 12.7', () => {
  it.each([
    ['seamlines', seamTraced],
    ['cutting lines', cutTraced],
    ['the set turned over', () => mirroredSet(seamTraced())],
  ])('is followed by the cap on %s: ease as wanted in every section, nothing left behind', (_, build) => {
    const set = build();
    const opened = changed(set, 'armhole-depth', 12.7);
    expect(stops(opened).some((line) => line.startsWith('left-behind'))).toBe(true);
    const carried = carryThrough(set, opened);
    expect(carried.left).toEqual([]);
    expect(stops(carried.set)).toEqual([]);
    const ease = runChecks(carried.set).findings.find(({ rule }) => rule === 'cap-ease')!;
    expect(ease.verdict).toBe('clear');
    expect(ease.measured!.value).toBeCloseTo(28, 1);
  });

  it('lengthens the cap by what the armholes gained, measured by chords', () => {
    const set = seamTraced();
    const { set: now } = carryThrough(set, changed(set, 'armhole-depth', 12.7));
    const gain = (edge: string, piece: string) => lengthOf(now, piece, edge) - lengthOf(set, piece, edge);
    expect(gain('cap', 'sleeve')).toBeCloseTo(gain('armhole', 'front-bodice') + gain('armhole', 'back-bodice'), 2);
    expect(gain('underarm-front', 'sleeve')).toBeCloseTo(gain('underarm-back', 'sleeve'), 2);
    expect(gain('underarm-front', 'sleeve')).toBeLessThan(-10);
  });

  it('is carried in every size, and recorded', () => {
    const set = twoSizes();
    const { set: now, left } = carryThrough(set, changed(set, 'armhole-depth', 12.7));
    expect(left).toEqual([]);
    expect(shapeOf(now, 'sleeve', 'L')).not.toBe(shapeOf(set, 'sleeve', 'L'));
    expect(now.history.map(({ what }) => what)).toEqual(['alter:armhole-depth', 'carry', 'carry']);
    expect(now.history[1]!.params).toMatchObject({ seam: 'sleeve-cap' });
  });
});

it.each([
  ['biceps', 24],
  ['shoulder-point', 12],
  ['shoulder-forward', 10],
  ['shoulder-slope', 6],
  ['neckline', 20],
  ['bodice-length', 20],
  ['sleeve-length', 15],
  ['skirt-length', 50],
  ['side-seam', 6],
  ['bust', 12],
  ['swayback', 10],
  ['slash-spread', 120],
])('%s by %d carried through leaves nothing behind and nothing to stop for', (id, byMm) => {
  for (const set of [seamTraced(), cutTraced()]) {
    const carried = carryThrough(set, changed(set, id, byMm));
    expect(carried.left.map(({ follower, reason }) => `${follower.sentence} ${reason}`)).toEqual([]);
    expect(stops(carried.set)).toEqual([]);
  }
});

it('a biceps that was widened is followed by the cap itself: the armhole stays', () => {
  const set = seamTraced();
  const { set: now, done } = carryThrough(set, changed(set, 'biceps', 24));
  expect(done).toMatchObject([
    { seam: 'sleeve-cap', sentence: expect.stringMatching(/the cap made 1\d\.\d mm shorter/) },
  ]);
  expect(shapeOf(now, 'front-bodice')).toBe(shapeOf(set, 'front-bodice'));
});

it('a shoulder seam moved forward takes the top mark of the cap with it and redraws nothing there', () => {
  const set = seamTraced();
  const { set: now } = carryThrough(set, changed(set, 'shoulder-forward', 10));
  const top = (s: PatternSet) => shapeOf(s, 'sleeve').notches.filter(({ edge }) => edge === 'cap')[1]!.atMm;
  expect(top(now) - top(set)).toBeCloseTo(10, 2);
  expect(lengthOf(now, 'sleeve', 'cap')).toBeCloseTo(lengthOf(set, 'sleeve', 'cap'), 9);
});

describe('left behind', () => {
  it('finds the demo’s armholes opened by 11 each while the cap stayed: 22 of the ease gone, both underarms 11', () => {
    const found = leftBehind(idealSet('as traced'), idealSetAfterFitting(), 0.5);
    expect(found).toHaveLength(1);
    const [cap] = found;
    expect(cap!.seam.id).toBe('sleeve-cap');
    expect(cap!.missingMm).toBeCloseTo(22, 1);
    expect(cap!.missingBySectionMm!.map((mm) => Math.round(mm) + 0)).toEqual([11, 0, 0, 11]);
    expect(cap!.changedByMm.map((mm) => Math.round(mm) + 0)).toEqual([22, 0]);
    expect(cap!.unchanged.map(({ piece }) => piece)).toEqual(['sleeve']);
  });

  it('finds the same from the set alone, because its pieces remember their shapes', () => {
    const opened = changed(seamTraced(), 'armhole-depth', 12.7);
    const found = leftBehind(beforeAlterations(opened), opened, 0.5);
    expect(found.map(({ seam }) => seam.id)).toEqual(['sleeve-cap']);
    const { set } = carryThrough(seamTraced(), opened);
    expect(leftBehind(beforeAlterations(set), set, 0.5)).toEqual([]);
  });

  it('says nothing about a set that nobody changed', () => {
    expect(leftBehind(beforeAlterations(seamTraced()), seamTraced(), 0.5)).toEqual([]);
  });

  it('accepts a cap that was brought to the wanted ease although it had another before', () => {
    const set = seamTraced();
    const off = alterSet(set, {
      what: 'spread-cap',
      params: { frontMm: -4, backMm: -5, seam: 'sleeve-cap' },
      carry: false,
    });
    if (!off.ok) throw new Error(off.error.sentence);
    expect(leftBehind(off.value.set, set, 0.5)).toEqual([]);
    expect(leftBehind(set, off.value.set, 0.5)).toHaveLength(1);
  });
});

describe('a sleeve in two pieces', () => {
  const capOf = (set: PatternSet) => lengthOf(set, 'top', 'cap') + lengthOf(set, 'under', 'cap');
  const armholes = (set: PatternSet) =>
    lengthOf(set, 'front-bodice', 'armhole') + lengthOf(set, 'back-bodice', 'armhole');

  it('is sound before anything is changed', () => {
    expect(stops(twoPieceSleeve())).toEqual([]);
  });

  it.each([
    ['seamlines', twoPieceSleeve],
    ['the set turned over', () => mirroredSet(twoPieceSleeve())],
  ])('follows an armhole opened by 12.7 in both of its caps, on %s', (_, build) => {
    const set = build();
    const opened = changed(set, 'armhole-depth', 12.7);
    expect(stops(opened).some((line) => line.startsWith('left-behind'))).toBe(true);
    const { set: now, left } = carryThrough(set, opened);
    expect(left).toEqual([]);
    expect(stops(now)).toEqual([]);
    expect(capOf(now) - capOf(set)).toBeCloseTo(armholes(now) - armholes(set), 2);
    expect(lengthOf(now, 'under', 'cap') - lengthOf(set, 'under', 'cap')).toBeGreaterThan(15);
    for (const [piece, edge] of [
      ['top', 'hindarm'],
      ['top', 'forearm'],
      ['under', 'hindarm'],
      ['under', 'forearm'],
    ] as const)
      expect(edgeIn(now, piece, edge)).toBe(edgeIn(set, piece, edge));
  });

  it('follows a narrower shoulder over the top, and is brought back by the reverse', () => {
    const set = twoPieceSleeve();
    const { set: now, left } = carryThrough(set, changed(set, 'shoulder-point', -8));
    expect(left).toEqual([]);
    expect(stops(now)).toEqual([]);
    expect(capOf(now) - armholes(now)).toBeCloseTo(28, 1);
  });

  it('whose cap lies on one edge in two stretches is redrawn whole', () => {
    const set = seamTraced();
    const [span] = set.seams.find(({ id }) => id === 'sleeve-cap')!.sides[1];
    const halves = [
      { ...span!, stretch: { fromMm: 0, toMm: 238 } },
      { ...span!, stretch: { fromMm: 238, toMm: 462 } },
    ];
    const split = withSeam(set, 'sleeve-cap', {
      wantedSectionsMm: null,
      sides: [set.seams.find(({ id }) => id === 'sleeve-cap')!.sides[0], halves],
    });
    const { set: now, left } = carryThrough(split, changed(split, 'armhole-depth', 12.7));
    expect(left).toEqual([]);
    expect(lengthOf(now, 'sleeve', 'cap') - armholes(now)).toBeCloseTo(28, 1);
  });
});

it('a seam that cannot be carried is named with its reason instead of being passed over', () => {
  const set = seamTraced();
  const neck = set.seams.find(({ id }) => id === 'front-neck')!;
  const part = { ...neck.sides[1][0]!, stretch: { fromMm: 0, toMm: 186 } };
  const split = withSeam(set, 'front-neck', { sides: [neck.sides[0], [part]] });
  const { left } = carryThrough(split, changed(split, 'neckline', 20));
  expect(left.map(({ reason }) => reason)).toEqual([expect.stringMatching(/takes only a part of its edge/)]);
});

function withSeam(set: PatternSet, id: string, more: Partial<PatternSet['seams'][number]>): PatternSet {
  return { ...set, seams: set.seams.map((seam) => (seam.id === id ? { ...seam, ...more } : seam)) };
}
