// The garment against each body of the set, in the size that is sewn for it: measured once for all rules of fit. Without a
// body there is nothing to compare, and the rules are quiet.
import { knownBody, sizeFor } from '../../fit/bodies.ts';
import { finishedMeasure } from '../../fit/finished.ts';
import type { Finished, FinishedMeasure, FitProblem, MeasureId } from '../../fit/finishedMeasure.ts';
import { type Garment, garmentIn } from '../../fit/garment.ts';
import { HIP_DEPTH } from '../../limits/bodyFit.ts';
import type { Body, Size } from '../../pattern/model.ts';
import type { CheckContext } from '../context.ts';
import type { Overlay, Subject } from '../finding.ts';
import type { Words } from '../words.ts';

export interface BodyFit {
  /** Measures under their one spelling. */
  readonly body: Body;
  readonly size: Size;
  /** Measured when it is asked for. */
  readonly finished: (id: MeasureId) => Finished;
}

/** Bodies whose size was not traced are left out. */
export function bodyFits(context: CheckContext): readonly BodyFit[] {
  return context.set.bodies.flatMap((raw): BodyFit[] => {
    const body = knownBody(raw);
    const size = sizeFor(context.set, body, context.sizes);
    if (size === null) return [];
    const garment = { size, depthMm: hipDepthMm(body) };
    return [{ body, size, finished: (id) => context.once(takenOf, keyOf({ ...garment, id })) }];
  });
}

/** From the waist to the hip: as measured, or in proportion to the height. */
export function hipDepthMm({ measuresMm }: Body): number {
  const said = measuresMm['hip depth'];
  if (said !== undefined) return said;
  const { height } = measuresMm;
  return height === undefined ? HIP_DEPTH.valueMm : (HIP_DEPTH.valueMm * height) / HIP_DEPTH.ofHeightMm;
}

/** Each measure is taken once, however many bodies and rules ask. @param key see `keyOf` */
function takenOf(context: CheckContext, key: string): Finished {
  const { id, ...garment } = JSON.parse(key) as GarmentKey & { readonly id: MeasureId }; // made by `keyOf`
  return finishedMeasure(context.once(garmentOf, keyOf(garment)), id);
}

/** One garment for each size and depth. @param key see `keyOf` */
function garmentOf(context: CheckContext, key: string): Garment {
  const { size, depthMm } = JSON.parse(key) as GarmentKey; // made by `keyOf`
  const set = context.setIn(size);
  const walks = set.seams.flatMap((seam) => {
    const walk = context.walk(seam, size);
    return walk.ok ? [walk.value] : [];
  });
  return garmentIn(set, size, { measuring: context.measuring, hipDepthMm: depthMm, walks });
}

interface GarmentKey {
  readonly size: Size;
  readonly depthMm: number;
}

/** In one order, so that equal keys are one text. */
function keyOf({ size, depthMm, ...rest }: GarmentKey & { readonly id?: MeasureId }): string {
  return JSON.stringify({ size, depthMm, ...rest });
}

/** One measure of the body beside what was taken of the garment. */
export interface FitSubject {
  readonly fit: BodyFit;
  readonly id: MeasureId;
  readonly bodyMm: number;
}

/** Nobody to compare with: said once. */
export const NO_BODY = 'no body';

/** A subject for each of these measures that the body has and the garment has the pieces for. */
export function fitSubjects(
  context: CheckContext,
  ids: readonly { readonly id: MeasureId; readonly body: string }[],
): readonly (FitSubject | typeof NO_BODY)[] {
  if (context.set.pieces.length === 0) return [];
  const fits = bodyFits(context);
  if (fits.length === 0) return [NO_BODY];
  return fits.flatMap((fit) =>
    ids.flatMap(({ id, body }) => {
      const bodyMm = fit.body.measuresMm[body];
      return bodyMm === undefined || bodyMm <= 0 || !hasPieces(fit.finished(id)) ? [] : [{ fit, id, bodyMm }];
    }),
  );
}

/** False where the garment has no piece of that part. */
export function hasPieces(finished: Finished): boolean {
  return finished.ok || finished.error.kind !== 'no-piece';
}

export const NO_BODY_SENTENCE =
  'No body was given for a size that was traced, so the finished garment is compared with nobody.';

/** "Size M for "Ines"", or the size alone where it is its own body. */
export function forWhom({ body, size }: { readonly body: string; readonly size: string }): string {
  return body === size ? `Size ${size}` : `Size ${size} for "${body}"`;
}

export function linesOf({ lines }: FinishedMeasure): readonly Overlay[] {
  return lines.map((line) => ({ ...line }));
}

export function piecesOf({ lines }: FinishedMeasure, { size }: BodyFit): readonly Subject[] {
  return [...new Set(lines.map(({ piece }) => piece))].map((piece) => ({ piece, size }));
}

/** "992 ± 1.1 mm round (half 496 mm)", or the length alone. */
export function roundWords({ length, isHalved }: FinishedMeasure, say: Words): string {
  const whole = say.uncertain(length.valueMm, length.sigmaMm);
  return isHalved ? `${whole} round (half ${say.length(length.valueMm / 2)})` : whole;
}

/** Why a measure could not be taken, as the end of a sentence. */
export function problemWords(problem: FitProblem): string {
  switch (problem.kind) {
    case 'no-piece':
      return 'no piece of that part was traced in this size';
    case 'one-half':
      return `the ${problem.missing} was not traced, or does not say in its name or kind that it is the ${problem.missing}`;
    case 'no-edge':
      return `no edge of "${problem.piece.name}" is named "${problem.edge}"`;
    case 'ends-above':
      return `the side of "${problem.piece.name}" ends above that level`;
    case 'no-direction':
      return `"${problem.piece.name}" has neither a fold nor a grainline nor a centre edge that says which way it hangs`;
    case 'no-width':
      return `"${problem.piece.name}" has no width at that level`;
    case 'open-end':
      return `no seam says what continues at the edge "${problem.edge}" of "${problem.piece.name}"`;
  }
}
