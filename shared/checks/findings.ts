// The order in which findings are read, and how many there are of each: what stops the work first, then what to mend, then
// what is unsure, and clear results last.
import type { Finding, Gravity, Verdict } from './finding.ts';
import { byGravity } from './gravity.ts';

export interface FindingCounts {
  /** Faults by gravity, causes only: what is nested under a cause is not counted again. */
  readonly stop: number;
  readonly mend: number;
  readonly look: number;
  readonly note: number;
  readonly unsure: number;
  readonly clear: number;
  readonly notApplicable: number;
}

const VERDICT_ORDER: readonly Verdict[] = ['fault', 'unsure', 'clear', 'not-applicable'];

/** Stable: findings of equal weight keep the order of the registry and of the set. */
export function inReadingOrder(findings: readonly Finding[]): Finding[] {
  return findings.toSorted(
    (a, b) => VERDICT_ORDER.indexOf(a.verdict) - VERDICT_ORDER.indexOf(b.verdict) || byGravity(a.gravity, b.gravity),
  );
}

export function countFindings(findings: readonly Finding[]): FindingCounts {
  const faults = (gravity: Gravity) => findings.filter((f) => f.verdict === 'fault' && f.gravity === gravity).length;
  const verdicts = (verdict: Verdict) => findings.filter((f) => f.verdict === verdict).length;
  return {
    stop: faults('stop'),
    mend: faults('mend'),
    look: faults('look'),
    note: faults('note'),
    unsure: verdicts('unsure'),
    clear: verdicts('clear'),
    notApplicable: verdicts('not-applicable'),
  };
}

/** True when something must be put right before the cloth is cut. */
export function mustNotCut(counts: FindingCounts): boolean {
  return counts.stop + counts.mend > 0;
}
