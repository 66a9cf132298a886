// Compares traced pieces with the truth of a rendered photo. The traced frame is turned and shifted onto the truth (never
// scaled) by its own outline; then lengths, outline and marks are compared.
import type { Point } from '../../shared/base/points.ts';
import { pointInPolygon, polygonCentroid, resamplePolyline, signedAreaMm2 } from '../../shared/geometry/polygon.ts';
import { distance } from '../../shared/geometry/vector.ts';
import type { TracedMark, TracedPiece } from '../../shared/vision/traced.ts';
import type { PieceTruth } from '../photos/pieces.ts';
import type { OutlineSample } from './silentlyWrong.ts';

export interface LengthScore {
  readonly trueMm: number;
  readonly errorMm: number;
  readonly sigmaMm: number;
  /** A part of its edge is called unsure. */
  readonly isUnsure: boolean;
}

export interface MarkScore {
  readonly wanted: number;
  readonly found: number;
  readonly invented: number;
  /** Position errors (mm) of those found; degrees for directions. */
  readonly errors: readonly number[];
  readonly countRight: number;
}

export interface PhotoScore {
  readonly piecesWanted: number;
  readonly piecesFound: number;
  readonly piecesInvented: number;
  readonly edgesWanted: number;
  readonly lengths: readonly LengthScore[];
  /** Distances of outline points from the true outline, stretches called unsure left out, millimetres. */
  readonly outlineMm: readonly number[];
  /** Signed mean of the same, positive = too large. */
  readonly outlineBiasMm: readonly number[];
  /** Every found piece all round, unsure stretches among them. */
  readonly outlines: readonly (readonly OutlineSample[])[];
  readonly notches: MarkScore;
  readonly darts: MarkScore;
  readonly grainlines: MarkScore;
  readonly folds: MarkScore;
  readonly holes: MarkScore;
  readonly lengthens: MarkScore;
}

/** A traced corner belongs to a true one this near. */
const CORNER_REACH_MM = 4;
const NOTCH_REACH_MM = 6;
const DART_REACH_MM = 12;
const DIRECTION_REACH_DEG = 4;
const HOLE_REACH_MM = 3;
const LENGTHEN_REACH_MM = 4;
const OUTLINE_STEP_MM = 5;
const ALIGN_ROUNDS = 30;
/** Farther off than this (median distance) it is another piece; a single card may be off by as much. */
const LARGEST_REST_MM = 12;
const SAME_REST_MM = 0.15;

/**
 * @param roughly where on the table a traced point lies, to a few millimetres, where that is known: it tells which way round a
 * piece lies that looks the same turned
 */
export function scorePhoto(
  pieces: readonly TracedPiece[],
  truths: readonly PieceTruth[],
  roughly: Move | null = null,
): PhotoScore {
  const placed = alignPieces(pieces, truths, roughly);
  const pairs = placed.flatMap((p) => (p.truth === null ? [] : [{ ...p, truth: p.truth }]));
  const outline = pairs.map(({ piece, move, truth }) => outlineErrors(piece, move, truth));
  return {
    piecesWanted: truths.length,
    piecesFound: pairs.length,
    piecesInvented: placed.length - pairs.length,
    edgesWanted: truths.reduce((sum, t) => sum + t.edges.filter((edge) => hasCorners(edge, t)).length, 0),
    lengths: pairs.flatMap(({ piece, move, truth }) => lengthErrors(piece, move, truth)),
    outlineMm: outline.flatMap((o) => o.map(Math.abs)),
    outlineBiasMm: outline.filter((o) => o.length > 0).map((o) => o.reduce((a, b) => a + b, 0) / o.length),
    outlines: pairs.map(({ piece, move, truth }) => outlineSamples(piece, move, truth)),
    notches: sum(pairs.map(({ piece, move, truth }) => notchScore(piece, move, truth))),
    darts: sum(pairs.map(({ piece, move, truth }) => dartScore(piece, move, truth))),
    grainlines: sum(pairs.map(({ piece, move, truth }) => directionScore(piece, move, 'grainline', truth.grainline))),
    folds: sum(pairs.map(({ piece, move, truth }) => directionScore(piece, move, 'fold', truth.fold))),
    holes: sum(pairs.map(({ piece, move, truth }) => holeScore(piece, move, truth))),
    lengthens: sum(pairs.map(({ piece, move, truth }) => lengthenScore(piece, move, truth))),
  };
}

