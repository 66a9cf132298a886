// A quick look at a photo before it is read: which cards it shows, where a length can be trusted, what a taped distance
// changes, what would make the photo better. Takes a second where reading takes several.
import { type Point, photoPx } from '../base/points.ts';
import { ok, type Result, type Warning } from '../base/result.ts';
import { CHEQUER_AT, cardMmFromUpright, cardNumber } from '../vision/cards/cardLayout.ts';
import type { Photo } from '../vision/image.ts';
import { photoFromCard } from '../vision/plane/cardBodies.ts';
import { errorModes, FLAT_PAPER, lengthUncertainty } from '../vision/plane/lengthUncertainty.ts';
import { type PhotoQuality, photoQuality } from '../vision/plane/photoQuality.ts';
import type { PlaneSolution } from '../vision/plane/planeSolution.ts';
import type { StageContext } from '../vision/stageContext.ts';
import type { CardsInPhoto } from '../vision/stages/findCards.ts';
import { type PlaneOptions, planeOf, profileFor, searchCards, tapedInput, tapesFor } from './solvePhoto.ts';

export interface PhotoLook {
  readonly file: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly cards: readonly LookedCard[];
  readonly tiltDeg: number;
  readonly quality: PhotoQuality;
  /** `used` = what earlier photos taught about this phone went into the solution; `contradicted` = the photo disagrees. */
  readonly phone: 'unknown' | 'used' | 'contradicted';
  /** One for each taped distance that this photo can judge, in their order. */
  readonly tapes: readonly LookedTape[];
  /** Scale with and without the taped distances; null when there are none. */
  readonly taping: Taping | null;
  readonly warnings: readonly Warning[];
}

export interface LookedCard {
  readonly id: string;
  /** Its cut line, pixels of the upright photo. */
  readonly outlinePx: readonly Point[];
  /** Where a tape is laid: the top left corner of its chequer. */
  readonly tapeEndPx: Point;
}

export interface LookedTape {
  readonly typedMm: number;
  /** The same distance as the photo measures it without any tape, and its standard uncertainty. */
  readonly seenMm: number;
  readonly seenSigmaMm: number;
  /** False when it was not believed. */
  readonly used: boolean;
}

export interface Taping {
  /** What the tape makes of a length, as a ratio: 1.001 = everything is a thousandth longer. */
  readonly scaleRatio: number;
  /** Relative standard uncertainty of the scale. */
  readonly sigmaRatioBefore: number;
  readonly sigmaRatioAfter: number;
}

export function lookAtPhoto(photo: Photo, options: PlaneOptions, context: StageContext): Result<PhotoLook> {
  context.report(0.3, `Looking for reference cards in ${photo.name}`);
  const cards = searchCards(photo, context);
  if (!cards.ok) return cards;
  const found = cards.value;
  const bare = planeOf(photo, found, { ...options, taped: [] });
  if (!bare.ok) return bare;
  const tapes = tapesFor(photo.name, options.taped);
  const taped = tapes.length === 0 ? bare : planeOf(photo, found, options);
  if (!taped.ok) return taped;
  const { solution, evidence, tapedUnseen } = taped.value;
  const before = bare.value.solution;
  const judged = tapes.filter((_, i) => !tapedUnseen.includes(i));
  const isContradicted = solution.warnings.some(({ code }) => code === 'profile-disagrees');
  const isKnown = profileFor(photo.metadata, options.phones) !== null;
  const looked = judged.map((tape): LookedTape => {
    const ends = 'photo' in tape ? [tape.fromPx, tape.toPx] : [tape.from, tape.to].map((id) => tapeEnd(found, id));
    const seen = lengthUncertainty(
      errorModes(before, FLAT_PAPER),
      ends.map(([x, y]) => photoPx(x, y)),
    );
    const input = JSON.stringify(tapedInput(tape));
    const used = evidence.taped.some((believed) => JSON.stringify(believed) === input);
    return { typedMm: tape.lengthMm, seenMm: seen.lengthMm, seenSigmaMm: seen.sigmaMm, used };
  });
  return ok({
    file: photo.name,
    widthPx: photo.rgb.widthPx,
    heightPx: photo.rgb.heightPx,
    cards: found.cards.map(({ id, cutOutline }) => ({
      id,
      outlinePx: cutOutline.map(([x, y]): Point => [x, y]),
      tapeEndPx: tapeEnd(found, id),
    })),
    tiltDeg: solution.tiltDeg,
    quality: photoQuality(solution, options.printScale !== null),
    phone: isContradicted ? 'contradicted' : isKnown ? 'used' : 'unknown',
    tapes: looked,
    taping: tapes.length === 0 ? null : tapingOf(before, solution),
    warnings: [...found.warnings, ...solution.warnings],
  });
}

/** Where a tape is laid on a card that was found. */
function tapeEnd({ cards }: CardsInPhoto, cardId: string): Point {
  const card = cards.find(({ id }) => id === cardId);
  const at = card && photoFromCard(card, cardMmFromUpright(cardNumber(cardId), CHEQUER_AT));
  if (card === undefined) throw new Error(`card ${cardId} is not in the photo`);
  // A card without a homography of its own would not have been found as a card; its cut corner stands in.
  const [x, y] = at ?? card.cutOutline[0]!;
  return [x, y];
}

function tapingOf(before: PlaneSolution, after: PlaneSolution): Taping {
  return {
    scaleRatio: after.mmPerPixel / before.mmPerPixel,
    sigmaRatioBefore: before.scaleSigmaRatio,
    sigmaRatioAfter: after.scaleSigmaRatio,
  };
}
