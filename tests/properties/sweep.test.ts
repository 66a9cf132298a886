// The same set laid down elsewhere, turned over, or spoken of in inches says the same: the same findings with the same
// verdicts, gravities and measured values.
import { describe, expect, it } from 'vitest';
import { runChecks } from '../../shared/checks/engine.ts';
import type { Finding } from '../../shared/checks/finding.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { idealSetAfterFitting } from '../photos/marl/idealSet.ts';
import { cutTraced, seamTraced, twoPieceSleeve, twoSizes } from '../support/alterSets.ts';
import * as mend from '../support/mendSets.ts';
import { mirroredSet, movedSet } from '../support/moveSet.ts';
import { marlArmholes } from '../support/nestSets.ts';
import * as scenario from '../support/scenarioSets.ts';

const SETS: Readonly<Record<string, () => PatternSet>> = {
  'the dress as designed': seamTraced,
  'the dress on its cutting lines': cutTraced,
  'the dress in two sizes': twoSizes,
  'the dress after fitting, with its planted errors': idealSetAfterFitting,
  'a sleeve in two pieces': twoPieceSleeve,
  'a cap left out of the grade': () => marlArmholes('as M'),
  'cutting lines that look too long': scenario.cuttingLineTrap,
  'biceps widened': scenario.widenedBiceps,
  'shoulders the wrong way round': () => scenario.shoulders(124, 118),
  'a dart in the side': scenario.sideWithDart,
  'a waistband with underlap': () => scenario.waistband(35),
  'trousers stretched above the knee': () => scenario.trousers([320, 412], [312, 412]),
  'a lowered neckline': () => scenario.loweredNeck(136),
  'a tapered hem': () => scenario.taperedHem(292),
  'coarse notches': scenario.coarseNotches,
  'a jersey top': () => scenario.jerseyTop('knit'),
  'a dip across the shoulder': mend.dippedShoulder,
  'a neckline that peaks': mend.peakedNeck,
  'a notch alone': mend.loneNotch,
};

type Told = readonly unknown[];

function told(set: PatternSet): readonly string[] {
  const one = ({ rule, verdict, gravity, measured, subjects, consequences }: Finding): Told => [
    rule,
    verdict,
    gravity,
    measured === undefined ? null : [Math.round(measured.value * 1e4) + 0, measured.unit],
    subjects
      .map(({ piece, edge, seam, notch, dart, size }) => [piece, edge, seam, notch, dart, size].join())
      .toSorted(),
    consequences.map((finding) => JSON.stringify(one(finding))).toSorted(),
  ];
  return runChecks(set)
    .findings.map((finding) => JSON.stringify(one(finding)))
    .toSorted();
}

describe.each(Object.entries(SETS))('%s says the same', (_, build) => {
  const here = told(build());

  it.each([
    ['moved and turned by 37 degrees', (set: PatternSet) => movedSet(set, 37, [210, -95])],
    ['turned by 90 degrees', (set: PatternSet) => movedSet(set, 90, [0, 0])],
    ['turned by 180 degrees, far away', (set: PatternSet) => movedSet(set, 180, [4000, 2500])],
    ['turned over', mirroredSet],
    ['spoken of in inches', (set: PatternSet): PatternSet => ({ ...set, displayUnits: 'in' })],
    ['spoken of in centimetres', (set: PatternSet): PatternSet => ({ ...set, displayUnits: 'cm' })],
  ])('%s', (__, change) => {
    expect(told(change(build()))).toEqual(here);
  });
});