type Move = (point: Point) => Point;

interface Placed {
  readonly piece: TracedPiece;
  readonly move: Move;
  readonly truth: PieceTruth | null;
}

function alignPieces(pieces: readonly TracedPiece[], truths: readonly PieceTruth[], roughly: Move | null): Placed[] {
  const taken = new Set<PieceTruth>();
  return pieces.map((piece) => {
    let best: { truth: PieceTruth; move: Move; restMm: number } | null = null;
    for (const truth of truths) {
      if (taken.has(truth)) continue;
      const areaRatio = Math.abs(signedAreaMm2(piece.outline) / signedAreaMm2(truth.outline));
      if (areaRatio < 0.8 || areaRatio > 1.25) continue;
      const aligned = alignOne(piece, truth, roughly);
      if (best === null || aligned.restMm < best.restMm) best = { truth, ...aligned };
    }
    if (best === null || best.restMm > LARGEST_REST_MM) return { piece, move: (p) => p, truth: null };
    taken.add(best.truth);
    return { piece, move: best.move, truth: best.truth };
  });
}

/** Rigid alignment by nearest points, from the turn that is roughly known or else from sixteen; the rest is the median distance. */
function alignOne(piece: TracedPiece, truth: PieceTruth, roughly: Move | null): { move: Move; restMm: number } {
  const sample = resamplePolyline([...piece.outline, piece.outline[0]!], 8);
  const index = outlineIndex(truth.outline);
  const centre = polygonCentroid(piece.outline);
  const turns = roughly === null ? Array.from({ length: 16 }, (_, k) => (k * Math.PI) / 8) : [turnOf(roughly, centre)];
  const tries = turns.map((turnRad) => refine(sample, index, turnRad, centre, polygonCentroid(truth.outline)));
  const least = Math.min(...tries.map((t) => t.restMm));
  // A piece that looks the same turned round is laid the way in which its marks agree.
  const alike = tries.filter((t) => t.restMm <= least + SAME_REST_MM);
  const agreeing = (t: { move: Move }) => marksThatAgree(piece, t.move, truth);
  return alike.reduce((kept, t) => (agreeing(t) > agreeing(kept) ? t : kept));
}

function turnOf(move: Move, at: Point): number {
  const [from, to] = [move(at), move([at[0] + 100, at[1]])];
  return Math.atan2(to[1] - from[1], to[0] - from[0]);
}

function marksThatAgree(piece: TracedPiece, move: Move, truth: PieceTruth): number {
  return notchScore(piece, move, truth).found + dartScore(piece, move, truth).found;
}

function refine(sample: readonly Point[], index: OutlineIndex, turnRad: number, from: Point, to: Point) {
  let angle = turnRad;
  let shift: Point = [0, 0];
  const move = (p: Point): Point => {
    const x = p[0] - from[0];
    const y = p[1] - from[1];
    return [
      Math.cos(angle) * x - Math.sin(angle) * y + to[0] + shift[0],
      Math.sin(angle) * x + Math.cos(angle) * y + to[1] + shift[1],
    ];
  };
  let rest: number[] = [];
  for (let round = 0; round < ALIGN_ROUNDS; round++) {
    const pairs = sample.map((p) => ({ at: move(p), near: index.nearest(move(p)) }));
    rest = pairs.map(({ at, near }) => distance(at, near.point)).sort((a, b) => a - b);
    const reach = Math.max(rest[Math.floor(rest.length * 0.85)]!, 0.3);
    // Point-to-line step: shift along normals and a small turn, by least squares.
    const a = [0, 0, 0, 0, 0, 0];
    const b = [0, 0, 0];
    const centre: Point = [to[0] + shift[0], to[1] + shift[1]];
    for (const { at, near } of pairs) {
      const d = distance(at, near.point);
      if (d > reach) continue;
      const n = near.normal;
      const rx = at[0] - centre[0];
      const ry = at[1] - centre[1];
      const row = [n[0], n[1], n[1] * rx - n[0] * ry];
      const e = n[0] * (near.point[0] - at[0]) + n[1] * (near.point[1] - at[1]);
      a[0]! += row[0]! * row[0]!;
      a[1]! += row[0]! * row[1]!;
      a[2]! += row[0]! * row[2]!;
      a[3]! += row[1]! * row[1]!;
      a[4]! += row[1]! * row[2]!;
      a[5]! += row[2]! * row[2]!;
      for (let i = 0; i < 3; i++) b[i]! += row[i]! * e;
    }
    const step = solve3(a, b);
    if (step === null) break;
    shift = [shift[0] + step[0], shift[1] + step[1]];
    angle += step[2];
    if (Math.hypot(step[0], step[1]) < 1e-4 && Math.abs(step[2]) < 1e-7) break;
  }
  const final = angle;
  const finalShift = shift;
  const fixed: Move = (p) => {
    const x = p[0] - from[0];
    const y = p[1] - from[1];
    return [
      Math.cos(final) * x - Math.sin(final) * y + to[0] + finalShift[0],
      Math.sin(final) * x + Math.cos(final) * y + to[1] + finalShift[1],
    ];
  };
  return { move: fixed, restMm: rest[rest.length >> 1] ?? Number.POSITIVE_INFINITY };
}

