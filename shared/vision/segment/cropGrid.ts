// A rectangular part of the block grid, so that the work on one piece costs what the piece is large, not the table.
import type { BlockGrid } from './blockGrid.ts';
import type { Components } from './maskOps.ts';
import { FEATURES } from './quietWindows.ts';

export interface GridBox {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
}

/** Box of the set blocks of a mask, grown by `margin` blocks and cut off at the grid. */
export function boxOf(mask: Uint8Array, width: number, height: number, margin: number): GridBox {
  let [x0, y0, x1, y1] = [width, height, -1, -1];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (mask[y * width + x] === 0) continue;
      x0 = Math.min(x0, x);
      x1 = Math.max(x1, x);
      y0 = Math.min(y0, y);
      y1 = Math.max(y1, y);
    }
  }
  x0 = Math.max(0, x0 - margin);
  y0 = Math.max(0, y0 - margin);
  return { x0, y0, width: Math.min(width, x1 + margin + 1) - x0, height: Math.min(height, y1 + margin + 1) - y0 };
}

export function cropped<T extends Uint8Array | Float32Array>(
  values: T,
  gridWidth: number,
  box: GridBox,
  perBlock = 1,
): T {
  const out = values.slice(0, box.width * box.height * perBlock) as T; // slice keeps the array's own kind
  for (let y = 0; y < box.height; y++) {
    const from = ((box.y0 + y) * gridWidth + box.x0) * perBlock;
    out.set(values.subarray(from, from + box.width * perBlock), y * box.width * perBlock);
  }
  return out;
}

export function croppedFeatures(features: Float32Array, gridWidth: number, box: GridBox): Float32Array {
  return cropped(features, gridWidth, box, FEATURES);
}

export function croppedGrid(grid: BlockGrid, box: GridBox): BlockGrid {
  const part = <T extends Uint8Array | Float32Array>(values: T): T => cropped(values, grid.width, box);
  return {
    ...grid,
    width: box.width,
    height: box.height,
    firstBlock: [grid.firstBlock[0] + box.x0, grid.firstBlock[1] + box.y0],
    lightness: part(grid.lightness),
    redness: part(grid.redness),
    blueness: part(grid.blueness),
    grain: part(grid.grain),
    usable: part(grid.usable),
    card: part(grid.card),
    outside: part(grid.outside),
  };
}

/** Sets in `target` (whole grid) what is set in `part` (box). */
export function pasteSet(target: Uint8Array, gridWidth: number, part: Uint8Array, box: GridBox): void {
  for (let y = 0; y < box.height; y++) {
    for (let x = 0; x < box.width; x++) {
      if (part[y * box.width + x] === 1) target[(box.y0 + y) * gridWidth + box.x0 + x] = 1;
    }
  }
}

/** Name, size and box of every component, one pass over the grid; boxes grown by `margin` and cut off at the grid. */
export function boxesOf(
  parts: Components,
  width: number,
  height: number,
  margin: number,
): { name: number; size: number; box: GridBox }[] {
  const extents = parts.size.map(() => ({ x0: width, y0: height, x1: -1, y1: -1 }));
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const extent = extents[parts.label[y * width + x]!]!;
      extent.x0 = Math.min(extent.x0, x);
      extent.x1 = Math.max(extent.x1, x);
      extent.y0 = Math.min(extent.y0, y);
      extent.y1 = Math.max(extent.y1, y);
    }
  }
  return extents.slice(1).map((extent, i) => {
    const x0 = Math.max(0, extent.x0 - margin);
    const y0 = Math.max(0, extent.y0 - margin);
    const box = {
      x0,
      y0,
      width: Math.min(width, extent.x1 + margin + 1) - x0,
      height: Math.min(height, extent.y1 + margin + 1) - y0,
    };
    return { name: i + 1, size: parts.size[i + 1]!, box };
  });
}

export function croppedLabels(label: Int32Array, gridWidth: number, box: GridBox): Int32Array {
  const out = new Int32Array(box.width * box.height);
  for (let y = 0; y < box.height; y++) {
    const from = (box.y0 + y) * gridWidth + box.x0;
    out.set(label.subarray(from, from + box.width), y * box.width);
  }
  return out;
}
