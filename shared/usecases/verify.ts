// The verification pass over a set: every rule in every size, as findings for the window and `notchwise-findings/1`.
import { type Check, makeChecker, runChecks } from '../checks/engine.ts';
import { mustNotCut } from '../checks/findings.ts';
import { type FindingsJson, toFindingsJson } from '../checks/toFindingsJson.ts';
import type { PatternSet } from '../pattern/model.ts';

export interface Verified {
  readonly findings: FindingsJson;
  /** True when something is to stop for or to mend before the cloth is cut. */
  readonly mustNotCut: boolean;
}

export function verify(set: PatternSet): Verified {
  return verifiedBy(runChecks, set);
}

export type Verify = (set: PatternSet) => Verified;

/** A verification that remembers the set of its last call, for whoever asks again after every change. */
export function makeVerifier(): Verify {
  const check = makeChecker();
  return (set) => verifiedBy(check, set);
}

function verifiedBy(check: Check, set: PatternSet): Verified {
  const result = check(set);
  return { findings: toFindingsJson(set, result), mustNotCut: mustNotCut(result.counts) };
}
