// Amounts in sentences, in the units that the set is shown in, and the things of a set by the names that people gave them.
import { lengthTextIn } from '../base/lengthText.ts';
import { dartOnSeam } from '../pattern/darts.ts';
import { pieceById } from '../pattern/lookUp.ts';
import type { PatternSet, Shape, Size } from '../pattern/model.ts';

/** "12.7 mm", "1/2 in". */
export function lengthWords(set: Pick<PatternSet, 'displayUnits'>, mm: number): string {
  return lengthTextIn(set.displayUnits).words(mm);
}

/** "3 mm longer" or "3 mm shorter". */
export function changeWords(set: Pick<PatternSet, 'displayUnits'>, byMm: number): string {
  return `${lengthWords(set, Math.abs(byMm))} ${byMm < 0 ? 'shorter' : 'longer'}`;
}

/** "Front bodice" in quotes; what the set does not have keeps the word that was given for it. */
export function pieceWords(set: PatternSet, pieceId: string): string {
  return `"${pieceById(set, pieceId)?.name ?? pieceId}"`;
}

export function seamWords(set: PatternSet, seamId: string): string {
  return `"${set.seams.find(({ id }) => id === seamId)?.name ?? seamId}"`;
}

/** "armhole", as the edge is called in that size first. */
export function edgeLabel(set: PatternSet, pieceId: string, edgeId: string, size: Size = set.baseSize): string {
  const edges = shapesOf(set, pieceId, size).flatMap(({ ring }) => ring);
  return edges.find(({ id }) => id === edgeId)?.label ?? edgeId;
}

/** 'the cap of "Sleeve"'. */
export function edgeWords(set: PatternSet, pieceId: string, edgeId: string, size: Size = set.baseSize): string {
  return `the ${edgeLabel(set, pieceId, edgeId, size)} of ${pieceWords(set, pieceId)}`;
}

/** 'the dart on the side of "Front bodice"'; with its place where the edge has several. */
export function dartWords(set: PatternSet, pieceId: string, dartId: string): string {
  for (const shape of shapesOf(set, pieceId)) {
    const dart = shape.darts.find(({ id }) => id === dartId);
    if (dart === undefined) continue;
    const [fromMm, toMm] = dartOnSeam(shape, dart)?.atMm ?? [0, 0];
    const isAlone = shape.darts.filter(({ edge }) => edge === dart.edge).length === 1;
    return markWords(set, 'dart', [pieceId, dart.edge], isAlone ? null : (fromMm + toMm) / 2);
  }
  return `the dart "${dartId}" of ${pieceWords(set, pieceId)}`;
}

/** 'the notch on the cap of "Sleeve"'; with its place where the edge has several. */
export function notchWords(set: PatternSet, pieceId: string, notchId: string): string {
  for (const { notches } of shapesOf(set, pieceId)) {
    const notch = notches.find(({ id }) => id === notchId);
    if (notch === undefined) continue;
    const isAlone = notches.filter(({ edge }) => edge === notch.edge).length === 1;
    return markWords(set, 'notch', [pieceId, notch.edge], isAlone ? null : notch.atMm);
  }
  return `the notch "${notchId}" of ${pieceWords(set, pieceId)}`;
}

export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function markWords(
  set: PatternSet,
  kind: 'dart' | 'notch',
  [piece, edge]: readonly [piece: string, edge: string],
  atMm: number | null,
): string {
  const where = atMm === null ? 'on' : `${lengthWords(set, atMm)} along`;
  return `the ${kind} ${where} ${edgeWords(set, piece, edge)}`;
}

/** One size first: it is the one that is named where sizes differ. */
function shapesOf(set: PatternSet, pieceId: string, size: Size = set.baseSize): readonly Shape[] {
  const shapes = pieceById(set, pieceId)?.shapes ?? {};
  const first = shapes[size];
  const rest = Object.values(shapes);
  return first === undefined ? rest : [first, ...rest];
}
