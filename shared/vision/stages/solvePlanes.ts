// Stage: from photos that were each solved on their own to groups that show one table, solved together. Decides which photos
// belong together (plane/linkShots.ts) and which lens they share; a group that does not fit together is left as single photos.
import { type PhotoPointPx, type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { rigidFit } from '../../geometry/rigidFit.ts';
import { type Affine, compose, identity, invert } from '../../geometry/transform.ts';
import type { FoundCard } from '../cards/foundCard.ts';
import { BODY } from '../plane/bodyLayout.ts';
import { type Camera, tableFromPhotoVia } from '../plane/cameraModel.ts';
import { CAMERA_STEP, CAMERA_STEP_COUNT } from '../plane/cameraSteps.ts';
import { type CardBody, cutCard, uncutCards } from '../plane/cardBodies.ts';
import { bowOverPaperMm } from '../plane/cardScreening.ts';
import { inFrame, inFrameCovariance } from '../plane/jointFrames.ts';
import type { JointReadings } from '../plane/jointLength.ts';
import {
  type BodyPoint,
  type JointModel,
  type JointShot,
  type JointView,
  jointBodyAt,
  jointCameraAt,
  jointCount,
  type TapedBodies,
} from '../plane/jointProblem.ts';
import { errorModes, FLAT_PAPER } from '../plane/lengthUncertainty.ts';
import { type Link, type LinkShot, linkOf } from '../plane/linkShots.ts';
import { profileKey, WANDER_SIGMA } from '../plane/phoneProfile.ts';
import { type LensPrior, outermostRadius } from '../plane/planeProblem.ts';
import type { PlacedCard, PlaneSolution } from '../plane/planeSolution.ts';
import { cornerSigmaFloorPx, type LensHypothesis, lensPrior } from '../plane/priors.ts';
import { COVERAGE_INFLATION } from '../plane/readings.ts';
import { type JointFit, solveJoint, withNoiseOf } from '../plane/solveJoint.ts';
import type { PlaneEvidence, TapedEnd, TapedInput } from './solvePlane.ts';

/** One photo, solved on its own. */
export interface SoloShot {
  readonly solution: PlaneSolution;
  readonly evidence: PlaneEvidence;
  /** Stretches of outline measured in it, its own table frame: they prove that a single shared card was not moved. */
  readonly outlines: readonly (readonly TablePointMm[])[];
}

/** Photos of one table, solved together. */
export interface JoinedShots {
  /** Index of each photo among those given, rising. */
  readonly members: readonly number[];
  /** The better solution of each photo, in the table frame that it had on its own. */
  readonly solutions: readonly PlaneSolution[];
  /** From each photo's own table frame to the frame of `readings`. */
  readonly groupFromOwn: readonly Affine[];
  readonly readings: JointReadings;
}

export interface SolvedPlanes {
  readonly groups: readonly JoinedShots[];
  /** Pairs of photos that share cards and were still not joined. */
  readonly apart: readonly { readonly a: number; readonly b: number; readonly why: 'moved' | 'unproven' }[];
}

const JOINING = {
  /** Chi-square by which a photo may fit worse together than alone: 13 at most on simulated panels, 40 for a card moved by 2 mm. */
  movedChiSquare: 25,
  /**
   * Corner noise is not taken for smaller than this there: in a clean photo the last hundredths of a pixel are what lens and
   * paper leave over, which changes with the view, and no card needs to have moved. Real corners scatter by as much or more.
   */
  leastSigmaPx: 0.07,
  /** A lens reading with less weight than this adds nothing that a sigma could show. */
  smallestWeight: 0.01,
  /** Tilts closer than this are one reading: the same as for single photos. */
  sameTiltRad: 0.03,
} as const;

/** Groups the photos and solves each group; photos that belong to no group keep their own solution. */
export function solvePlanes(shots: readonly SoloShot[]): SolvedPlanes {
  const linkable = shots.map(linkShotOf);
  const apart: { a: number; b: number; why: 'moved' | 'unproven' }[] = [];
  const links = new Map<string, Link>();
  for (let a = 0; a < shots.length; a++)
    for (let b = a + 1; b < shots.length; b++) {
      const link = linkOf(linkable[a]!, linkable[b]!);
      links.set(`${a}-${b}`, link);
      if (link.kind === 'moved' || link.kind === 'unproven') apart.push({ a, b, why: link.kind });
    }
  const groups: JoinedShots[] = [];
  for (const placed of connected(shots.length, links)) {
    if (placed.length < 2) continue;
    const joined = joinedShots(shots, placed);
    if (joined !== null) groups.push(joined);
    else for (let k = 1; k < placed.length; k++) apart.push({ a: placed[0]!.shot, b: placed[k]!.shot, why: 'moved' });
  }
  return { groups, apart };
}

/** A photo with its rough place in the frame of its group's first photo. */
interface PlacedShot {
  readonly shot: number;
  readonly groupFromOwn: Affine;
}

function connected(count: number, links: ReadonlyMap<string, Link>): PlacedShot[][] {
  const taken = new Set<number>();
  const groups: PlacedShot[][] = [];
  for (let first = 0; first < count; first++) {
    if (taken.has(first)) continue;
    taken.add(first);
    const group: PlacedShot[] = [{ shot: first, groupFromOwn: identity }];
    for (let k = 0; k < group.length; k++) {
      const { shot, groupFromOwn } = group[k]!;
      for (let other = 0; other < count; other++) {
        if (taken.has(other)) continue;
        const link = links.get(shot < other ? `${shot}-${other}` : `${other}-${shot}`);
        if (link?.kind !== 'joined') continue;
        taken.add(other);
        const ownFromOther = shot < other ? link.aFromB : invert(link.aFromB);
        group.push({ shot: other, groupFromOwn: compose(groupFromOwn, ownFromOther) });
      }
    }
    groups.push(group.toSorted((a, b) => a.shot - b.shot));
  }
  return groups;
}

function linkShotOf({ solution, evidence, outlines }: SoloShot): LinkShot {
  const cards = evidence.bodies.flatMap((body) => body.cards);
  const corners = new Map<string, ReadonlyMap<string, PhotoPointPx>>();
  for (const card of cards) {
    if (cards.filter(({ id }) => id === card.id).length > 1) continue; // one number twice names no card
    corners.set(card.id, new Map(card.corners.map(({ cardMm, photo }) => [cardMm.join(' '), photo])));
  }
  return { solution, corners, outlines };
}

/** A card (or an uncut page) of the table and the photos that show it. */
interface TableBody {
  readonly reference: CardBody;
  readonly uncut: boolean;
  readonly bowSigmaMm: number;
  readonly liftSigmaMm: number;
  /** Cards seen, by photo of the group. */
  readonly seen: readonly { readonly member: number; readonly cards: readonly FoundCard[] }[];
}

function joinedShots(shots: readonly SoloShot[], placed: readonly PlacedShot[]): JoinedShots | null {
  const solos = placed.map(({ shot }) => shots[shot]!);
  const bodies = tableBodies(solos);
  const chosen = chosenFit(solos, placed, bodies);
  if (chosen === null) return null;
  const { best, rivals } = chosen;
  if (solos.some((solo, member) => fitsWorse(solo, member, best))) return null;
  const cardCount = bodies.reduce((sum, body) => sum + body.reference.cards.length, 0);
  const inflation = cardCount === 1 ? COVERAGE_INFLATION.oneCard : COVERAGE_INFLATION.moreCards;
  const inflated = (fit: JointFit): number[][] =>
    fit.covariance.map((row) => row.map((value) => value * inflation * inflation));
  const readings: JointReadings = {
    cameras: best.cameras,
    covariance: inflated(best),
    rivals: rivals.map(({ fit, weight }) => ({ cameras: fit.cameras, covariance: inflated(fit), weight })),
  };
  const groupFromOwn = solos.map(({ solution, evidence }, member) => {
    const seen = evidence.bodies.flatMap(({ cards }) => cards.flatMap((card) => card.corners.map((c) => c.photo)));
    return rigidFit(
      seen.map((photo) => tableFromPhotoVia(solution.camera, photo, 0)),
      seen.map((photo) => tableFromPhotoVia(best.cameras[member]!, photo, 0)),
    );
  });
  return {
    members: placed.map(({ shot }) => shot),
    groupFromOwn,
    readings,
    solutions: solos.map((solo, member) => ownSolution(solo, member, groupFromOwn[member]!, readings, best, bodies)),
  };
}

/** Whether a photo's corners fit so much worse together than alone that a card must have been moved. */
function fitsWorse({ solution }: SoloShot, member: number, { model, viewResidualPx }: JointFit): boolean {
  const squares = (parts: readonly (readonly [residualPx: number, corners: number])[]): number =>
    parts.reduce((sum, [residualPx, corners]) => sum + corners * residualPx ** 2, 0);
  const alone = squares(solution.cards.map((card) => [card.residualPx, card.cornersUsed]));
  const together = squares(
    model.views.flatMap((view, i) =>
      view.shot === member ? [[viewResidualPx[i]!, view.pointsMm.length / 2] as const] : [],
    ),
  );
  const sigmaPx = Math.max(solution.cornerSigmaPx, JOINING.leastSigmaPx);
  return (together - alone) / sigmaPx ** 2 > JOINING.movedChiSquare;
}

/** Every body of the group once: the same card in two photos is one. */
function tableBodies(solos: readonly SoloShot[]): TableBody[] {
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
function onBody(
  { reference, uncut }: TableBody,
  { onPageMm }: FoundCard,
  cardMm: Point,
  evidence: PlaneEvidence,
): Point {
  const { xRatio, yRatio } = evidence.scale;
  const [x, y] = uncut ? [onPageMm[0] + cardMm[0], onPageMm[1] + cardMm[1]] : cardMm;
  return [x * xRatio - reference.middleMm[0], y * yRatio - reference.middleMm[1]];
}

interface Chosen {
  readonly best: JointFit;
  readonly rivals: readonly { readonly fit: JointFit; readonly weight: number }[];
}

/** The photos share one kind of lens: each kind is tried for all of them, and the other tilts of single photos with it. */
function chosenFit(
  solos: readonly SoloShot[],
  placed: readonly PlacedShot[],
  bodies: readonly TableBody[],
): Chosen | null {
  const tries = Math.max(...solos.map(({ evidence }) => evidence.lenses.length));
  let model: JointModel | null = null;
  const fits: JointFit[] = [];
  for (let k = 0; k < tries; k++) {
    const lenses = solos.map(({ evidence }) => evidence.lenses[Math.min(k, evidence.lenses.length - 1)]!);
    const start = startOf(solos, placed, bodies, lenses);
    const noisy: JointModel =
      model === null
        ? start.model
        : {
            ...start.model,
            shots: start.model.shots.map((s, i) => ({ ...s, cornerSigmaPx: model!.shots[i]!.cornerSigmaPx })),
          };
    let fit = solveJoint(noisy, start.full);
    if (model === null) {
      fit = withOtherTilts(fit, solos, placed);
      const floors = solos.map(({ evidence }) => cornerSigmaFloorPx(evidence.frame, evidence.lenses));
      model = withNoiseOf(fit, floors);
      fit = solveJoint(model, fit.full);
    }
    if (Number.isFinite(fit.lnEvidence)) fits.push(fit);
  }
  fits.sort((a, b) => b.lnEvidence - a.lnEvidence);
  const [best] = fits;
  if (best === undefined) return null;
  const ratios = fits.map((fit) => Math.exp(fit.lnEvidence - best.lnEvidence));
  const total = ratios.reduce((sum, ratio) => sum + ratio, 0);
  const rivals = fits
    .map((fit, i) => ({ fit, weight: ratios[i]! / total }))
    .slice(1)
    .filter(({ weight }) => weight >= JOINING.smallestWeight);
  return { best, rivals };
}

/** A photo that alone could not tell which way it was tilted may have started on the wrong side. */
function withOtherTilts(fit: JointFit, solos: readonly SoloShot[], placed: readonly PlacedShot[]): JointFit {
  let best = fit;
  solos.forEach(({ solution }, member) => {
    for (const { camera } of solution.rivals) {
      const turned = Math.hypot(
        camera.rotation[2]! - solution.camera.rotation[2]!,
        camera.rotation[5]! - solution.camera.rotation[5]!,
      );
      if (turned < JOINING.sameTiltRad) continue;
      const { model } = best;
      const other = inFrame(camera, invert(placed[member]!.groupFromOwn));
      const shots = model.shots.map((shot, i) =>
        i === member ? { ...shot, base: { ...shot.base, rotation: other.rotation } } : shot,
      );
      const full = Float64Array.from(best.full);
      const at = jointCameraAt(model, member);
      full.fill(0, at, at + CAMERA_STEP_COUNT);
      for (let k = 0; k < 3; k++)
        full[at + CAMERA_STEP.shift + k] = other.translationMm[k]! - shots[member]!.base.translationMm[k]!;
      full.set(best.full.subarray(at + CAMERA_STEP.logFocal, at + CAMERA_STEP_COUNT), at + CAMERA_STEP.logFocal);
      const tried = solveJoint({ ...model, shots }, full);
      if (tried.lnEvidence > best.lnEvidence) best = tried;
    }
  });
  return best;
}

function startOf(
  solos: readonly SoloShot[],
  placed: readonly PlacedShot[],
  bodies: readonly TableBody[],
  lenses: readonly LensHypothesis[],
): { model: JointModel; full: Float64Array } {
  const views: JointView[] = bodies.flatMap((body, index) =>
    body.seen.map(({ member, cards }): JointView => {
      const { evidence } = solos[member]!;
      const points = cards.flatMap((card) => card.corners.map((c) => onBody(body, card, c.cardMm, evidence)));
      const seen = cards.flatMap((card) => card.corners.map((c) => c.photo));
      return {
        shot: member,
        body: index,
        pointsMm: Float64Array.from(points.flat()),
        seenPx: Float64Array.from(seen.flatMap((p) => [p[0], p[1]])),
      };
    }),
  );
  const starts = solos.map(({ solution }, member) => inFrame(solution.camera, invert(placed[member]!.groupFromOwn)));
  const shots = solos.map(({ evidence, solution }, member): JointShot => {
    const { frame, focalRatio, priors } = evidence;
    const hypothesis = lenses[member]!;
    const own = lensPrior(priors, hypothesis);
    const tiedTo = twinOf(solos, lenses, member);
    const base: Camera = {
      ...starts[member]!,
      widthPx: frame.widthPx,
      heightPx: frame.heightPx,
      lens: hypothesis.lens,
      focalRatio,
      lensTerms: [0, 0],
      principalRatio: [0, 0],
    };
    const mine = views.filter(({ shot }) => shot === member);
    return {
      base,
      lens: tiedTo === null ? own : tiedPrior(own),
      tiedTo,
      cornerSigmaPx: solution.cornerSigmaPx,
      usedRadius: outermostRadius(base, mine),
      taped: evidence.taped.flatMap(({ from, to, lengthMm, sigmaMm }) =>
        'photo' in from && 'photo' in to ? [{ from: from.photo, to: to.photo, lengthMm, sigmaMm }] : [],
      ),
    };
  });
  const model: JointModel = {
    bodies: bodies.map(({ reference, bowSigmaMm, liftSigmaMm }) => ({ ...reference.body, bowSigmaMm, liftSigmaMm })),
    shots,
    views,
    taped: tapedBodies(solos, bodies),
    principalSigmaRatio: solos[0]!.evidence.priors.principalSigmaRatio,
    printSigmaRatio: Math.max(...solos.map(({ evidence }) => evidence.priors.printSigmaRatio)),
  };
  const full = new Float64Array(jointCount(model));
  bodies.forEach((body, index) => {
    full.set(startPlace(solos, placed, body), jointBodyAt(index));
  });
  starts.forEach((camera, member) => {
    const at = jointCameraAt(model, member);
    const { base } = shots[member]!;
    full[at + CAMERA_STEP.logFocal] = Math.log(camera.focalRatio / base.focalRatio);
    if (camera.lens === base.lens) full.set(camera.lensTerms, at + CAMERA_STEP.lens);
    full.set(camera.principalRatio, at + CAMERA_STEP.principal);
  });
  return { model, full };
}

/** The first photo taken by the same phone at the same setting and size; null for the first itself. */
function twinOf(solos: readonly SoloShot[], lenses: readonly LensHypothesis[], member: number): number | null {
  const { frame } = solos[member]!.evidence;
  const key = profileKey(frame.metadata);
  if (key === null) return null;
  const twin = solos.findIndex(({ evidence: { frame: other } }, i) => {
    const sameSize =
      (other.widthPx === frame.widthPx && other.heightPx === frame.heightPx) ||
      (other.widthPx === frame.heightPx && other.heightPx === frame.widthPx);
    return profileKey(other.metadata) === key && sameSize && lenses[i]!.lens === lenses[member]!.lens;
  });
  return twin >= 0 && twin < member ? twin : null;
}

/** Two photos of one phone: both wander, so their difference wanders by the root of two. */
function tiedPrior(own: LensPrior): LensPrior {
  const variance = (k: number): number => (own.covariance[k]![k]! > 0 ? 2 * WANDER_SIGMA[k]! ** 2 : 0);
  return {
    mean: [0, 0, 0],
    covariance: [
      [variance(0), 0, 0],
      [0, variance(1), 0],
      [0, 0, variance(2)],
    ],
  };
}

/** Tapes between cards, each once: the same tape is known to every photo, and no photo need show both of its ends. */
function tapedBodies(solos: readonly SoloShot[], bodies: readonly TableBody[]): TapedBodies[] {
  const inputs = new Map<string, TapedInput>();
  for (const { evidence } of solos) for (const tape of evidence.taped) inputs.set(JSON.stringify(tape), tape);
  const endOf = (end: TapedEnd): BodyPoint | null => {
    if ('photo' in end) return null;
    for (let body = 0; body < bodies.length; body++) {
      const card = bodies[body]!.reference.cards.find(({ id }) => id === end.cardId);
      if (card === undefined) continue;
      const [xMm, yMm] = onBody(bodies[body]!, card, end.cardMm, solos[0]!.evidence);
      return { body, xMm, yMm };
    }
    return null;
  };
  // A tape that one photo could judge and did not believe is in no evidence of that photo.
  const believed = [...inputs.entries()].filter(([key]) =>
    solos.every(({ evidence }) => evidence.taped.some((tape) => JSON.stringify(tape) === key)),
  );
  return believed.flatMap(([, { from, to, lengthMm, sigmaMm }]) => {
    const [a, b] = [endOf(from), endOf(to)];
    return a === null || b === null || a.body === b.body ? [] : [{ from: a, to: b, lengthMm, sigmaMm }];
  });
}

/** Turn, x and y of a body as the first photo that shows it saw it, in the group's frame. */
function startPlace(solos: readonly SoloShot[], placed: readonly PlacedShot[], body: TableBody): readonly number[] {
  const { member, cards } = body.seen[0]!;
  const card = cards[0]!;
  const { solution, evidence } = solos[member]!;
  const own = solution.cards.find(({ id, originMm }) => id === card.id && liesAt(originMm, solution, card))!;
  const [a, b, c, d, e, f] = placed[member]!.groupFromOwn;
  const turn = own.turnRad + Math.atan2(b, a);
  const [x, y] = [a * own.originMm[0] + c * own.originMm[1] + e, b * own.originMm[0] + d * own.originMm[1] + f];
  const [px, py] = onBody(body, card, [0, 0], evidence);
  return [turn, x - Math.cos(turn) * px + Math.sin(turn) * py, y - Math.sin(turn) * px - Math.cos(turn) * py];
}

/** Whether a placed card is this one and not another with the same number. */
function liesAt(originMm: TablePointMm, solution: PlaneSolution, card: FoundCard): boolean {
  const twins = solution.cards.filter(({ id }) => id === card.id);
  if (twins.length === 1) return true;
  const at = tableFromPhotoVia(solution.camera, card.corners[0]!.photo, 0);
  const away = (p: TablePointMm): number => Math.hypot(p[0] - at[0], p[1] - at[1]);
  return twins.every((twin) => away(twin.originMm) >= away(originMm));
}

/** One photo's part of the joint estimate, in the table frame that the photo had on its own. */
function ownSolution(
  { solution, evidence }: SoloShot,
  member: number,
  groupFromOwn: Affine,
  readings: JointReadings,
  fit: JointFit,
  bodies: readonly TableBody[],
): PlaneSolution {
  const at = CAMERA_STEP_COUNT * member;
  const part = (matrix: readonly (readonly number[])[]): number[][] =>
    matrix.slice(at, at + CAMERA_STEP_COUNT).map((row) => row.slice(at, at + CAMERA_STEP_COUNT));
  const mine = (camera: Camera, matrix: readonly (readonly number[])[]) => ({
    camera: inFrame(camera, groupFromOwn),
    covariance: inFrameCovariance(part(matrix), camera, groupFromOwn),
  });
  const own = mine(readings.cameras[member]!, readings.covariance);
  const rivals = readings.rivals.map(({ cameras, covariance, weight }) => ({
    ...mine(cameras[member]!, covariance),
    weight,
  }));
  const better = { ...own, rivals };
  return {
    ...solution,
    ...better,
    cards: placedCards(solution, evidence, member, groupFromOwn, fit, bodies),
    cornerSigmaPx: fit.model.shots[member]!.cornerSigmaPx,
    tiltDeg: (Math.acos(Math.min(1, Math.abs(own.camera.rotation[8]!))) * 180) / Math.PI,
    scaleSigmaRatio: errorModes(better, FLAT_PAPER).scaleSigmaRatio,
    warnings: solution.warnings.filter(({ code }) => !SETTLED_BY_JOINING.includes(code)),
  };
}

/** What was doubtful in a single photo and is not when others help. */
const SETTLED_BY_JOINING: readonly string[] = ['one-card-rough', 'tilt-unclear'];

function placedCards(
  solution: PlaneSolution,
  evidence: PlaneEvidence,
  member: number,
  groupFromOwn: Affine,
  fit: JointFit,
  bodies: readonly TableBody[],
): PlacedCard[] {
  const [a, b, c, d, e, f] = invert(groupFromOwn);
  return bodies.flatMap((body, index) => {
    const seen = body.seen.find((view) => view.member === member);
    if (seen === undefined) return [];
    const numbers = fit.full.slice(jointBodyAt(index), jointBodyAt(index + 1));
    const view = fit.model.views.findIndex((v) => v.shot === member && v.body === index);
    const turn = numbers[BODY.turn]!;
    const bowMm = bowOverPaperMm(body.reference.body, numbers.slice(BODY.bow));
    return seen.cards.map((card): PlacedCard => {
      const [px, py] = onBody(body, card, [0, 0], evidence);
      const x = numbers[BODY.x]! + Math.cos(turn) * px - Math.sin(turn) * py;
      const y = numbers[BODY.y]! + Math.sin(turn) * px + Math.cos(turn) * py;
      const own = solution.cards.find(({ id, originMm }) => id === card.id && liesAt(originMm, solution, card))!;
      return {
        ...own,
        turnRad: turn + Math.atan2(b, a),
        originMm: tableMm(a * x + c * y + e, b * x + d * y + f),
        liftMm: numbers[BODY.lift]!,
        bowMm,
        residualPx: fit.viewResidualPx[view]!,
        uncut: body.uncut,
      };
    });
  });
}
