// The sets of the scenario judged as a whole: what must be said, and what must not.
import { describe, expect, it } from 'vitest';
import { runChecks } from '../../../shared/checks/engine.ts';
import type { Finding } from '../../../shared/checks/finding.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { idealSet } from '../../photos/marl/idealSet.ts';
import {
  armholeSet,
  coarseNotches,
  cuttingLineTrap,
  dressWaist,
  jerseyTop,
  loweredNeck,
  princess,
  SOUND_ARMHOLE,
  shoulders,
  sideWithDart,
  sleeveHem,
  taperedHem,
  trousers,
  waistband,
  widenedBiceps,
} from '../../support/scenarioSets.ts';
import { cutOf, e, piece } from '../../support/sets.ts';

/** What must be acted on: faults to stop for, to mend or to look at, without the edges that these small sets leave free. */
function said(set: PatternSet): readonly Finding[] {
  return runChecks(set).findings.filter((f) => f.verdict === 'fault' && f.rule !== 'edge-unclaimed');
}

function brief(set: PatternSet): readonly string[] {
  return said(set).map((f) => `${f.gravity} ${f.rule}`);
}

function unsure(set: PatternSet): readonly string[] {
  return runChecks(set)
    .findings.filter((f) => f.verdict === 'unsure')
    .map((f) => f.rule);
}

function all(set: PatternSet, rule: string): readonly Finding[] {
  return runChecks(set).findings.filter((f) => f.rule === rule);
}