function solve3(a: readonly number[], b: readonly number[]): [number, number, number] | null {
  const [a00, a01, a02, a11, a12, a22] = a as [number, number, number, number, number, number];
  const det = a00 * (a11 * a22 - a12 * a12) - a01 * (a01 * a22 - a12 * a02) + a02 * (a01 * a12 - a11 * a02);
  if (!(Math.abs(det) > 0)) return null;
  const [b0, b1, b2] = b as [number, number, number];
  return [
    (b0 * (a11 * a22 - a12 * a12) - a01 * (b1 * a22 - a12 * b2) + a02 * (b1 * a12 - a11 * b2)) / det,
    (a00 * (b1 * a22 - b2 * a12) - b0 * (a01 * a22 - a12 * a02) + a02 * (a01 * b2 - b1 * a02)) / det,
    (a00 * (a11 * b2 - a12 * b1) - a01 * (a01 * b2 - b1 * a02) + b0 * (a01 * a12 - a11 * a02)) / det,
  ];
}

interface OutlineIndex {
  readonly nearest: (p: Point) => { readonly point: Point; readonly normal: Point };
}

/** Nearest point on a dense closed outline, by a grid of its segments. */
function outlineIndex(outline: readonly Point[]): OutlineIndex {
  const cell = 20;
  const grid = new Map<string, number[]>();
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length]!;
    const steps = Math.max(1, Math.ceil(distance(p, q) / cell));
    for (let s = 0; s <= steps; s++) {
      const key = `${Math.floor((p[0] + ((q[0] - p[0]) * s) / steps) / cell)},${Math.floor((p[1] + ((q[1] - p[1]) * s) / steps) / cell)}`;
      const list = grid.get(key) ?? [];
      if (list.at(-1) !== i) list.push(i);
      grid.set(key, list);
    }
  });
  const nearest = (p: Point) => {
    let best = Number.POSITIVE_INFINITY;
    let found: { point: Point; normal: Point } | null = null;
    const cx = Math.floor(p[0] / cell);
    const cy = Math.floor(p[1] / cell);
    for (let ring = 0; ring < 60 && (found === null || (ring - 1) * cell < best); ring++) {
      for (let dx = -ring; dx <= ring; dx++) {
        for (let dy = -ring; dy <= ring; dy++) {
          if (Math.max(Math.abs(dx), Math.abs(dy)) !== ring) continue;
          for (const i of grid.get(`${cx + dx},${cy + dy}`) ?? []) {
            const a = outline[i]!;
            const b = outline[(i + 1) % outline.length]!;
            const ux = b[0] - a[0];
            const uy = b[1] - a[1];
            const l2 = ux * ux + uy * uy;
            const t = l2 === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * ux + (p[1] - a[1]) * uy) / l2));
            const point: Point = [a[0] + t * ux, a[1] + t * uy];
            const d = distance(p, point);
            if (d < best) {
              best = d;
              const l = Math.sqrt(l2) || 1;
              found = { point, normal: [uy / l, -ux / l] };
            }
          }
        }
      }
    }
    return found ?? { point: outline[0]!, normal: [0, 0] as Point }; // too far off to matter
  };
  return { nearest };
}

/** For every point of the outline 1 where it is called unsure. */
function unsurePoints({ outline, unsure }: TracedPiece): Uint8Array {
  const flags = new Uint8Array(outline.length);
  for (const { fromIndex, toIndex } of unsure) {
    for (let i = fromIndex; ; i = (i + 1) % outline.length) {
      flags[i] = 1;
      if (i === toIndex) break;
    }
  }
  return flags;
}

