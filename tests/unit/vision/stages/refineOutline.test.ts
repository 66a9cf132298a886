import { describe, expect, it } from 'vitest';
import { type Point, photoPx, type TablePointMm, tableMm } from '../../../../shared/base/points.ts';
import { resamplePolyline } from '../../../../shared/geometry/polygon.ts';
import type { CoarseOutline } from '../../../../shared/vision/outline/coarseOutline.ts';
import type { DenseOutline } from '../../../../shared/vision/outline/denseOutline.ts';
import { fitEdges } from '../../../../shared/vision/stages/fitEdges.ts';
import { refineOutline } from '../../../../shared/vision/stages/refineOutline.ts';
import { splitCorners } from '../../../../shared/vision/stages/splitCorners.ts';
import {
  circleRing,
  distanceToRing,
  type Linear,
  paperRaster,
  type RasterScene,
  rectangleRing,
  seeded,
} from '../../../support/paperRaster.ts';

const MM_PER_PX = 0.33;
const WHITE: Linear = [0.8, 0.79, 0.76];
const DARK: Linear = [0.06, 0.07, 0.09];
const toPhoto = (p: TablePointMm) => photoPx(p[0] / MM_PER_PX, p[1] / MM_PER_PX);

function scene(papers: RasterScene['papers'], table: Linear, more: Partial<RasterScene> = {}): RasterScene {
  return { widthMm: 175, heightMm: 175, mmPerPx: MM_PER_PX, table: () => table, papers, ...more };
}

/** The ring as a segmentation would give it: a millimetre outside, a little ragged, its points close together. */
function coarseOf(ring: readonly Point[], outMm: number): CoarseOutline {
  const random = seeded(3);
  const middle: Point = [90, 90];
  const polygon = resamplePolyline([...ring, ring[0]!], 0.9)
    .slice(0, -1)
    .map((p) => {
      const r = Math.hypot(p[0] - middle[0], p[1] - middle[1]);
      const grow = 1 + (outMm + 0.3 * (random() - 0.5)) / r;
      return tableMm(middle[0] + (p[0] - middle[0]) * grow, middle[1] + (p[1] - middle[1]) * grow);
    });
  return { polygon, state: new Uint8Array(polygon.length) };
}

/** A stretch may run over the first point. */
function isMarkedIn({ points, unsure }: DenseOutline, i: number): boolean {
  const n = points.length;
  return unsure.some(({ fromIndex, toIndex }) => (i - fromIndex + n) % n <= (toIndex - fromIndex + n) % n);
}