describe('the sets of the scenario', () => {
  it('1: sees 25.4 of cap ease on the seamlines where the cutting lines show 60.3', () => {
    const set = cuttingLineTrap();
    expect(brief(set)).toEqual([]);
    expect(unsure(set)).toEqual([]);
    const [ease] = all(set, 'cap-ease');
    expect(ease!.verdict).toBe('clear');
    expect(ease!.measured!.value).toBeCloseTo(25.4, 1);
    expect(ease!.sentence).not.toContain('60.3');
  });

  it('1: is unsure when the allowance is only assumed, because it decides the answer on a curve', () => {
    expect(unsure(cuttingLineTrap(true))).toEqual(['cap-ease']);
  });

  it('2: takes a look at 44 of cap ease and leaves underarm and notches alone', () => {
    const findings = said(widenedBiceps());
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['cap-ease', 'look']]);
    expect(findings[0]!.measured!.value).toBeCloseTo(44, 6);
    expect(findings[0]!.consequences).toEqual([]);
  });

  it('3: mends a front shoulder that is 6 longer than the back', () => {
    const findings = said(shoulders(124, 118));
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['shoulder-reversed', 'mend']]);
    expect(findings[0]!.consequences.map((f) => f.rule)).toEqual(['length-differs']);
    expect(findings[0]!.sentence).toContain('front is longer by 6 ± 0.5 mm');
    expect(findings[0]!.sentence).not.toContain('eased in');
  });

  it('3: knows front from back whichever side of the seam was named first', () => {
    const set = shoulders(124, 118);
    const swapped = { ...set, seams: set.seams.map((s) => ({ ...s, sides: [s.sides[1], s.sides[0]] as const })) };
    expect(brief(swapped)).toEqual(['mend shoulder-reversed']);
  });

  it('a back shoulder that is 4 or 12 longer is eased in and clear', () => {
    expect(brief(shoulders(76, 80))).toEqual([]);
    expect(brief(shoulders(76, 88))).toEqual([]);
    expect(all(shoulders(76, 80), 'length-differs')[0]!.sentence).toContain('eased in');
  });

  it('4: takes the dart out on the seamline, so that 231 with a mouth of 26 equals 205', () => {
    const set = sideWithDart();
    expect(brief(set)).toEqual([]);
    const [length] = all(set, 'length-differs');
    expect(length!.verdict).toBe('clear');
    expect(length!.measured!.value).toBeCloseTo(0, 6);
  });

  it('5: finds the lower section of a princess seam 6 too long although the ease in all would pass', () => {
    const findings = said(princess([98, 136, 210], [98, 136, 216]));
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['length-differs', 'mend']]);
    expect(findings[0]!.measured!.value).toBeCloseTo(6, 6);
    expect(findings[0]!.sentence).toContain('from notch 2 to the end of the seam');
  });

  it('5: lets 6 be eased in between the notches', () => {
    expect(brief(princess([98, 136, 210], [98, 142, 210]))).toEqual([]);
    expect(unsure(princess([98, 136, 210], [98, 142, 210]))).toEqual([]);
  });

  it('6: stops for two left sleeves and leaves a symmetric patch pocket, also cut twice, alone', () => {
    const set = armholeSet(SOUND_ARMHOLE);
    const twice = [cutOf({ count: 2 })];
    const sleeves = set.pieces.map((p) => (p.id === 'sleeve' ? { ...p, cut: twice } : p));
    const pocket = piece(
      'patch pocket',
      'pocket',
      { top: [e('opening', 140)], right: [e('side', 160)] },
      { cut: twice },
    );
    const findings = said({ ...set, pieces: [...sleeves, pocket] });
    expect(findings.map((f) => [f.rule, f.gravity, f.subjects[0]!.piece])).toEqual([['same-side', 'stop', 'sleeve']]);
    expect(unsure({ ...set, pieces: [...sleeves, pocket] })).toEqual([]);
  });

  it('7: a waistband of 785 with 35 of underlap eases 10, and hem and zip notches need no partner', () => {
    const set = waistband(35);
    expect(brief(set)).toEqual([]);
    expect(unsure(set)).toEqual([]);
    const waist = all(set, 'length-differs').find((f) => f.subjects[0]!.seam === 'waist')!;
    expect(waist.verdict).toBe('clear');
    expect(waist.measured!.value).toBeCloseTo(-10, 6);
    expect(waist.sentence).toContain('760');
  });

  it('7: asks about the underlap before calling a band 25 too long', () => {
    expect(brief(waistband(0))).toEqual([]);
    expect(unsure(waistband(0))).toEqual(['length-differs']);
  });

  it('8: a back inseam 8 shorter above the knee is stretched, and rises are not compared', () => {
    const set = trousers([320, 412], [312, 412]);
    expect(brief(set)).toEqual([]);
    const rise = all(set, 'length-differs').find((f) => f.subjects[0]!.seam === 'rise')!;
    expect(rise.verdict).toBe('not-applicable');
  });

  it('8: the same 8 below the knee is to be mended', () => {
    expect(brief(trousers([320, 412], [320, 404]))).toEqual(['mend length-differs']);
  });

  it('9: stops for a front facing 18 short on the half, 36 round, and leaves the back alone', () => {
    const findings = said(loweredNeck(136));
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['trim-differs', 'stop']]);
    expect(findings[0]!.sentence).toContain('front facing is 18 ± 0.5 mm shorter');
    expect(findings[0]!.sentence).toContain('36 mm round');
    expect(findings[0]!.consequences.map((f) => f.rule)).toEqual(['length-differs']);
    expect(findings[0]!.sentence).toContain('(front)');
    expect(findings[0]!.sentence).not.toContain('(back)');
    expect(brief(loweredNeck(118))).toEqual([]);
  });

  it('10: mends a hem allowance that is 16 short when it is turned up, and accepts one that flares', () => {
    const findings = said(taperedHem(292));
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['hem-turn', 'mend']]);
    expect(findings[0]!.measured!.value).toBeCloseTo(16, 6);
    expect(brief(taperedHem(308))).toEqual([]);
  });

  it('11: is unsure about a notch that misses by 2.4 ± 1.2, with one request for the whole set', () => {
    const set = coarseNotches();
    expect(brief(set)).toEqual([]);
    const open = runChecks(set).findings.filter((f) => f.verdict === 'unsure');
    expect(open).toHaveLength(1);
    expect(open[0]!.rule).toBe('notch-shifted');
    expect(open[0]!.sentence).toContain('2.4 ± 1.2 mm');
    expect(open[0]!.sentence).toContain('Measure these pieces again');
    expect(open[0]!.consequences).toHaveLength(1);
  });

  it('12: a jersey top 60 smaller than its body, with a band of 85 % and 2 of cap ease, is right in a knit', () => {
    expect(brief(jerseyTop('knit'))).toEqual([]);
    expect(unsure(jerseyTop('knit'))).toEqual([]);
    const [ease] = all(jerseyTop('knit'), 'ease-short');
    expect(ease!.measured!.value).toBeCloseTo(-60, 6);
    expect(ease!.sentence).toContain('860 ± 1.2 mm round (half 430 mm) on a body of 920 mm, 60 mm smaller');
  });

  it('12: the same top in a woven stops the work for the 60 that are missing', () => {
    expect(brief(jerseyTop('woven'))).toEqual(['stop trim-differs', 'stop ease-short', 'look cap-ease']);
    const [ease] = all(jerseyTop('woven'), 'ease-short');
    expect(ease!.sentence).toContain('60 ± 1.2 mm smaller than the body of 920 mm');
  });
});