const SAMPLE_STEP_MM = 1;

/** Samples all round; a segment is unsure when both its ends are. */
function outlineSamples(piece: TracedPiece, move: Move, truth: PieceTruth): OutlineSample[] {
  const index = outlineIndex(truth.outline);
  const unsure = unsurePoints(piece);
  return piece.outline.flatMap((p, i) => {
    const next = (i + 1) % piece.outline.length;
    const q = piece.outline[next]!;
    const lengthMm = distance(p, q);
    const steps = Math.max(1, Math.round(lengthMm / SAMPLE_STEP_MM));
    const isUnsure = unsure[i] === 1 && unsure[next] === 1;
    return Array.from({ length: steps }, (_, k): OutlineSample => {
      const t = k / steps;
      const at = move([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
      return { stepMm: lengthMm / steps, offMm: distance(at, index.nearest(at).point), isUnsure };
    });
  });
}

/** Whether any of the outline between the ends of two edges is unsure, going the way of the outline. */
function unsureBetween({ outline }: TracedPiece, flags: Uint8Array, from: Point, to: Point): boolean {
  const nearest = (at: Point): number => {
    const away = outline.map((p) => distance(p, at));
    return away.indexOf(Math.min(...away));
  };
  const last = nearest(to);
  for (let i = nearest(from); i !== last; i = (i + 1) % outline.length) if (flags[i] === 1) return true;
  return false;
}

/** Signed distances (outside positive) of sure outline points. */
function outlineErrors(piece: TracedPiece, move: Move, truth: PieceTruth): number[] {
  const index = outlineIndex(truth.outline);
  const unsure = unsurePoints(piece);
  const errors: number[] = [];
  let since = OUTLINE_STEP_MM;
  piece.outline.forEach((p, i) => {
    const before = piece.outline[(i + piece.outline.length - 1) % piece.outline.length]!;
    since += distance(before, p);
    if (since < OUTLINE_STEP_MM || unsure[i] === 1) return;
    since = 0;
    const at = move(p);
    const d = distance(at, index.nearest(at).point);
    errors.push(pointInPolygon(at, truth.outline) ? -d : d);
  });
  return errors;
}

/** Where a true edge ends in a smooth run onto the next, nobody can see its end. */
const LEAST_TURN_DEG = 20;
const TURN_REACH_MM = 4;

function hasCorners(edge: PieceTruth['edges'][number], truth: PieceTruth): boolean {
  const line = resamplePolyline([...truth.outline, truth.outline[0]!], TURN_REACH_MM / 4);
  return [edge.from, edge.to].every((at) => {
    const away = line.map((p) => distance(p, at));
    const i = away.indexOf(Math.min(...away));
    const before = line.at(i - 4)!;
    const after = line[(i + 4) % line.length]!;
    const turn = Math.atan2(after[1] - at[1], after[0] - at[0]) - Math.atan2(at[1] - before[1], at[0] - before[0]);
    return (Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn))) * 180) / Math.PI > LEAST_TURN_DEG;
  });
}

/** Lengths between true corners that the trace also has: a true edge may come as several traced ones, never the reverse. */
function lengthErrors(piece: TracedPiece, move: Move, truth: PieceTruth): LengthScore[] {
  const flags = unsurePoints(piece);
  const starts = piece.edges.map((edge) => move(edge.curve[0]!));
  const nearestStart = (p: Point): number => {
    const away = starts.map((s) => distance(s, p));
    const least = Math.min(...away);
    return least <= CORNER_REACH_MM ? away.indexOf(least) : -1;
  };
  return truth.edges.flatMap((edge) => {
    const from = nearestStart(edge.from);
    const to = nearestStart(edge.to);
    if (from < 0 || to < 0 || from === to) return [];
    let lengthMm = 0;
    let variance = 0;
    for (let i = from; i !== to; i = (i + 1) % piece.edges.length) {
      lengthMm += piece.edges[i]!.lengthMm;
      variance += piece.edges[i]!.sigmaMm ** 2;
    }
    if (Math.abs(lengthMm - edge.lengthMm) > 0.2 * edge.lengthMm + 10) return []; // walked the other way round
    return [
      {
        trueMm: edge.lengthMm,
        errorMm: lengthMm - edge.lengthMm,
        sigmaMm: Math.sqrt(variance),
        isUnsure: unsureBetween(piece, flags, piece.edges[from]!.curve[0]!, piece.edges[to]!.curve[0]!),
      },
    ];
  });
}

