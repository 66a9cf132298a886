// The first half of reading a photo: its cards, and the plane of the table from them. A look at a photo stops here.
import { photoPx } from '../base/points.ts';
import { fail, type Result } from '../base/result.ts';
import { CHEQUER_AT, cardMmFromUpright, cardNumber } from '../vision/cards/cardLayout.ts';
import type { Photo, PhotoMetadata } from '../vision/image.ts';
import type { PrintScale } from '../vision/plane/cardBodies.ts';
import { type PhoneProfile, profileKey } from '../vision/plane/phoneProfile.ts';
import type { TapedInput } from '../vision/plane/planeEvidence.ts';
import type { StageContext } from '../vision/stageContext.ts';
import { type CardsInPhoto, findCards } from '../vision/stages/findCards.ts';
import { type SolvedPlane, solvePlane } from '../vision/stages/solvePlane.ts';
import type { CaptureOptions, Taped } from './captured.ts';

/** What the plane depends on. */
export type PlaneOptions = Pick<CaptureOptions, 'printScale' | 'phones' | 'taped'>;

/** The quick search first; the thorough one only where the quick one saw nothing at all. */
export function searchCards(photo: Photo, context: StageContext): Result<CardsInPhoto> {
  const quick = findCards(photo, { search: 'quick' }, context);
  const found = quick.cards.length + quick.mirrored > 0 ? quick : findCards(photo, { search: 'thorough' }, context);
  if (found.cards.length === 0 && found.mirrored > 0) return onlyMirrored(photo.name);
  return { ok: true, value: found };
}

/** The plane, with what this photo can use of the options: its own phone, tapes between its own points. */
export function planeOf(photo: Photo, found: CardsInPhoto, options: PlaneOptions): Result<SolvedPlane> {
  const frame = { widthPx: photo.rgb.widthPx, heightPx: photo.rgb.heightPx, metadata: photo.metadata };
  return solvePlane(frame, found.cards, {
    printScale: printScaleOf(options),
    phoneProfile: profileFor(photo.metadata, options.phones),
    tapedDistances: tapesFor(photo.name, options.taped).map(tapedInput),
  });
}

/** Tapes between cards speak of every photo, tapes between picked points only of their own. */
export function tapesFor(photo: string, taped: readonly Taped[]): readonly Taped[] {
  return taped.filter((tape) => !('photo' in tape) || tape.photo === photo);
}

function onlyMirrored(name: string): Result<never> {
  return fail(
    'card-mirrored',
    `${name} shows its reference cards mirrored: photograph the table itself, not its reflection, and do not mirror the picture afterwards.`,
  );
}

/** The tape's ends; the names of cards were checked when they were typed. */
export function tapedInput(tape: Taped): TapedInput {
  const { lengthMm, sigmaMm } = tape;
  if ('photo' in tape) {
    const { fromPx, toPx } = tape;
    return { from: { photo: photoPx(...fromPx) }, to: { photo: photoPx(...toPx) }, lengthMm, sigmaMm };
  }
  const end = (cardId: string) => ({ cardId, cardMm: cardMmFromUpright(cardNumber(cardId), CHEQUER_AT) });
  return { from: end(tape.from), to: end(tape.to), lengthMm, sigmaMm };
}

export function profileFor(metadata: PhotoMetadata, phones: readonly PhoneProfile[]): PhoneProfile | null {
  const key = profileKey(metadata);
  return phones.find((phone) => phone.key === key) ?? null;
}

function printScaleOf({ printScale }: PlaneOptions): PrintScale | null {
  return printScale === null ? null : { xRatio: printScale.x, yRatio: printScale.y, checked: true };
}
