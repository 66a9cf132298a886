// The findings of a whole run: their order and counts, one for each cause, every size, the JSON, and the words for numbers.
import { describe, expect, it } from 'vitest';
import { runChecks } from '../../../shared/checks/engine.ts';
import { mustNotCut } from '../../../shared/checks/findings.ts';
import { RULES } from '../../../shared/checks/registry.ts';
import { toFindingsJson } from '../../../shared/checks/toFindingsJson.ts';
import { canBeClear, judgeInterval } from '../../../shared/checks/verdict.ts';
import { wordsIn } from '../../../shared/checks/words.ts';
import { findingsV1 } from '../../../shared/formats/findings/v1.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { armholeSet, coarseNotches, inSizes, SOUND_ARMHOLE, shoulders, sleeveHem } from '../../support/scenarioSets.ts';
import { e, rectangle, setOf } from '../../support/sets.ts';

function together(...sets: readonly PatternSet[]): PatternSet {
  const named = sets.map((set, k) => ({
    pieces: set.pieces.map((p) => ({ ...p, id: `${k}${p.id}` })),
    seams: set.seams.map((s) => ({
      ...s,
      id: `${k}${s.id}`,
      sides: [
        s.sides[0].map((x) => ({ ...x, piece: `${k}${x.piece}` })),
        s.sides[1].map((x) => ({ ...x, piece: `${k}${x.piece}` })),
      ] as const,
    })),
  }));
  return setOf(
    named.flatMap((n) => n.pieces),
    named.flatMap((n) => n.seams),
  );
}

describe('the findings of a set', () => {
  const result = runChecks(together(shoulders(124, 118), sleeveHem(1), shoulders(76, 80), coarseNotches()));

  it('begin with what stops the work and end with what does not apply', () => {
    const weights = result.findings.map((f) => `${f.verdict} ${f.verdict === 'fault' ? f.gravity : ''}`.trim());
    const order = ['fault stop', 'fault mend', 'fault look', 'unsure', 'clear', 'not-applicable'];
    expect(weights).toEqual(weights.toSorted((a, b) => order.indexOf(a) - order.indexOf(b)));
    expect(weights.slice(0, 2)).toEqual(['fault stop', 'fault mend']);
  });

  it('are counted by gravity, causes only', () => {
    expect(result.counts).toMatchObject({ stop: 1, mend: 1, unsure: 1 });
    expect(result.counts.clear).toBe(result.findings.filter((f) => f.verdict === 'clear').length);
    expect(mustNotCut(result.counts)).toBe(true);
    expect(mustNotCut(runChecks(shoulders(76, 80)).counts)).toBe(false);
  });

  it('are the same every time and leave the set as it was', () => {
    const set = Object.freeze(armholeSet(SOUND_ARMHOLE));
    const before = structuredClone(set);
    expect(runChecks(set)).toEqual(runChecks(set));
    expect(set).toEqual(before);
  });

  it('of an empty set are none', () => {
    expect(runChecks(setOf([])).findings).toEqual([]);
  });

  it('become a findings document that its schema accepts', () => {
    const json = JSON.parse(JSON.stringify(toFindingsJson({ name: 'Marl' }, result)));
    expect(findingsV1.parse(json)).toEqual(json);
    expect(json.set).toBe('Marl');
    expect(json.findings).toHaveLength(result.findings.length);
  });

  it('each have an id of the registry, which lists every rule once', () => {
    const ids = RULES.map((rule) => rule.id);
    expect(new Set(ids).size).toBe(RULES.length);
    for (const finding of result.findings) expect(ids).toContain(finding.rule);
  });
});

describe('several sizes', () => {
  const back = (mm: number) => rectangle({ top: [e('shoulder', mm)] });

  it('are each judged by themselves', () => {
    const set = inSizes(shoulders(76, 80), (p) => ({ L: back(p.id === 'front' ? 90 : 80) }));
    const faults = runChecks(set).findings.filter((f) => f.rule === 'shoulder-reversed' && f.verdict === 'fault');
    expect(faults.map((f) => f.subjects[0]!.size)).toEqual(['L']);
  });

  it('with the same fault are one finding, led by the base size', () => {
    const set = inSizes(shoulders(124, 118), (p) => ({
      S: back(p.id === 'front' ? 121 : 115),
      L: back(p.id === 'front' ? 127 : 121),
    }));
    const faults = runChecks(set).findings.filter((f) => f.rule === 'shoulder-reversed' && f.verdict === 'fault');
    expect(faults).toHaveLength(1);
    expect(faults[0]!.subjects[0]!.size).toBe('M');
    const others = faults[0]!.consequences.filter((f) => f.rule === 'shoulder-reversed');
    expect(others.map((f) => f.subjects[0]!.size).sort()).toEqual(['L', 'S']);
    expect(faults[0]!.sentence).toMatch(/The same in sizes/);
  });
});

describe('one request to measure again', () => {
  it('leaves alone what is unsure for another reason', () => {
    const findings = runChecks(
      together(coarseNotches(), {
        ...shoulders(76, 80),
        seams: shoulders(76, 80).seams.map((s) => ({ ...s, sides: [s.sides[0], []] as const })),
      }),
    );
    const unsure = findings.findings.filter((f) => f.verdict === 'unsure').map((f) => f.rule);
    expect(unsure.toSorted()).toEqual(['length-differs', 'notch-shifted']);
  });
});

describe('judging an interval', () => {
  it('holds both ends to the whole uncertainty', () => {
    expect(judgeInterval(0.9, 0.5, 0, 10)).toBe('unsure');
    expect(judgeInterval(1, 0.5, 0, 10)).toBe('clear');
    expect(judgeInterval(-1.1, 0.5, 0, 10)).toBe('fault');
    expect(judgeInterval(5, 0.5, 0, Number.POSITIVE_INFINITY)).toBe('clear');
  });

  it('knows when no value could be clear', () => {
    expect(canBeClear(0.8, -1.6, 1.6)).toBe(true);
    expect(canBeClear(0.81, -1.6, 1.6)).toBe(false);
  });
});

describe('numbers in words', () => {
  it('speak the units of the set', () => {
    expect(wordsIn('mm').uncertain(4.06, 0.25)).toBe('4.1 ± 0.5 mm');
    expect(wordsIn('cm').length(41.27)).toBe('4.13 cm');
    expect(wordsIn('in').length(41.275)).toBe('1 5/8 in');
    expect(wordsIn('in').length(-3.175)).toBe('-1/8 in');
    expect(wordsIn('in').uncertain(25.4, 0.127)).toBe('1 ± 0.01 in');
  });

  it('never round an uncertainty to nothing or a zero to a minus', () => {
    expect(wordsIn('mm').uncertain(-0.01, 0)).toBe('0 ± 0.1 mm');
    expect(wordsIn('mm').angle(-0.01)).toBe('0.0°');
  });

  it('do not change what is judged', () => {
    const verdicts = (units: 'mm' | 'in') =>
      runChecks({ ...armholeSet({ ...SOUND_ARMHOLE, backCount: 1 }), displayUnits: units }).findings.map((f) => [
        f.rule,
        f.verdict,
        f.gravity,
        f.measured,
      ]);
    expect(verdicts('in')).toEqual(verdicts('mm'));
  });
});
