// Every bad set that plants a fault which a remedy can mend: the remedy is offered, mends it, and adds nothing.
import { describe, expect, it } from 'vitest';
import { REMEDIES } from '../../../shared/alter/remedies.ts';
import type { FindingJson } from '../../../shared/checks/toFindingsJson.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { alterSet } from '../../../shared/usecases/alterSet.ts';
import { mendSet, remediesAt, remediesFor, withActions } from '../../../shared/usecases/remedies/offers.ts';
import { verify } from '../../../shared/usecases/verify.ts';
import { idealSetAfterFitting } from '../../photos/marl/idealSet.ts';
import { cutTraced, seamTraced, twoSizes } from '../../support/alterSets.ts';
import * as bad from '../../support/mendSets.ts';
import { mirroredSet, movedSet } from '../../support/moveSet.ts';
import { marlArmholes } from '../../support/nestSets.ts';
import {
  armholeSet,
  dressWaist,
  loweredNeck,
  princess,
  SOUND_ARMHOLE,
  shoulders,
  sleeveHem,
  trousers,
  widenedBiceps,
} from '../../support/scenarioSets.ts';

function faultsOf(set: PatternSet): readonly FindingJson[] {
  return verify(set).findings.findings.filter(({ verdict }) => verdict === 'fault');
}

/** Causes and consequences, by rule and what they are about. */
function graves(set: PatternSet): readonly string[] {
  const all = (findings: readonly FindingJson[]): readonly FindingJson[] =>
    findings.flatMap((finding) => [finding, ...all(finding.consequences)]);
  return all(faultsOf(set))
    .filter(({ gravity }) => gravity === 'stop' || gravity === 'mend')
    .map(({ rule, subjects }) => JSON.stringify([rule, subjects]));
}

function opened(set: PatternSet): PatternSet {
  const report = alterSet(set, { what: 'armhole-depth', params: { byMm: 12.7 }, carry: false });
  if (!report.ok) throw new Error(report.error.sentence);
  return report.value.set;
}

/** The set, the rule that tells its fault, and the remedies that must be among the offers. */
const PLANTED: readonly (readonly [string, PatternSet, string, readonly string[]])[] = [
  ['the demo after fitting, armholes opened', idealSetAfterFitting(), 'cap-ease', ['even-cap', 'spread-cap']],
  ['the demo after fitting, back skirt too wide', idealSetAfterFitting(), 'length-differs', ['edge-length']],
  ['the demo after fitting, a single notch on a double', idealSetAfterFitting(), 'notch-count', ['notch-count']],
  ['the demo after fitting, a pleat not traced', idealSetAfterFitting(), 'trim-differs', ['edge-length']],
  ['an armhole opened, seamlines', opened(seamTraced()), 'left-behind', ['follow-seam', 'take-back']],
  ['an armhole opened, cutting lines', opened(cutTraced()), 'left-behind', ['follow-seam', 'take-back']],
  ['a cap left out of the grade', marlArmholes('as M'), 'size-differs', ['even-cap']],
  ['a cap left out of the grade, nothing planned', marlArmholes('as M', null), 'size-differs', ['even-cap']],
  ['biceps widened', widenedBiceps(), 'cap-ease', ['spread-cap', 'even-cap']],
  [
    'an armhole opened that nobody recorded',
    armholeSet({ ...SOUND_ARMHOLE, front: [91, 132], back: [101, 132] }),
    'cap-ease',
    ['even-cap'],
  ],
  ['a sleeve notch too high', armholeSet({ ...SOUND_ARMHOLE, capFront: [90, 134] }), 'notch-shifted', ['move-notch']],
  ['a front shoulder longer than the back', shoulders(124, 118), 'shoulder-reversed', ['edge-length']],
  ['a princess seam off below the notch', princess([98, 136, 210], [98, 136, 216]), 'length-differs', ['edge-length']],
  ['a neckline lowered, its facing left', loweredNeck(136), 'trim-differs', ['edge-length']],
  ['an inseam off below the knee', trousers([320, 412], [320, 420]), 'length-differs', ['edge-length']],
  ['a back skirt on the next size’s line', dressWaist(202), 'length-differs', ['edge-length']],
  ['a sleeve hem with one pleat', sleeveHem(1), 'trim-differs', ['edge-length']],
  ['a notch shifted', bad.shiftedNotch(), 'notch-shifted', ['move-notch']],
  ['a notch alone', bad.loneNotch(), 'notch-alone', ['add-notch']],
  ['a notch alone on each side', bad.loneNotches(), 'notch-alone', ['add-notch', 'move-notch']],
  ['a notch said to meet one that is not there', bad.strayMate(), 'notch-alone', ['add-notch']],
  ['a notch that stayed while its partner was graded', bad.stayedNotch(), 'notch-ungraded', ['move-notch']],
  ['a notch that one size lacks', bad.missingNotch(), 'notch-ungraded', ['add-notch']],
  ['a notch beyond its edge', bad.adriftNotch(), 'notch-adrift', ['move-notch']],
  ['a notch in the mouth of a dart', bad.notchInMouth(), 'notch-adrift', ['move-notch']],
  ['a dip across the shoulder', bad.dippedShoulder(), 'corner-untrue', ['true-corner']],
  ['a neckline that peaks at the fold', bad.peakedNeck(), 'fold-corner', ['true-corner', 'square-fold']],
  ['a bent fold', bad.bentFold(), 'fold-bent', ['square-fold']],
  ['dart legs of two lengths', bad.unequalLegs(), 'dart-legs', ['dart-legs']],
  ['an edge that kinks across its dart', bad.kinkedDart(), 'dart-cap', ['dart-cap']],
  ['a grainline off the fold', bad.tiltedGrain(), 'grain-off', ['align-grain']],
  ['a grainline off the bias', bad.tiltedBias(), 'grain-off', ['align-grain']],
];

