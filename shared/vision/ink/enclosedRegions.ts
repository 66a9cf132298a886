// Which areas the ink encloses, on a coarse raster of the table: what cannot be reached from outside when every gap up to a
// few millimetres is closed. Dangling construction lines, ticks and small letters vanish by an opening. The rims found
// here only say where to look; nothing is measured on them.
import type { Point } from '../../base/points.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';
import { distance } from '../../geometry/vector.ts';
import type { GrayImage } from '../image.ts';
import type { OpenCv } from '../opencv/openCv.ts';
import type { InkLine } from './inkLines.ts';

const REGION_LIMITS = {
  /** Raster pitch. */
  mmPerCell: 1,
  /** Gaps up to twice this are closed: corners whose lines end up to 5 mm short of each other. */
  closeMm: 3,
  /** What is narrower than twice this does not belong to a piece: tails, ticks, letters that touch the outline. */
  openMm: 3,
  /** Smallest piece: 20 square centimetres, a small pocket flap or a cuff tab. */
  leastAreaMm2: 2000,
  /** Lines shorter than this do not close a region: letters, dots of pattern paper. */
  leastLineMm: 4,
} as const;

/** Rims of the enclosed regions, table millimetres, as closed rings of raster steps. */
export function enclosedRims(lines: readonly InkLine[], cv: OpenCv): Point[][] {
  const used = lines.filter((line) => line.inkedMm >= REGION_LIMITS.leastLineMm);
  if (used.length === 0) return [];
  const raster = rasterOver(used);
  for (const line of used) drawLine(raster, line);
  const { closeMm, openMm, mmPerCell, leastAreaMm2 } = REGION_LIMITS;
  const close = closeMm / mmPerCell;
  const open = openMm / mmPerCell;
  const { mask, originMm } = raster;
  // reached from outside: free of ink by more than `close`, and connected with the raster's rim
  const toInk = cv.distanceTransform(mask).data;
  const free = mapMask(mask, (i) => toInk[i]! > close);
  const parts = cv.connectedComponents(free, 4);
  const outsideLabels = labelsOnRim(parts.labels, mask);
  const notOutside = mapMask(mask, (i) => !outsideLabels.has(parts.labels[i]!));
  const toOutside = cv.distanceTransform(notOutside).data;
  const core = mapMask(mask, (i) => toOutside[i]! > close + open);
  const apart = cv.distanceTransform(mapMask(mask, (i) => core.data[i] === 0)).data;
  const filled = mapMask(mask, (i) => apart[i]! <= open);
  const { contours } = cv.findContours(filled, { which: 'outer', points: 'every', minPoints: 8 });
  return contours
    .map((chain) => {
      const ring: Point[] = [];
      for (let i = 0; i + 1 < chain.length; i += 2)
        ring.push([originMm[0] + chain[i]! * mmPerCell, originMm[1] + chain[i + 1]! * mmPerCell]);
      return ring;
    })
    .filter((ring) => Math.abs(signedAreaMm2(ring)) >= leastAreaMm2);
}

interface InkRaster {
  readonly originMm: Point;
  /** 0 on ink, 255 elsewhere. */
  readonly mask: GrayImage;
}

function rasterOver(lines: readonly InkLine[]): InkRaster {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const line of lines)
    for (const [x, y] of line.points) {
      x0 = Math.min(x0, x);
      y0 = Math.min(y0, y);
      x1 = Math.max(x1, x);
      y1 = Math.max(y1, y);
    }
  const marginMm = 3 * REGION_LIMITS.closeMm;
  const widthPx = Math.ceil((x1 - x0 + 2 * marginMm) / REGION_LIMITS.mmPerCell) + 1;
  const heightPx = Math.ceil((y1 - y0 + 2 * marginMm) / REGION_LIMITS.mmPerCell) + 1;
  return {
    originMm: [x0 - marginMm, y0 - marginMm],
    mask: { widthPx, heightPx, data: new Uint8Array(widthPx * heightPx).fill(255) },
  };
}

function drawLine({ originMm, mask }: InkRaster, line: InkLine): void {
  const pitch = REGION_LIMITS.mmPerCell;
  for (let i = 0; i < line.points.length; i++) {
    const a = line.points[i]!;
    const b = line.points[i + 1] ?? a;
    const steps = Math.max(1, Math.ceil((2 * distance(a, b)) / pitch));
    for (let k = 0; k < steps; k++) {
      const x = Math.round((a[0] + ((b[0] - a[0]) * k) / steps - originMm[0]) / pitch);
      const y = Math.round((a[1] + ((b[1] - a[1]) * k) / steps - originMm[1]) / pitch);
      mask.data[y * mask.widthPx + x] = 0;
    }
  }
}

function mapMask(like: GrayImage, test: (index: number) => boolean): GrayImage {
  const data = new Uint8Array(like.data.length);
  for (let i = 0; i < data.length; i++) if (test(i)) data[i] = 255;
  return { ...like, data };
}

function labelsOnRim(labels: Int32Array, { widthPx, heightPx }: GrayImage): Set<number> {
  const found = new Set<number>();
  const see = (i: number): void => {
    if (labels[i]! > 0) found.add(labels[i]!);
  };
  for (let x = 0; x < widthPx; x++) {
    see(x);
    see((heightPx - 1) * widthPx + x);
  }
  for (let y = 0; y < heightPx; y++) {
    see(y * widthPx);
    see(y * widthPx + widthPx - 1);
  }
  return found;
}
