// Stage: from the cards found in one photo to the plane of the table, with everything it could not know in its covariance.
// Decides what to believe (which cards, cut or uncut, which lens, which tilt, profile or not, taped distance or not) and
// says so in warnings; the estimate itself is plane/solveCore.ts.
import { type PhotoPointPx, photoPx, tableMm } from '../../base/points.ts';
import { ok, type Result, type Warning } from '../../base/result.ts';
import type { FoundCard } from '../cards/foundCard.ts';
import { BODY } from '../plane/bodyLayout.ts';
import { type Camera, DIAGONAL_35MM, tableFromPhotoVia } from '../plane/cameraModel.ts';
import { type CardBody, cutCard, type PrintScale, photoFromCard, sortCards, uncutCards } from '../plane/cardBodies.ts';
import {
  bowOverPaperMm,
  isPrintDoubtful,
  observedBowMm,
  observedPrintAspect,
  SCREENING,
  scaleDisagreements,
} from '../plane/cardScreening.ts';
import { type ChosenReading, chooseReading } from '../plane/chooseReading.ts';
import { errorModes, FLAT_PAPER, lengthUncertainty } from '../plane/lengthUncertainty.ts';
import { disagrees, learnProfile, type PhoneProfile, profileKey, profilePrior } from '../plane/phoneProfile.ts';
import type { PhotoFrame, PlaneEvidence, SeenBody, TapedEnd, TapedInput } from '../plane/planeEvidence.ts';
import { planeFailure, planeWarning } from '../plane/planeMessages.ts';
import type { Body, TapedDistance } from '../plane/planeProblem.ts';
import type { PlacedCard, PlaneSolution } from '../plane/planeSolution.ts';
import {
  cornerSigmaFloorPx,
  LENS_HYPOTHESES,
  type LensHypothesis,
  type PhotoPriors,
  PLANE_PRIORS,
} from '../plane/priors.ts';
import { COVERAGE_INFLATION, readingsOf } from '../plane/readings.ts';
import { bodyNumbers, type CoreFit, type CoreInput, isOtherTilt, refitCore } from '../plane/solveCore.ts';
import { uncutGroups } from '../plane/uncutPages.ts';

export interface SolvePlaneOptions {
  /** From the measured check rulers; null when nobody measured them. */
  readonly printScale: PrintScale | null;
  readonly phoneProfile: PhoneProfile | null;
  readonly tapedDistances: readonly TapedInput[];
}

export interface SolvedPlane {
  readonly solution: PlaneSolution;
  readonly evidence: PlaneEvidence;
  /** Taped distances, by place in the options, that this photo cannot judge because a card of theirs is not in it. */
  readonly tapedUnseen: readonly number[];
  /** What the photo by itself taught about the phone's lens; null when it knows too little. */
  readonly learntProfile: PhoneProfile | null;
}

const LIMITS = {
  /** A print farther from true size than this was not printed at 100 %, or the ruler was misread. */
  printScaleImplausible: 0.05,
  /** Printers at 100 % stay within half a percent (users' reports); beyond this the ruler was probably misread. */
  printScaleUnusual: 0.006,
  /** Lenses wider than this, 35 mm equivalent, are rarely corrected in the camera. */
  uncorrectedBelow35Mm: 20,
  /** A card whose corners lie this many pixels off does not lie flat, not even bent. */
  unsteadyPx: 1,
  /** A bent card is believed this much less. */
  bentDistrust: 4,
  /** Another tilt with more weight than this is worth a word. */
  tiltRivalWeight: 0.05,
  /** A taped distance farther off than this is not believed. */
  tapedSigmas: 4,
} as const;

/**
 * Solves the table plane of one photo.
 * @param frame size and camera data of the photo, upright
 * @param cards what findCards saw, any number, any place
 * @returns a failure with one sentence when there is no usable card or nothing fits
 */
