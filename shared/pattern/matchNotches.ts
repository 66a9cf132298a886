// Pairs what must meet along a seam: notch with notch, notch with a joint of the other side (cap top with the shoulder
// seam), joint with joint. Order along the seam is kept; within it the pairing that moves things least wins.
import { bodySide, isBodice, isSleeve } from './kinds.ts';
import { type SideNotch, spanAt, type WalkedSide } from './spans.ts';

export type Meeting =
  | { readonly kind: 'notch'; readonly atMm: number; readonly notch: SideNotch }
  /** `isPlain`: a joint that a notch of a cap is not drawn for: of panels or a yoke, not of a front and a back. */
  | { readonly kind: 'joint'; readonly atMm: number; readonly isPlain: boolean }
  | { readonly kind: 'mouth'; readonly atMm: number };

export interface Pair {
  readonly first: Meeting;
  readonly second: Meeting;
  /**
   * How far the pair misses, millimetres, second after first: the smaller of the misses counted from the two ends of the
   * seam, 0 when the ends disagree about the direction (then the difference in length lies between, not at the notch).
   */
  readonly shiftMm: number;
}

export interface Matched {
  readonly pairs: readonly Pair[];
  /** Match notches without partner, by side. */
  readonly alone: readonly [readonly SideNotch[], readonly SideNotch[]];
}

/** What it costs to leave something without partner, in millimetres of miss: two notches 40 mm apart are not a pair. */
const NOTCH_ALONE_MM = 20;
const JOINT_ALONE_MM = 10;
/** A different number of snips, or a notch that meets a seam instead of a notch, weighs like this much miss. */
const OTHER_COUNT_MM = 6;
const OTHER_KIND_MM = 4;
/** A notch of a cap that was drawn for a seam of the panels or a yoke lies at it. */
const AT_JOINT_MM = 6;
/** Mates that someone has named are paired whatever the miss. */
const NAMED_MATE_MM = -1000;

export function matchNotches(first: WalkedSide, second: WalkedSide): Matched {
  const a = meetings(first);
  const b = meetings(second);
  const totals = [first.total.valueMm, second.total.valueMm] as const;
  const pairs = align(a, b, totals);
  const paired = new Set(pairs.flatMap((pair) => [pair.first, pair.second]));
  return { pairs, alone: [aloneOf(a, paired, second), aloneOf(b, paired, first)] };
}

/** See Pair.shiftMm. */
export function shiftOf(aMm: number, bMm: number, totals: readonly [number, number]): number {
  const fromStart = bMm - aMm;
  const fromEnd = fromStart - (totals[1] - totals[0]);
  if (Math.sign(fromStart) !== Math.sign(fromEnd)) return 0;
  return Math.abs(fromStart) < Math.abs(fromEnd) ? fromStart : fromEnd;
}

function meetings(side: WalkedSide): Meeting[] {
  const notches = side.notches
    .filter((n) => n.purpose === 'match' && n.notch.mate.kind !== 'none')
    .map((notch): Meeting => ({ kind: 'notch', atMm: notch.atMm, notch }));
  const joints = side.jointsMm.map((atMm, i): Meeting => ({ kind: 'joint', atMm, isPlain: isPlainJoint(side, i) }));
  const mouths = side.mouthsMm.map((atMm): Meeting => ({ kind: 'mouth', atMm }));
  return [...notches, ...joints, ...mouths].sort((p, q) => p.atMm - q.atMm);
}

/** Between two bodice pieces of the same side of the body, or beside a yoke, which ends where its designer liked. */
function isPlainJoint({ spans }: WalkedSide, index: number): boolean {
  const [a, b] = [spans[index]!.piece, spans[index + 1]!.piece];
  if (!isBodice(a.kind) || !isBodice(b.kind)) return false;
  return a.kind === 'yoke' || b.kind === 'yoke' || bodySide(a) === bodySide(b);
}

function aloneOf(all: readonly Meeting[], paired: ReadonlySet<Meeting>, other: WalkedSide): SideNotch[] {
  return all.flatMap((m) =>
    m.kind === 'notch' && !paired.has(m) && needsPartner(m.notch) && !liesOverYoke(m.notch, other) ? [m.notch] : [],
  );
}

