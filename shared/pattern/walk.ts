// A seam walked: both sides laid out from the same end, what must meet paired up, and the lengths of the sections between.
// The checks, the seam ruler and the walk on the canvas all read this one result.

import { timesInRound } from './cutList.ts';
import { isBand, isSleeve, normalLabel } from './kinds.ts';
import { type Matched, matchNotches, type Pair } from './matchNotches.ts';
import { addLength, type Length, type MeasureOptions, NO_LENGTH, subtractLength } from './measure.ts';
import type { PatternSet, Seam, Size } from './model.ts';
import { neighbours } from './seamline.ts';
import { type SortedSeam, sortSeam } from './seamSort.ts';
import { type SideProblem, sectionLength, type WalkedSide, type WalkedSpan, walkSide } from './spans.ts';

export interface Anchor {
  readonly kind: 'start' | 'notch' | 'joint' | 'end';
  /** Along each side from the seam's start, mouths closed. */
  readonly atMm: readonly [number, number];
  readonly pair: Pair | null;
}

export interface Section {
  readonly from: Anchor;
  readonly to: Anchor;
  readonly lengths: readonly [Length, Length];
  /** Second less first. */
  readonly difference: Length;
}

/**
 * How the sides are compared. `once`: as laid out. `half`: both are laid out as half of the round. `round`: the lengths are
 * those of the whole round, because one side was traced whole and the other as a half.
 */
export type Basis = 'once' | 'half' | 'round';

export interface SeamWalk {
  readonly seam: Seam;
  readonly size: Size;
  readonly sorted: SortedSeam;
  readonly sides: readonly [WalkedSide, WalkedSide];
  readonly matched: Matched;
  readonly anchors: readonly Anchor[];
  readonly sections: readonly Section[];
  readonly basis: Basis;
  /** Lengths as compared (of the round when the basis says so), and second less first without the overlap. */
  readonly compared: readonly [Length, Length];
  readonly difference: Length;
  /** What one side has beyond the other on purpose; taken out of the difference. */
  readonly lap: Lap;
}

export interface Lap {
  readonly side: 0 | 1;
  readonly lengthMm: number;
}

export type WalkResult =
  | { readonly ok: true; readonly value: SeamWalk }
  | { readonly ok: false; readonly error: { readonly problem: SideProblem; readonly side: 0 | 1 } };

export function walkSeam(set: PatternSet, seam: Seam, size: Size, options: MeasureOptions): WalkResult {
  const first = walkSide(set, seam.sides[0], size, options);
  if (!first.ok) return { ok: false, error: { problem: first.error, side: 0 } };
  const second = walkSide(set, seam.sides[1], size, options);
  if (!second.ok) return { ok: false, error: { problem: second.error, side: 1 } };
  const sides = [first.value, second.value] as const;
  const sorted = sortSeam(set, seam);
  const { basis, compared } = sorted.sort === 'cap' ? compareCap(sides) : compareInRound(sides);
  const isLaidOut = basis !== 'round' && !(sorted.sort === 'cap' && startsApart(seam, sides));
  const matched: Matched = isLaidOut ? matchNotches(...sides) : NOTHING_MATCHED;
  const anchors = anchorsOf(sides, matched);
  const sections = anchors.slice(1).map((to, i): Section => {
    const from = anchors[i]!;
    const lengths = [
      sectionLength(sides[0], from.atMm[0], to.atMm[0], options),
      sectionLength(sides[1], from.atMm[1], to.atMm[1], options),
    ] as const;
    return { from, to, lengths, difference: subtractLength(lengths[1], lengths[0]) };
  });
  const gap = subtractLength(compared[1], compared[0]);
  const lap = overlapOf(seam, sides);
  const difference = { ...gap, valueMm: gap.valueMm + (lap.side === 0 ? lap.lengthMm : -lap.lengthMm) };
  return {
    ok: true,
    value: { seam, size, sorted, sides, matched, anchors, sections, basis, compared, difference, lap },
  };
}

/** A waistband, cuff or collar laps over itself, whichever side of the seam it was entered on. */
function overlapOf({ overlapMm }: Seam, sides: readonly [WalkedSide, WalkedSide]): Lap {
  const [first, second] = sides.map(({ spans }) => spans.every(({ piece }) => isBand(piece.kind)));
  return first && !second ? { side: 0, lengthMm: Math.abs(overlapMm) } : { side: 1, lengthMm: overlapMm };
}

/**
 * The seams of a two-piece sleeve lie anywhere along the armhole, so that a cap that begins at one of them and an armhole that
 * begins at a seam of the body do not begin at the same place, unless somebody has said where by measure.
 */
