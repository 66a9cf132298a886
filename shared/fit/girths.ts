// Girths and widths of the finished garment: bust, hip and thigh by a level line round the body, waist along its edges,
// biceps across the base of the cap, back and front across at their narrowest.
import { distance, dot, leftNormal, sub } from '../geometry/vector.ts';
import { bodySide, isBodice, isCentreName, isSkirt, isSleeve, isTrouser, normalLabel } from '../pattern/kinds.ts';
import { addLength, type Length, NO_LENGTH } from '../pattern/measure.ts';
import type { Piece } from '../pattern/model.ts';
import { neighbours, type SeamEdge, seamEdge, seamlineOf } from '../pattern/seamline.ts';
import { type Across, acrossFrom } from './across.ts';
import { bandOn, edgeLines, type GirthEdge, girthOf, openingAt } from './edgeGirth.ts';
import { type Finished, type FinishedNote, type MeasureId, missing, taken } from './finishedMeasure.ts';
import { edgesNamed, lengthwise, type Traced } from './frame.ts';
import { type Garment, missingHalf, timesRound, timesRoundArm } from './garment.ts';
import { type LevelStart, lengthAcross, levelFrom, roundOf } from './level.ts';

const isTrunk = ({ kind }: Piece) => isBodice(kind) && kind !== 'yoke';
const isLower = ({ kind }: Piece) => isSkirt(kind) || isTrouser(kind);

/** Around the body at the level of the underarm, where the sides begin. */
export function bust(garment: Garment): Finished {
  const trunk = garment.pieces.filter(({ piece }) => isTrunk(piece));
  if (trunk.length === 0) return missing({ kind: 'no-piece' });
  return around('bust', garment, trunk.flatMap(underarmOf), trunk, isTrunk);
}

/** Around the body below the waist, as far down the sides as the hip is measured; pleats hang open there. */
export function hip(garment: Garment): Finished {
  const lower = garment.pieces.filter(({ piece }) => isLower(piece));
  if (lower.length === 0) return missing({ kind: 'no-piece' });
  const starts = lower.flatMap((entry): LevelStart[] => {
    const side = waistEnd(entry);
    if (side === null || side.seam.lengthMm < garment.hipDepthMm) return [];
    const atMm = side.at === 'start' ? garment.hipDepthMm : side.seam.lengthMm - garment.hipDepthMm;
    return [{ ...entry, place: { edge: side.seam.edge.id, atMm } }];
  });
  const short = lower.find((entry) => (waistEnd(entry)?.seam.lengthMm ?? Infinity) < garment.hipDepthMm);
  if (starts.length === 0 && short !== undefined) return missing({ kind: 'ends-above', piece: short.piece });
  const hasPleats = lower.some(({ shape }) => shape.pleats.length > 0);
  return around('hip', garment, starts, lower, isLower, hasPleats ? ['pleats-open'] : []);
}

/** Around one leg from the crotch. */
export function thigh(garment: Garment): Finished {
  const legs = garment.pieces.filter(({ piece }) => isTrouser(piece.kind));
  if (legs.length === 0) return missing({ kind: 'no-piece' });
  const starts = legs.flatMap((entry): LevelStart[] => {
    const corner = crotchOf(entry);
    return corner === null ? [] : [{ ...entry, place: corner }];
  });
  if (starts.length === 0) return missing({ kind: 'no-edge', piece: legs[0]!.piece, edge: 'inseam' });
  const level = levelFrom(starts, { ...levelOptions(garment, ({ kind }) => isTrouser(kind)), endsAt: ['side'] });
  if (!level.ok) return missing(level.error);
  const half = missingHalf(level.value.map(({ piece }) => piece));
  if (half !== null) return missing(half);
  return taken(
    'thigh',
    roundOf(level.value, () => 1),
    level.value.map(({ piece, from, to }) => ({ kind: 'segment', piece: piece.id, from, to })),
  );
}

/** Along the waist edges, darts and pleats closed; by the band where one holds them in. */
export function waist(garment: Garment): Finished {
  const found = waistEdges(garment);
  if (!Array.isArray(found)) return found;
  const band = bandOn(found, garment, ({ kind }) => kind === 'waistband');
  const length = band?.length ?? girthOf(found, garment);
  const notes: readonly FinishedNote[] = band === null ? [] : ['by-band'];
  return taken('waist', length, edgeLines(found), { isHalved: isHalved(found), notes });
}

