// From a joint estimate back to each photo: its part in the table frame that it had on its own.
import { tableMm } from '../../base/points.ts';
import { type Affine, invert } from '../../geometry/transform.ts';
import { BODY } from './bodyLayout.ts';
import type { Camera } from './cameraModel.ts';
import { CAMERA_STEP_COUNT } from './cameraSteps.ts';
import { bowOverPaperMm } from './cardScreening.ts';
import { inFrame, inFrameCovariance } from './jointFrames.ts';
import type { JointReadings } from './jointLength.ts';
import { jointBodyAt } from './jointProblem.ts';
import { errorModes, FLAT_PAPER } from './lengthUncertainty.ts';
import type { PlaneEvidence, SoloShot } from './planeEvidence.ts';
import type { PlacedCard, PlaneSolution } from './planeSolution.ts';
import type { JointFit } from './solveJoint.ts';
import { liesAt, onBody, type TableBody } from './tableBodies.ts';

/** One photo's part of the joint estimate, in the table frame that the photo had on its own. */
export function ownSolution(
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
