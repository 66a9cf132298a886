// Stage: from photos that were each solved on their own to groups that show one table, solved together. Decides which photos
// belong together (plane/linkShots.ts) and which lens they share; a group that does not fit together is left as single photos.
import type { PhotoPointPx } from '../../base/points.ts';
import { rigidFit } from '../../geometry/rigidFit.ts';
import { type Affine, compose, identity, invert } from '../../geometry/transform.ts';
import { tableFromPhotoVia } from '../plane/cameraModel.ts';
import { CAMERA_STEP, CAMERA_STEP_COUNT } from '../plane/cameraSteps.ts';
import { inFrame } from '../plane/jointFrames.ts';
import type { JointReadings } from '../plane/jointLength.ts';
import { type JointModel, jointCameraAt } from '../plane/jointProblem.ts';
import { startOf } from '../plane/jointStart.ts';
import { type Link, type LinkShot, linkOf } from '../plane/linkShots.ts';
import { ownSolution } from '../plane/ownSolution.ts';
import type { PlacedShot, SoloShot } from '../plane/planeEvidence.ts';
import type { PlaneSolution } from '../plane/planeSolution.ts';
import { cornerSigmaFloorPx } from '../plane/priors.ts';
import { COVERAGE_INFLATION } from '../plane/readings.ts';
import { type JointFit, solveJoint, withNoiseOf } from '../plane/solveJoint.ts';
import { type TableBody, tableBodies } from '../plane/tableBodies.ts';

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
