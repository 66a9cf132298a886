// Which way an edge is walked in a seam. A seam starts at one end of the garment (a neck, an underarm, a waist), and the
// neighbours of the edge tell which of its ends that is; where they do not, the notches do.

import { matchNotches } from './matchNotches.ts';
import type { EdgeSpan, PatternSet, Piece, SeamSide, Shape, Size } from './model.ts';
import { walkSide } from './spans.ts';

export interface NamedEdge {
  readonly piece: Piece;
  readonly shape: Shape;
  readonly size: Size;
  readonly edge: string;
  /** Names of all edges of the shape by their ids, '' where one has none. */
  readonly labels: ReadonlyMap<string, string>;
  /** The name of this one. */
  readonly label: string;
}

/** Names or roles of the edges beside it, of which those at the seam's start come first. */
export interface Ends {
  readonly start: readonly string[];
  readonly end: readonly string[];
}

/** The edge as a span that starts at the wanted end; null when neither neighbour tells. */
export function spanBetween(named: NamedEdge, ends: Ends): EdgeSpan | null {
  const { before, after } = besides(named, 1);
  const votesForward = votes(before, ends.start) + votes(after, ends.end);
  const votesBack = votes(after, ends.start) + votes(before, ends.end);
  if (votesForward === votesBack) return null;
  return wholeEdge(named, votesBack > votesForward ? 'reversed' : 'forward');
}

export function wholeEdge(named: NamedEdge, way: 'forward' | 'reversed'): EdgeSpan {
  return { piece: named.piece.id, edge: named.edge, reversed: way === 'reversed', stretch: null };
}

/** Of several ways to walk the second side, the one whose notches best keep their appointments with the first. */
export function bestWay(set: PatternSet, first: SeamSide, ways: readonly SeamSide[], size: Size): SeamSide {
  const judged = ways.map((way) => ({ way, cost: missOf(set, first, way, size) }));
  return judged.toSorted((a, b) => a.cost - b.cost)[0]!.way;
}

/** A notch without partner, a different number of snips, and millimetres of miss, in millimetres. */
const ALONE_COSTS_MM = 50;
const COUNT_COSTS_MM = 30;
/** Positions and counts decide; how sure the lengths are does not. */
const EXACT = { assumedAllowanceSigmaMm: 0 } as const;

function missOf(set: PatternSet, first: SeamSide, second: SeamSide, size: Size): number {
  const a = walkSide(set, first, size, EXACT);
  const b = walkSide(set, second, size, EXACT);
  if (!a.ok || !b.ok) return Number.POSITIVE_INFINITY;
  const { pairs, alone } = matchNotches(a.value, b.value);
  const missed = pairs.reduce((sum, { first: p, second: q, shiftMm }) => {
    const isUnlike = p.kind === 'notch' && q.kind === 'notch' && p.notch.notch.count !== q.notch.notch.count;
    return sum + Math.abs(shiftMm) + (isUnlike ? COUNT_COSTS_MM : 0);
  }, 0);
  return missed + ALONE_COSTS_MM * (alone[0].length + alone[1].length);
}

/** Names of the edges before and after this one, in the order of the ring; '' where one has none. */
export function namesBeside(named: NamedEdge): readonly [string, string] {
  const { before, after } = besides(named, 1);
  return [nameOf(before), nameOf(after)];
}

function nameOf({ label, written }: Beside): string {
  return label === '' ? written : label;
}

/**
 * The second edge walked so that what lies beside its ends is called as what lies beside the ends of the first; where the
 * nearest neighbours do not tell, the next ones may. Null when neither does.
 */
export function waysBeside(a: NamedEdge, first: EdgeSpan, b: NamedEdge): EdgeSpan | null {
  for (const steps of [1, 2]) {
    const one = besides(a, steps);
    const other = besides(b, steps);
    const [start, end] = first.reversed ? [one.after, one.before] : [one.before, one.after];
    const forward = alike(start, other.before) + alike(end, other.after);
    const back = alike(start, other.after) + alike(end, other.before);
    if (forward !== back) return wholeEdge(b, back > forward ? 'reversed' : 'forward');
  }
  return null;
}

function alike(a: Beside, b: Beside): number {
  if (a.written !== '' && a.written === b.written) return 2;
  return (a.label !== '' && a.label === b.label) || (a.role !== 'seam' && a.role === b.role) ? 1 : 0;
}

interface Beside {
  readonly label: string;
  /** As somebody has written it on the edge, in small letters. */
  readonly written: string;
  readonly role: string;
}

function besides(
  { shape, labels, edge }: NamedEdge,
  steps: number,
): { readonly before: Beside; readonly after: Beside } {
  const index = shape.ring.findIndex((candidate) => candidate.id === edge);
  const at = (place: number): Beside => {
    const beside = shape.ring.at(place % shape.ring.length)!;
    return { label: labels.get(beside.id) ?? '', written: beside.label.trim().toLowerCase(), role: beside.role };
  };
  return { before: at(index - steps), after: at(index + steps) };
}

/** A name or a fold tells more than an opening, which may be anywhere. */
function votes({ label, role }: Beside, wanted: readonly string[]): number {
  if (wanted.includes(label) || (role === 'fold' && wanted.includes(role))) return 2;
  return wanted.includes(role) ? 1 : 0;
}
