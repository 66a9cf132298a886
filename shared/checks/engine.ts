// Runs every rule over a set, in every size it holds, and orders what they say. Pure: the same set gives the same findings,
// whether it is checked for the first time or after a change of a set that was checked before.
import { keepSame } from '../base/sameValue.ts';
import type { PatternSet } from '../pattern/model.ts';
import { type CheckContext, contextOf } from './context.ts';
import type { Finding } from './finding.ts';
import { countFindings, type FindingCounts, inReadingOrder } from './findings.ts';
import { makeMemory } from './memory.ts';
import { nestCauses } from './nestCauses.ts';
import { RULES } from './registry.ts';
import type { Judged, Rule } from './rule.ts';

export interface CheckResult {
  readonly findings: readonly Finding[];
  readonly counts: FindingCounts;
}

export type Check = (set: PatternSet) => CheckResult;

export function runChecks(set: PatternSet, rules: readonly Rule[] = RULES): CheckResult {
  const context = contextOf(set);
  const judged: Judged[] = [];
  for (const rule of rules) for (const one of rule.evaluate(context)) judged.push(one);
  return resultOf(judged, context);
}

/**
 * A check that remembers its last run: one edge dragged and only what it touches is judged again. Sets that are read anew
 * (parsed, copied) are recognised by their content.
 */
export function makeChecker(rules: readonly Rule[] = RULES): Check {
  const memory = makeMemory();
  let last: PatternSet | null = null;
  return (set) => {
    last = keepSame(last, set);
    const { context, recall } = memory.begin(last);
    const judged: Judged[] = [];
    for (const rule of rules) for (const one of rule.evaluate(context, recall)) judged.push(one);
    memory.end();
    return resultOf(judged, context);
  };
}

function resultOf(judged: readonly Judged[], context: CheckContext): CheckResult {
  const findings = inReadingOrder(nestCauses(judged, context));
  return { findings, counts: countFindings(findings) };
}
