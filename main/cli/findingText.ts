// Findings as lines of text: the gravity as a word, the sentence, what to do, and consequences under their cause.
import type { FindingCounts } from '../../shared/checks/findings.ts';
import type { FindingJson } from '../../shared/checks/toFindingsJson.ts';

export function findingLines(finding: FindingJson): readonly string[] {
  const word = finding.verdict === 'fault' ? finding.gravity : finding.verdict;
  return [
    `${word.padEnd(6)} ${finding.sentence} [${finding.rule}]`,
    ...finding.remedies.map((remedy) => `       → ${remedy.sentence}`),
    ...finding.consequences.map((consequence) => `       · ${consequence.sentence} [${consequence.rule}]`),
  ];
}

export function summaryLine(counts: FindingCounts): string {
  return `To stop for: ${counts.stop}. To mend: ${counts.mend}. To look at: ${counts.look}. Notes: ${counts.note}. Unsure: ${counts.unsure}. Clear: ${counts.clear}.`;
}
