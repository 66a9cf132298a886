// What an alteration has left behind: needs the shape that a piece had before it.
import { describe, expect, it } from 'vitest';
import { runChecks } from '../../../shared/checks/engine.ts';
import { leftBehind } from '../../../shared/checks/rules/leftBehind.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { idealSet, idealSetAfterFitting } from '../../photos/marl/idealSet.ts';
import { describeCheck } from '../../support/describeCheck.ts';
import { type ArmholeSpec, armholeSet, loweredNeck, SOUND_ARMHOLE } from '../../support/scenarioSets.ts';
import { e, piece, seam, setOf } from '../../support/sets.ts';

/** The second set, whose pieces remember how they were in the first where they were redrawn. */
function altered(before: PatternSet, after: PatternSet, redrawn: readonly string[]): PatternSet {
  const pieces = after.pieces.map((p) => {
    const was = before.pieces.find(({ id }) => id === p.id);
    return was === undefined || !redrawn.includes(p.id) ? p : { ...p, before: was.shapes };
  });
  return { ...after, pieces };
}

const BODICE = ['front', 'back'];
const OPENED = { ...SOUND_ARMHOLE, front: [91, 132], back: [101, 132] } satisfies ArmholeSpec;

function armholes(before: ArmholeSpec, after: ArmholeSpec, redrawn: readonly string[] = BODICE): PatternSet {
  return altered(armholeSet(before), armholeSet(after), redrawn);
}

function side(front: number, back: number, pointSigma = 0.1): PatternSet {
  return setOf(
    [
      piece('front', 'front bodice', { right: [e('side', front)] }, { pointSigma }),
      piece('back', 'back bodice', { right: [e('side', back)] }, { pointSigma }),
    ],
    [seam('side', 'front.side', 'back.side')],
  );
}

const { wanted: _, ...UNPLANNED } = SOUND_ARMHOLE;

describeCheck(leftBehind, {
  pass: [
    {
      why: 'a cap that was let out with its armholes has followed',
      set: armholes(SOUND_ARMHOLE, { ...OPENED, capFront: [91, 144], capBack: [101, 148] }, [...BODICE, 'sleeve']),
      key: 'followed',
      data: { changedByMm: 22, followedByMm: 22, missingMm: 0 },
    },
    {
      why: 'two sides that were shortened alike',
      set: altered(side(205, 205), side(192, 192), BODICE),
      key: 'followed',
      data: { changedByMm: -13, followedByMm: -13 },
    },
    {
      why: 'a side that was let out to meet its partner was mended',
      set: altered(side(195, 205), side(205, 205), BODICE),
      key: 'mended',
      data: { easeBeforeMm: 10, easeAfterMm: 0 },
    },
    {
      why: 'a cap that was given the ease that the plan wants was mended',
      set: armholes({ ...SOUND_ARMHOLE, capFront: [80, 133], capBack: [90, 137] }, SOUND_ARMHOLE, ['sleeve']),
      key: 'mended',
      data: { easeBeforeMm: 6, easeAfterMm: 28 },
    },
    {
      why: 'a cap that was too full and was taken in to the usual range was mended',
      set: armholes({ ...UNPLANNED, capFront: [80, 164], capBack: [90, 168] }, UNPLANNED, ['sleeve']),
      key: 'mended',
      data: { easeBeforeMm: 68, easeAfterMm: 28 },
    },
  ],
  fail: [
    {
      why: 'armholes opened by 22 in all and the cap left as it was',
      set: armholes(SOUND_ARMHOLE, OPENED),
      key: 'left',
      gravity: 'stop',
      data: { missingMm: 22, changedByMm: 22, followedByMm: 0, easeBeforeMm: 28, easeAfterMm: 6 },
      says: 'the difference was 28 mm and is 6 mm',
    },
    {
      why: 'a side that was shortened by 5 alone',
      set: altered(side(205, 205), side(200, 205), ['front']),
      key: 'left',
      gravity: 'mend',
      data: { missingMm: -5 },
      says: 'too much',
    },
    {
      why: 'a facing left at the old neckline',
      set: altered(loweredNeck(118), loweredNeck(136), ['front']),
      key: 'left',
      gravity: 'stop',
      data: { missingMm: 18 },
    },
    {
      why: 'cap ease that went from 28 to 20 is still in its range: look',
      set: armholes(UNPLANNED, { ...UNPLANNED, front: [80, 136], back: [90, 136] }),
      key: 'within',
      gravity: 'look',
      data: { missingMm: 8 },
    },
    {
      why: 'an armhole dropped below the notches and taken in above: only the sections tell',
      set: armholes(UNPLANNED, { ...UNPLANNED, front: [91, 121], back: [101, 121] }),
      key: 'sections',
      gravity: 'mend',
      data: { easeBeforeMm: 28, easeAfterMm: 28 },
    },
  ],
  unsure: [
    {
      why: 'a change near the limit, measured coarsely',
      set: altered(side(205, 205, 0.4), side(201.5, 205, 0.4), ['front']),
      key: 'tooCoarse',
      data: { missingMm: -3.5 },
    },
  ],
  notApplicable: [],
});

describe('left-behind', () => {
  it('has nothing to say where no piece remembers an earlier shape, or where nothing moved', () => {
    const said = (set: PatternSet) => runChecks(set).findings.filter((f) => f.rule === 'left-behind');
    expect(said(armholeSet(OPENED))).toEqual([]);
    expect(said(armholes(SOUND_ARMHOLE, SOUND_ARMHOLE))).toEqual([]);
  });

  it('leads the lost ease and both underarm sections of the dress after its fitting, whose sides stay clear', () => {
    const before = idealSet('as traced');
    const set = altered(before, idealSetAfterFitting(), ['front-bodice', 'back-bodice']);
    const faults = runChecks(set).findings.filter((f) => f.verdict === 'fault');
    const [head, ...more] = faults.filter((f) => f.subjects[0]?.seam === 'sleeve-cap' || f.rule === 'left-behind');
    expect(more).toEqual([]);
    expect([head!.rule, head!.gravity]).toEqual(['left-behind', 'stop']);
    expect(head!.measured!.value).toBeCloseTo(22, 1);
    const ease = head!.consequences.find((f) => f.rule === 'cap-ease')!;
    expect(ease.measured!.value).toBeCloseTo(6, 1);
    const spread = [...head!.consequences, ...ease.consequences].find((f) => f.rule === 'cap-ease-spread')!;
    expect(spread.sentence.match(/-11 ± 0\.\d mm/g)).toHaveLength(2);
    const sides = runChecks(set).findings.filter((f) => f.subjects[0]?.seam === 'side');
    expect(sides.filter((f) => f.verdict === 'fault' || f.verdict === 'unsure')).toEqual([]);
    expect(sides.some((f) => f.rule === 'left-behind' && f.verdict === 'clear')).toBe(true);
  });
});
