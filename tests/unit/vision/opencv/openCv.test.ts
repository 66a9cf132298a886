// The wrapper's own promises: nothing leaks, errors are readable, coordinates keep to pixel centres.
import { describe, expect, test } from 'vitest';
import type { GrayImage } from '../../../../shared/vision/image.ts';
import { loadOpenCv } from '../../../../shared/vision/opencv/openCv.ts';
import { contourArea, isConvex } from '../../../../shared/vision/opencv/regions.ts';
import { testOpenCv } from '../../../support/openCv.ts';

const cv = testOpenCv();

function picture(widthPx: number, heightPx: number, value: (x: number, y: number) => number): GrayImage {
  const data = new Uint8Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) for (let x = 0; x < widthPx; x++) data[y * widthPx + x] = value(x, y);
  return { widthPx, heightPx, data };
}

describe('the wrapped picture library', () => {
  test('frees every library object after each operation, also when the operation throws', () => {
    const image = picture(64, 48, (x, y) => (x > 10 && x < 40 && y > 12 && y < 30 ? 255 : 0));
    const rgb = { widthPx: 64, heightPx: 48, data: new Uint8Array(64 * 48 * 3) };
    const float = { widthPx: 64, heightPx: 48, data: new Float32Array(64 * 48) };
    const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1];
    cv.adaptiveThreshold(image, { windowPx: 11, offset: 5, pick: 'dark' });
    cv.threshold(image, 100);
    cv.otsu(image);
    cv.gaussianBlur(image, 1.5);
    cv.gaussianBlurFloat(float, 1.5);
    cv.gaussianBlurRgb(rgb, 1.5);
    cv.boxBlur(image, 5);
    cv.medianBlur(image, 3);
    cv.sobel(image);
    cv.sepFilter2D(image, { alongX: [-1, 0, 1], alongY: [1] });
    cv.sepFilter2DFloat(float, { alongX: [-1, 0, 1], alongY: [1] });
    cv.morphology(image, { operation: 'open', kernel: 'ellipse', sizePx: 3 });
    cv.rgbToLab(rgb);
    cv.rgbToGray(rgb);
    cv.resizeArea(image, { widthPx: 32, heightPx: 24 });
    cv.warpPerspective(image, identity, { widthPx: 20, heightPx: 20 }, 0);
    cv.warpPerspectiveRgb(rgb, identity, { widthPx: 20, heightPx: 20 }, 0);
    cv.remap(image, float, float, 0);
    cv.remapRgb(rgb, rgb, () => ({ mapX: float, mapY: float }), 0);
    const { contours } = cv.findContours(image, { which: 'tree', points: 'every' });
    cv.approxPolyDP(contours[0]!, 2);
    cv.connectedComponents(image, 8);
    cv.distanceTransform(image);
    cv.watershed(rgb, new Int32Array(64 * 48));
    cv.fillPolygons({ widthPx: 64, heightPx: 48 }, contours, 255);
    expect(cv.liveMats()).toBe(0);
    expect(() => cv.adaptiveThreshold(image, { windowPx: 4, offset: 0, pick: 'dark' })).toThrow(/OpenCV/);
    expect(cv.liveMats()).toBe(0);
  });

  test('does not grow when large pictures pass through again and again', () => {
    const image = picture(2000, 1500, (x) => x & 255);
    // 60 rounds of two 3 MB pictures would be 360 MB if they stayed: more than the library may hold without growing.
    const round = () => cv.gaussianBlur(image, 1);
    round();
    const before = process.memoryUsage().rss;
    for (let i = 0; i < 60; i++) round();
    expect(process.memoryUsage().rss - before).toBeLessThan(200e6);
    expect(cv.liveMats()).toBe(0);
  });

  test('turns the library’s errors into sentences', () => {
    const image = picture(8, 8, () => 0);
    expect(() => cv.gaussianBlur({ ...image, widthPx: 0, data: new Uint8Array(0) }, 1)).toThrow(/OpenCV.*empty/s);
  });

  test('refuses an object that is not the library', () => {
    expect(() => loadOpenCv({})).toThrow(/lacks/);
    expect(() => loadOpenCv(undefined)).toThrow(/lacks/);
  });

  test('warps in pixel-centre coordinates: a shift by whole pixels copies pixels', () => {
    const image = picture(30, 20, (x, y) => (7 * x + 13 * y) & 255);
    const shifted = cv.warpPerspective(image, [1, 0, 3, 0, 1, 2, 0, 0, 1], { widthPx: 10, heightPx: 10 }, 0);
    for (let y = 0; y < 10; y++) {
      for (let x = 0; x < 10; x++) expect(shifted.data[y * 10 + x]).toBe(image.data[(y + 2) * 30 + x + 3]);
    }
  });

  test('gives Sobel slopes in grey levels per pixel', () => {
    const ramp = picture(20, 20, (x, y) => 3 * x + 2 * y);
    const { dx, dy } = cv.sobel(ramp);
    expect(dx.data[10 * 20 + 10]).toBeCloseTo(3, 5);
    expect(dy.data[10 * 20 + 10]).toBeCloseTo(2, 5);
  });

  test('tells which contour lies inside which', () => {
    const ring = picture(40, 40, (x, y) => {
      const reach = Math.max(Math.abs(x - 20), Math.abs(y - 20));
      return reach <= 15 && reach > 6 ? 255 : 0;
    });
    const { contours, families } = cv.findContours(ring, { which: 'tree', points: 'bends' });
    expect(contours).toHaveLength(2);
    const outer = families.findIndex((family) => family.parent === -1);
    expect(families[outer]!.firstChild).toBe(1 - outer);
    expect(families[1 - outer]!.parent).toBe(outer);
    expect(Math.abs(contourArea(contours[outer]!))).toBe(30 * 30);
    expect(isConvex(contours[outer]!)).toBe(true);
  });

  test('leaves short contours out and keeps family links right', () => {
    const image = picture(40, 20, (x, y) => ((x === 3 && y === 3) || (x > 20 && x < 35 && y > 4 && y < 15) ? 255 : 0));
    const { contours, families } = cv.findContours(image, { which: 'tree', points: 'every', minPoints: 4 });
    expect(contours).toHaveLength(1);
    expect(families).toEqual([{ firstChild: -1, parent: -1 }]);
  });

  test('counts connected parts with their areas', () => {
    const image = picture(20, 10, (x, y) => ((x < 4 && y < 3) || (x > 9 && y > 5) ? 255 : 0));
    const { stats } = cv.connectedComponents(image, 4);
    expect(stats.slice(1).map((row) => row.areaPx)).toEqual([12, 40]);
    expect(stats[1]!.centroid[0]).toBeCloseTo(1.5, 9);
    expect(stats[1]!.centroid[1]).toBeCloseTo(1, 9);
  });

  test('returns no contours for an empty mask', () => {
    const { contours, families } = cv.findContours(
      picture(10, 10, () => 0),
      { which: 'tree', points: 'every' },
    );
    expect(contours).toEqual([]);
    expect(families).toEqual([]);
  });
});