/** The waist as the garment is put on: undone, or stretched to what its elastic gathers. */
export function waistOpening(garment: Garment): Finished {
  const found = waistEdges(garment);
  if (!Array.isArray(found)) return found;
  const girth = girthOf(found, garment);
  const band = bandOn(found, garment, ({ kind }) => kind === 'waistband');
  const closed = band?.length ?? girth;
  const stretchesTo = band?.join === 'elasticated' ? girth : closed;
  // A dress opens with its zip above or below the waist: every edge that runs on from it counts.
  const all = garment.pieces.flatMap((entry) =>
    isTrunk(entry.piece) || isLower(entry.piece) ? entriesOf(entry, 'waist') : [],
  );
  const opening = openingAt(all, closed, stretchesTo, garment);
  return taken('waist opening', closed, edgeLines(found), { isHalved: isHalved(found), opening });
}

/** Around the sleeve at the base of its cap. */
export function biceps(garment: Garment): Finished {
  const sleeves = garment.pieces.filter(({ piece }) => isSleeve(piece.kind));
  if (sleeves.length === 0) return missing({ kind: 'no-piece' });
  let total: Length = NO_LENGTH;
  const lines: { kind: 'segment'; piece: string; from: SeamEdge['path'][number]; to: SeamEdge['path'][number] }[] = [];
  for (const entry of sleeves) {
    const cap = seamlineOf(entry.shape).edges.filter(({ edge }) => normalLabel(edge.label).startsWith('cap'));
    const starts = cap.filter(({ index }) => !cap.includes(neighbours(entry.shape, index).before));
    const first = starts[0];
    const last = cap.find(({ index }) => !cap.includes(neighbours(entry.shape, index).after));
    if (first === undefined || last === undefined || starts.length > 1)
      return missing({ kind: 'no-edge', piece: entry.piece, edge: 'cap' });
    const [from, to] = [first.path[0]!, last.path.at(-1)!];
    const along = lengthwise(entry);
    const valueMm = along === null ? distance(from, to) : Math.abs(dot(sub(to, from), leftNormal(along)));
    const { before } = neighbours(entry.shape, first.index);
    const width = lengthAcross(entry.shape, valueMm, {
      ends: [
        { edge: before.edge.id, atMm: before.lengthMm },
        { edge: neighbours(entry.shape, last.index).after.edge.id, atMm: 0 },
      ],
      darts: 0,
      assumedAllowanceSigmaMm: garment.measuring.assumedAllowanceSigmaMm,
    });
    total = addLength(total, width, timesRoundArm(entry));
    lines.push({ kind: 'segment', piece: entry.piece.id, from, to });
  }
  return taken('biceps', total, lines, { isHalved: sleeves.every((entry) => timesRoundArm(entry) === 2) });
}

/** Where along the armhole its narrowest place is looked for: its ends belong to the shoulder and to the underarm. */
const ARMHOLE = { from: 0.1, to: 0.9, places: 32, halvings: 12 } as const;

/** The shortest of the lines across: the best of evenly spaced places, then ever nearer beside it. */
function narrowestFrom(lineAt: (ratio: number) => Across | null): Across | null {
  const { from, to, places, halvings } = ARMHOLE;
  const tried = (ratio: number) => {
    const line = ratio < from || ratio > to ? null : lineAt(ratio);
    return line === null ? [] : [{ ratio, line }];
  };
  const shortest = (some: ReturnType<typeof tried>) => some.toSorted((a, b) => a.line.lengthMm - b.line.lengthMm)[0];
  let step = (to - from) / places;
  let best = shortest(Array.from({ length: places + 1 }, (_, i) => from + i * step).flatMap(tried));
  for (let k = 0; k < halvings && best !== undefined; k++) {
    step /= 2;
    best = shortest([best, ...tried(best.ratio - step), ...tried(best.ratio + step)]);
  }
  return best?.line ?? null;
}

/** From armhole to armhole at the narrowest place of the back or of the front. */
export function acrossBody(garment: Garment, which: 'back' | 'front'): Finished {
  const trunk = garment.pieces.filter(({ piece }) => isTrunk(piece) && bodySide(piece) === which);
  if (trunk.length === 0) return missing({ kind: 'no-piece' });
  const id: MeasureId = which === 'back' ? 'across back' : 'across front';
  for (const entry of trunk) {
    const [armhole] = edgesNamed(entry.shape, 'armhole');
    const along = lengthwise(entry);
    if (armhole === undefined || along === null) continue;
    const narrowest = narrowestFrom((ratio) => {
      const line = acrossFrom(entry.shape, { edge: armhole.edge.id, atMm: ratio * armhole.lengthMm }, along);
      return line !== null && isMiddle(entry, line.end.edge) ? line : null;
    });
    if (narrowest === null) continue;
    const width = lengthAcross(entry.shape, narrowest.lengthMm, {
      ends: [{ edge: armhole.edge.id, atMm: null }, narrowest.end],
      darts: narrowest.dartsCrossed,
      assumedAllowanceSigmaMm: garment.measuring.assumedAllowanceSigmaMm,
    });
    const { from, to } = narrowest;
    const times = timesRound(entry.piece);
    return taken(id, addLength(NO_LENGTH, width, times), [{ kind: 'segment', piece: entry.piece.id, from, to }], {
      isHalved: times === 2,
    });
  }
  return missing({ kind: 'no-edge', piece: trunk[0]!.piece, edge: 'armhole' });
}

