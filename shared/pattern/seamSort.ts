// What sort of seam this is, from the kinds and edge names on its two sides, and which side may be the fuller one. The
// limits differ by sort: a cap is eased, a facing is a little small, two rises are never compared.
import { memoised } from '../base/memoised.ts';
import { bodySide, isBodice, isCollar, isPrincess, isSleeve, isTrouser, normalLabel } from './kinds.ts';
import { pieceById } from './lookUp.ts';
import type { Edge, PatternSet, Piece, Seam, SeamSide } from './model.ts';

export type SeamSort =
  | 'cap'
  | 'shoulder'
  | 'princess'
  | 'inseam'
  | 'hindarm'
  | 'forearm'
  | 'facing'
  | 'collar'
  | 'waistband'
  | 'waist'
  | 'plain'
  /** Front and back rise: their lengths differ by design and are not compared. */
  | 'rises'
  /** An edge joined to its own mirror image. */
  | 'mirror';

export interface SortedSeam {
  readonly sort: SeamSort;
  /** The side that may be longer; 1 (the second) where the sort says nothing. */
  readonly fuller: 0 | 1;
}

interface SideView {
  readonly pieces: readonly Piece[];
  readonly labels: readonly string[];
}

const known = new WeakMap<readonly Piece[], Map<Seam, SortedSeam>>();

/** The sort of a seam, which depends on no size; worked out once for each seam of a list of pieces. */
export function sortSeam(set: PatternSet, seam: Seam): SortedSeam {
  const bySeam = memoised(known, set.pieces, () => new Map<Seam, SortedSeam>());
  return memoised(bySeam, seam, () => sortAfresh(set, seam));
}

function sortAfresh(set: PatternSet, seam: Seam): SortedSeam {
  if (isMirror(seam)) return { sort: 'mirror', fuller: 1 };
  const sides = [view(set, seam.sides[0]), view(set, seam.sides[1])] as const;
  for (const fuller of [1, 0] as const) {
    const sort = sortWith(sides[fuller === 1 ? 0 : 1], sides[fuller]);
    // A cap that is gathered in is full on purpose: it is judged as any gathered edge.
    if (sort === 'cap' && seam.join === 'gathered') return { sort: 'plain', fuller };
    if (sort !== null) return { sort, fuller };
  }
  const isWaist = sides.every((side) => areAll(side.labels, 'waist'));
  return { sort: isWaist ? 'waist' : 'plain', fuller: 1 };
}

/** The sort when `full` is the side that may be longer, or null when this way round it is none. */
function sortWith(fitted: SideView, full: SideView): SeamSort | null {
  const labels = [...fitted.labels, ...full.labels];
  const isRaglanSeam = labels.some((label) => label.startsWith('raglan'));
  if (every(full, isSleeve) && every(fitted, isBodice) && !isRaglanSeam) return 'cap';
  if (every(fitted, isFacing) && !full.pieces.some(({ kind }) => isFacing(kind) || isCollar(kind))) return 'facing';
  if (every(fitted, isWaistband) && !full.pieces.some(({ kind }) => isWaistband(kind))) return 'waistband';
  if (every(fitted, isCollar) && (every(full, isBodice) || every(full, isFacing))) return 'collar';
  if (areAll(labels, 'shoulder') && every(fitted, isBodice) && every(full, isBodice)) {
    return onBody(fitted, 'front') && onBody(full, 'back') ? 'shoulder' : null;
  }
  if (labels.every(isPrincess)) return isSideOfBody(full) || !isSideOfBody(fitted) ? 'princess' : null;
  const isTrousers = every(fitted, isTrouser) && every(full, isTrouser);
  if (isTrousers && areAll(labels, 'rise')) return 'rises';
  if (isTrousers && areAll(labels, 'inseam')) return onBody(full, 'front') ? 'inseam' : null;
  if (every(full, isTopSleeve) && every(fitted, isUnderSleeve) && labels.includes('hindarm')) return 'hindarm';
  if (every(full, isUnderSleeve) && every(fitted, isTopSleeve) && labels.includes('forearm')) return 'forearm';
  return null;
}

function areAll(labels: readonly string[], name: string): boolean {
  return labels.every((label) => label === name);
}

function isWaistband(kind: Piece['kind']): boolean {
  return kind === 'waistband';
}

function isTopSleeve(kind: Piece['kind']): boolean {
  return kind === 'top sleeve';
}

function isUnderSleeve(kind: Piece['kind']): boolean {
  return kind === 'under sleeve';
}

function isFacing(kind: Piece['kind']): boolean {
  return kind === 'facing';
}

function isSideOfBody(side: SideView): boolean {
  return side.pieces.every((piece) => piece.kind === 'side panel' || /\bside\b/i.test(piece.name));
}

function every(side: SideView, test: (kind: Piece['kind']) => boolean): boolean {
  return side.pieces.length > 0 && side.pieces.every((piece) => test(piece.kind));
}

function onBody(side: SideView, which: 'front' | 'back'): boolean {
  return side.pieces.every((piece) => bodySide(piece) === which);
}

function isMirror(seam: Seam): boolean {
  const [a, b] = seam.sides;
  return (
    a.length === b.length &&
    a.length > 0 &&
    a.every((span, i) => span.piece === b[i]!.piece && span.edge === b[i]!.edge && sameStretch(span, b[i]!))
  );
}

function sameStretch(a: SeamSide[number], b: SeamSide[number]): boolean {
  return a.stretch?.fromMm === b.stretch?.fromMm && a.stretch?.toMm === b.stretch?.toMm;
}

function view(set: PatternSet, side: SeamSide): SideView {
  const pieces: Piece[] = [];
  const labels: string[] = [];
  for (const span of side) {
    const piece = pieceById(set, span.piece);
    if (piece === undefined) continue;
    pieces.push(piece);
    const edge = anyEdge(piece, span.edge);
    labels.push(edge === undefined ? '' : normalLabel(edge.label));
  }
  return { pieces, labels };
}

function anyEdge(piece: Piece, edgeId: string): Edge | undefined {
  for (const shape of Object.values(piece.shapes)) {
    const edge = shape.ring.find((candidate) => candidate.id === edgeId);
    if (edge !== undefined) return edge;
  }
  return undefined;
}
