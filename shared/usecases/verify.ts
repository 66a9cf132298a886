// The verification pass over a set: every rule in every size, as findings for the window and `notchwise-findings/1`.
import { runChecks } from '../checks/engine.ts';
import { mustNotCut } from '../checks/findings.ts';
import { type FindingsJson, toFindingsJson } from '../checks/toFindingsJson.ts';
import type { PatternSet } from '../pattern/model.ts';

export interface Verified {
  readonly findings: FindingsJson;
  /** True when something is to stop for or to mend before the cloth is cut. */
  readonly mustNotCut: boolean;
}

export function verify(set: PatternSet): Verified {
  const result = runChecks(set);
  return { findings: toFindingsJson(set, result), mustNotCut: mustNotCut(result.counts) };
}
