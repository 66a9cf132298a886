// Areas of one even surface under one light, fenced in by steps: what a sheet of paper is, whatever the table looks like.
// A reflection fades and so is never even; a pattern or the grain of wood falls into small areas. How much unevenness still
// counts as even differs from photo to photo, so several answers are given, and the rim of each has to prove it.
import type { BlockGrid } from './blockGrid.ts';
import { boxesOf, type GridBox } from './cropGrid.ts';
import { components, distanceToSet } from './maskOps.ts';

const CELLS = {
  /** What the fence took from the area: its own width and the window of the block's median. */
  haloMm: 4.8,
  /** Surroundings of a cell that its rim is judged by. */
  marginMm: 24,
} as const;

/** One even area; the mask covers its box only. */
export interface FlatCell {
  readonly mask: Uint8Array;
  readonly box: GridBox;
  readonly blocks: number;
  /** Distance in blocks of its middle from the nearest fence. */
  readonly depth: number;
}

/** Where the surface changes at one evenness, and what the table itself looks like there. */
interface Fences {
  /** Distance in blocks from the nearest fence. */
  readonly clear: Float32Array;
  /** Share of the table beside the cards that is fence, and the depth of its even areas there: the size of its pattern. */
  readonly tableFence: number;
  readonly tableDepth: number;
}

/** Largest change of colour and light across every block, over two blocks in four directions. */
export function unevenness(grid: BlockGrid): Float32Array {
  const { width, height, lightness, redness, blueness, outside } = grid;
  const out = new Float32Array(width * height);
  const around = [1, width, width + 1, width - 1];
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const at = y * width + x;
      let most = 0;
      for (const way of around) {
        const a = at - way;
        const b = at + way;
        if (outside[a] === 1 || outside[b] === 1) continue;
        const l = lightness[b]! - lightness[a]!;
        const r = redness[b]! - redness[a]!;
        const u = blueness[b]! - blueness[a]!;
        most = Math.max(most, l * l + r * r + u * u);
      }
      out[at] = Math.sqrt(most);
    }
  }
  return out;
}

/** @param evenness change of log light over two blocks that still counts as even */
export function fencesAt(grid: BlockGrid, uneven: Float32Array, evenness: number, besideCards: Uint8Array): Fences {
  const fence = new Uint8Array(uneven.length);
  for (let i = 0; i < fence.length; i++) if (uneven[i]! > evenness || grid.usable[i] === 0) fence[i] = 1;
  const clear = distanceToSet(fence, grid.width, grid.height);
  return { clear, ...tableAt(fence, clear, besideCards) };
}

/** Every area between the fences; gaps in them up to twice `closeBlocks` wide are closed. */
export function flatCells(grid: BlockGrid, clear: Float32Array, closeBlocks: number, minBlocks: number): FlatCell[] {
  const { width, height, usable } = grid;
  const core = new Uint8Array(clear.length);
  for (let i = 0; i < core.length; i++) if (clear[i]! > closeBlocks) core[i] = 1;
  const parts = components(core, width);
  const margin = Math.ceil(CELLS.marginMm / grid.mmPerBlock);
  const reach = closeBlocks + CELLS.haloMm / grid.mmPerBlock;
  return boxesOf(parts, width, height, margin)
    .filter(({ size }) => size >= minBlocks)
    .map(({ name, box }) => {
      const own = new Uint8Array(box.width * box.height);
      for (let y = 0, i = 0; y < box.height; y++)
        for (let x = 0; x < box.width; x++, i++)
          if (parts.label[(box.y0 + y) * width + box.x0 + x] === name) own[i] = 1;
      const far = distanceToSet(own, box.width, box.height);
      let blocks = 0;
      let depth = 0;
      for (let y = 0, i = 0; y < box.height; y++)
        for (let x = 0; x < box.width; x++, i++) {
          if (own[i] === 1) depth = Math.max(depth, clear[(box.y0 + y) * width + box.x0 + x]!);
          own[i] = far[i]! <= reach && usable[(box.y0 + y) * width + box.x0 + x] === 1 ? 1 : 0;
          blocks += own[i]!;
        }
      return { mask: own, box, blocks, depth };
    });
}

/** Depth that this share of the table beside the cards does not reach. */
const DEEP_SHARE = 0.97;

function tableAt(fence: Uint8Array, clear: Float32Array, besideCards: Uint8Array) {
  const depths: number[] = [];
  let fenced = 0;
  for (let i = 0; i < fence.length; i++) {
    if (besideCards[i] === 0) continue;
    depths.push(clear[i]!);
    fenced += fence[i]!;
  }
  depths.sort((a, b) => a - b);
  return {
    tableFence: depths.length === 0 ? 0 : fenced / depths.length,
    tableDepth: depths[Math.floor(DEEP_SHARE * depths.length)] ?? 0,
  };
}
