// Remedies that apply themselves, found for one finding: each was applied to a copy and the copy was checked before it is
// offered, so that what is offered mends the finding and adds nothing to stop for or to mend.
import type { Params } from '../../alter/params.ts';
import { REMEDIES, remedyById } from '../../alter/remedies.ts';
import { applyRemedy } from '../../alter/remedy.ts';
import { fail, type Result } from '../../base/result.ts';
import { contextOf } from '../../checks/context.ts';
import type { Gravity, MeasuredValue, Verdict } from '../../checks/finding.ts';
import { byGravity } from '../../checks/gravity.ts';
import type { FindingJson } from '../../checks/toFindingsJson.ts';
import type { PatternSet } from '../../pattern/model.ts';
import { changedShapes } from '../alterSet.ts';
import { makeVerifier, type Verify } from '../verify.ts';
import type { Candidate } from './candidate.ts';
import { PROPOSALS } from './proposals.ts';

/** A remedy as data: what `mendSet` needs to apply it. */
export interface RemedyCall {
  readonly id: string;
  readonly params: Params;
}

export interface Offer extends RemedyCall {
  readonly grade: 'safe' | 'choice';
  readonly sentence: string;
  /** What the finding says once the remedy is applied; null verdict = it is gone. */
  readonly after: {
    readonly verdict: Verdict | null;
    readonly gravity: Gravity | null;
    readonly measured: MeasuredValue | null;
  };
  /** How many faults to stop for or to mend the set then still has; the offer that leaves fewest comes first. */
  readonly leaves: number;
  /** Shapes that the remedy redraws. */
  readonly changed: readonly { readonly piece: string; readonly size: string }[];
  /** The mended set, for a preview. */
  readonly set: PatternSet;
}

/**
 * The offers for one fault of the set; none where nothing that applies itself would mend it.
 * @param verify one that remembers: the copies differ from the set and from each other in a shape or two
 */
export function remediesFor(set: PatternSet, finding: FindingJson, verify: Verify = makeVerifier()): readonly Offer[] {
  if (finding.verdict !== 'fault') return [];
  const before = everyFinding(verify(set).findings.findings);
  const context = contextOf(set);
  const offers = new Map<string, Offer>();
  // The same fault in another size, and what follows from a cause that no remedy reaches, are mended in their own place.
  for (const target of [finding, ...finding.consequences]) {
    const isOwn = target.rule === finding.rule;
    if (!isOwn && offers.size > 0) continue;
    const candidates = PROPOSALS[target.rule]?.(target, context) ?? [];
    const alike = finding.consequences.filter(({ rule }) => rule === finding.rule);
    const everywhere = target === finding && alike.length > 0 ? candidates.flatMap(inEverySize) : [];
    for (const candidate of [...everywhere, ...candidates]) {
      const way = JSON.stringify([placeOf(isOwn ? target : finding), candidate.way]);
      if (offers.has(way)) continue;
      const targets = everywhere.includes(candidate) ? [finding, ...alike] : [isOwn ? target : finding];
      const offer = tried(set, candidate, { targets, before, verify });
      if (offer !== null) offers.set(way, offer);
    }
  }
  return [...offers.values()].toSorted((a, b) => a.leaves - b.leaves);
}

/** The same for a finding named by its rule and subjects, wherever it stands in what the checks say. */
export function remediesAt(set: PatternSet, place: Pick<FindingJson, 'rule' | 'subjects'>): readonly Offer[] {
  const verify = makeVerifier();
  const found = everyFinding(verify(set).findings.findings).find((finding) => placeOf(finding) === placeOf(place));
  return found === undefined ? [] : remediesFor(set, found, verify);
}

/** The finding with its offers as data before its remedies in words. */
export function withActions(finding: FindingJson, offers: readonly Offer[]): FindingJson {
  const actions = offers.map(({ id, params, grade, sentence }) => ({ grade, sentence, action: { id, params } }));
  return { ...finding, remedies: [...actions, ...finding.remedies] };
}

/** The set with one remedy applied and its step in the history; undo is keeping the old set. */
export function mendSet(set: PatternSet, { id, params }: RemedyCall): Result<PatternSet> {
  const remedy = remedyById(id);
  if (remedy === undefined)
    return fail(
      'unknown-remedy',
      `There is no remedy "${id}"; possible are ${REMEDIES.map((one) => one.id).join(', ')}.`,
    );
  return applyRemedy(set, remedy, params);
}

/** Remedies whose amounts are the same in every size. */
const ALIKE_IN_SIZES: readonly string[] = [
  'notch-count',
  'add-notch',
  'dart-legs',
  'dart-cap',
  'square-fold',
  'follow-seam',
  'take-back',
];

/** The same remedy in all sizes at once, for a fault that several of them have. */
function inEverySize(candidate: Candidate): readonly Candidate[] {
  if (!ALIKE_IN_SIZES.includes(candidate.id)) return [];
  const sentence = candidate.sentence.replace(/( in size [^ ]+)?\.$/, ', in every size.');
  return [{ ...candidate, params: { ...candidate.params, size: '' }, sentence, way: `${candidate.way} everywhere` }];
}

interface Trial {
  /** What the remedy has to mend. */
  readonly targets: readonly FindingJson[];
  /** What the set says without it. */
  readonly before: readonly FindingJson[];
  readonly verify: Verify;
}

/** The remedy applied to a copy and the copy checked; null unless it mends every target and adds nothing. */
function tried(set: PatternSet, candidate: Candidate, { targets, before, verify }: Trial): Offer | null {
  const mended = mendSet(set, candidate);
  if (!mended.ok) return null;
  const { findings: checked } = verify(mended.value);
  const after = everyFinding(checked.findings);
  const nowOf = (target: FindingJson) => after.find((finding) => placeOf(finding) === placeOf(target));
  const isMended = targets.every((target) => {
    const found = nowOf(target);
    return found?.verdict !== 'fault' || byGravity(found.gravity, target.gravity) > 0;
  });
  if (!isMended || addsFault(before, after)) return null;
  const now = nowOf(targets[0]!);
  const { id, params, grade, sentence } = candidate;
  return {
    id,
    params,
    grade,
    sentence,
    after: {
      verdict: now?.verdict ?? null,
      gravity: now?.verdict === 'fault' ? now.gravity : null,
      measured: now?.measured ?? null,
    },
    leaves: checked.counts.stop + checked.counts.mend,
    changed: changedShapes(set, mended.value),
    set: mended.value,
  };
}

function addsFault(before: readonly FindingJson[], after: readonly FindingJson[]): boolean {
  const known = new Map(before.filter(isGrave).map((finding) => [placeOf(finding), finding.gravity]));
  return after.filter(isGrave).some((finding) => {
    const was = known.get(placeOf(finding));
    return was === undefined || byGravity(finding.gravity, was) < 0;
  });
}

function isGrave({ verdict, gravity }: FindingJson): boolean {
  return verdict === 'fault' && (gravity === 'stop' || gravity === 'mend');
}

/** Causes and consequences alike. A cause's own gravity includes that of its consequences, which count by themselves. */
function everyFinding(findings: readonly FindingJson[]): readonly FindingJson[] {
  return findings.flatMap((finding) => [finding, ...everyFinding(finding.consequences)]);
}

/** What makes two findings of two states of a set the same: the rule and what it is about. */
function placeOf({ rule, subjects }: Pick<FindingJson, 'rule' | 'subjects'>): string {
  const about = subjects.map(({ piece, edge, seam, notch, dart, size }) => [piece, edge, seam, notch, dart, size]);
  return JSON.stringify([rule, about]);
}