function notchScore(piece: TracedPiece, move: Move, truth: PieceTruth): MarkScore {
  const found = piece.marks.filter((m) => m.kind === 'notch').map((m) => ({ at: move(m.at), count: m.count }));
  return matchMarks(
    truth.notches,
    found,
    (a, b) => distance(a.at, b.at),
    NOTCH_REACH_MM,
    (a, b) => a.count === b.count,
  );
}

function dartScore(piece: TracedPiece, move: Move, truth: PieceTruth): MarkScore {
  const found = piece.marks.filter((m) => m.kind === 'dart').map((m) => ({ apex: move(m.apex) }));
  return matchMarks(
    truth.darts,
    found,
    (a, b) => distance(a.apex, b.apex),
    DART_REACH_MM,
    () => true,
  );
}

function directionScore(
  piece: TracedPiece,
  move: Move,
  kind: 'grainline' | 'fold',
  wanted: { readonly from: Point; readonly to: Point } | null,
): MarkScore {
  const found = piece.marks
    .filter((m): m is Extract<TracedMark, { kind: 'grainline' | 'fold' }> => m.kind === kind)
    .map((m) => ({ from: move(m.from), to: move(m.to) }));
  const direction = (s: { from: Point; to: Point }) => Math.atan2(s.to[1] - s.from[1], s.to[0] - s.from[0]);
  const apart = (a: { from: Point; to: Point }, b: { from: Point; to: Point }) => {
    const turn = Math.abs(direction(a) - direction(b)) % Math.PI;
    return (Math.min(turn, Math.PI - turn) * 180) / Math.PI;
  };
  return matchMarks(wanted === null ? [] : [wanted], found, apart, DIRECTION_REACH_DEG, () => true);
}

function holeScore(piece: TracedPiece, move: Move, truth: PieceTruth): MarkScore {
  const found = piece.marks.filter((m) => m.kind === 'hole').map((m) => move(m.at));
  return matchMarks(truth.holes, found, distance, HOLE_REACH_MM, () => true);
}

/** How far the ends of a line that was found lie off the true one. */
function lengthenScore(piece: TracedPiece, move: Move, truth: PieceTruth): MarkScore {
  const found = piece.marks.filter((m) => m.kind === 'lengthen-shorten').map((m) => [move(m.from), move(m.to)]);
  const apart = ({ from, to }: { from: Point; to: Point }, ends: readonly Point[]): number => {
    const along = [(to[0] - from[0]) / distance(from, to), (to[1] - from[1]) / distance(from, to)] as const;
    return Math.max(...ends.map((p) => Math.abs(along[0] * (p[1] - from[1]) - along[1] * (p[0] - from[0]))));
  };
  return matchMarks(truth.lengthens, found, apart, LENGTHEN_REACH_MM, () => true);
}

function matchMarks<A, B>(
  wanted: readonly A[],
  found: readonly B[],
  apart: (a: A, b: B) => number,
  reach: number,
  sameCount: (a: A, b: B) => boolean,
): MarkScore {
  const offers = wanted
    .flatMap((a, i) => found.map((b, j) => ({ i, j, d: apart(a, b), right: sameCount(a, b) })))
    .filter(({ d }) => d <= reach)
    .sort((p, q) => p.d - q.d);
  const usedA = new Set<number>();
  const usedB = new Set<number>();
  const errors: number[] = [];
  let countRight = 0;
  for (const { i, j, d, right } of offers) {
    if (usedA.has(i) || usedB.has(j)) continue;
    usedA.add(i);
    usedB.add(j);
    errors.push(d);
    if (right) countRight++;
  }
  return { wanted: wanted.length, found: usedA.size, invented: found.length - usedB.size, errors, countRight };
}

function sum(scores: readonly MarkScore[]): MarkScore {
  return scores.reduce(
    (a, b) => ({
      wanted: a.wanted + b.wanted,
      found: a.found + b.found,
      invented: a.invented + b.invented,
      errors: [...a.errors, ...b.errors],
      countRight: a.countRight + b.countRight,
    }),
    { wanted: 0, found: 0, invented: 0, errors: [], countRight: 0 },
  );
}
