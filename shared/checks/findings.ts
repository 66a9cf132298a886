// The order in which findings are read, and how many there are of each: what stops the work first, then what to mend, then
// what is unsure, and clear results last.
import type { Finding, Gravity, Verdict } from './finding.ts';
import { piecesOf } from './findingPlace.ts';
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

/**
 * Gravest first; of equally grave ones what must be right before the rest means anything: the outline, then how the pieces
 * lie and what changed, then measures; and the piece that most findings speak of before its partners. Stable beyond that.
 */
export function inReadingOrder(findings: readonly Finding[]): Finding[] {
  const evidence = new Map<string, number>();
  for (const finding of findings) {
    if (finding.verdict !== 'fault') continue;
    for (const piece of piecesOf(finding)) evidence.set(piece, (evidence.get(piece) ?? 0) + 1);
  }
  const most = (finding: Finding) =>
    finding.verdict === 'fault' ? Math.max(0, ...piecesOf(finding).map((piece) => evidence.get(piece) ?? 0)) : 0;
  return findings
    .map((finding) => ({ finding, turn: turnOf(finding), evidence: most(finding) }))
    .sort(
      (a, b) =>
        VERDICT_ORDER.indexOf(a.finding.verdict) - VERDICT_ORDER.indexOf(b.finding.verdict) ||
        byGravity(a.finding.gravity, b.finding.gravity) ||
        a.turn - b.turn ||
        b.evidence - a.evidence,
    )
    .map(({ finding }) => finding);
}

/** What to mend first among equally grave faults. */
const TURNS: readonly (readonly string[])[] = [
  [
    'piece-missing',
    'outline-crosses',
    'tracing-wobble',
    'curve-kink',
    'fold-bent',
    'fold-in-opening',
    'fold-on-uneven',
  ],
  ['same-side', 'turned-round', 'left-behind', 'size-strayed', 'size-differs', 'notch-ungraded'],
];

function turnOf({ rule, verdict }: Finding): number {
  const turn = verdict === 'fault' ? TURNS.findIndex((rules) => rules.includes(rule)) : -1;
  return turn < 0 ? TURNS.length : turn;
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
