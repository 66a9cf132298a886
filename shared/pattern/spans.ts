// One side of a seam walked from the seam's start: chains of edge spans laid end to end with darts and pleats closed, and
// where along that walk the notches, the joints between pieces and the closed mouths lie.
import { closedMm, closuresOn } from './darts.ts';
import { pieceById } from './lookUp.ts';
import { addLength, type Length, type MeasureOptions, NO_LENGTH, sewnLength } from './measure.ts';
import type { EdgeSpan, Notch, NotchPurpose, PatternSet, Piece, SeamSide, Shape, Size } from './model.ts';
import { notchPurpose } from './notchPurpose.ts';
import { pointSigmaOn } from './pointSigma.ts';
import { type SeamEdge, seamEdge } from './seamline.ts';

export interface WalkedSpan {
  readonly span: EdgeSpan;
  readonly piece: Piece;
  readonly shape: Shape;
  readonly seam: SeamEdge;
  /** Limits along the seamline from the edge's start, mouths open. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Where the span begins along the side, mouths closed. */
  readonly startsAtMm: number;
  readonly length: Length;
}

export interface SideNotch {
  readonly piece: Piece;
  readonly shape: Shape;
  readonly notch: Notch;
  readonly purpose: NotchPurpose;
  /** Along the side from the seam's start, mouths closed. */
  readonly atMm: number;
}

export interface WalkedSide {
  readonly spans: readonly WalkedSpan[];
  readonly total: Length;
  /** In the order of the walk. */
  readonly notches: readonly SideNotch[];
  /** Where one piece gives way to the next, along the side. */
  readonly jointsMm: readonly number[];
  /** Where a closed dart or pleat lies, along the side. */
  readonly mouthsMm: readonly number[];
}

export type SideProblem =
  | { readonly kind: 'no-piece'; readonly piece: string }
  | { readonly kind: 'no-shape'; readonly piece: string }
  | { readonly kind: 'no-edge'; readonly piece: string; readonly edge: string }
  | { readonly kind: 'empty' };

export type SideResult =
  | { readonly ok: true; readonly value: WalkedSide }
  | { readonly ok: false; readonly error: SideProblem };

/** Lays one side of a seam out straight in one size. */
export function walkSide(set: PatternSet, side: SeamSide, size: Size, options: MeasureOptions): SideResult {
  if (side.length === 0) return { ok: false, error: { kind: 'empty' } };
  const spans: WalkedSpan[] = [];
  let total = NO_LENGTH;
  for (const span of side) {
    const found = findSpan(set, span, size);
    if ('problem' in found) return { ok: false, error: found.problem };
    const fromMm = Math.max(0, span.stretch?.fromMm ?? 0);
    const toMm = Math.min(found.seam.lengthMm, span.stretch?.toMm ?? found.seam.lengthMm);
    const stretch = span.stretch === null ? null : { fromMm, toMm: Math.max(fromMm, toMm) };
    const length = sewnLength(found.shape, span.edge, stretch, options);
    const { piece, shape, seam } = found;
    spans.push({ span, piece, shape, seam, fromMm, toMm, startsAtMm: total.valueMm, length });
    total = addLength(total, length);
  }
  const notches = spans.flatMap(notchesOf).sort((a, b) => a.atMm - b.atMm);
  return {
    ok: true,
    value: {
      spans,
      total,
      notches,
      jointsMm: spans.slice(1).map((span) => span.startsAtMm),
      mouthsMm: spans.flatMap((walked) =>
        closuresOn(walked.shape, walked.span.edge)
          .filter((c) => c.fromMm >= walked.fromMm && c.toMm <= walked.toMm)
          .map((c) => alongSide(walked, c.fromMm)),
      ),
    },
  };
}

/** Place along the side, mouths closed, of a place along the edge's seamline, mouths open. */
export function alongSide(walked: WalkedSpan, atMm: number): number {
  const closures = closuresOn(walked.shape, walked.span.edge);
  const at = closedMm(closures, Math.min(Math.max(atMm, walked.fromMm), walked.toMm));
  const into = walked.span.reversed ? closedMm(closures, walked.toMm) - at : at - closedMm(closures, walked.fromMm);
  return walked.startsAtMm + into;
}