/** The mark at the top of a cap meets the shoulder seam; where a yoke lies over the shoulder there is none. */
function liesOverYoke({ piece, notch, atMm }: SideNotch, other: WalkedSide): boolean {
  return isSleeve(piece.kind) && notch.count === 1 && spanAt(other, atMm).piece.kind === 'yoke';
}

/** A notch that is said to meet a seam end, a dart leg or a centre line needs no notch. */
function needsPartner(notch: SideNotch): boolean {
  return notch.notch.mate.kind === 'notch' || notch.notch.mate.kind === 'unknown';
}

function aloneCost(m: Meeting): number {
  if (m.kind === 'notch') return NOTCH_ALONE_MM;
  return m.kind === 'joint' ? JOINT_ALONE_MM : 0;
}

function pairCost(a: Meeting, b: Meeting, totals: readonly [number, number]): number {
  if (a.kind === 'mouth' && b.kind === 'mouth') return Number.POSITIVE_INFINITY;
  const missMm = Math.abs(shiftOf(a.atMm, b.atMm, totals));
  if (a.kind === 'notch' && b.kind === 'notch') {
    if (namesEachOther(a.notch, b.notch)) return NAMED_MATE_MM;
    if (namesAnother(a.notch) || namesAnother(b.notch)) return Number.POSITIVE_INFINITY;
    return missMm + (a.notch.notch.count === b.notch.notch.count ? 0 : OTHER_COUNT_MM);
  }
  const place = a.kind === 'notch' ? b : a;
  const notch = a.kind === 'notch' ? a.notch : b.kind === 'notch' ? b.notch : null;
  if (notch === null) return a.kind === b.kind ? missMm : Number.POSITIVE_INFINITY;
  const isTooFar = place.kind === 'joint' && place.isPlain && isSleeve(notch.piece.kind) && missMm > AT_JOINT_MM;
  return mayMeet(notch, place.kind) && !isTooFar ? missMm + OTHER_KIND_MM : Number.POSITIVE_INFINITY;
}

function mayMeet(notch: SideNotch, place: Meeting['kind']): boolean {
  const { kind } = notch.notch.mate;
  if (kind === 'unknown') return true;
  return place === 'joint' ? kind === 'seam-end' : kind === 'dart-leg';
}

function namesEachOther(a: SideNotch, b: SideNotch): boolean {
  return names(a, b) || names(b, a);
}

function names(a: SideNotch, b: SideNotch): boolean {
  const { mate } = a.notch;
  return mate.kind === 'notch' && mate.piece === b.piece.id && mate.notch === b.notch.id;
}

/** Its mate is known and it is not the notch at hand. */
function namesAnother(a: SideNotch): boolean {
  return a.notch.mate.kind !== 'unknown';
}

/** Cheapest pairing in order (alignment of two sequences, dynamic programming). */
function align(a: readonly Meeting[], b: readonly Meeting[], totals: readonly [number, number]): Pair[] {
  const columns = b.length + 1;
  const cost = new Float64Array((a.length + 1) * columns);
  for (let i = 0; i <= a.length; i++) {
    for (let j = 0; j <= b.length; j++) {
      if (i === 0 && j === 0) continue;
      const skipA = i > 0 ? cost[(i - 1) * columns + j]! + aloneCost(a[i - 1]!) : Number.POSITIVE_INFINITY;
      const skipB = j > 0 ? cost[i * columns + j - 1]! + aloneCost(b[j - 1]!) : Number.POSITIVE_INFINITY;
      const both =
        i > 0 && j > 0
          ? cost[(i - 1) * columns + j - 1]! + pairCost(a[i - 1]!, b[j - 1]!, totals)
          : Number.POSITIVE_INFINITY;
      cost[i * columns + j] = Math.min(skipA, skipB, both);
    }
  }
  const pairs: Pair[] = [];
  let i = a.length;
  let j = b.length;
  while (i > 0 && j > 0) {
    const here = cost[i * columns + j]!;
    const first = a[i - 1]!;
    const second = b[j - 1]!;
    if (here === cost[(i - 1) * columns + j - 1]! + pairCost(first, second, totals)) {
      pairs.push({ first, second, shiftMm: shiftOf(first.atMm, second.atMm, totals) });
      i--;
      j--;
    } else if (here === cost[(i - 1) * columns + j]! + aloneCost(first)) i--;
    else j--;
  }
  return pairs.reverse();
}
