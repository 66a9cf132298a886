// One harness for every rule: each case names its set and what the rule must say of it. The harness also proves that every
// message of the rule is reached, that nothing changes when the set is moved, turned or turned over, and that findings
// survive JSON.
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { contextOf } from '../../shared/checks/context.ts';
import type { Gravity, Verdict } from '../../shared/checks/finding.ts';
import type { Judged, Rule } from '../../shared/checks/rule.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { mirroredSet, movedSet } from './moveSet.ts';
import { rulePage } from './rulePage.ts';

export interface CheckCase {
  readonly why: string;
  readonly set: PatternSet;
  /** The message that must be spoken. */
  readonly key: string;
  readonly gravity?: Gravity;
  /** Part of the data; numbers are compared to a hundredth of a millimetre. */
  readonly data?: Readonly<Record<string, unknown>>;
  /** A part of the sentence. */
  readonly says?: string | RegExp;
}

export interface CheckCases {
  readonly pass: readonly CheckCase[];
  readonly fail: readonly CheckCase[];
  readonly unsure: readonly CheckCase[];
  readonly notApplicable: readonly CheckCase[];
}

export function describeCheck(rule: Rule, cases: CheckCases): void {
  const all: readonly (readonly [Verdict, CheckCase])[] = [
    ...cases.pass.map((c) => ['clear', c] as const),
    ...cases.fail.map((c) => ['fault', c] as const),
    ...cases.unsure.map((c) => ['unsure', c] as const),
    ...cases.notApplicable.map((c) => ['not-applicable', c] as const),
  ];
  describe(rule.id, () => {
    for (const [verdict, c] of all) {
      it(`${verdict}: ${c.why}`, () => {
        const judged = rule.evaluate(contextOf(c.set));
        const hits = judged.filter((j) => j.finding.verdict === verdict && j.key === c.key);
        const hit = hits.find((j) => c.data === undefined || holds(j.data, c.data)) ?? hits[0];
        if (hit === undefined)
          throw new Error(`expected ${verdict} ${c.key}, got ${JSON.stringify(judged.map(brief))}`);
        // A set that is to pass must not fail beside it, and the other way round a fault must be the only kind of fault.
        if (verdict === 'clear') expect(judged.filter((j) => j.finding.verdict === 'fault').map(brief)).toEqual([]);
        if (c.gravity !== undefined) expect(hit.finding.gravity).toBe(c.gravity);
        if (c.data !== undefined) expectData(hit.data, c.data);
        if (c.says !== undefined) expect(hit.finding.sentence).toMatch(c.says);
        if (verdict === 'fault') expect(hit.finding.remedies.length).toBeGreaterThan(0);
        expect(hit.finding.sentence).not.toMatch(/NaN|undefined|null|Infinity/);
        expect(JSON.parse(JSON.stringify(hit.finding))).toEqual(hit.finding);
      });

      it(`says the same when moved, turned or turned over: ${c.why}`, () => {
        const here = rule.evaluate(contextOf(c.set)).map(comparable);
        for (const elsewhere of [movedSet(c.set, 37, [210, -95]), movedSet(c.set, 180, [0, 0]), mirroredSet(c.set)]) {
          const there = rule.evaluate(contextOf(elsewhere)).map(comparable);
          expect(there.toSorted(bySentence)).toEqual(here.toSorted(bySentence));
        }
      });
    }

    it('reaches every message of the rule', () => {
      const reached = new Set(all.flatMap(([, c]) => rule.evaluate(contextOf(c.set)).map((j) => j.key)));
      expect([...reached].sort()).toEqual([...rule.messageKeys].sort());
    });

    it('says what it teaches and where its limits come from', () => {
      expect(rule.why.length).toBeGreaterThan(60);
      expect(rule.source.length).toBeGreaterThan(10);
    });
  });

  // Outside the rule's own tests: what is broken on purpose there must be noticed by them, not by the page.
  it(`the page of ${rule.id} is current (npm run rules)`, async () => {
    await expect(rulePage(rule, cases)).toMatchFileSnapshot(`${RULE_PAGES}${rule.id}.md`);
  });
}

const RULE_PAGES = fileURLToPath(new URL('../../assets/rules/', import.meta.url));

function brief(judged: Judged): string {
  return `${judged.finding.verdict} ${judged.key}: ${judged.finding.sentence}`;
}

function comparable({ finding, key }: Judged) {
  const { rule, verdict, gravity, sentence, subjects, measured, limit } = finding;
  const value = measured === undefined ? null : Math.round(measured.value * 1e4) + 0;
  return { rule, verdict, gravity, key, sentence, subjects, value, limit };
}

function bySentence(a: { readonly sentence: string }, b: { readonly sentence: string }): number {
  return a.sentence < b.sentence ? -1 : a.sentence > b.sentence ? 1 : 0;
}

function holds(data: unknown, wanted: unknown): boolean {
  if (typeof wanted === 'number') return typeof data === 'number' && Math.abs(data - wanted) < 0.005;
  if (typeof wanted !== 'object' || wanted === null) return data === wanted;
  if (typeof data !== 'object' || data === null) return false;
  return Object.entries(wanted).every(([name, value]) => holds((data as Record<string, unknown>)[name], value));
}

/** Numbers may come from curves: they are right to a hundredth. Everything else must be equal. */
function expectData(data: unknown, wanted: unknown): void {
  if (typeof wanted === 'number') {
    expect(data).toBeTypeOf('number');
    expect(data as number).toBeCloseTo(wanted, 2);
  } else if (Array.isArray(wanted)) {
    expect(Array.isArray(data) ? data.length : null).toBe(wanted.length);
    for (const [i, value] of wanted.entries()) expectData((data as readonly unknown[])[i], value);
  } else if (typeof wanted === 'object' && wanted !== null) {
    for (const [name, value] of Object.entries(wanted)) expectData((data as Record<string, unknown>)[name], value);
  } else expect(data).toBe(wanted);
}
