import { invert } from '../../geometry/transform.ts';
import type { Camera } from './cameraModel.ts';
import { CAMERA_STEP } from './cameraSteps.ts';
import { inFrame } from './jointFrames.ts';
import {
  type BodyPoint,
  type JointModel,
  type JointShot,
  type JointView,
  jointBodyAt,
  jointCameraAt,
  jointCount,
  type TapedBodies,
} from './jointProblem.ts';
import { profileKey, WANDER_SIGMA } from './phoneProfile.ts';
import type { PlacedShot, SoloShot, TapedEnd, TapedInput } from './planeEvidence.ts';
import { type LensPrior, outermostRadius } from './planeProblem.ts';
import { type LensHypothesis, lensPrior } from './priors.ts';
import { liesAt, onBody, type TableBody } from './tableBodies.ts';

export function startOf(
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
