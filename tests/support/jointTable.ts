// One table photographed several times, as pure geometry: cards and a piece whose truth is known, and what reading each photo
// would have given. The piece's outline stops where the photo does.
import { type Point, photoPx, type TablePointMm } from '../../shared/base/points.ts';
import { distance } from '../../shared/geometry/vector.ts';
import type { CapturedPhoto, SeenOutline } from '../../shared/usecases/captured.ts';
import { pieceFromOutline } from '../../shared/usecases/pieceFromOutline.ts';
import type { Camera } from '../../shared/vision/plane/cameraModel.ts';
import { photoQuality } from '../../shared/vision/plane/photoQuality.ts';
import { tableFromPhoto } from '../../shared/vision/plane/planeSolution.ts';
import { type SolvePlaneOptions, solvePlane } from '../../shared/vision/stages/solvePlane.ts';
import type { TracedMark } from '../../shared/vision/traced.ts';
import {
  type CameraSetup,
  cameraOf,
  type LaidCard,
  NO_ERRORS,
  photoOf,
  type Random,
  type SceneErrors,
  seeCards,
} from './planeScene.ts';

export interface TableShot {
  readonly file: string;
  /** The table point in the middle of the picture. */
  readonly aimMm: Point;
  readonly camera: CameraSetup;
  readonly cards: readonly LaidCard[];
}

export interface TablePiece {
  /** Closed, clockwise, at most a millimetre apart. */
  readonly outline: readonly Point[];
  /** Places of single notches on it. */
  readonly notches: readonly Point[];
}

export const CHECKED: SolvePlaneOptions = {
  printScale: { xRatio: 1, yRatio: 1, checked: true },
  phoneProfile: null,
  tapedDistances: [],
};

/** What an ordinary photo does to its corners. */
const ORDINARY: SceneErrors = { ...NO_ERRORS, cornerSigmaPx: 0.15 };
const OUTLINE_SIGMA_PX = 0.1;
/** The outline is given up so near to the rim of the photo. */
const RIM_PX = 45;
const RIM_STEP_MM = 1;

export function readShot(
  shot: TableShot,
  pieces: readonly TablePiece[],
  random: Random,
  options: SolvePlaneOptions = CHECKED,
  errors: SceneErrors = ORDINARY,
): CapturedPhoto {
  const camera = cameraOf(shot.camera);
  const near = ([x, y]: Point): Point => [x - shot.aimMm[0], y - shot.aimMm[1]];
  const cards = shot.cards.map((card) => ({ ...card, atMm: near(card.atMm) }));
  const found = seeCards(camera, cards, errors, random);
  const metadata = { make: 'Sparrow', model: 'One', focal35Mm: Math.round(shot.camera.focal35Mm) };
  const frame = { widthPx: camera.widthPx, heightPx: camera.heightPx, metadata };
  const solved = solvePlane(frame, found, options);
  if (!solved.ok) throw new Error(solved.error.sentence);
  const { solution, evidence, learntProfile } = solved.value;
  const read = (point: Point): TablePointMm => {
    const [x, y] = photoOf(camera, ...near(point));
    const noisy = photoPx(x + OUTLINE_SIGMA_PX * random.normal(), y + OUTLINE_SIGMA_PX * random.normal());
    return tableFromPhoto(solution, noisy);
  };
  const sees = (point: Point): boolean => isInside(camera, photoOf(camera, ...near(point)));
  const outlines = pieces.flatMap((piece) => seenOutline(piece, sees, read, OUTLINE_SIGMA_PX * solution.mmPerPixel));
  const whole = outlines.filter(({ atRim }) => atRim.length === 0);
  return {
    file: shot.file,
    plane: solution,
    evidence,
    quality: photoQuality(solution, true),
    pieces: whole.map((outline, i) =>
      pieceFromOutline(outline, {
        id: `p${i + 1}`,
        photos: [shot.file],
        scaleSigmaRatio: solution.scaleSigmaRatio,
        planeSigmaMm: () => 0,
        marks: () => outline.marks,
      }),
    ),
    outlines: [...whole, ...outlines.filter(({ atRim }) => atRim.length > 0)],
    tapedUnseen: [],
    warnings: solution.warnings,
    learned: learntProfile,
  };
}

function isInside({ widthPx, heightPx }: Camera, [x, y]: Point): boolean {
  return x > RIM_PX && y > RIM_PX && x < widthPx - RIM_PX && y < heightPx - RIM_PX;
}

/** What is seen of the piece, closed along the rim; nothing when too little is. */
function seenOutline(
  { outline, notches }: TablePiece,
  sees: (point: Point) => boolean,
  read: (point: Point) => TablePointMm,
  pointSigmaMm: number,
): SeenOutline[] {
  const seen = outline.map(sees);
  if (seen.filter(Boolean).length < 50) return [];
  const points: TablePointMm[] = [];
  const atRim: number[] = [];
  const first = seen.indexOf(false);
  const order = outline.map((_, k) => (first + 1 + k) % outline.length);
  let last: Point | null = null;
  const runTo = (to: Point): void => {
    if (last === null) return;
    const steps = Math.floor(distance(last, to) / RIM_STEP_MM);
    for (let k = 1; k < steps; k++) {
      const t = k / steps;
      points.push(read([last[0] + t * (to[0] - last[0]), last[1] + t * (to[1] - last[1])]));
      atRim.push(1);
    }
  };
  order.forEach((index, k) => {
    if (!seen[index]) return;
    const point = outline[index]!;
    if (k > 0 && !seen[order[k - 1]!]) runTo(point);
    points.push(read(point));
    atRim.push(0);
    last = point;
  });
  const start = order.find((index) => seen[index])!;
  if (first >= 0) runTo(outline[start]!);
  const marks = notches
    .filter(sees)
    .map((at): TracedMark => ({ kind: 'notch', at: read(at), count: 1, shape: 'snip', confidence: 1 }));
  const whole = first < 0;
  return [{ line: 'paper-edge', points, atRim: Uint8Array.from(whole ? [] : atRim), unsure: [], pointSigmaMm, marks }];
}