/** The length of a stretch of the side, mouths closed, with its uncertainty; both places along the side. */
export function sectionLength(side: WalkedSide, fromMm: number, toMm: number, options: MeasureOptions): Length {
  let sum = NO_LENGTH;
  for (const walked of side.spans) {
    const endsAtMm = walked.startsAtMm + walked.length.valueMm;
    const from = Math.max(fromMm, walked.startsAtMm);
    const to = Math.min(toMm, endsAtMm);
    if (to <= from) continue;
    const whole = from === walked.startsAtMm && to === endsAtMm;
    const length = whole ? walked.length : partOf(walked, from, to, options);
    sum = addLength(sum, { ...length, valueMm: to - from });
  }
  return sum;
}

function partOf(walked: WalkedSpan, from: number, to: number, options: MeasureOptions): Length {
  const a = openMm(walked, from);
  const b = openMm(walked, to);
  const stretch = { fromMm: Math.min(a, b), toMm: Math.max(a, b) };
  return sewnLength(walked.shape, walked.span.edge, stretch, options);
}

/** The least sure point of a stretch of the side, in either order; both places along the side. */
export function pointSigmaAlong(side: WalkedSide, oneMm: number, otherMm: number): number {
  const [from, to] = [Math.min(oneMm, otherMm), Math.max(oneMm, otherMm)];
  const met = side.spans.filter(({ startsAtMm, length }) => startsAtMm < to && startsAtMm + length.valueMm > from);
  const sigmasMm = (met.length > 0 ? met : [spanAt(side, from)]).map((walked) => {
    const endsAtMm = walked.startsAtMm + walked.length.valueMm;
    const [a, b] = [Math.max(from, walked.startsAtMm), Math.min(to, endsAtMm)].map((mm) => openMm(walked, mm));
    return pointSigmaOn(walked.shape, walked.span.edge, a!, b!);
  });
  return Math.max(...sigmasMm);
}

/** Place along the edge's seamline, mouths open, of a place along the side; at a closed mouth the side before it. */
export function openMm(walked: WalkedSpan, sideMm: number): number {
  const closures = closuresOn(walked.shape, walked.span.edge);
  const into = sideMm - walked.startsAtMm;
  let at = walked.span.reversed ? closedMm(closures, walked.toMm) - into : closedMm(closures, walked.fromMm) + into;
  for (const { fromMm, toMm } of closures) if (fromMm < at) at += toMm - fromMm;
  return at;
}

/** The span of the side that holds a place along it; a joint belongs to the span after it. */
export function spanAt(side: WalkedSide, sideMm: number): WalkedSpan {
  return side.spans.findLast((walked) => walked.startsAtMm <= sideMm) ?? side.spans[0]!;
}

function findSpan(
  set: PatternSet,
  span: EdgeSpan,
  size: Size,
): { piece: Piece; shape: Shape; seam: SeamEdge } | { problem: SideProblem } {
  const piece = pieceById(set, span.piece);
  if (piece === undefined) return { problem: { kind: 'no-piece', piece: span.piece } };
  const shape = piece.shapes[size];
  if (shape === undefined) return { problem: { kind: 'no-shape', piece: piece.id } };
  const seam = seamEdge(shape, span.edge);
  if (seam === undefined) return { problem: { kind: 'no-edge', piece: piece.id, edge: span.edge } };
  return { piece, shape, seam };
}

function notchesOf(walked: WalkedSpan): SideNotch[] {
  return walked.shape.notches
    .filter((n) => n.edge === walked.span.edge && n.atMm >= walked.fromMm && n.atMm <= walked.toMm)
    .map((notch) => ({
      piece: walked.piece,
      shape: walked.shape,
      notch,
      purpose: notchPurpose(walked.shape, notch),
      atMm: alongSide(walked, notch.atMm),
    }));
}
