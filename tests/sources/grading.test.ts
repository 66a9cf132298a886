// Published size tables drafted as nests: they step unevenly, and are right all the same.
import { describe, expect, it } from 'vitest';
import { runChecks } from '../../shared/checks/engine.ts';
import { BODY_TABLES } from '../../shared/limits/bodyTables.ts';
import { backWaists, gradedEdge } from '../support/nestSets.ts';

const MM_PER = { in: 25.4, cm: 10 } as const;

function row(table: string, measure: string): { readonly sizes: readonly string[]; readonly mm: readonly number[] } {
  const { sizes, measures, unit } = BODY_TABLES.find(({ id }) => id === table)!;
  return { sizes, mm: measures[measure]!.map((value) => value * MM_PER[unit]) };
}

function steps(values: readonly number[]): readonly number[] {
  return values.slice(1).map((value, i) => value - values[i]!);
}

/** What the nest says of a piece whose edge is that part of the girth in every size. */
function told(table: string, measure: string, part: number): readonly string[] {
  const { sizes, mm } = row(table, measure);
  const set = gradedEdge(Object.fromEntries(sizes.map((size, i) => [`size ${size}`, mm[i]! * part])));
  return runChecks(set)
    .findings.filter((f) => f.rule.startsWith('grade-') || f.rule.startsWith('size-'))
    .filter((f) => f.verdict !== 'clear' && f.verdict !== 'not-applicable')
    .map((f) => f.sentence);
}

describe('ASTM D5585-11e1, Table 1, misses (astm.org, public preview)', () => {
  it('steps the bust by 14 7/8 in in all over twelve sizes, 377.825 mm', () => {
    const { mm } = row('d5585-curvy', 'bust');
    expect(mm).toHaveLength(12);
    expect(mm.at(-1)! - mm[0]!).toBeCloseTo(377.825, 9);
  });

  it('steps unevenly: 5/8 to 2 in, and not even in one direction', () => {
    const inches = steps(row('d5585-curvy', 'bust').mm).map((mm) => Number((mm / 25.4).toFixed(6)));
    expect(inches).toEqual([0.625, 1.25, 1.125, 1.125, 1, 1, 1.5, 1.625, 1.75, 1.875, 2]);
    expect(Math.min(...inches)).toBe(0.625);
    expect(Math.max(...inches)).toBe(2);
  });

  it('has its waist, curvy, step by 3/4, 3/4, 3/4, 7/8, 1, 1, 1 3/4, 1 3/4, 2, 2 1/4, 2 1/4 in', () => {
    const inches = steps(row('d5585-curvy', 'waist').mm).map((mm) => Number((mm / 25.4).toFixed(6)));
    expect(inches).toEqual([0.75, 0.75, 0.75, 0.875, 1, 1, 1.75, 1.75, 2, 2.25, 2.25]);
  });

  it('keeps the straight waist 1 1/2 in above the curvy one in every size', () => {
    const [curvy, straight] = ['d5585-curvy', 'd5585-straight'].map((id) => row(id, 'waist').mm) as [
      number[],
      number[],
    ];
    for (const [i, mm] of straight.entries()) expect(mm - curvy[i]!).toBeCloseTo(38.1, 9);
  });

  for (const measure of ['bust', 'waist', 'shoulders', 'neck']) {
    it(`is no fault of grading: ${measure}, on a quarter, on a half and on the whole round`, () => {
      for (const part of [0.25, 0.5, 1]) expect(told('d5585-curvy', measure, part)).toEqual([]);
    });
  }

  it('lets the head grow in every second size only', () => {
    expect(told('d5585-curvy', 'head', 0.5)).toEqual([]);
  });
});

describe('US paper patterns, misses (sewingscholar.blogspot.com, February 2011)', () => {
  it('steps the bust by 1, 1, 1 1/2, 2, 2, 2, 2 in', () => {
    expect(steps(row('us-paper-misses', 'bust').mm).map((mm) => Number((mm / 25.4).toFixed(6)))).toEqual([
      1, 1, 1.5, 2, 2, 2, 2,
    ]);
  });

  it('is no fault of grading', () => {
    for (const measure of ['bust', 'waist', 'hip', 'back length'])
      for (const part of [0.25, 0.5, 1]) expect(told('us-paper-misses', measure, part)).toEqual([]);
  });
});

describe('steps of other published systems', () => {
  const quarters = (girthSteps: readonly number[]) => {
    let mm = 200;
    const lengths = Object.fromEntries(
      [0, ...girthSteps].map((step, i) => {
        mm += step / 4;
        return [`${i}`, mm];
      }),
    );
    return runChecks(gradedEdge(lengths)).findings.filter((f) => f.rule === 'grade-jump' && f.verdict === 'fault');
  };

  it('women’s bust by 4 cm and then 6 cm (EN 13402-3)', () => {
    expect(quarters([40, 40, 40, 40, 40, 40, 40, 60, 60, 60, 60])).toEqual([]);
  });

  it('1 in for sizes 0 to 10, 1 1/2 in for 12 to 16, 2 in from 18 (patterngradingmarkingnyc.com)', () => {
    expect(quarters([25.4, 25.4, 25.4, 25.4, 25.4, 38.1, 38.1, 38.1, 50.8])).toEqual([]);
  });

  it('a child’s breast by 2 in from 6 to 8 and on (I. Rosenfeld, The Practical Designer, 1911, lesson 156)', () => {
    expect(quarters([50.8, 50.8, 50.8])).toEqual([]);
  });
});

describe('a girth grade shared out (fashion-incubator.com, How to create grade rules 2)', () => {
  it('gives a quarter of an inch to each half front and half back: a waist off by just that has strayed', () => {
    const step = 25.4 / 4;
    const set = backWaists({
      '8': [190, 190],
      '10': [190 + step, 190 + 2 * step],
      '12': [190 + 2 * step, 190 + 2 * step],
    });
    const strayed = runChecks({ ...set, baseSize: '10' }).findings.filter((f) => f.rule === 'size-strayed');
    expect(strayed.map((f) => f.verdict)).toEqual(['fault']);
    expect(strayed[0]!.measured!.value).toBeCloseTo(6.35, 6);
  });
});
