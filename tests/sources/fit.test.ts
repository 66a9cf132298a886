// Finished measures, ease and sizes against published figures and worked examples; the source is named at each.
import { describe, expect, it } from 'vitest';
import { runChecks } from '../../shared/checks/engine.ts';
import type { Finding } from '../../shared/checks/finding.ts';
import { finishedMeasures } from '../../shared/fit/finished.ts';
import type { MeasureId } from '../../shared/fit/finishedMeasure.ts';
import { garmentIn } from '../../shared/fit/garment.ts';
import { adviseSize } from '../../shared/fit/sizeAdvice.ts';
import { childHeadMm, HIP_DEPTH } from '../../shared/limits/bodyFit.ts';
import { BODY_TABLES } from '../../shared/limits/bodyTables.ts';
import { easeClassOf } from '../../shared/limits/wearingEase.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { bodyOfTable } from '../../shared/usecases/bodies.ts';
import { body, forBody, inCloth, skirt, top } from '../support/fitSets.ts';

const IN = 25.4;

function finishedMm(set: PatternSet, id: MeasureId): number {
  const options = { measuring: { assumedAllowanceSigmaMm: 3 }, hipDepthMm: HIP_DEPTH.valueMm };
  const taken = finishedMeasures(garmentIn(set, 'M', options))[id];
  if (!taken.ok) throw new Error(taken.error.kind);
  return taken.value.length.valueMm;
}

function told(set: PatternSet, rule: string): readonly Finding[] {
  return runChecks(set).findings.filter((f) => f.rule === rule);
}

function raised(set: PatternSet, rule: string): readonly string[] {
  return told(set, rule)
    .filter(({ verdict }) => verdict === 'fault')
    .map(({ gravity }) => gravity);
}

describe('finished girths from quarters', () => {
  it('a block with (waist + 1 in) / 4 a quarter, 28 -> 7 1/4 in, measures 29 in (dresspatternmaking.com)', () => {
    const block = skirt({ waistQuarterMm: 7.25 * IN, hipQuarterMm: 250 });
    expect(finishedMm(block, 'waist')).toBeCloseTo(29 * IN, 6);
    const [waist] = told(forBody(block, body({ waist: 28 * IN })), 'ease-short');
    expect(waist!.measured!.value).toBeCloseTo(IN, 6);
    expect(waist!.verdict).toBe('clear');
  });

  it('a bust grade of 1 in is 1/4 in on each quarter and 1 in round (fashion-incubator.com, grade rules 2)', () => {
    const [small, large] = [240, 240 + IN / 4].map((quarterMm) => finishedMm(top({ quarterMm }), 'bust'));
    expect(large! - small!).toBeCloseTo(IN, 6);
  });

  it('bust 83: half width B/2 + 6 is 47.5 cm, so 950 round and 120 of ease (formula from memory, Bunka; input yuzuandpear.com)', () => {
    const set = forBody(top({ quarterMm: 475 / 2 }), body({ bust: 830 }));
    expect(finishedMm(set, 'bust')).toBeCloseTo(950, 6);
    const [bust] = told(set, 'ease-short');
    expect(bust!.measured!.value).toBeCloseTo(120, 6);
    expect(bust!.sentence).toContain('semi-fitted');
  });

  it('bust ease 8 cm, shared out 0.8 + 3.2 on the half, adds up to 80 round (sewinglabmilano.com, lesson 3)', () => {
    const halfMm = 880 / 2 + 8 + 32;
    const set = forBody(top({ quarterMm: halfMm / 2 }), body({ bust: 880 }));
    expect(told(set, 'ease-short')[0]!.measured!.value).toBeCloseTo(80, 6);
  });

  it('a dart of 25.4 at legs of 254 takes 12.7 out half-way down: similar triangles (computed)', () => {
    const dart = { waistQuarterMm: 250 - IN, hipQuarterMm: 250, dartMm: IN };
    const options = { measuring: { assumedAllowanceSigmaMm: 3 }, hipDepthMm: 55 };
    const hip = finishedMeasures(garmentIn(skirt(dart), 'M', options)).hip;
    if (!hip.ok) throw new Error(hip.error.kind);
    // The dart is 110 deep; 55 down the side is half-way.
    expect(hip.value.length.valueMm).toBeCloseTo(4 * (250 - 12.7), 6);
  });

  it('the hip lies 7 in below the waist (Threads, Pattern Road Map)', () => {
    expect(HIP_DEPTH.valueMm / IN).toBeCloseTo(7, 1);
  });
});