describe('refineOutline', () => {
  const disc = circleRing(90.1, 89.8, 60);
  it.each([
    { what: 'light paper on a dark table', paper: WHITE, table: DARK },
    { what: 'dark paper on a light table', paper: DARK, table: WHITE },
  ])('puts the rim of a disc where it is, without bias: $what', ({ paper, table }) => {
    const photo = paperRaster(scene([{ ring: disc, colour: paper }], table));
    const dense = refineOutline(photo, coarseOf(disc, 1), toPhoto);
    const offsets = dense.points.map((p) => Math.hypot(p[0] - 90.1, p[1] - 89.8) - 60);
    const mean = offsets.reduce((sum, value) => sum + value, 0) / offsets.length;
    expect(Math.abs(mean)).toBeLessThan(0.05);
    expect(Math.max(...offsets) - Math.min(...offsets)).toBeLessThan(0.4);
    expect(dense.unsure).toEqual([]);
  });

  it('finds the four right angles of a turned rectangle and its straight sides', () => {
    const ring = rectangleRing(90, 90, 120, 90, 17);
    const photo = paperRaster(scene([{ ring, colour: WHITE }], DARK));
    const dense = refineOutline(photo, coarseOf(ring, 1), toPhoto);
    const corners = splitCorners(dense.points);
    expect(corners).toHaveLength(4);
    for (const corner of corners) expect(Math.abs(corner.turnDeg - 90)).toBeLessThan(0.15);
    for (const corner of corners) {
      expect(Math.min(...ring.map((p) => Math.hypot(p[0] - corner.at[0], p[1] - corner.at[1])))).toBeLessThan(0.1);
    }
    const { edges } = fitEdges(dense.points, corners, { pointSigmaMm: dense.pointSigmaMm, planeSigmaMm: () => 0 });
    expect(edges.map((edge) => edge.curve.length)).toEqual([4, 4, 4, 4]);
    const lengths = edges.map((edge) => edge.lengthMm).sort((a, b) => a - b);
    expect(Math.abs(lengths[0]! - 90)).toBeLessThan(0.15);
    expect(Math.abs(lengths[3]! - 120)).toBeLessThan(0.15);
  });

  it('keeps to the paper when a hard shadow runs beside its edge', () => {
    const ring = rectangleRing(90, 90, 110, 110, 0);
    const table: Linear = [0.35, 0.2, 0.1];
    // shade begins 2 mm outside the left edge and on the table only
    const photo = paperRaster(scene([{ ring, colour: WHITE }], table, { light: (x) => (x < 33 ? 0.35 : 1) }));
    const dense = refineOutline(photo, coarseOf(ring, 0.7), toPhoto);
    const left = dense.points.filter((p) => p[0] < 40 && p[1] > 45 && p[1] < 135);
    expect(left.length).toBeGreaterThan(80);
    for (const p of left) expect(Math.abs(p[0] - 35)).toBeLessThan(0.25);
  });

  it('bridges a triangle cut into the edge and reports it', () => {
    const square: Point[] = [
      [35, 35],
      [86.5, 35],
      [90, 40],
      [93.5, 35],
      [145, 35],
      [145, 145],
      [35, 145],
    ];
    const photo = paperRaster(scene([{ ring: square, colour: WHITE }], DARK));
    const dense = refineOutline(photo, coarseOf(square, 0), toPhoto);
    expect(dense.excursions.flatMap((e) => e.tips.map((tip) => tip.shape))).toEqual(['triangle-in']);
    expect(Math.abs(dense.excursions[0]!.tips[0]!.at[0] - 90)).toBeLessThan(0.4);
    expect(splitCorners(dense.points)).toHaveLength(4);
    const plain: Point[] = [
      [35, 35],
      [145, 35],
      [145, 145],
      [35, 145],
    ];
    for (const p of dense.points) expect(distanceToRing(plain, p)).toBeLessThan(0.3);
  });

  it('marks the stretch where paper and table look alike', () => {
    const ring = rectangleRing(90, 90, 110, 110, 0);
    const table = (x: number): Linear => (x > 120 ? WHITE : DARK);
    const photo = paperRaster({ ...scene([{ ring, colour: WHITE }], DARK), table });
    const dense = refineOutline(photo, coarseOf(ring, 0.5), toPhoto);
    const right = dense.points
      .map((p, i) => ({ p, i }))
      .filter(({ p }) => Math.abs(p[0] - 145) < 4 && p[1] > 45 && p[1] < 135);
    const marked = right.filter(({ i }) => isMarkedIn(dense, i));
    expect(marked.length).toBeGreaterThan(0.7 * right.length);
    const left = dense.points.map((p, i) => ({ p, i })).filter(({ p }) => p[0] < 40);
    expect(left.some(({ i }) => isMarkedIn(dense, i))).toBe(false);
  });

  it('calls the edge unsure where a hard shadow on the paper runs along it and could be the edge', () => {
    const ring = rectangleRing(90, 90, 110, 110, 0);
    // a grey table that is as bright as the paper in the shade; the shade covers 3 mm of the paper's left side
    const table: Linear = [0.3, 0.3, 0.3];
    const light = (x: number): number => (x < 38 && x > 25 ? 0.4 : 1);
    const photo = paperRaster(scene([{ ring, colour: [0.75, 0.75, 0.74] }], table, { light }));
    const dense = refineOutline(photo, coarseOf(ring, -1.5), toPhoto);
    const isMarked = (i: number): boolean => isMarkedIn(dense, i);
    const side = (want: (p: TablePointMm) => boolean): number[] =>
      [...dense.points.keys()].filter(
        (i) => want(dense.points[i]!) && dense.points[i]![1] > 45 && dense.points[i]![1] < 135,
      );
    const left = side((p) => p[0] < 45);
    expect(left.filter(isMarked).length).toBeGreaterThan(0.9 * left.length);
    expect(side((p) => p[0] > 135).some(isMarked)).toBe(false);
  });

  it('stays sure when the shadow lies on a table of another colour than the paper', () => {
    const ring = rectangleRing(90, 90, 110, 110, 0);
    const table: Linear = [0.35, 0.2, 0.1];
    const photo = paperRaster(scene([{ ring, colour: WHITE }], table, { light: (x) => (x < 31 ? 0.35 : 1) }));
    expect(refineOutline(photo, coarseOf(ring, 0.7), toPhoto).unsure).toEqual([]);
  });
});
