// Taped distances between the window and the capture: which end was meant by a click, what is asked of the host, and the
// words for what came of it.
import type { LengthText } from '../../shared/base/lengthText.ts';
import { COVERAGE_FACTOR } from '../../shared/base/measured.ts';
import type { Point } from '../../shared/base/points.ts';
import type { CallArgs, CallValue } from '../../shared/contract/contract.ts';
import { pointInPolygon } from '../../shared/geometry/polygon.ts';
import type { AddedPhoto, Tape, TapeEnd } from '../state/windowState.ts';

type GivenTapes = NonNullable<NonNullable<CallArgs<'job.start'>['options']>['taped']>;
type Look = CallValue<'photo.look'>;

/** A click on a card means its chequer corner, where a tape can be laid exactly; anywhere else the place itself. */
export function tapeEndAt(photo: AddedPhoto, atPx: Point): TapeEnd {
  const cards = photo.look?.state === 'seen' ? photo.look.cards : [];
  const card = cards.find(({ outlinePx }) => pointInPolygon(atPx, outlinePx));
  return card === undefined ? { card: null, atPx } : { card: card.id, atPx: card.tapeEndPx };
}

/** What is asked of the host: between two cards by their names, which every photo understands; else by places in the photo. */
export function givenTapes(tapes: readonly Tape[]): GivenTapes {
  return tapes.map(({ photo, from, to, lengthMm }) =>
    from.card !== null && to.card !== null
      ? { from: from.card, to: to.card, lengthMm }
      : { photo, fromPx: pair(from.atPx), toPx: pair(to.atPx), lengthMm },
  );
}

/** Tapes that a photo has to do with, in the order in which its look speaks of them. */
export function tapesOfPhoto(tapes: readonly Tape[], { photo, look }: AddedPhoto): readonly Tape[] {
  const seen = new Set(look?.state === 'seen' ? look.cards.map(({ id }) => id) : []);
  return tapes.filter((tape) =>
    tape.from.card !== null && tape.to.card !== null
      ? seen.has(tape.from.card) && seen.has(tape.to.card)
      : tape.photo === photo,
  );
}

export function endName({ card }: TapeEnd): string {
  return card === null ? 'a point' : card;
}

/** One sentence: what the photo said of the distance, and whether the tape was believed. */
export function tapeSentence(
  { typedMm, seenMm, seenSigmaMm, used }: Look['tapes'][number],
  { words, uncertain }: LengthText,
): string {
  const seen = `the photo alone says ${uncertain(seenMm, COVERAGE_FACTOR * seenSigmaMm)}`;
  if (used) return `Used: you measured ${words(typedMm)}, ${seen}.`;
  return `Not used: you measured ${words(typedMm)}, but ${seen}. Measure once more, or look whether the right places were picked.`;
}

/** The length by which the change of scale is told, and how finely. */
const TOLD_OVER = {
  mm: { length: 500, digits: 2 },
  cm: { length: 50, digits: 3 },
  in: { length: 20, digits: 3 },
} as const;

/** One sentence: what the tapes make of the scale and of how sure it is. */
export function tapingSentence(
  { scaleRatio, sigmaRatioBefore, sigmaRatioAfter }: NonNullable<Look['taping']>,
  { unit }: LengthText,
): string {
  const { length, digits } = TOLD_OVER[unit];
  const by = (scaleRatio - 1) * length;
  const way = by < 0 ? 'shorter' : 'longer';
  const u95 = (sigmaRatio: number): string => `± ${(COVERAGE_FACTOR * sigmaRatio * length).toFixed(digits)} ${unit}`;
  return `Over ${length} ${unit} everything is ${Math.abs(by).toFixed(digits)} ${unit} ${way} than without tape, and the scale is sure to ${u95(sigmaRatioAfter)} instead of ${u95(sigmaRatioBefore)}.`;
}

function pair([x, y]: Point): [number, number] {
  return [x, y];
}