describe('the planted errors of the demo', () => {
  it('1: an opened armhole is one finding with the lost cap ease and both underarm sections in it', () => {
    const findings = said(armholeSet({ ...SOUND_ARMHOLE, front: [91, 132], back: [101, 132] }));
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['cap-ease', 'stop']]);
    expect(findings[0]!.measured!.value).toBeCloseTo(6, 6);
    expect(findings[0]!.sentence).toContain('22 mm of the wanted 28 mm are gone');
    expect(findings[0]!.consequences.map((f) => f.rule)).toEqual(['cap-ease-spread']);
    expect(findings[0]!.consequences[0]!.sentence.match(/-11 ± 0\.\d mm/g)).toHaveLength(2);
  });

  it('1: the sides of the opened bodice stay clear', () => {
    const set = armholeSet({ ...SOUND_ARMHOLE, front: [91, 132], back: [101, 132] });
    expect(all(set, 'length-differs').map((f) => f.verdict)).toEqual(['clear']);
  });

  it('the sound armhole of the dress has nothing to say', () => {
    const set = armholeSet(SOUND_ARMHOLE);
    expect(brief(set)).toEqual([]);
    expect(unsure(set)).toEqual([]);
  });

  it('3: a single notch that meets a double one is to be mended, and is not also called alone', () => {
    expect(brief(armholeSet({ ...SOUND_ARMHOLE, backCount: 1 }))).toEqual(['mend notch-count']);
  });

  it('4: a waist 10 too long is to be mended, with the question about the next size', () => {
    expect(brief(dressWaist(192))).toEqual([]);
    const findings = said(dressWaist(202));
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['length-differs', 'mend']]);
    expect(findings[0]!.sentence).toContain("10 mm is one grade step: did you follow the next size's line?");
    expect(findings[0]!.sentence).toContain('20 mm round');
  });

  it('4: does not speak of sizes when the set has only one', () => {
    expect(said(dressWaist(202, ['M']))[0]!.sentence).not.toContain('grade step');
  });

  it('5: a gap of 16 at the sleeve hem stops the work and is recognised as one pleat', () => {
    expect(brief(sleeveHem(2))).toEqual([]);
    const findings = said(sleeveHem(1));
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['trim-differs', 'stop']]);
    expect(findings[0]!.sentence).toContain('equals one pleat: was one pleat not traced?');
    expect(findings[0]!.remedies[0]!.sentence).toBe('Mark the pleat of 16 mm that is missing on sleeve.');
  });

  it('6: a back neckband on the fold where the zip runs stops the work, and is said once', () => {
    const set = idealSet('as designed');
    const onFold = [cutOf({ onFold: true })];
    const folded = { ...set, pieces: set.pieces.map((p) => (p.id === 'back-neckband' ? { ...p, cut: onFold } : p)) };
    const findings = said(folded);
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['fold-in-opening', 'stop']]);
    expect(findings[0]!.sentence).toContain('Back neckband');
    expect(unsure(folded)).toEqual([]);
  });

  it('a sleeve notch 7 too far is one finding of a shifted notch with the underarm section in it', () => {
    const findings = said(armholeSet({ ...SOUND_ARMHOLE, capBack: [97, 141] }));
    expect(findings.map((f) => [f.rule, f.gravity])).toEqual([['notch-shifted', 'mend']]);
    expect(Math.abs(findings[0]!.measured!.value)).toBeCloseTo(7, 6);
    expect(findings[0]!.consequences.map((f) => f.rule)).toEqual(['cap-ease-spread']);
  });
});
