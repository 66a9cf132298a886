// The few shapes that cards and pages are drawn from, independent of the file format. No strokes and no gradients: any
// renderer draws filled polygons alike. Millimetres, y down.
import { assertNever } from '../../base/assertNever.ts';
import type { Point } from '../../base/points.ts';

export type Ink = 'black' | 'white' | 'faint';

export type Shape =
  | { readonly kind: 'rect'; readonly at: Point; readonly width: number; readonly height: number; readonly ink: Ink }
  /** Closed loops; holes run the other way round. */
  | { readonly kind: 'loops'; readonly loops: readonly (readonly Point[])[]; readonly ink: Ink }
  /** `at` is the left end (or middle, or right end) of the baseline. */
  | {
      readonly kind: 'text';
      readonly at: Point;
      readonly text: string;
      readonly sizeMm: number;
      readonly weight: 'plain' | 'bold';
      readonly align: 'start' | 'middle' | 'end';
      readonly turned: boolean;
    };

/** Moves shapes; with `turnIn` they are first turned by 180 degrees within a box of that size. */
export function placed(
  shapes: readonly Shape[],
  to: Point,
  turnIn?: { readonly width: number; readonly height: number },
): Shape[] {
  const move = ([x, y]: Point): Point =>
    turnIn === undefined ? [x + to[0], y + to[1]] : [to[0] + turnIn.width - x, to[1] + turnIn.height - y];
  return shapes.map((shape) => {
    switch (shape.kind) {
      case 'rect': {
        const [x, y] = shape.at;
        const corner: Point = turnIn === undefined ? [x, y] : [x + shape.width, y + shape.height];
        return { ...shape, at: move(corner) };
      }
      case 'loops':
        return { ...shape, loops: shape.loops.map((loop) => loop.map(move)) };
      case 'text':
        return { ...shape, at: move(shape.at), turned: turnIn === undefined ? shape.turned : !shape.turned };
      default:
        return assertNever(shape);
    }
  });
}

/**
 * The outlines of the set cells of a grid as closed loops along cell borders, so that neighbouring cells are one area:
 * side by side rectangles would show hairlines where a renderer smooths edges.
 * @param cells row by row
 */
export function cellLoops(cells: readonly boolean[], columns: number, at: Point, cellMm: number): Point[][] {
  const rows = cells.length / columns;
  const isSet = (c: number, r: number) => c >= 0 && r >= 0 && c < columns && r < rows && cells[r * columns + c]!;
  // Directed border steps with the set cell on the right-hand side (clockwise on the screen), keyed by their start.
  const steps = new Map<string, [number, number][]>();
  const addStep = (c: number, r: number, dc: number, dr: number) => {
    const key = `${c},${r}`;
    steps.set(key, [...(steps.get(key) ?? []), [dc, dr]]);
  };
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      if (!isSet(c, r)) continue;
      if (!isSet(c, r - 1)) addStep(c, r, 1, 0);
      if (!isSet(c + 1, r)) addStep(c + 1, r, 0, 1);
      if (!isSet(c, r + 1)) addStep(c + 1, r + 1, -1, 0);
      if (!isSet(c - 1, r)) addStep(c, r + 1, 0, -1);
    }
  }
  const loops: Point[][] = [];
  for (const [key, leaving] of steps) {
    while (leaving.length > 0) {
      const [startC, startR] = key.split(',').map(Number) as [number, number];
      const loop: Point[] = [];
      let [c, r] = [startC, startR];
      let [lastC, lastR] = [0, 0];
      do {
        const choices = steps.get(`${c},${r}`)!;
        // Where two cells touch at a corner, turn right: the loop stays with its own cell.
        const right = choices.findIndex(([dc, dr]) => dc === -lastR && dr === lastC);
        const [dc, dr] = choices.splice(Math.max(right, 0), 1)[0]!;
        if (dc !== lastC || dr !== lastR) loop.push([at[0] + c * cellMm, at[1] + r * cellMm]);
        [lastC, lastR] = [dc, dr];
        c += dc;
        r += dr;
      } while (c !== startC || r !== startR);
      loops.push(loop);
    }
  }
  return loops;
}
