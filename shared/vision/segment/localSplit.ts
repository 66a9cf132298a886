// Draws the line between paper and table with what lies on either side right there: for every place near the coarse
// border, the colours just inside and just outside are averaged, and each fine pixel is put on the scale between them
// (linear discriminant). Slow changes of light and shadows over both sides drop out, because both sides are local. A table of
// several colours is taken apart first: a pixel is paper only when it lies on the paper's side of every one of them.
import type { BlockGrid } from './blockGrid.ts';
import { colourKinds } from './colourKinds.ts';
import { boxOf } from './cropGrid.ts';
import { distanceToSet, inverted } from './maskOps.ts';
import type { TablePicture } from './tablePicture.ts';

/** Places this near the coarse border are decided anew. */
const BAND_MM = 7;
/** Paper and table are sampled this far from the coarse border, so that neither holds the other. */
const SAMPLE_FROM_MM = 3;
const SAMPLE_TO_MM = 16;
/** Radius of the local averages. */
const AVERAGE_RADIUS_MM = 14;
/** Radius of the averages of one colour of a pattern. */
const PATTERN_RADIUS_MM = 45;
/** Variance of a code value that is always there: sensor noise, JPEG. */
const NOISE_VARIANCE = 16;

/** Single pixels decide alone when the sides are this many standard deviations apart (counted from one). */
const TRUSTED_SEPARATION = 4;
const LEAST_TRUST = 0.25;

/** A window of the picture with the position of each pixel between table (0) and paper (1). */
export interface PaperField {
  /** Picture pixel of the field's top left sample. */
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
  /** How far apart the two sides are right there, in standard deviations of a pixel; 0 where it was not measured. */
  readonly separation: Float32Array;
}

/**
 * @param paper 1 on the blocks of one piece
 * @param belief how much each block looks like this paper rather than table in colour and texture, 0-1; counts where
 *   single pixels cannot tell the two apart
 * @param other 1 on blocks that belong to neither the piece nor the table (cards, other pieces, things lying over)
 */
