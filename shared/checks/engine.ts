// Runs every rule over a set, in every size it holds, and orders what they say. Pure: the same set gives the same findings.
import type { PatternSet } from '../pattern/model.ts';
import { contextOf } from './context.ts';
import type { Finding } from './finding.ts';
import { countFindings, type FindingCounts, inReadingOrder } from './findings.ts';
import { nestCauses } from './nestCauses.ts';
import { RULES } from './registry.ts';
import type { Rule } from './rule.ts';

export interface CheckResult {
  readonly findings: readonly Finding[];
  readonly counts: FindingCounts;
}

export function runChecks(set: PatternSet, rules: readonly Rule[] = RULES): CheckResult {
  const context = contextOf(set);
  const judged = rules.flatMap((rule) => rule.evaluate(context));
  const findings = inReadingOrder(nestCauses(judged, set.baseSize));
  return { findings, counts: countFindings(findings) };
}