export function solvePlane(
  frame: PhotoFrame,
  cards: readonly FoundCard[],
  options: SolvePlaneOptions,
): Result<SolvedPlane> {
  const warnings: Warning[] = [];
  const scale: PrintScale = options.printScale ?? { xRatio: 1, yRatio: 1, checked: false };
  const farthest = Math.max(Math.abs(scale.xRatio - 1), Math.abs(scale.yRatio - 1));
  if (!(farthest <= LIMITS.printScaleImplausible)) return planeFailure.printScale(scale.xRatio, scale.yRatio);
  if (farthest > LIMITS.printScaleUnusual) warnings.push(planeWarning.printScaleUnusual(scale.xRatio, scale.yRatio));
  if (!scale.checked) warnings.push(planeWarning.printUnchecked());

  const sorted = sortCards(cards);
  const idsOf = (list: readonly FoundCard[]): string[] => list.map(({ id }) => id);
  if (sorted.usable.length === 0) {
    if (sorted.mirrored.length > 0) return planeFailure.onlyMirrored(idsOf(sorted.mirrored));
    if (sorted.degenerate.length > 0) return planeFailure.degenerate(idsOf(sorted.degenerate));
    return planeFailure.noCard();
  }
  if (sorted.mirrored.length > 0) warnings.push(planeWarning.mirrored(idsOf(sorted.mirrored)));
  if (sorted.degenerate.length > 0) warnings.push(planeWarning.degenerate(idsOf(sorted.degenerate)));

  const job: Job = { frame, scale, priors: priorsOf(frame, scale), taped: [] };
  let state = solveBodies(
    job,
    sorted.usable.map((card) => cutCard(card, scale)),
  );
  if (state === null) return planeFailure.notSolved();
  state = withPrintAspect(state, warnings);
  state = withoutWrongScale(state, warnings);
  state = joinUncut(state);
  state = distrustBent(state, warnings);
  const taping = withTapedDistances(state, options.tapedDistances, warnings);
  state = taping.state;
  const learnt = learnFrom(state);
  state = withProfile(state, options.phoneProfile, warnings);

  const profiled = state.job.priors.profile !== null;
  if (state.bodies.length === 1 && state.bodies[0]!.cards.length === 1 && !profiled && state.job.taped.length === 0)
    warnings.push(planeWarning.oneCard());
  const best = state.chosen.best;
  if (state.chosen.rivals.some(({ fit, weight }) => weight > LIMITS.tiltRivalWeight && isOtherTilt(best, fit)))
    warnings.push(planeWarning.tiltUnclear());
  return ok({
    solution: solutionOf(state, warnings),
    evidence: evidenceOf(state, [...taping.believed, ...taping.unseen]),
    tapedUnseen: taping.unseen.map((input) => options.tapedDistances.indexOf(input)),
    learntProfile: learnt,
  });
}

interface Job {
  readonly frame: PhotoFrame;
  readonly scale: PrintScale;
  readonly priors: PhotoPriors;
  readonly taped: readonly TapedDistance[];
}

interface State {
  readonly job: Job;
  readonly bodies: readonly CardBody[];
  readonly chosen: ChosenReading;
}

function priorsOf(frame: PhotoFrame, scale: PrintScale): PhotoPriors {
  return {
    profile: null,
    lnFocalSigma: lnFocalSigma(frame),
    principalSigmaRatio: PLANE_PRIORS.principalRatio,
    printSigmaRatio: scale.checked ? PLANE_PRIORS.printCheckedRatio : PLANE_PRIORS.printUncheckedRatio,
  };
}

/** EXIF speaks of the whole sensor; a picture of another shape was cut from it, by how much is not said. */
function lnFocalSigma({ widthPx, heightPx, metadata }: PhotoFrame): number {
  if (metadata.focal35Mm === undefined) return PLANE_PRIORS.lnFocalWithoutExif;
  const aspect = Math.max(widthPx, heightPx) / Math.min(widthPx, heightPx);
  const whole = SENSOR_ASPECTS.some((ratio) => Math.abs(aspect / ratio - 1) < SAME_ASPECT_RATIO);
  return whole ? PLANE_PRIORS.lnFocalWithExif : PLANE_PRIORS.lnFocalCropped;
}

/** Width by height of the sensors of phones and of larger cameras. */
const SENSOR_ASPECTS = [4 / 3, 3 / 2] as const;
const SAME_ASPECT_RATIO = 0.01;

