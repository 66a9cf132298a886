// check: the verification pass over a set. Exit code 1 when something must be put right before the cloth is cut.
import type { FindingJson } from '../../../shared/checks/toFindingsJson.ts';
import { verify } from '../../../shared/usecases/verify.ts';
import { EXIT, type ExitCode } from '../exitCodes.ts';
import { findingLines, summaryLine } from '../findingText.ts';
import { setToJudge } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

interface CheckOptions {
  readonly all?: boolean;
  readonly json?: boolean;
}

export async function check(typed: string, { all, json }: CheckOptions, around: CliSurroundings): Promise<ExitCode> {
  const { set } = await setToJudge(around, typed);
  const { findings, mustNotCut } = verify(set);
  if (json) {
    around.out(JSON.stringify(findings));
  } else {
    const shown = findings.findings.filter((finding) => all || isRaised(finding));
    for (const line of shown.flatMap(findingLines)) around.out(line);
    around.out(summaryLine(findings.counts));
  }
  return mustNotCut ? EXIT.found : EXIT.done;
}

function isRaised(finding: FindingJson): boolean {
  return finding.verdict === 'fault' || finding.verdict === 'unsure';
}
