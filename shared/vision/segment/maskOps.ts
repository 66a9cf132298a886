// Binary masks on the block grid: distance, connected components, holes. Small and plain; 1 is set, 0 is not.

const DIAGONAL = Math.SQRT2;

/** Distance in blocks from every block to the nearest set block (chamfer 1, sqrt 2; at most 8 % off); Infinity if none. */
export function distanceToSet(mask: Uint8Array, width: number, height: number): Float32Array {
  // A frame of one block, infinitely far, so that no block needs to know whether it lies at the rim.
  const stride = width + 2;
  const framed = new Float32Array(stride * (height + 2)).fill(Number.POSITIVE_INFINITY);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) if (mask[y * width + x] === 1) framed[(y + 1) * stride + x + 1] = 0;
  for (let y = 1; y <= height; y++) spreadRow(framed, y * stride + 1, width, 1, stride);
  for (let y = height; y >= 1; y--) spreadRow(framed, y * stride + width, width, -1, stride);
  const far = new Float32Array(mask.length);
  for (let y = 0; y < height; y++) {
    const from = (y + 1) * stride + 1;
    far.set(framed.subarray(from, from + width), y * width);
  }
  return far;
}

/** Lets each block of a row learn from the one before it and from the three of the row passed before. */
function spreadRow(far: Float32Array, first: number, count: number, step: 1 | -1, stride: number): void {
  const back = -step * stride;
  let passed = far[first + back - step]!;
  let above = far[first + back]!;
  let before = far[first - step]!;
  for (let k = 0, at = first; k < count; k++, at += step) {
    const coming = far[at + back + step]!;
    const straight = Math.min(before, above) + 1;
    const diagonal = Math.min(passed, coming) + DIAGONAL;
    const way = Math.min(straight, diagonal);
    if (way < far[at]!) far[at] = way;
    before = far[at]!;
    passed = above;
    above = coming;
  }
}

/** Everything within `radius` blocks of something set. */
export function grown(mask: Uint8Array, width: number, height: number, radius: number): Uint8Array {
  const far = distanceToSet(mask, width, height);
  const out = new Uint8Array(mask.length);
  for (let i = 0; i < out.length; i++) if (far[i]! <= radius) out[i] = 1;
  return out;
}

export function inverted(mask: Uint8Array): Uint8Array {
  const out = new Uint8Array(mask.length);
  for (let i = 0; i < out.length; i++) out[i] = 1 - mask[i]!;
  return out;
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
      if (x > 0) visit(at - 1, name, mask, label, stack);
      if (x < width - 1) visit(at + 1, name, mask, label, stack);
      visit(at - width, name, mask, label, stack);
      visit(at + width, name, mask, label, stack);
    }
    size.push(n);
  }
  return { label, size };
}

function visit(at: number, name: number, mask: Uint8Array, label: Int32Array, stack: number[]): void {
  if (at < 0 || at >= mask.length || mask[at] === 0 || label[at] !== 0) return;
  label[at] = name;
  stack.push(at);
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