function startsApart({ sides: [a, b] }: Seam, sides: readonly [WalkedSide, WalkedSide]): boolean {
  const isTwoPiece = sides.some(({ spans }) => spans.some(({ piece }) => piece.kind === 'under sleeve'));
  return isTwoPiece && [a, b].every((side) => side.every(({ stretch }) => stretch === null));
}

/** Where one side shows half of the round and the other all of it, places along them cannot be paired. */
const NOTHING_MATCHED: Matched = { pairs: [], alone: [[], []] };

function anchorsOf(sides: readonly [WalkedSide, WalkedSide], matched: Matched): Anchor[] {
  const start: Anchor = { kind: 'start', atMm: [0, 0], pair: null };
  const end: Anchor = { kind: 'end', atMm: [sides[0].total.valueMm, sides[1].total.valueMm], pair: null };
  const between = matched.pairs.map((pair): Anchor => {
    const bothJoints = pair.first.kind === 'joint' || pair.second.kind === 'joint';
    return { kind: bothJoints ? 'joint' : 'notch', atMm: [pair.first.atMm, pair.second.atMm], pair };
  });
  return [start, ...between, end];
}

function compareInRound(sides: readonly [WalkedSide, WalkedSide]): {
  readonly basis: Basis;
  readonly compared: readonly [Length, Length];
} {
  const totals = [sides[0].total, sides[1].total] as const;
  if (!sides.some((side) => side.spans.some(meetsItsMirror))) return { basis: 'once', compared: totals };
  const times = sides.map((side) => side.spans.map((walked) => timesInRound(walked.piece)));
  const isHalf = times.every((side) => side.every((t) => t !== 1));
  const halves = times.map((side) => side.every((t) => t === 2));
  if (halves[0] && halves[1]) return { basis: 'half', compared: totals };
  const readings: [Length, Length][] = [];
  for (const a of readingsOf(sides[0], times[0]!)) {
    for (const b of readingsOf(sides[1], times[1]!)) readings.push([a, b]);
  }
  const fits = (pair: readonly [Length, Length]) => Math.abs(Math.log(pair[1].valueMm / pair[0].valueMm));
  const best = readings.reduce((kept, pair) => (fits(pair) < fits(kept) ? pair : kept));
  // Both sides read as doubled throughout: the half is what the person sees on the table.
  if (isHalf && best[0].valueMm === 2 * totals[0].valueMm && best[1].valueMm === 2 * totals[1].valueMm)
    return { basis: 'half', compared: totals };
  return { basis: 'round', compared: best };
}

/** A sleeve cut on the fold shows half of its cap, while the armhole beside it is whole. */
function compareCap(sides: readonly [WalkedSide, WalkedSide]): {
  readonly basis: Basis;
  readonly compared: readonly [Length, Length];
} {
  const isFolded = (walked: WalkedSpan) =>
    walked.shape.ring.some((edge) => edge.role === 'fold') && isSleeve(walked.piece.kind);
  const unfolded = sides.map((side) =>
    side.spans.reduce((sum, walked) => addLength(sum, walked.length, isFolded(walked) ? 2 : 1), NO_LENGTH),
  );
  const basis = sides.some((side) => side.spans.some(isFolded)) ? 'round' : 'once';
  return { basis, compared: [unfolded[0]!, unfolded[1]!] };
}

/** Lengths of the whole round for each way to read "cut 2": as a pair or as two layers. */
function readingsOf(side: WalkedSide, times: readonly (1 | 2 | 'open')[]): Length[] {
  const choices = times.includes('open') ? ([2, 1] as const) : ([2] as const);
  return choices.map((open) =>
    side.spans.reduce((sum, walked, i) => {
      const count = times[i] ?? 'open';
      return addLength(sum, walked.length, count === 'open' ? open : count);
    }, NO_LENGTH),
  );
}

/** A span continues onto its own mirror image where it ends at a fold or at a centre line; on trousers that is the rise. */
function meetsItsMirror(walked: WalkedSpan): boolean {
  const { before, after } = neighbours(walked.shape, walked.seam.index);
  const ends = [
    { reached: walked.fromMm <= 0, edge: before.edge },
    { reached: walked.toMm >= walked.seam.lengthMm, edge: after.edge },
  ];
  return ends.some(({ reached, edge }) => {
    const label = normalLabel(edge.label);
    return reached && (edge.role === 'fold' || label.startsWith('centre') || label === 'rise');
  });
}
