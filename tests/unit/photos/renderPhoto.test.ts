// Photos against the truth that comes with them: marks lie where the map says, curled sheets keep their length, the same
// seed gives the same picture, and the metadata is readable.
import exifr from 'exifr';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { tableFromItem } from '../../photos/layers.ts';
import { type RenderedPhoto, renderPhoto } from '../../photos/renderPhoto.ts';
import type { Curl, PaperItem, Scene } from '../../photos/scene.ts';

const DISC_RADIUS_MM = 8;

function disc(centre: Point): Point[] {
  return Array.from(
    { length: 90 },
    (_, i): Point => [
      centre[0] + DISC_RADIUS_MM * Math.cos((Math.PI * i) / 45),
      centre[1] + DISC_RADIUS_MM * Math.sin((Math.PI * i) / 45),
    ],
  );
}

function sheetWithDiscs(places: readonly Point[], curl: Curl | null): PaperItem {
  return {
    id: 'sheet',
    placement: { xMm: 4, yMm: -3, turnDeg: 13 },
    outline: [
      [-120, -90],
      [120, -90],
      [120, 90],
      [-120, 90],
    ],
    cutAway: [],
    look: { colour: '#e8e8e8', pattern: 'plain', opacity: 1, gloss: 0 },
    thicknessMm: 0,
    baseMm: 0,
    curl,
    ink: places.map((centre) => ({ kind: 'fill', rings: [disc(centre)], colour: '#101010' })),
    printScale: [1, 1],
  };
}

function sceneOf(item: PaperItem, tiltDeg: number): Scene {
  return {
    name: 'test',
    seed: 5,
    camera: {
      widthPx: 480,
      heightPx: 360,
      focal35Mm: 26,
      lens: { model: 'polynomial', k1: 0.08, k2: -0.06 },
      principalOffsetPx: [2.3, -1.4],
      targetMm: [0, 0],
      distanceMm: 330,
      tiltDeg,
      azimuthDeg: 30,
      rollDeg: -20,
    },
    background: { kind: 'plain', colour: '#d8d8d8' },
    items: [item],
    light: {
      key: [0.8, 0.8, 0.8],
      ambient: [0.2, 0.2, 0.2],
      gradientPerM: [0, 0],
      azimuthDeg: 0,
      elevationDeg: 80,
      shadows: [],
      glare: null,
    },
    sensor: {
      exposure: 0.9,
      vignetting: 0,
      blurPx: 0.7,
      fullWell: 50_000,
      readNoise: 1,
      mosaic: 'none',
      sharpen: 0,
      jpegQuality: 90,
    },
    samples: 3,
  };
}

/** Darkness-weighted middle around a pixel, in linear light so that blur does not shift it. */
function middleOfDark(photo: RenderedPhoto, near: Point, reachPx: number): Point {
  const { widthPx, data } = photo.rgb;
  const light = (byte: number): number => (byte / 255) ** 2.2;
  let [sum, sumX, sumY] = [0, 0, 0];
  for (let y = Math.round(near[1]) - reachPx; y <= near[1] + reachPx; y++)
    for (let x = Math.round(near[0]) - reachPx; x <= near[0] + reachPx; x++) {
      const dark = Math.max(0, 0.5 - light(data[3 * (y * widthPx + x) + 1]!));
      sum += dark;
      sumX += dark * x;
      sumY += dark * y;
    }
  return [sumX / sum, sumY / sum];
}

/** Centroid of the disc's picture (the area inside its projected rim): not the picture of its middle. */
function pictureOfDisc(photo: RenderedPhoto, item: PaperItem, centre: Point): Point {
  const rim = disc(centre).map(([x, y]) => photo.photoFromTable(tableFromItem(item, x, y)));
  const [x0, y0] = rim[0]!;
  let [area, sumX, sumY] = [0, 0, 0];
  rim.forEach(([xa, ya], i) => {
    const [xb, yb] = rim[(i + 1) % rim.length]!;
    const cross = (xa - x0) * (yb - y0) - (xb - x0) * (ya - y0);
    area += cross;
    sumX += cross * (xa + xb - 2 * x0);
    sumY += cross * (ya + yb - 2 * y0);
  });
  return [x0 + sumX / (3 * area), y0 + sumY / (3 * area)];
}

describe('renderPhoto', () => {
  it('puts marks within a twentieth of a pixel of where its map says', () => {
    const places: Point[] = [
      [0, 0],
      [-90, -60],
      [85, 55],
      [95, -70],
    ];
    const item = sheetWithDiscs(places, null);
    const photo = renderPhoto(sceneOf(item, 24));
    for (const place of places) {
      const expected = pictureOfDisc(photo, item, place);
      const found = middleOfDark(photo, expected, Math.ceil((DISC_RADIUS_MM + 5) / photo.mmPerPixel));
      expect(Math.hypot(found[0] - expected[0], found[1] - expected[1])).toBeLessThan(0.05);
    }
  });

  it('shows a lifted edge farther out, by the height times the tangent of the view', () => {
    const place: Point = [0, 75];
    const flat = sheetWithDiscs([place], null);
    const lifted = sheetWithDiscs([place], { sagittaMm: 6, axisDeg: 0, form: 'edges-up' });
    const [a, b] = [renderPhoto(sceneOf(flat, 0)), renderPhoto(sceneOf(lifted, 0))];
    const reach = Math.ceil((DISC_RADIUS_MM + 6) / a.mmPerPixel);
    const centre = pictureOfDisc(a, flat, place);
    const inMm = (photo: RenderedPhoto): number => {
      const [x, y] = photo.tableFromPhoto(middleOfDark(photo, centre, reach));
      return Math.hypot(x, y);
    };
    // height at 75 of 90 is 6 (75/90)^2 = 4.17 mm, seen from 330 mm: 75 / (330 - 4.17) * 4.17 = 0.96 mm outward; the arc
    // is longer than its footprint by 2/3 (6/90^2)^2 75^3 = 0.15 mm, which draws the mark inward
    expect(inMm(b) - inMm(a)).toBeGreaterThan(0.6);
    expect(inMm(b) - inMm(a)).toBeLessThan(1.0);
  });

  it('gives the same picture for the same seed and other noise for another', () => {
    const scene = sceneOf(sheetWithDiscs([[0, 0]], null), 10);
    const bytes = (seed: number) => Buffer.from(renderPhoto({ ...scene, seed }).rgb.data);
    const first = bytes(5);
    expect(bytes(5).equals(first)).toBe(true);
    expect(bytes(6).equals(first)).toBe(false);
  });

  it('writes a JPEG whose focal length and invented phone can be read back', async () => {
    const jpeg = await renderPhoto(sceneOf(sheetWithDiscs([], null), 0)).encodeJpeg();
    const exif = await exifr.parse(Buffer.from(jpeg));
    expect(exif.FocalLengthIn35mmFormat).toBe(26);
    expect([exif.Make, exif.Model]).toEqual(['Sparrow', 'One']);
  });
});