/** A known phone needs no guessing; a very wide lens is rarely corrected. */
function hypothesesOf({ frame, priors }: Job): readonly LensHypothesis[] {
  if (priors.profile !== null) return LENS_HYPOTHESES.corrected.slice(-1);
  const { focal35Mm } = frame.metadata;
  const wide = focal35Mm !== undefined && focal35Mm < LIMITS.uncorrectedBelow35Mm;
  return LENS_HYPOTHESES[wide ? 'uncorrected' : 'corrected'];
}

function coreInput(job: Job, bodies: readonly Body[]): Omit<CoreInput, 'hypothesis'> {
  const { frame, priors, taped } = job;
  const focal35Mm = frame.metadata.focal35Mm ?? PLANE_PRIORS.focal35WithoutExifMm;
  return {
    widthPx: frame.widthPx,
    heightPx: frame.heightPx,
    focalRatio: focal35Mm / (DIAGONAL_35MM / 2),
    bodies,
    priors,
    taped,
    cornerSigmaFloorPx: cornerSigmaFloorPx(frame, hypothesesOf(job)),
  };
}

function solveBodies(job: Job, bodies: readonly CardBody[]): State | null {
  const chosen = chooseReading(coreInput(job, bodiesOf(bodies)), hypothesesOf(job));
  return chosen === null ? null : { job, bodies, chosen };
}

function bodiesOf(bodies: readonly CardBody[]): Body[] {
  return bodies.map(({ body }) => body);
}

/** A print whose two axes are not what the rulers were said to show: said, and believed no better than that. */
function withPrintAspect(state: State, warnings: Warning[]): State {
  if (!isPrintDoubtful(observedPrintAspect(state.chosen.best), SCREENING.aspectLookSigmas)) return state;
  const { priors } = state.job;
  const freed = solveBodies(
    { ...state.job, priors: { ...priors, printSigmaRatio: LIMITS.printScaleImplausible } },
    state.bodies,
  );
  if (freed === null) return state;
  const aspect = observedPrintAspect(freed.chosen.best);
  if (!isPrintDoubtful(aspect, SCREENING.aspectSigmas)) return state;
  warnings.push(planeWarning.printAspect(aspect.ratio));
  const doubtful = { ...state.job, priors: { ...priors, printSigmaRatio: Math.abs(aspect.ratio) } };
  return solveBodies(doubtful, state.bodies) ?? state;
}

/** Leaves out cards of another print scale, one at a time, as long as at least two others outvote it. */
function withoutWrongScale(start: State, warnings: Warning[]): State {
  let state = start;
  for (;;) {
    if (state.bodies.length === 1) return state; // nothing to disagree with
    const worst = scaleDisagreements(state.chosen.best)[0];
    if (worst === undefined) return state;
    const id = state.bodies[worst.bodyIndex]!.cards[0]!.id;
    if (state.bodies.length < 3) {
      warnings.push(
        planeWarning.scalesDisagree(
          state.bodies.map(({ cards }) => cards[0]!.id),
          worst.ratio,
        ),
      );
      const priors = { ...state.job.priors, printSigmaRatio: Math.abs(worst.ratio) };
      return solveBodies({ ...state.job, priors }, state.bodies) ?? state;
    }
    const rest = solveBodies(
      state.job,
      state.bodies.filter((_, i) => i !== worst.bodyIndex),
    );
    if (rest === null) return state;
    warnings.push(planeWarning.scaleDiffers(id, worst.ratio));
    state = rest;
  }
}

/** Solves cards that still hang together as one page as one body. */
function joinUncut(state: State): State {
  const groups = uncutGroups(state.bodies, state.chosen.best, state.job.scale);
  if (groups.length === state.bodies.length) return state;
  const bodies = groups.map((cards) =>
    cards.length === 1 ? cutCard(cards[0]!, state.job.scale) : uncutCards(cards, state.job.scale),
  );
  bodies.sort((a, b) => b.body.pointsMm.length - a.body.pointsMm.length);
  return solveBodies(state.job, bodies) ?? state;
}

