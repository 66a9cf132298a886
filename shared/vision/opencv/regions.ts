// Operations on masks: contours, connected parts, distances, flooding from seeds.
import type { Point } from '../../base/points.ts';
import type { FloatImage, GrayImage, RgbImage } from '../image.ts';
import { floatFrom, type WithMats } from './matOwner.ts';

/** A closed chain of pixel coordinates, x y x y …, as the library gives them (pixel centres of rim pixels). */
export type Contour = Int32Array;

/** For each contour the index of its first child and its parent, -1 when there is none. */
export interface ContourFamily {
  readonly parent: number;
  readonly firstChild: number;
}

export interface Contours {
  readonly contours: readonly Contour[];
  readonly families: readonly ContourFamily[];
}

export interface ContourOptions {
  /** outer: only outermost rims; list: all, without families; tree: all with families. */
  readonly which: 'outer' | 'list' | 'tree';
  /** every: each rim pixel; bends: only where the chain turns. */
  readonly points: 'every' | 'bends';
  /** Contours of fewer points than this are left out (families then refer to what was kept, -1 if left out). */
  readonly minPoints?: number;
}

export interface ComponentStats {
  readonly label: number;
  readonly leftPx: number;
  readonly topPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly areaPx: number;
  readonly centroid: Point;
}

export interface Components {
  /** Label of each pixel, 0 is the background. */
  readonly labels: Int32Array;
  /** Statistics by label, the background (0) included. */
  readonly stats: readonly ComponentStats[];
}

export interface Regions {
  /** Rims of the non-zero regions. They run through the centres of the region's outermost pixels. */
  findContours(mask: GrayImage, options: ContourOptions): Contours;
  /** Ramer-Douglas-Peucker on a closed chain. */
  approxPolyDP(contour: Contour, tolerancePx: number): Contour;
  connectedComponents(mask: GrayImage, connectivity: 4 | 8): Components;
  /** Distance of each non-zero pixel to the nearest zero pixel. */
  distanceTransform(mask: GrayImage): FloatImage;
  /** Grows `markers` (positive labels, 0 unknown; row-major) over the picture; ridges become -1. */
  watershed(image: RgbImage, markers: Int32Array): Int32Array;
  /** Draws filled closed polygons (even-odd together) with `value` into a new mask of zeros. */
  fillPolygons(
    size: { readonly widthPx: number; readonly heightPx: number },
    polygons: readonly Contour[],
    value: number,
  ): GrayImage;
}

const STATS_PER_LABEL = 5;

