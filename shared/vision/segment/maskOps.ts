// Binary masks on the block grid: distance, connected components, holes. Small and plain; 1 is set, 0 is not.

const DIAGONAL = Math.SQRT2;

/** Distance in blocks from every block to the nearest set block (chamfer 1, sqrt 2; at most 8 % off); Infinity if none. */
export function distanceToSet(mask: Uint8Array, width: number, height: number): Float32Array {
  const far = new Float32Array(mask.length).fill(Number.POSITIVE_INFINITY);
  for (let i = 0; i < mask.length; i++) if (mask[i] === 1) far[i] = 0;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      let best = far[at]!;
      if (x > 0) best = Math.min(best, far[at - 1]! + 1);
      if (y > 0) {
        best = Math.min(best, far[at - width]! + 1);
        if (x > 0) best = Math.min(best, far[at - width - 1]! + DIAGONAL);
        if (x < width - 1) best = Math.min(best, far[at - width + 1]! + DIAGONAL);
      }
      far[at] = best;
    }
  }
  for (let y = height - 1; y >= 0; y--) {
    for (let x = width - 1; x >= 0; x--) {
      const at = y * width + x;
      let best = far[at]!;
      if (x < width - 1) best = Math.min(best, far[at + 1]! + 1);
      if (y < height - 1) {
        best = Math.min(best, far[at + width]! + 1);
        if (x < width - 1) best = Math.min(best, far[at + width + 1]! + DIAGONAL);
        if (x > 0) best = Math.min(best, far[at + width - 1]! + DIAGONAL);
      }
      far[at] = best;
    }
  }
  return far;
}

/** Everything within `radius` blocks of something set. */
export function grown(mask: Uint8Array, width: number, height: number, radius: number): Uint8Array {
  const far = distanceToSet(mask, width, height);
  const out = new Uint8Array(mask.length);
  for (let i = 0; i < out.length; i++) if (far[i]! <= radius) out[i] = 1;
  return out;
}

export function inverted(mask: Uint8Array): Uint8Array {
  return mask.map((value) => 1 - value);
}

/** Keeps what is further than `radius` from anything unset; the rim of the grid counts as set. */
export function shrunk(mask: Uint8Array, width: number, height: number, radius: number): Uint8Array {
  return inverted(grown(inverted(mask), width, height, radius));
}

export interface Components {
  /** 0 for unset, else 1-based component number. */
  readonly label: Int32Array;
  /** Size in blocks, by component number; entry 0 unused. */
  readonly size: readonly number[];
}

/** Components of set blocks, four neighbours. */
export function components(mask: Uint8Array, width: number): Components {
  const label = new Int32Array(mask.length);
  const size = [0];
  const stack: number[] = [];
  for (let start = 0; start < mask.length; start++) {
    if (mask[start] === 0 || label[start] !== 0) continue;
    const name = size.length;
    let n = 0;
    stack.push(start);
    label[start] = name;
    for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
      n++;
      const x = at % width;
      const neighbours = [x > 0 ? at - 1 : -1, x < width - 1 ? at + 1 : -1, at - width, at + width];
      for (const next of neighbours) {
        if (next < 0 || next >= mask.length || mask[next] === 0 || label[next] !== 0) continue;
        label[next] = name;
        stack.push(next);
      }
    }
    size.push(n);
  }
  return { label, size };
}

/** Fills unset areas that do not reach the rim of the grid and are smaller than `limit` blocks. */
export function holesFilled(mask: Uint8Array, width: number, height: number, limit: number): Uint8Array {
  const empty = components(inverted(mask), width);
  const open = new Set<number>();
  for (let x = 0; x < width; x++) open.add(empty.label[x]!).add(empty.label[(height - 1) * width + x]!);
  for (let y = 0; y < height; y++) open.add(empty.label[y * width]!).add(empty.label[y * width + width - 1]!);
  return mask.map((value, i) => {
    const name = empty.label[i]!;
    return value === 0 && name !== 0 && !open.has(name) && empty.size[name]! < limit ? 1 : value;
  });
}
