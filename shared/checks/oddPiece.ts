// Faults of several seams that have one piece in common: traced face down, given the wrong allowance, or scaled otherwise
// than the rest. The piece that most of them speak of leads; its partners, each named once, are not to blame.
import { groupedBy } from '../base/groupedBy.ts';
import type { Seam, SeamSide } from '../pattern/model.ts';
import type { SeamWalk } from '../pattern/walk.ts';
import type { CheckContext } from './context.ts';
import type { Finding } from './finding.ts';
import { piecesOf, seamOf, sizeOf, walkOf } from './findingPlace.ts';
import { byGravity } from './gravity.ts';
import type { Judged } from './rule.ts';
import { expanded } from './verdict.ts';

/** Faults that belong together, the first of which leads, and what they have in common in one sentence. */
export interface OddPiece {
  readonly members: readonly Judged[];
  readonly sentence: string;
}

/** @param faults open faults of one size. */
export function oddPieces(faults: readonly Judged[], context: CheckContext): readonly OddPiece[] {
  return [...faceDown(faults, context), ...wrongAllowance(faults, context), ...otherScale(faults, context)];
}

/** What a piece that lies face down makes of the notches along its seams. */
const BY_NOTCHES: readonly string[] = ['notch-alone', 'notch-shifted', 'notch-count', 'cap-ease-spread'];

function faceDown(faults: readonly Judged[], context: CheckContext): readonly OddPiece[] {
  return mostNamed(faults.filter((j) => j.finding.rule === 'turned-round')).map(({ pieces, members }) => {
    const alongOne = ({ sides }: Seam) => sides.some((side) => pieces.some((piece) => touches(side, piece)));
    const seams = new Set(context.set.seams.filter(alongOne).map(({ id }) => id));
    const follow = faults.filter(({ finding }) => {
      const seam = seamOf(finding);
      return BY_NOTCHES.includes(finding.rule) && seam !== undefined && seams.has(seam);
    });
    return {
      members: [...members, ...follow],
      sentence: `${more(members.length - 1, 'seam runs', 'seams run')} the other way too: was ${namesOf(pieces, context)} traced face down?`,
    };
  });
}

function wrongAllowance(faults: readonly Judged[], context: CheckContext): readonly OddPiece[] {
  return mostNamed(faults.filter((j) => j.finding.rule === 'allowance-differs')).map(({ pieces, members }) => ({
    members,
    sentence: `So ${more(members.length - 1, 'seam does', 'seams do')}: was the allowance of ${namesOf(pieces, context)} entered wrongly?`,
  }));
}

const BY_LENGTH: readonly string[] = ['length-differs', 'trim-differs', 'cap-ease', 'shoulder-reversed'];

/**
 * A print scale that was typed in wrongly, or a photo whose card lay otherwise than the paper, makes every edge of a piece
 * longer by one ratio. Told where at least two seams are surely off by it and none speaks against it.
 */
function otherScale(faults: readonly Judged[], context: CheckContext): readonly OddPiece[] {
  const byLength = faults.filter(({ finding }) => BY_LENGTH.includes(finding.rule));
  const size = byLength.map(({ finding }) => sizeOf(finding))[0];
  if (size === undefined) return [];
  const seamsOf = context.once(seamsByPiece, null);
  const spans = byLength.flatMap(({ finding }) => walkOf(finding, context)?.seam.sides.flat() ?? []);
  const suspects = context.set.pieces.filter(({ id }) => touches(spans, id));
  const found = suspects.flatMap((piece): (OddPiece & { readonly seams: number })[] => {
    const seams = seamsOf.get(piece.id) ?? [];
    const measured = seams.flatMap((seam) => excessOf(piece.id, seam, context, size) ?? []);
    const sure = measured.filter(({ excessMm, sigmaMm }) => Math.abs(excessMm) > expanded(sigmaMm));
    const ratio = commonRatio(sure);
    if (sure.length < 2 || ratio === null || measured.some((one) => speaksAgainst(one, ratio, context))) return [];
    const members = byLength.filter(({ finding }) => isExplained(finding, piece.id, ratio, context));
    if (members.length === 0) return [];
    const percent = (100 * Math.abs(ratio)).toFixed(1);
    const sentence = `All seams of ${piece.name} are ${ratio > 0 ? 'longer' : 'shorter'} by about ${percent} %: was it photographed with another print scale?`;
    return [{ members, sentence, seams: sure.length }];
  });
  // Its only partner is off by the same ratio the other way; the piece with more seams has more evidence.
  const [best, second] = found.toSorted((a, b) => b.seams - a.seams);
  return best === undefined || best.seams === second?.seams ? [] : [best];
}

/** Every piece with the seams that it has a part in, in the order of the set. */
function seamsByPiece({ set }: CheckContext): ReadonlyMap<string, readonly Seam[]> {
  return groupedBy(set.seams, ({ sides }) => sides.flat().map(({ piece }) => piece));
}

