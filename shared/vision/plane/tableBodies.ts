// The cards and uncut pages of one table, each once, whichever of its photos show them.
import type { Point, TablePointMm } from '../../base/points.ts';
import type { FoundCard } from '../cards/foundCard.ts';
import { tableFromPhotoVia } from './cameraModel.ts';
import { type CardBody, cutCard, uncutCards } from './cardBodies.ts';
import type { PlaneEvidence, SoloShot } from './planeEvidence.ts';
import type { PlaneSolution } from './planeSolution.ts';

/** A card (or an uncut page) of the table and the photos that show it. */
export interface TableBody {
  readonly reference: CardBody;
  readonly uncut: boolean;
  readonly bowSigmaMm: number;
  readonly liftSigmaMm: number;
  /** Cards seen, by photo of the group. */
  readonly seen: readonly { readonly member: number; readonly cards: readonly FoundCard[] }[];
}

/** Every body of the group once: the same card in two photos is one. */
export function tableBodies(solos: readonly SoloShot[]): TableBody[] {
  const entries = solos.flatMap(({ evidence }, member) => {
    const names = evidence.bodies.flatMap((body) => body.cards.map(({ id }) => id));
    return evidence.bodies.map((body) => ({
      ...body,
      member,
      names: body.cards.flatMap(({ id }) => (names.filter((name) => name === id).length > 1 ? [] : [id])),
    }));
  });
  const group = entries.map((_, i) => i);
  const rootOf = (i: number): number => (group[i] === i ? i : rootOf(group[i]!));
  entries.forEach((entry, i) => {
    for (let j = 0; j < i; j++)
      if (entries[j]!.names.some((name) => entry.names.includes(name))) {
        const [low, high] = [rootOf(i), rootOf(j)].toSorted((a, b) => a - b) as [number, number];
        group[high] = low;
      }
  });
  return entries.flatMap((_, root) => {
    if (rootOf(root) !== root) return [];
    const members = entries.filter((__, i) => rootOf(i) === root);
    const fullest = new Map<string, FoundCard>();
    for (const card of members.flatMap(({ cards }) => cards)) {
      const known = fullest.get(card.id);
      if (known === undefined || card.corners.length > known.corners.length) fullest.set(card.id, card);
    }
    const cards = [...fullest.values()];
    const { scale } = solos[members[0]!.member]!.evidence;
    return [
      {
        reference: cards.length === 1 ? cutCard(cards[0]!, scale) : uncutCards(cards, scale),
        uncut: cards.length > 1,
        bowSigmaMm: Math.max(...members.map(({ bowSigmaMm }) => bowSigmaMm)),
        liftSigmaMm: Math.max(...members.map(({ liftSigmaMm }) => liftSigmaMm)),
        seen: members.map(({ member, cards: seen }) => ({ member, cards: seen })),
      },
    ];
  });
}

/** A point of a card in the axes of its body, as printed. */
export function onBody(
  { reference, uncut }: TableBody,
  { onPageMm }: FoundCard,
  cardMm: Point,
  evidence: PlaneEvidence,
): Point {
  const { xRatio, yRatio } = evidence.scale;
  const [x, y] = uncut ? [onPageMm[0] + cardMm[0], onPageMm[1] + cardMm[1]] : cardMm;
  return [x * xRatio - reference.middleMm[0], y * yRatio - reference.middleMm[1]];
}

/** Whether a placed card is this one and not another with the same number. */
export function liesAt(originMm: TablePointMm, solution: PlaneSolution, card: FoundCard): boolean {
  const twins = solution.cards.filter(({ id }) => id === card.id);
  if (twins.length === 1) return true;
  const at = tableFromPhotoVia(solution.camera, card.corners[0]!.photo, 0);
  const away = (p: TablePointMm): number => Math.hypot(p[0] - at[0], p[1] - at[1]);
  return twins.every((twin) => away(twin.originMm) >= away(originMm));
}