export function paperField(
  picture: TablePicture,
  grid: BlockGrid,
  paper: Uint8Array,
  other: Uint8Array,
  belief: Float32Array,
): PaperField {
  const { width, height, mmPerBlock, pxPerBlock } = grid;
  const inside = distanceToSet(inverted(paper), width, height);
  const outside = distanceToSet(paper, width, height);
  const bandBlocks = BAND_MM / mmPerBlock;
  const crop = boxOf(paper, width, height, Math.ceil(bandBlocks) + 1);
  const box = { x0: crop.x0, y0: crop.y0, x1: crop.x0 + crop.width - 1, y1: crop.y0 + crop.height - 1 };
  const signed = (at: number): number => (paper[at] === 1 ? inside[at]! - 0.5 : 0.5 - outside[at]!);
  const from = SAMPLE_FROM_MM / mmPerBlock;
  const to = SAMPLE_TO_MM / mmPerBlock;
  const paperSide = new Uint8Array(paper.length);
  const tableSide = new Uint8Array(paper.length);
  for (let i = 0; i < paper.length; i++) {
    if (grid.outside[i] === 1 || other[i] === 1) continue;
    const depth = signed(i);
    if (depth >= from && depth <= to) paperSide[i] = 1;
    else if (-depth >= from && -depth <= to) tableSide[i] = 1;
  }
  const colour = blockColours(picture, grid);
  const radius = Math.round(AVERAGE_RADIUS_MM / mmPerBlock);
  const paperStats = localStats(colour, paperSide, width, height, radius);
  const kinds = colourKinds(colour, tableSide, paperSide);
  const isPatterned = kinds.length > 1;
  const near = isPatterned ? Math.round(PATTERN_RADIUS_MM / mmPerBlock) : radius;
  const tableStats = kinds.map((side): readonly LocalStats[] => [
    localStats(colour, side, width, height, near),
    // the next check or dot of this colour may lie anywhere around the piece
    ...(isPatterned ? [localStats(colour, side, width, height, Math.max(width, height))] : []),
  ]);
  const splits = tableStats.map((): Split => ({ weights: new Float64Array(3), offset: 0, span: 0 }));

  const fieldWidth = (box.x1 - box.x0 + 1) * pxPerBlock;
  const fieldHeight = (box.y1 - box.y0 + 1) * pxPerBlock;
  const gridX = grid.firstBlock[0] * pxPerBlock;
  const gridY = grid.firstBlock[1] * pxPerBlock;
  const x0 = gridX + box.x0 * pxPerBlock;
  const y0 = gridY + box.y0 * pxPerBlock;
  const data = new Float32Array(fieldWidth * fieldHeight);
  const separation = new Float32Array(fieldWidth * fieldHeight);
  const rgb = picture.rgb;
  for (let by = box.y0; by <= box.y1; by++) {
    for (let bx = box.x0; bx <= box.x1; bx++) {
      const block = by * width + bx;
      const depth = signed(block);
      const inBand = Math.abs(depth) <= bandBlocks && grid.usable[block] === 1 && other[block] === 0;
      const splitCount = inBand ? splitsAt(paperStats, tableStats, block, splits) : 0;
      for (let py = 0; py < pxPerBlock; py++) {
        const y = gridY + by * pxPerBlock + py;
        for (let px = 0; px < pxPerBlock; px++) {
          const x = gridX + bx * pxPerBlock + px;
          const out = (y - y0) * fieldWidth + (x - x0);
          if (splitCount === 0) {
            data[out] = paper[block]!;
            continue;
          }
          const pixel = 3 * (y * rgb.widthPx + x);
          let own = Number.POSITIVE_INFINITY;
          let span = 0;
          for (let k = 0; k < splitCount; k++) {
            const split = splits[k]!;
            const value =
              split.weights[0]! * rgb.data[pixel]! +
              split.weights[1]! * rgb.data[pixel + 1]! +
              split.weights[2]! * rgb.data[pixel + 2]!;
            const place = (value - split.offset) / split.span;
            if (place >= own) continue;
            own = place;
            span = split.span;
          }
          own = Math.min(Math.max(own, -0.5), 1.5);
          const trust = Math.min(Math.max((Math.sqrt(span) - 1) / TRUSTED_SEPARATION, LEAST_TRUST), 1);
          separation[out] = Math.sqrt(span);
          data[out] = own * trust + belief[block]! * (1 - trust);
        }
      }
    }
  }
  return { x0, y0, width: fieldWidth, height: fieldHeight, data, separation };
}

interface LocalStats {
  readonly count: Float32Array;
  /** Mean R, G, B and the six covariances rr rg rb gg gb bb, by block. */
  readonly mean: readonly Float32Array[];
  readonly covariance: readonly Float32Array[];
}

function blockColours(picture: TablePicture, grid: BlockGrid): Float32Array[] {
  const { width, height, pxPerBlock } = grid;
  const planes = [0, 1, 2].map(() => new Float32Array(width * height));
  const rgb = picture.rgb;
  const centre = pxPerBlock >> 1;
  for (let by = 0; by < height; by++) {
    for (let bx = 0; bx < width; bx++) {
      const pixel =
        3 *
        (((grid.firstBlock[1] + by) * pxPerBlock + centre) * rgb.widthPx +
          (grid.firstBlock[0] + bx) * pxPerBlock +
          centre);
      for (let c = 0; c < 3; c++) planes[c]![by * width + bx] = rgb.data[pixel + c]!;
    }
  }
  return planes;
}

function localStats(
  colour: readonly Float32Array[],
  side: Uint8Array,
  width: number,
  height: number,
  radius: number,
): LocalStats {
  const count = boxSum(Float32Array.from(side), width, height, radius);
  const mean = colour.map((plane) => divided(boxSum(within(side, plane, null), width, height, radius), count));
  const pairs: readonly (readonly [number, number])[] = [
    [0, 0],
    [0, 1],
    [0, 2],
    [1, 1],
    [1, 2],
    [2, 2],
  ];
  const covariance = pairs.map(([p, q]) => {
    const product = divided(boxSum(within(side, colour[p]!, colour[q]!), width, height, radius), count);
    for (let i = 0; i < product.length; i++) product[i] = product[i]! - mean[p]![i]! * mean[q]![i]!;
    return product;
  });
  return { count, mean, covariance };
}