export function makeRegions(withMats: WithMats): Regions {
  return {
    findContours: (mask, { which, points, minPoints = 1 }) =>
      withMats((own) => {
        const { cv } = own;
        const mode = { outer: cv.RETR_EXTERNAL, list: cv.RETR_LIST, tree: cv.RETR_TREE }[which];
        const method = points === 'every' ? cv.CHAIN_APPROX_NONE : cv.CHAIN_APPROX_SIMPLE;
        const found = own.vector();
        const hierarchy = own.empty();
        cv.findContours(own.gray(mask), found, hierarchy, mode, method);
        const contours: Contour[] = [];
        const kept = new Int32Array(found.size()).fill(-1);
        for (let i = 0; i < kept.length; i++) {
          const chain = found.get(i); // a copy of the header: freed here, there may be thousands
          const numbers = chain.data32S;
          if (numbers.length >= 2 * minPoints) {
            kept[i] = contours.length;
            contours.push(numbers.slice());
          }
          chain.delete();
        }
        const links = kept.length > 0 ? hierarchy.data32S : new Int32Array(0); // next, previous, first child, parent
        const keptOr = (index: number) => (index < 0 ? -1 : kept[index]!);
        const families: ContourFamily[] = [];
        for (let i = 0; i < kept.length; i++) {
          if (kept[i]! < 0) continue;
          families.push({ firstChild: keptOr(links[4 * i + 2]!), parent: keptOr(links[4 * i + 3]!) });
        }
        return { contours, families };
      }),
    approxPolyDP: (contour, tolerancePx) =>
      withMats((own) => {
        const { cv } = own;
        const chain = own.own(new cv.Mat(contour.length / 2, 1, cv.CV_32SC2));
        chain.data32S.set(contour);
        const out = own.empty();
        const closed = true;
        cv.approxPolyDP(chain, out, tolerancePx, closed);
        return out.data32S.slice();
      }),
    connectedComponents: (mask, connectivity) =>
      withMats((own) => {
        const { cv } = own;
        const labels = own.empty();
        const stats = own.empty();
        const centroids = own.empty();
        const count = cv.connectedComponentsWithStats(
          own.gray(mask),
          labels,
          stats,
          centroids,
          connectivity,
          cv.CV_32S,
        );
        const numbers = stats.data32S;
        const centres = centroids.data64F;
        const rows: ComponentStats[] = [];
        for (let label = 0; label < count; label++) {
          const at = label * STATS_PER_LABEL;
          rows.push({
            label,
            leftPx: numbers[at]!,
            topPx: numbers[at + 1]!,
            widthPx: numbers[at + 2]!,
            heightPx: numbers[at + 3]!,
            areaPx: numbers[at + 4]!,
            centroid: [centres[2 * label]!, centres[2 * label + 1]!],
          });
        }
        return { labels: labels.data32S.slice(), stats: rows };
      }),
    distanceTransform: (mask) =>
      withMats((own) => {
        const out = own.empty();
        own.cv.distanceTransform(own.gray(mask), out, own.cv.DIST_L2, 5);
        return floatFrom(out);
      }),
    watershed: (image, markers) =>
      withMats((own) => {
        const { cv } = own;
        const labels = own.own(new cv.Mat(image.heightPx, image.widthPx, cv.CV_32SC1));
        labels.data32S.set(markers);
        cv.watershed(own.rgb(image), labels);
        return labels.data32S.slice();
      }),
    fillPolygons: (size, polygons, value) =>
      withMats((own) => {
        const { cv } = own;
        const zero = new cv.Scalar(0, 0, 0, 0);
        const mask = own.own(new cv.Mat(size.heightPx, size.widthPx, cv.CV_8UC1, zero));
        const chains = own.vector();
        for (const polygon of polygons) {
          const chain = own.own(new cv.Mat(polygon.length / 2, 1, cv.CV_32SC2));
          chain.data32S.set(polygon);
          chains.push_back(chain);
        }
        if (polygons.length > 0) cv.fillPoly(mask, chains, new cv.Scalar(value, value, value, value));
        return { widthPx: size.widthPx, heightPx: size.heightPx, data: mask.data.slice() };
      }),
  };
}

/** Signed area of a closed chain by the shoelace formula, square pixels; positive when it runs clockwise on the screen (y down). */
export function contourArea(contour: Contour): number {
  let twice = 0;
  const n = contour.length;
  for (let i = 0; i < n; i += 2) {
    const j = (i + 2) % n;
    twice += contour[i]! * contour[j + 1]! - contour[j]! * contour[i + 1]!;
  }
  return twice / 2;
}

/** Whether a closed polygon turns one way only. Fewer than three points are not convex. */
export function isConvex(polygon: Contour): boolean {
  const n = polygon.length / 2;
  if (n < 3) return false;
  let sign = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const k = (i + 2) % n;
    const ux = polygon[2 * j]! - polygon[2 * i]!;
    const uy = polygon[2 * j + 1]! - polygon[2 * i + 1]!;
    const vx = polygon[2 * k]! - polygon[2 * j]!;
    const vy = polygon[2 * k + 1]! - polygon[2 * j + 1]!;
    const turn = Math.sign(ux * vy - uy * vx);
    if (turn === 0) continue;
    if (sign !== 0 && turn !== sign) return false;
    sign = turn;
  }
  return sign !== 0;
}
