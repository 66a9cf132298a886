// Stage: the table seen straight from above at true scale, for segmenting and for showing. Never measured: outlines are
// refined on the original photo. The lens is followed exactly at the nodes of a coarse grid and linearly between them.
import { type Point, photoPx, tableMm } from '../../base/points.ts';
import type { FloatImage, Photo } from '../image.ts';
import { type PlaneSolution, photoFromTable, tableFromPhoto } from '../plane/planeSolution.ts';
import type { TablePicture } from '../segment/tablePicture.ts';
import type { StageContext } from '../stageContext.ts';

export interface RectifyOptions {
  /** The picture is made coarser rather than larger than this. */
  readonly maxPixels: number;
  /** Finer than this gains nothing for segmenting. */
  readonly finestMmPerPx: number;
}

export const RECTIFY_DEFAULTS: RectifyOptions = { maxPixels: 2_000_000, finestMmPerPx: 0.5 };

/** Photo rim points that look at the table from flatter than this many times the middle's scale are left out. */
const MAX_STRETCH = 3;
const RIM_SAMPLES = 24;
/** Target pixels between two nodes of the exact map. */
const NODE_PX = 16;

export function rectify(
  photo: Photo,
  solution: PlaneSolution,
  options: RectifyOptions,
  ctx: StageContext,
): TablePicture {
  const { min, max } = visibleExtent(photo, solution);
  const areaMm2 = (max[0] - min[0]) * (max[1] - min[1]);
  const mmPerPx = Math.max(options.finestMmPerPx, solution.mmPerPixel, Math.sqrt(areaMm2 / options.maxPixels));
  const size = {
    widthPx: Math.max(1, Math.ceil((max[0] - min[0]) / mmPerPx)),
    heightPx: Math.max(1, Math.ceil((max[1] - min[1]) / mmPerPx)),
  };
  // Averaged down first, so that thin lines do not alias when the target is coarser than the photo.
  const shrink = Math.max(1, Math.floor(mmPerPx / solution.mmPerPixel));
  const { widthPx, heightPx } = photo.rgb;
  const reduced =
    shrink === 1
      ? photo.rgb
      : ctx.cv.resizeAreaRgb(photo.rgb, {
          widthPx: Math.round(widthPx / shrink),
          heightPx: Math.round(heightPx / shrink),
        });
  const ratio: Point = [reduced.widthPx / widthPx, reduced.heightPx / heightPx];
  const maps = nodeMaps(size, (xPx, yPx) => {
    const at = photoFromTable(solution, tableMm(min[0] + xPx * mmPerPx, min[1] + yPx * mmPerPx));
    return [(at[0] + 0.5) * ratio[0] - 0.5, (at[1] + 0.5) * ratio[1] - 0.5];
  });
  const seen = new Uint8Array(size.widthPx * size.heightPx);
  for (let i = 0; i < seen.length; i++) {
    const x = maps.x.data[i]!;
    const y = maps.y.data[i]!;
    if (x >= 0 && y >= 0 && x <= reduced.widthPx - 1 && y <= reduced.heightPx - 1) seen[i] = 1;
  }
  return { rgb: ctx.cv.remapRgb(reduced, maps.x, maps.y, 0), mmPerPx, originMm: min, seen };
}

/** Box of the part of the table that the photo shows well, table millimetres. */
function visibleExtent(photo: Photo, solution: PlaneSolution): { readonly min: Point; readonly max: Point } {
  const { widthPx, heightPx } = photo.rgb;
  const xs: number[] = [];
  const ys: number[] = [];
  for (let row = 0; row <= RIM_SAMPLES; row++) {
    for (let column = 0; column <= RIM_SAMPLES; column++) {
      const x = (column / RIM_SAMPLES) * (widthPx - 1);
      const y = (row / RIM_SAMPLES) * (heightPx - 1);
      const at = tableFromPhoto(solution, photoPx(x, y));
      const beside = tableFromPhoto(solution, photoPx(x + 1, y));
      const below = tableFromPhoto(solution, photoPx(x, y + 1));
      const stretch =
        Math.max(Math.hypot(beside[0] - at[0], beside[1] - at[1]), Math.hypot(below[0] - at[0], below[1] - at[1])) /
        solution.mmPerPixel;
      if (!(stretch <= MAX_STRETCH)) continue; // also where the ray misses the table
      xs.push(at[0]);
      ys.push(at[1]);
    }
  }
  return { min: [Math.min(...xs), Math.min(...ys)], max: [Math.max(...xs), Math.max(...ys)] };
}

interface Maps {
  readonly x: FloatImage;
  readonly y: FloatImage;
}

/** Source place of every target pixel: exact at nodes, bilinear between. */
function nodeMaps(
  size: { readonly widthPx: number; readonly heightPx: number },
  source: (xPx: number, yPx: number) => Point,
): Maps {
  const columns = Math.ceil(size.widthPx / NODE_PX) + 1;
  const rows = Math.ceil(size.heightPx / NODE_PX) + 1;
  const nodes = new Float64Array(2 * columns * rows);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const at = source(c * NODE_PX, r * NODE_PX);
      nodes[2 * (r * columns + c)] = at[0];
      nodes[2 * (r * columns + c) + 1] = at[1];
    }
  }
  const x = new Float32Array(size.widthPx * size.heightPx);
  const y = new Float32Array(size.widthPx * size.heightPx);
  for (let row = 0; row < size.heightPx; row++) {
    const r = Math.floor(row / NODE_PX);
    const fy = row / NODE_PX - r;
    for (let column = 0; column < size.widthPx; column++) {
      const c = Math.floor(column / NODE_PX);
      const fx = column / NODE_PX - c;
      const upper = 2 * (r * columns + c);
      const lower = upper + 2 * columns;
      const i = row * size.widthPx + column;
      x[i] =
        (nodes[upper]! * (1 - fx) + nodes[upper + 2]! * fx) * (1 - fy) +
        (nodes[lower]! * (1 - fx) + nodes[lower + 2]! * fx) * fy;
      y[i] =
        (nodes[upper + 1]! * (1 - fx) + nodes[upper + 3]! * fx) * (1 - fy) +
        (nodes[lower + 1]! * (1 - fx) + nodes[lower + 3]! * fx) * fy;
    }
  }
  return { x: { ...size, data: x }, y: { ...size, data: y } };
}