/** Warns of cards that do not lie flat and lets their shape count for less. */
function distrustBent(state: State, warnings: Warning[]): State {
  const { best } = state.chosen;
  const bent = state.bodies.map(({ cards }, i) => {
    const bowMm = observedBowMm(best, i);
    const residualPx = best.residualPx[i]!;
    const unsteady = residualPx > LIMITS.unsteadyPx;
    if (bowMm > SCREENING.bentMm) warnings.push(planeWarning.bent(cards[0]!.id, bowMm));
    else if (unsteady) warnings.push(planeWarning.unsteady(cards[0]!.id, residualPx));
    return bowMm > SCREENING.bentMm || unsteady;
  });
  if (!bent.some(Boolean)) return state;
  const bodies = state.bodies.map((entry, i) => {
    if (!bent[i]) return entry;
    const { body } = entry;
    const bowSigmaMm = body.bowSigmaMm * LIMITS.bentDistrust;
    const liftSigmaMm = body.liftSigmaMm * LIMITS.bentDistrust;
    return { ...entry, body: { ...body, bowSigmaMm, liftSigmaMm } };
  });
  return solveBodies(state.job, bodies) ?? state;
}

interface Taping {
  readonly state: State;
  readonly believed: readonly TapedInput[];
  readonly unseen: readonly TapedInput[];
}

function withTapedDistances(state: State, inputs: readonly TapedInput[], warnings: Warning[]): Taping {
  if (inputs.length === 0) return { state, believed: [], unseen: [] };
  const cards = state.bodies.flatMap((body) => body.cards);
  const placeOf = (end: TapedEnd): PhotoPointPx | null => {
    if ('photo' in end) return end.photo;
    const card = cards.find(({ id }) => id === end.cardId);
    return card === undefined ? null : photoFromCard(card, end.cardMm);
  };
  const errors = errorModes(readingsOf(state.chosen, inflationOf(state.bodies)), FLAT_PAPER);
  const taped: TapedDistance[] = [];
  const believed: TapedInput[] = [];
  const unseen: TapedInput[] = [];
  for (const input of inputs) {
    const { lengthMm, sigmaMm } = input;
    const from = placeOf(input.from);
    const to = placeOf(input.to);
    if (from === null || to === null) {
      unseen.push(input);
      continue;
    }
    const seen = lengthUncertainty(errors, [from, to]);
    if (Math.abs(seen.lengthMm - lengthMm) > LIMITS.tapedSigmas * Math.hypot(seen.sigmaMm, sigmaMm)) {
      warnings.push(planeWarning.tapedDisagrees(lengthMm, seen.lengthMm));
      continue;
    }
    taped.push({ from, to, lengthMm, sigmaMm });
    believed.push(input);
  }
  const solved = taped.length === 0 ? state : (solveBodies({ ...state.job, taped }, state.bodies) ?? state);
  return { state: solved, believed, unseen };
}

function evidenceOf({ job, bodies, chosen }: State, taped: readonly TapedInput[]): PlaneEvidence {
  const seen = bodies.map(({ cards, body }, i): SeenBody => {
    let at = 0;
    const used = cards.map((card) => {
      const keep = chosen.best.used[i]!.slice(at, at + card.corners.length);
      at += card.corners.length;
      return { ...card, corners: card.corners.filter((_, k) => keep[k]!) };
    });
    return { cards: used, bowSigmaMm: body.bowSigmaMm, liftSigmaMm: body.liftSigmaMm };
  });
  const { focalRatio } = coreInput(job, []);
  const { frame, scale, priors } = job;
  return { frame, scale, focalRatio, priors, lenses: hypothesesOf(job), bodies: seen, taped };
}

/** Under the widest prior that a corrected lens may have, so that little but the photo speaks. */
const OWN_LENS: LensHypothesis = { lens: 'radial', lensClass: 'wavy' };

/** The radial fit without any profile: what the photo itself says about the lens. */
function ownLensFit(state: State): CoreFit {
  return refitCore({ ...coreInput(state.job, bodiesOf(state.bodies)), hypothesis: OWN_LENS }, state.chosen.best);
}

function learnFrom(state: State): PhoneProfile | null {
  const { metadata } = state.job.frame;
  return profileKey(metadata) === null ? null : learnProfile(ownLensFit(state), metadata);
}