/** A plane, or the product of two, on the blocks of one side; 0 elsewhere. */
function within(side: Uint8Array, plane: Float32Array, other: Float32Array | null): Float32Array {
  const out = new Float32Array(side.length);
  for (let i = 0; i < side.length; i++) if (side[i] === 1) out[i] = other === null ? plane[i]! : plane[i]! * other[i]!;
  return out;
}

/** Scale from one colour of the table (0) to the paper (1). */
interface Split {
  readonly weights: Float64Array;
  /** Weighted colour of the table. */
  offset: number;
  /** Squared standard deviations between the two. */
  span: number;
}

/**
 * Fills `splits` from the front with one for each colour of the table; returns how many.
 * @param tables for every colour its averages, the nearest first
 */
function splitsAt(
  paper: LocalStats,
  tables: readonly (readonly LocalStats[])[],
  block: number,
  splits: readonly Split[],
): number {
  let count = 0;
  for (const ranges of tables) if (ranges.some((table) => discriminant(paper, table, block, splits[count]!))) count++;
  return count;
}

/** Blocks that a side needs near a place to be judged there. */
const ENOUGH_BLOCKS = 6;

/** Weights of R, G, B that separate the two sides best; false when a side has too little to say. */
function discriminant(paper: LocalStats, table: LocalStats, block: number, split: Split): boolean {
  if (paper.count[block]! < ENOUGH_BLOCKS || table.count[block]! < ENOUGH_BLOCKS) return false;
  const s = paper.covariance.map((plane, i) => plane[block]! + table.covariance[i]![block]!);
  const a = s[0]! + NOISE_VARIANCE;
  const d = s[3]! + NOISE_VARIANCE;
  const f = s[5]! + NOISE_VARIANCE;
  const [b, c, e] = [s[1]!, s[2]!, s[4]!];
  const step = [0, 1, 2].map((k) => paper.mean[k]![block]! - table.mean[k]![block]!) as [number, number, number];
  const determinant = a * (d * f - e * e) - b * (b * f - e * c) + c * (b * e - d * c);
  if (!(determinant > 0)) return false;
  const inverse = [d * f - e * e, c * e - b * f, b * e - c * d, a * f - c * c, b * c - a * e, a * d - b * b];
  const { weights } = split;
  weights[0] = (inverse[0]! * step[0] + inverse[1]! * step[1] + inverse[2]! * step[2]) / determinant;
  weights[1] = (inverse[1]! * step[0] + inverse[3]! * step[1] + inverse[4]! * step[2]) / determinant;
  weights[2] = (inverse[2]! * step[0] + inverse[4]! * step[1] + inverse[5]! * step[2]) / determinant;
  split.offset = 0;
  split.span = 0;
  for (let k = 0; k < 3; k++) {
    split.offset += weights[k]! * table.mean[k]![block]!;
    split.span += weights[k]! * step[k]!;
  }
  return split.span > 0;
}

/** In place. */
function divided(sum: Float32Array, count: Float32Array): Float32Array {
  for (let i = 0; i < sum.length; i++) sum[i] = count[i]! > 0 ? sum[i]! / count[i]! : 0;
  return sum;
}

/** Sum over the square of 2 radius + 1 blocks, cut off at the rim. */
export function boxSum(values: Float32Array, width: number, height: number, radius: number): Float32Array {
  const rows = new Float32Array(values.length);
  for (let y = 0; y < height; y++) {
    let sum = 0;
    for (let x = 0; x < Math.min(radius, width); x++) sum += values[y * width + x]!;
    for (let x = 0; x < width; x++) {
      if (x + radius < width) sum += values[y * width + x + radius]!;
      if (x - radius - 1 >= 0) sum -= values[y * width + x - radius - 1]!;
      rows[y * width + x] = sum;
    }
  }
  const out = new Float32Array(values.length);
  for (let x = 0; x < width; x++) {
    let sum = 0;
    for (let y = 0; y < Math.min(radius, height); y++) sum += rows[y * width + x]!;
    for (let y = 0; y < height; y++) {
      if (y + radius < height) sum += rows[(y + radius) * width + x]!;
      if (y - radius - 1 >= 0) sum -= rows[(y - radius - 1) * width + x]!;
      out[y * width + x] = sum;
    }
  }
  return out;
}