function isMiddle({ shape }: Traced, edgeId: string): boolean {
  const { role, label } = seamEdge(shape, edgeId)!.edge;
  return role === 'fold' || role === 'opening' || isCentreName(label);
}

function around(
  id: MeasureId,
  garment: Garment,
  starts: readonly LevelStart[],
  pieces: readonly Traced[],
  isPart: (piece: Piece) => boolean,
  notes: readonly FinishedNote[] = [],
): Finished {
  if (starts.length === 0) return missing({ kind: 'no-edge', piece: pieces[0]!.piece, edge: 'side' });
  const level = levelFrom(starts, levelOptions(garment, isPart));
  if (!level.ok) return missing(level.error);
  const half = missingHalf(level.value.map(({ piece }) => piece));
  if (half !== null) return missing(half);
  return taken(
    id,
    roundOf(level.value, timesRound),
    level.value.map(({ piece, from, to }) => ({ kind: 'segment', piece: piece.id, from, to })),
    { isHalved: level.value.every(({ piece }) => timesRound(piece) === 2), notes },
  );
}

function levelOptions({ walksOf, measuring, pieces }: Garment, isPart: (piece: Piece) => boolean) {
  return { walksOf, pieces, isPart, endsAt: ['rise'], assumedAllowanceSigmaMm: measuring.assumedAllowanceSigmaMm };
}

/** The lower end of the armhole; without one, the upper end of the side edge, away from waist and hem. */
function underarmOf(entry: Traced): LevelStart[] {
  const at = (seam: SeamEdge, end: 'start' | 'end'): LevelStart => ({
    ...entry,
    place: { edge: seam.edge.id, atMm: end === 'start' ? 0 : seam.lengthMm },
  });
  const sides = [...edgesNamed(entry.shape, 'side'), ...panelSeams(entry)];
  for (const side of sides) {
    const { before, after } = neighbours(entry.shape, side.index);
    if (normalLabel(before.edge.label) === 'armhole') return [at(side, 'start')];
    if (normalLabel(after.edge.label) === 'armhole') return [at(side, 'end')];
  }
  const [side] = edgesNamed(entry.shape, 'side');
  if (side === undefined) return [];
  const { before } = neighbours(entry.shape, side.index);
  const isBelow = before.edge.role === 'hem' || ['hem', 'waist'].includes(normalLabel(before.edge.label));
  return [at(side, isBelow ? 'end' : 'start')];
}

/** The seams of a panel under the arm. */
function panelSeams({ shape }: Traced): readonly SeamEdge[] {
  return seamlineOf(shape).edges.filter(({ edge }) => /^princess\b/.test(normalLabel(edge.label)));
}

/** The side edge and which of its ends lies at the waist. */
function waistEnd({ shape }: Traced): { readonly seam: SeamEdge; readonly at: 'start' | 'end' } | null {
  for (const seam of edgesNamed(shape, 'side')) {
    const { before, after } = neighbours(shape, seam.index);
    if (normalLabel(before.edge.label) === 'waist') return { seam, at: 'start' };
    if (normalLabel(after.edge.label) === 'waist') return { seam, at: 'end' };
  }
  return null;
}

/** The end of the inseam that meets the rise. */
export function crotchOf({ shape }: Traced): LevelStart['place'] | null {
  for (const seam of edgesNamed(shape, 'inseam')) {
    const { before, after } = neighbours(shape, seam.index);
    if (normalLabel(before.edge.label) === 'rise') return { edge: seam.edge.id, atMm: 0 };
    if (normalLabel(after.edge.label) === 'rise') return { edge: seam.edge.id, atMm: seam.lengthMm };
  }
  return null;
}

/** The edges that hold the garment at the waist: those of the bodice, or else of skirt or trousers. */
function waistEdges({ pieces }: Garment): GirthEdge[] | Finished {
  const families = [isTrunk, isLower].map((belongs) =>
    pieces.filter(({ piece }) => belongs(piece)).flatMap((entry) => entriesOf(entry, 'waist')),
  );
  const edges = families.find((family) => family.length > 0);
  if (edges === undefined) return missing({ kind: 'no-piece' });
  const half = missingHalf(edges.map(({ piece }) => piece));
  return half === null ? edges : missing(half);
}

export function entriesOf(entry: Traced, label: string): GirthEdge[] {
  return edgesNamed(entry.shape, label).map((seam) => ({ ...entry, seam, times: timesRound(entry.piece) }));
}

export function isHalved(edges: readonly GirthEdge[]): boolean {
  return edges.every(({ times }) => times === 2);
}