describe('wearing ease', () => {
  it('2 1/2, 1 and 3 in at bust, waist and hip are room enough (Wikipedia, Ease (clothing))', () => {
    const bust = forBody(top({ quarterMm: (920 + 2.5 * IN) / 4 }), body({ bust: 920 }));
    const lower = forBody(
      skirt({ waistQuarterMm: (760 + IN) / 4, hipQuarterMm: (980 + 3 * IN) / 4 }),
      body({ waist: 760, hip: 980 }),
    );
    expect([...raised(bust, 'ease-short'), ...raised(lower, 'ease-short')]).toEqual([]);
  });

  it.each([
    ['bodice bust 1 1/2 to 2 in', 1.75, 'bust'],
    ['dress waist 3/4 to 1 in', 0.875, 'waist'],
    ['skirt hip 2 to 2 3/4 in', 2.375, 'hip'],
  ] as const)('%s is clear (Central Washington University, course text ch. 16)', (_, inches, level) => {
    const quarterMm = (900 + inches * IN) / 4;
    const set =
      level === 'hip'
        ? skirt({ waistQuarterMm: 190, hipQuarterMm: quarterMm })
        : top({ quarterMm, waistQuarterMm: quarterMm });
    const [finding] = told(forBody(set, body({ [level]: 900 })), 'ease-short');
    expect(finding!.verdict).toBe('clear');
  });

  it('3 to 4 in of bust ease is fitted, also for a tailored jacket (New Mexico State University Guide C-228, table 1)', () => {
    for (const inches of [3.05, 3.5, 4]) expect(easeClassOf(inches * IN)).toBe('fitted');
    const set = forBody(inCloth(top({ quarterMm: (920 + 3.5 * IN) / 4 }), 'tailored'), body({ bust: 920 }));
    expect(raised(set, 'ease-short')).toEqual([]);
  });

  it('the classes of an old publisher’s chart: 0-2 7/8, 3-4, 4 1/8-5, 5 1/8-8, above 8 in (from memory)', () => {
    const classes = [0, 2.875, 3.01, 4, 4.13, 5, 5.13, 7.9, 8.1].map((inches) => easeClassOf(inches * IN));
    expect(classes).toEqual([
      'close',
      'close',
      'fitted',
      'fitted',
      'semi-fitted',
      'semi-fitted',
      'loose',
      'loose',
      'very loose',
    ]);
    expect(easeClassOf(-1)).toBeNull();
  });
});

describe('the least slit of a pullover', () => {
  /** A straight half neck of 101.5 on each piece is 406 round. */
  const neck = (openMm: number) =>
    forBody(
      top({ quarterMm: 250, neck: [90, Math.sqrt(101.5 ** 2 - 90 ** 2)], back: { openMm }, sigma: 0.01 }),
      body({ head: 559 }),
    );

  it('is (559 - 406) / 2 = 76.5 for a head of 559 and a neckline of 406 (exam answer, zollege.in)', () => {
    expect(finishedMm(neck(76.5), 'neck opening')).toBeCloseTo(406, 6);
    const [opening] = told(neck(76.5), 'head-opening');
    expect(opening!.measured!.value).toBeCloseTo(559, 6);
    expect(raised(neck(75.5), 'head-opening')).toEqual(['stop']);
    expect(told(neck(77.5), 'head-opening')[0]!.verdict).toBe('clear');
  });
});

describe('sizes of published tables', () => {
  const sizesOf = (id: string) => {
    const table = BODY_TABLES.find((one) => one.id === id)!;
    const bodies = table.sizes.map((size) => {
      const read = bodyOfTable(table, size);
      if (!read.ok) throw new Error(read.error.sentence);
      return read.value;
    });
    return { bodies, sizes: table.sizes, preset: { tolerance: 'home', cloth: 'woven' } } as const;
  };
  const regions = (id: string, measuresIn: Readonly<Record<string, number>>) => {
    const measuresMm = Object.fromEntries(Object.entries(measuresIn).map(([name, inches]) => [name, inches * IN]));
    const advice = adviseSize(sizesOf(id), body(measuresMm), new Map());
    return Object.fromEntries(advice!.regions.map(({ region, size }) => [region, size]));
  };

  it('bust 36 1/4, waist 28 in is size 8 throughout, curvy; with a waist of 30 1/2 it is 8 and 12 (ASTM D5585-11e1)', () => {
    expect(regions('d5585-curvy', { bust: 36.25, waist: 28 })).toEqual({ bust: '8', waist: '8' });
    expect(regions('d5585-curvy', { bust: 36.25, waist: 30.5 })).toEqual({ bust: '8', waist: '12' });
    expect(regions('d5585-straight', { bust: 36.25, waist: 30.5 })).toEqual({ bust: '8', waist: '10' });
  });

  it('bust 34, waist 28, hip 40 in is 12, 14 and 16 (US paper patterns, misses, sewingscholar.blogspot.com)', () => {
    expect(regions('us-paper-misses', { bust: 34, waist: 28, hip: 40 })).toEqual({
      bust: '12',
      waist: '14',
      hip: '16',
    });
  });

  it('every column is its own size (all tables)', () => {
    for (const { id, sizes, measures } of BODY_TABLES.filter(({ measures: m }) => 'bust' in m && 'waist' in m)) {
      const perMm = id === 'children-92-122' ? 1 / 2.54 : 1;
      for (const [i, size] of sizes.entries()) {
        const found = regions(id, { bust: measures.bust![i]! * perMm, waist: measures.waist![i]! * perMm });
        expect(found, `${id} ${size}`).toEqual({ bust: size, waist: size });
      }
    }
  });

  it('a child of 1.10 m has a head of about 507 mm (WHO Child Growth Standards, from memory), and none is told beyond', () => {
    expect(childHeadMm(1100)).toBe(507);
    expect(childHeadMm(1030)!).toBeGreaterThan(childHeadMm(960)!);
    expect([childHeadMm(700), childHeadMm(1700)]).toEqual([null, null]);
  });
});
