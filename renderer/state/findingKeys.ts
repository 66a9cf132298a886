// Names for findings that survive a new check: the same rule on the same subjects is the same finding.

import { assertNever } from '../../shared/base/assertNever.ts';
import type { FindingJson } from '../../shared/checks/toFindingsJson.ts';
import type { FindingFilter } from './windowState.ts';

export interface KeyedFinding {
  readonly key: string;
  readonly finding: FindingJson;
}

/** Findings in the order given, each with a key of its own; consequences are nested inside and not keyed. */
export function keyed(findings: readonly FindingJson[]): KeyedFinding[] {
  const seen = new Map<string, number>();
  return findings.map((finding) => {
    const base = `${finding.rule} ${JSON.stringify(finding.subjects)}`;
    const count = seen.get(base) ?? 0;
    seen.set(base, count + 1);
    return { key: count === 0 ? base : `${base} ${count}`, finding };
  });
}

/** Whether the filter shows the finding. What is not applicable is never shown: nothing can be learned from it. */
export function passes(filter: FindingFilter, { verdict, gravity }: FindingJson): boolean {
  switch (filter) {
    case 'to-do':
      return verdict === 'fault' || verdict === 'unsure';
    case 'stop':
    case 'mend':
      return verdict === 'fault' && gravity === filter;
    case 'look':
      return verdict === 'fault' && (gravity === 'look' || gravity === 'note');
    case 'unsure':
    case 'clear':
      return verdict === filter;
    case 'all':
      return verdict !== 'not-applicable';
    default:
      return assertNever(filter);
  }
}
