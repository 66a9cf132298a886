// Findings as `notchwise-findings/1`, the form in which `check --json` and the window receive them.
import type { PatternSet } from '../pattern/model.ts';
import type { CheckResult } from './engine.ts';
import type { Finding, Gravity, MeasuredValue, Overlay, Remedy, StatedLimit, Subject, Verdict } from './finding.ts';
import type { FindingCounts } from './findings.ts';

export interface FindingJson {
  readonly rule: string;
  readonly verdict: Verdict;
  readonly gravity: Gravity;
  readonly consequences: readonly FindingJson[];
  readonly subjects: readonly Subject[];
  readonly measured?: MeasuredValue;
  readonly limit?: StatedLimit;
  readonly sentence: string;
  readonly why: string;
  readonly overlay: readonly Overlay[];
  readonly remedies: readonly Remedy[];
}

export interface FindingsJson {
  readonly format: 'notchwise-findings/1';
  readonly set: string;
  readonly findings: readonly FindingJson[];
  readonly counts: FindingCounts;
}

export function toFindingsJson(set: Pick<PatternSet, 'name'>, result: CheckResult): FindingsJson {
  return {
    format: 'notchwise-findings/1',
    set: set.name,
    findings: result.findings.map(findingJson),
    counts: result.counts,
  };
}

function findingJson(finding: Finding): FindingJson {
  const { rule, verdict, gravity, subjects, measured, limit, sentence, why, overlay, remedies } = finding;
  return {
    rule,
    verdict,
    gravity,
    consequences: finding.consequences.map(findingJson),
    subjects,
    ...(measured === undefined ? {} : { measured }),
    ...(limit === undefined ? {} : { limit }),
    sentence,
    why,
    overlay,
    remedies,
  };
}