describe.each(PLANTED)('%s', (_, set, rule, ids) => {
  const finding = faultsOf(set).find((one) => one.rule === rule)!;
  const offers = finding === undefined ? [] : remediesFor(set, finding);

  it(`${rule} is offered ${ids.join(' and ')}`, () => {
    expect(finding).toBeDefined();
    expect(offers.map(({ id }) => id)).toEqual(expect.arrayContaining([...ids]));
  });

  it('each offer, applied, takes the finding away or makes it less grave, and adds nothing', () => {
    const before = graves(set);
    for (const offer of offers) {
      const mended = mendSet(set, offer);
      if (!mended.ok) throw new Error(mended.error.sentence);
      const after = graves(mended.value);
      expect(after.filter((one) => !before.includes(one))).toEqual([]);
      const key = JSON.stringify([finding.rule, finding.subjects]);
      const wasGrave = before.includes(key);
      expect(after.includes(key)).toBe(false);
      expect(after.length).toBeLessThanOrEqual(before.length - (wasGrave ? 1 : 0));
      const { counts } = verify(mended.value).findings;
      expect(counts.stop + counts.mend).toBe(offer.leaves);
      expect(mended.value.history.length).toBe(set.history.length + 1);
    }
  });

  it('says what it does, what changes, and how the finding then stands', () => {
    for (const offer of offers) {
      expect(offer.sentence).toMatch(/^[A-Z].*\.$/);
      expect(offer.sentence).not.toMatch(/NaN|undefined|-0\b/);
      expect(offer.changed.length).toBeGreaterThan(0);
      expect(offer.after.verdict).not.toBe('fault');
    }
  });
});

describe('offers', () => {
  it('every remedy is offered for some planted fault', () => {
    const offered = new Set(PLANTED.flatMap(([, , , ids]) => ids));
    expect([...offered].sort()).toEqual(REMEDIES.map(({ id }) => id).sort());
  });

  it('are the same wherever the set lies and whichever way it is turned', () => {
    const set = idealSetAfterFitting();
    const told = (one: PatternSet) =>
      faultsOf(one)
        .flatMap((finding) => remediesFor(one, finding).map(({ id, leaves }) => `${finding.rule} ${id} ${leaves}`))
        .toSorted();
    for (const elsewhere of [movedSet(set, 37, [210, -95]), mirroredSet(set)])
      expect(told(elsewhere)).toEqual(told(set));
  });

  it('that leave less to mend come first', () => {
    const set = idealSetAfterFitting();
    for (const finding of faultsOf(set)) {
      const leaves = remediesFor(set, finding).map((offer) => offer.leaves);
      expect(leaves).toEqual(leaves.toSorted((a, b) => a - b));
    }
  });

  it('mend a fault of several sizes at once, or one size alone', () => {
    const single = twoSizes();
    const set: PatternSet = {
      ...single,
      pieces: single.pieces.map((piece) =>
        piece.id === 'back-bodice'
          ? {
              ...piece,
              shapes: Object.fromEntries(
                Object.entries(piece.shapes).map(([size, shape]) => [
                  size,
                  { ...shape, notches: shape.notches.map((notch) => ({ ...notch, count: 1 as const })) },
                ]),
              ),
            }
          : piece,
      ),
    };
    const finding = faultsOf(set).find(({ rule }) => rule === 'notch-count')!;
    expect(finding.consequences.map(({ rule }) => rule)).toEqual(['notch-count']);
    const offers = remediesFor(set, finding);
    expect(offers[0]).toMatchObject({
      id: 'notch-count',
      params: { size: '', piece: 'back-bodice', count: 2 },
      sentence: 'Make the notch of Back bodice double, in every size.',
      changed: [
        { piece: 'back-bodice', size: 'M' },
        { piece: 'back-bodice', size: 'L' },
      ],
    });
    const left = faultsOf(offers[0]!.set).filter(({ rule }) => rule === 'notch-count');
    expect(left).toEqual([]);
    expect(offers.map(({ params }) => params.size)).toEqual(expect.arrayContaining(['M', 'L']));
  });

  it('stand as data before the words of the finding', () => {
    const set = dressWaist(202);
    const [finding] = faultsOf(set);
    const offers = remediesFor(set, finding!);
    const { remedies } = withActions(finding!, offers);
    expect(remedies.slice(0, offers.length).map(({ action }) => action)).toEqual(
      offers.map(({ id, params }) => ({ id, params })),
    );
    expect(remedies.slice(offers.length)).toEqual(finding!.remedies);
  });

  it('are found for a consequence too, and there are none for what is clear or is not in the set', () => {
    const set = idealSetAfterFitting();
    const cause = faultsOf(set).find(({ rule }) => rule === 'cap-ease')!;
    const [consequence] = cause.consequences;
    expect(remediesAt(set, consequence!).map(({ id }) => id)).toContain('even-cap');
    const clear = verify(set).findings.findings.find(({ verdict }) => verdict === 'clear')!;
    expect(remediesFor(set, clear)).toEqual([]);
    expect(remediesAt(set, { rule: 'cap-ease', subjects: [{ seam: 'nowhere' }] })).toEqual([]);
  });

  it('of an unknown name are refused with a sentence', () => {
    expect(mendSet(seamTraced(), { id: 'iron', params: {} })).toMatchObject({
      ok: false,
      error: { code: 'unknown-remedy', sentence: expect.stringMatching(/There is no remedy "iron"; possible are/) },
    });
  });
});
