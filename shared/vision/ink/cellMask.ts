// Where in the photo to look, in coarse cells: cards and paper edges are left out before any pixel is read.
import type { Point } from '../../base/points.ts';

export interface CellMask {
  readonly cellPx: number;
  readonly columns: number;
  readonly rows: number;
  /** 1 = look here. */
  readonly data: Uint8Array;
}

const CELL_PX = 4;

/** A mask over a picture, all open. */
export function openMask(widthPx: number, heightPx: number): CellMask {
  const columns = Math.ceil(widthPx / CELL_PX);
  const rows = Math.ceil(heightPx / CELL_PX);
  return { cellPx: CELL_PX, columns, rows, data: new Uint8Array(columns * rows).fill(1) };
}

/** The same mask with everything outside all rings closed. Rings in photo pixels. */
export function keepOnly(mask: CellMask, rings: readonly (readonly Point[])[]): CellMask {
  const inside = new Uint8Array(mask.data.length);
  for (const ring of rings) fillRing(mask, ring, (at) => (inside[at] = 1));
  return { ...mask, data: mask.data.map((open, i) => (inside[i] === 1 ? open : 0)) };
}

/** The same mask with the inside of each ring closed. Rings in photo pixels. */
export function leaveOut(mask: CellMask, rings: readonly (readonly Point[])[]): CellMask {
  const data = mask.data.slice();
  for (const ring of rings) fillRing(mask, ring, (at) => (data[at] = 0));
  return { ...mask, data };
}

/** Visits each cell whose centre lies in the ring (even-odd). */
function fillRing(mask: CellMask, ring: readonly Point[], visit: (at: number) => void): void {
  for (let row = 0; row < mask.rows; row++) {
    const y = (row + 0.5) * mask.cellPx - 0.5;
    const crossings: number[] = [];
    for (let i = 0; i < ring.length; i++) {
      const a = ring[i]!;
      const b = ring[(i + 1) % ring.length]!;
      if (a[1] > y === b[1] > y) continue;
      crossings.push(a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1]));
    }
    crossings.sort((p, q) => p - q);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const from = Math.max(0, Math.ceil((crossings[k]! + 0.5) / mask.cellPx - 0.5));
      const to = Math.min(mask.columns - 1, Math.floor((crossings[k + 1]! + 0.5) / mask.cellPx - 0.5));
      for (let column = from; column <= to; column++) visit(row * mask.columns + column);
    }
  }
}
