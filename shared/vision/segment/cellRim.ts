// Whether an area ends like paper: all around it one sharp step, even inside right up to the step. A reflection or a shadow's
// soft rim goes on changing on either side of the place where it is steepest.
import { away, type Colour } from '../colour.ts';
import type { BlockGrid } from './blockGrid.ts';
import type { FlatCell } from './flatCells.ts';
import { boxSum } from './localSplit.ts';

const RIM = {
  /** Blocks of the mask that its direction is taken from, to either side. */
  normalReach: 3,
  /** The step may lie this many blocks off the mask's rim. */
  slack: 3,
  /** A step is taken between places this many blocks to either side of it, and compared with as much again. */
  stepBlocks: 1.5,
  /** Log light. */
  leastStep: 0.045,
  /** Change as far again inside and outside, as shares of the step. */
  insideShare: 0.3,
  outsideShare: 0.4,
} as const;

export interface CellRim {
  /** Block of the grid for every place of the rim. */
  readonly places: readonly RimPlace[];
  /** Share of the places that nothing covers where the area ends in one sharp step. */
  readonly sharpRatio: number;
  /** Share of the rim that lies on cards or at the end of the photo. */
  readonly blockedRatio: number;
}

export interface RimPlace {
  readonly x: number;
  readonly y: number;
  /** Inward. */
  readonly nx: number;
  readonly ny: number;
  readonly blocked: boolean;
  readonly sharp: boolean;
  /** Log lightness, redness, blueness beyond the step and before it. */
  readonly outside: Colour;
  readonly inside: Colour;
}

export function cellRim(grid: BlockGrid, { mask, box }: Pick<FlatCell, 'mask' | 'box'>): CellRim {
  const { width, height } = box;
  const soft = boxSum(Float32Array.from(mask), width, height, RIM.normalReach);
  const places: RimPlace[] = [];
  let sharp = 0;
  let free = 0;
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const at = y * width + x;
      if (mask[at] === 0 || mask[at - 1]! + mask[at + 1]! + mask[at - width]! + mask[at + width]! === 4) continue;
      let nx = soft[at + 1]! - soft[at - 1]!;
      let ny = soft[at + width]! - soft[at - width]!;
      const length = Math.hypot(nx, ny);
      if (length === 0) continue;
      nx /= length;
      ny /= length;
      const line: Line = { x: box.x0 + x - nx * 0.5, y: box.y0 + y - ny * 0.5, nx, ny };
      let blocked = false;
      for (let t = -3; t <= 3 && !blocked; t++) {
        const block = blockAt(grid, line, t);
        blocked = block < 0 || grid.usable[block] === 0;
      }
      let best = 0;
      let size = -1;
      for (let s = -RIM.slack; s <= RIM.slack; s++) {
        const step = away(colourAt(grid, line, s + RIM.stepBlocks), colourAt(grid, line, s - RIM.stepBlocks));
        if (step <= size) continue;
        size = step;
        best = s;
      }
      const inside = colourAt(grid, line, best + RIM.stepBlocks);
      const outside = colourAt(grid, line, best - RIM.stepBlocks);
      const isSharp =
        size > RIM.leastStep &&
        away(inside, colourAt(grid, line, best + 2 * RIM.stepBlocks)) < RIM.insideShare * size &&
        away(outside, colourAt(grid, line, best - 2 * RIM.stepBlocks)) < RIM.outsideShare * size;
      if (!blocked) {
        free++;
        if (isSharp) sharp++;
      }
      places.push({ x: box.x0 + x, y: box.y0 + y, nx, ny, blocked, sharp: isSharp, outside, inside });
    }
  }
  return {
    places,
    sharpRatio: free === 0 ? 0 : sharp / free,
    blockedRatio: places.length === 0 ? 1 : 1 - free / places.length,
  };
}

/** A line across the rim; lengths along it are in blocks, inward. */
interface Line {
  readonly x: number;
  readonly y: number;
  readonly nx: number;
  readonly ny: number;
}

/** Block of the grid at a place of the line, -1 outside the grid. */
function blockAt({ width, height }: BlockGrid, { x, y, nx, ny }: Line, t: number): number {
  const xx = Math.round(x + nx * t);
  const yy = Math.round(y + ny * t);
  return xx < 0 || yy < 0 || xx >= width || yy >= height ? -1 : yy * width + xx;
}

function colourAt(grid: BlockGrid, line: Line, t: number): Colour {
  const block = blockAt(grid, line, t);
  return block < 0 ? [0, 0, 0] : [grid.lightness[block]!, grid.redness[block]!, grid.blueness[block]!];
}
