// Is the sigma of a seam length real? 400 times the same scene, its noise drawn anew: corners, outline, print, lens, bow of
// the cards. The scatter of each edge's length, through corners and curve fits, must be what is stated for it.
import { expect, it } from 'vitest';
import { type Point, photoPx } from '../../../shared/base/points.ts';
import { flattenRing } from '../../../shared/geometry/flatten.ts';
import { resamplePolyline } from '../../../shared/geometry/polygon.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import { tableFromPhotoVia } from '../../../shared/vision/plane/cameraModel.ts';
import { lengthUncertainty } from '../../../shared/vision/plane/lengthUncertainty.ts';
import { refitCore } from '../../../shared/vision/plane/solveCore.ts';
import { fitEdges } from '../../../shared/vision/stages/fitEdges.ts';
import { splitCorners } from '../../../shared/vision/stages/splitCorners.ts';
import { drawnPlane, drawnScene, errorsOf, FOUR_CARDS } from '../../support/drawnPlane.ts';
import { photoOf } from '../../support/planeScene.ts';

const REALISATIONS = 400;
const OUTLINE_NOISE_PX = 0.12;
/** Neighbouring outline points share their noise: the mean of this many independent draws, made as large as stated. */
const SHARED_POINTS = 3;
const SPACING_MM = 0.7;

/** A panel with a curved side, clockwise; 10 to 30 cm an edge. */
const RING: readonly (readonly Point[])[] = [
  [
    [-150, -100],
    [-50, -103],
    [50, -100],
    [140, -90],
  ],
  [
    [140, -90],
    [133, -30],
    [138, 35],
    [160, 90],
  ],
  [
    [160, 90],
    [60, 95],
    [-50, 100],
    [-140, 105],
  ],
  [
    [-140, 105],
    [-143, 40],
    [-147, -40],
    [-150, -100],
  ],
];

const ring = flattenRing(RING, 0.005);
const truth = resamplePolyline([...ring, ring[0]!], SPACING_MM).slice(0, -1);

interface Measured {
  readonly lengthMm: number;
  readonly sigmaMm: number;
}

/** Two cards on the diagonal: every source of error shows, and 400 solves stay quick. */
const CARDS = [FOUR_CARDS[0]!, FOUR_CARDS[3]!];
const start = drawnPlane(CARDS, 1).fit;

function measured(seed: number): Measured[] {
  const { camera, input, random } = drawnScene(CARDS, seed);
  const fit = refitCore(input, start);
  const errors = errorsOf(fit);
  const draws = truth.map(() => [random.normal(), random.normal()] as const);
  const noiseAt = (i: number, axis: 0 | 1): number => {
    let sum = 0;
    for (let k = 0; k < SHARED_POINTS; k++) sum += draws[(i + k) % draws.length]![axis];
    return (OUTLINE_NOISE_PX * sum) / Math.sqrt(SHARED_POINTS);
  };
  const photo = truth.map(([x, y], i): Point => {
    const at = photoOf(camera, x, y);
    return [at[0] + noiseAt(i, 0), at[1] + noiseAt(i, 1)];
  });
  const outline = photo.map(([x, y]) => tableFromPhotoVia(fit.camera, photoPx(x, y), 0));
  const mmPerPx =
    (fit.camera.translationMm[2] / (fit.camera.focalRatio * Math.hypot(camera.widthPx, camera.heightPx))) * 2;
  const { edges } = fitEdges(outline, splitCorners(outline), {
    pointSigmaMm: OUTLINE_NOISE_PX * mmPerPx,
    planeSigmaMm: (path) =>
      lengthUncertainty(
        errors,
        path.map(([x, y]) => photoOf(fit.camera, x, y)),
      ).sigmaMm,
  });
  // The frame is the first card's: the edge that starts at the first corner as this camera sees it.
  const [cornerX, cornerY] = RING[0]![0]!;
  const corner = tableFromPhotoVia(fit.camera, photoOf(camera, cornerX, cornerY), 0);
  const away = edges.map((edge) => distance(edge.curve[0]!, corner));
  const first = away.indexOf(Math.min(...away));
  return [...edges.slice(first), ...edges.slice(0, first)];
}

it('the lengths of 400 noise realisations scatter as their sigma says, within 15 in 100', () => {
  const all = Array.from({ length: REALISATIONS }, (_, k) => measured(1000 + k));
  // Now and then noise makes two corners of one; that is a fault of the corners, not of the sigma.
  const whole = all.filter((edges) => edges.length === RING.length);
  expect(whole.length).toBeGreaterThan(0.97 * REALISATIONS);
  for (let edge = 0; edge < RING.length; edge++) {
    const lengths = whole.map((edges) => edges[edge]!.lengthMm);
    const mean = lengths.reduce((sum, length) => sum + length, 0) / whole.length;
    const scatter = Math.sqrt(lengths.reduce((sum, length) => sum + (length - mean) ** 2, 0) / (whole.length - 1));
    const stated = Math.sqrt(whole.reduce((sum, edges) => sum + edges[edge]!.sigmaMm ** 2, 0) / whole.length);
    expect(scatter / stated, `edge ${edge}: ${scatter} mm against ${stated} mm`).toBeGreaterThan(0.85);
    expect(scatter / stated, `edge ${edge}: ${scatter} mm against ${stated} mm`).toBeLessThan(1.15);
  }
});
