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

/**
 * Gravest first; of equally grave ones what must be right before the rest means anything: the outline, then how the pieces
 * lie and what changed, then measures; and the piece that most findings speak of before its partners. Stable beyond that;
 * what is no fault is equally grave within its verdict.
 */
export function inReadingOrder(findings: readonly Finding[]): Finding[] {
  const groups: Record<Verdict, Finding[]> = { fault: [], unsure: [], clear: [], 'not-applicable': [] };
  for (const finding of findings) groups[finding.verdict].push(finding);
  return [...whatToMendFirst(groups.fault), ...groups.unsure, ...groups.clear, ...groups['not-applicable']];
}

function whatToMendFirst(faults: readonly Finding[]): Finding[] {
  const evidence = new Map<string, number>();
  for (const fault of faults) {
    for (const piece of piecesOf(fault)) evidence.set(piece, (evidence.get(piece) ?? 0) + 1);
  }
  const most = (fault: Finding) => Math.max(0, ...piecesOf(fault).map((piece) => evidence.get(piece) ?? 0));
  return faults
    .map((fault) => ({ fault, turn: turnOf(fault), evidence: most(fault) }))
    .sort((a, b) => byGravity(a.fault.gravity, b.fault.gravity) || a.turn - b.turn || b.evidence - a.evidence)
    .map(({ fault }) => fault);
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

function turnOf({ rule }: Finding): number {
  const turn = TURNS.findIndex((rules) => rules.includes(rule));
  return turn < 0 ? TURNS.length : turn;
}

export function countFindings(findings: readonly Finding[]): FindingCounts {
  const faults: Record<Gravity, number> = { stop: 0, mend: 0, look: 0, note: 0 };
  const verdicts: Record<Verdict, number> = { fault: 0, unsure: 0, clear: 0, 'not-applicable': 0 };
  for (const { verdict, gravity } of findings) {
    verdicts[verdict]++;
    if (verdict === 'fault') faults[gravity]++;
  }
  const { unsure, clear, 'not-applicable': notApplicable } = verdicts;
  return { ...faults, unsure, clear, notApplicable };
}

/** True when something must be put right before the cloth is cut. */
export function mustNotCut(counts: FindingCounts): boolean {
  return counts.stop + counts.mend > 0;
}