function withProfile(state: State, profile: PhoneProfile | null, warnings: Warning[]): State {
  if (profile === null || profile.key !== profileKey(state.job.frame.metadata)) return state;
  if (disagrees(profile, ownLensFit(state))) {
    warnings.push(planeWarning.profileDisagrees());
    return state;
  }
  const priors: PhotoPriors = { ...state.job.priors, profile: profilePrior(profile) };
  return solveBodies({ ...state.job, priors }, state.bodies) ?? state;
}

function inflationOf(bodies: readonly CardBody[]): number {
  const cards = bodies.reduce((sum, { cards }) => sum + cards.length, 0);
  return cards === 1 ? COVERAGE_INFLATION.oneCard : COVERAGE_INFLATION.moreCards;
}

function solutionOf({ bodies, chosen }: State, warnings: readonly Warning[]): PlaneSolution {
  const { best } = chosen;
  const readings = readingsOf(chosen, inflationOf(bodies));
  const errors = errorModes(readings, FLAT_PAPER);
  const cards = bodies.flatMap((entry, i) => placedCards(best, entry, i));
  const middle = middleOf(bodies);
  const { rotation } = best.camera;
  return {
    ...readings,
    cards,
    cornerSigmaPx: best.cornerSigmaPx,
    mmPerPixel: mmPerPixelAt(best.camera, middle),
    tiltDeg: (Math.acos(Math.min(1, Math.abs(rotation[8]!))) * 180) / Math.PI,
    scaleSigmaRatio: errors.scaleSigmaRatio,
    warnings,
  };
}

function placedCards(fit: CoreFit, { cards, middleMm }: CardBody, index: number): PlacedCard[] {
  const numbers = bodyNumbers(fit, index);
  const turnRad = numbers[BODY.turn]!;
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  const bowMm = bowOverPaperMm(fit.model.bodies[index]!, numbers.slice(BODY.bow));
  let at = 0;
  return cards.map((card): PlacedCard => {
    const used = fit.used[index]!.slice(at, at + card.corners.length);
    const squared = fit.squaredPx[index]!.slice(at, at + card.corners.length).filter((_, k) => used[k]!);
    at += card.corners.length;
    const origin = cards.length === 1 ? [0, 0] : card.onPageMm;
    const dx = origin[0]! - middleMm[0];
    const dy = origin[1]! - middleMm[1];
    return {
      id: card.id,
      page: card.page,
      turnRad,
      originMm: tableMm(numbers[BODY.x]! + cos * dx - sin * dy, numbers[BODY.y]! + sin * dx + cos * dy),
      liftMm: numbers[BODY.lift]!,
      bowMm,
      residualPx: Math.sqrt(squared.reduce((sum, s) => sum + s, 0) / Math.max(1, squared.length)),
      cornersUsed: squared.length,
      cornersDropped: used.length - squared.length,
      uncut: cards.length > 1,
    };
  });
}

function middleOf(bodies: readonly CardBody[]): PhotoPointPx {
  let x = 0;
  let y = 0;
  for (const { body } of bodies) {
    const count = body.seenPx.length / 2;
    for (let k = 0; k < body.seenPx.length; k += 2) {
      x += body.seenPx[k]! / count / bodies.length;
      y += body.seenPx[k + 1]! / count / bodies.length;
    }
  }
  return photoPx(x, y);
}

/** Square root of the table area of one photo pixel. */
function mmPerPixelAt(camera: Camera, [x, y]: PhotoPointPx): number {
  const [left, right] = [
    tableFromPhotoVia(camera, photoPx(x - 1, y), 0),
    tableFromPhotoVia(camera, photoPx(x + 1, y), 0),
  ];
  const [up, down] = [tableFromPhotoVia(camera, photoPx(x, y - 1), 0), tableFromPhotoVia(camera, photoPx(x, y + 1), 0)];
  const area = (right[0] - left[0]) * (down[1] - up[1]) - (right[1] - left[1]) * (down[0] - up[0]);
  return Math.sqrt(Math.abs(area)) / 2;
}