/** Without the piece's own scale the seam would be as it is meant to be. */
function isExplained(finding: Finding, piece: string, ratio: number, context: CheckContext): boolean {
  const walk = walkOf(finding, context);
  if (walk === null || !walk.seam.sides.some((side) => touches(side, piece))) return false;
  const { seam, sides, compared, difference } = walk;
  const gained = sides.map(({ spans, total }, side) => {
    const times = compared[side as 0 | 1].valueMm / total.valueMm;
    const own = spans.filter((walked) => walked.piece.id === piece && walked.span.stretch === null);
    return times * own.reduce((sum, { length }) => sum + (length.valueMm * ratio) / (1 + ratio), 0);
  });
  const restMm = difference.valueMm - (seam.wantedEaseMm ?? 0) - (gained[1]! - gained[0]!);
  return Math.abs(restMm) <= context.limits.seam.valueMm + expanded(difference.sigmaMm);
}

interface Excess {
  readonly seam: Seam;
  readonly excessMm: number;
  readonly sigmaMm: number;
  /** What the piece should have there. */
  readonly lengthMm: number;
}

/** How much longer the piece is than what it is sewn to; null where that is meant, or where it is not alone on its side. */
function excessOf(piece: string, seam: Seam, context: CheckContext, size: string): Excess | null {
  const walk = context.walk(seam, size);
  if (!walk.ok || !COMPARED.includes(seam.join)) return null;
  const { compared, difference, sorted } = walk.value;
  const wantedMm = seam.wantedEaseMm ?? (seam.join !== 'eased' && EVEN.includes(sorted.sort) ? 0 : null);
  // A stretch is as long as someone has said, on any scale.
  if (wantedMm === null || seam.sides.some((spans) => spans.some(({ stretch }) => stretch !== null))) return null;
  const [first, second] = seam.sides;
  const side =
    isAllOf(first, piece) && !touches(second, piece) ? 0 : isAllOf(second, piece) && !touches(first, piece) ? 1 : null;
  if (side === null) return null;
  const secondMoreMm = difference.valueMm - wantedMm;
  const excessMm = side === 1 ? secondMoreMm : -secondMoreMm;
  return { seam, excessMm, sigmaMm: difference.sigmaMm, lengthMm: compared[side].valueMm - excessMm };
}

function isAllOf(side: SeamSide, piece: string): boolean {
  return side.every((span) => span.piece === piece);
}

function touches(side: SeamSide, piece: string): boolean {
  return side.some((span) => span.piece === piece);
}

const COMPARED: readonly Seam['join'][] = ['even', 'eased', 'pleated', 'applied'];
/** Sorts whose sides are equally long when nothing else is wanted. */
const EVEN: readonly SeamWalk['sorted']['sort'][] = ['plain', 'waist'];

/** The ratio that all of them share within their uncertainty; null when they do not. */
function commonRatio(all: readonly Excess[]): number | null {
  const lengthMm = all.reduce((sum, one) => sum + one.lengthMm, 0);
  if (lengthMm === 0) return null;
  const ratio = all.reduce((sum, one) => sum + one.excessMm, 0) / lengthMm;
  const agree = all.every((one) => Math.abs(one.excessMm - ratio * one.lengthMm) <= expanded(one.sigmaMm));
  return agree ? ratio : null;
}

/** Off by something that the ratio does not explain: half of what a seam may differ by, an own setting without source. */
function speaksAgainst({ excessMm, sigmaMm, lengthMm }: Excess, ratio: number, { limits }: CheckContext): boolean {
  return Math.abs(excessMm - ratio * lengthMm) > expanded(sigmaMm) + limits.seam.valueMm / 2;
}

interface Named {
  /** One, or several when the faults do not tell them apart. */
  readonly pieces: readonly string[];
  readonly members: readonly Judged[];
}

/** Takes the piece that most faults name with all of them, then the next; a piece that is named once stays by itself. */
function mostNamed(faults: readonly Judged[]): readonly Named[] {
  const byPiece = groupedBy(faults, ({ finding }) => piecesOf(finding));
  const most = Math.max(0, ...[...byPiece.values()].map(({ length }) => length));
  if (most < 2) return [];
  const members = [...byPiece.values()].find(({ length }) => length === most)!;
  const pieces = [...byPiece].filter(([, named]) => named.length === most && named.every((f) => members.includes(f)));
  return [
    { pieces: pieces.map(([piece]) => piece), members: members.toSorted(gravestFirst) },
    ...mostNamed(faults.filter((fault) => !members.includes(fault))),
  ];
}

function gravestFirst(a: Judged, b: Judged): number {
  return byGravity(a.finding.gravity, b.finding.gravity);
}

function namesOf(ids: readonly string[], { set }: CheckContext): string {
  return ids.map((id) => set.pieces.find((piece) => piece.id === id)?.name ?? id).join(' or ');
}

function more(count: number, one: string, several: string): string {
  return count === 1 ? `one more ${one}` : `${count} more ${several}`;
}
