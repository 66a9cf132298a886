// Small pictures of paper on a table seen straight from above, with exactly known edges, for the paper stages: area
// coverage per pixel, mixed and blurred in linear light, then sRGB with noise. Seeded, no library.
import type { Point } from '../../shared/base/points.ts';
import type { RgbImage } from '../../shared/vision/image.ts';

export type Linear = readonly [number, number, number];

export interface RasterScene {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly mmPerPx: number;
  readonly table: (xMm: number, yMm: number) => Linear;
  readonly papers: readonly { readonly ring: readonly Point[]; readonly colour: Linear }[];
  /** Factor on the light at a place; 1 when left out. */
  readonly light?: (xMm: number, yMm: number) => number;
  /** Light added by reflection at a place. */
  readonly glare?: (xMm: number, yMm: number) => number;
  readonly noiseCode?: number;
}

/** Pixel centre (0, 0) shows the table point (0, 0). */
export function paperRaster(scene: RasterScene): RgbImage {
  const { mmPerPx } = scene;
  const widthPx = Math.round(scene.widthMm / mmPerPx);
  const heightPx = Math.round(scene.heightMm / mmPerPx);
  const linear = new Float32Array(3 * widthPx * heightPx);
  const covers = scene.papers.map(({ ring }) =>
    coverage(
      ring.map(([x, y]) => [x / mmPerPx + 0.5, y / mmPerPx + 0.5] as const),
      widthPx,
      heightPx,
    ),
  );
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      const colour = [...scene.table(x * mmPerPx, y * mmPerPx)];
      scene.papers.forEach((paper, i) => {
        const cover = covers[i]![at]!;
        for (let c = 0; c < 3; c++) colour[c] = colour[c]! * (1 - cover) + paper.colour[c]! * cover;
      });
      const light = scene.light?.(x * mmPerPx, y * mmPerPx) ?? 1;
      const glare = scene.glare?.(x * mmPerPx, y * mmPerPx) ?? 0;
      for (let c = 0; c < 3; c++) linear[3 * at + c] = colour[c]! * light + glare;
    }
  }
  const blurred = blur(linear, widthPx, heightPx);
  const random = seeded(7);
  const noise = scene.noiseCode ?? 1.5;
  const data = new Uint8Array(linear.length);
  for (let i = 0; i < data.length; i++) {
    const value = Math.min(Math.max(blurred[i]!, 0), 1);
    const code = 255 * (value <= 0.0031308 ? 12.92 * value : 1.055 * value ** (1 / 2.4) - 0.055);
    data[i] = Math.min(
      Math.max(Math.round(code + noise * (random() + random() + random() + random() - 2) * 1.73), 0),
      255,
    );
  }
  return { widthPx, heightPx, data };
}

export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
}

/** Smooth noise 0-1, about one wave per unit. */
export function softNoise(x: number, y: number): number {
  const corner = (i: number, j: number): number => {
    const h = Math.sin(i * 127.1 + j * 311.7) * 43758.5453;
    return h - Math.floor(h);
  };
  const x0 = Math.floor(x);
  const y0 = Math.floor(y);
  const sx = (x - x0) ** 2 * (3 - 2 * (x - x0));
  const sy = (y - y0) ** 2 * (3 - 2 * (y - y0));
  const top = corner(x0, y0) * (1 - sx) + corner(x0 + 1, y0) * sx;
  const bottom = corner(x0, y0 + 1) * (1 - sx) + corner(x0 + 1, y0 + 1) * sx;
  return top * (1 - sy) + bottom * sy;
}

const ROWS_PER_PX = 6;

/** Area share of every pixel (square i..i+1) inside the ring: exact along x, six rows along y. */
function coverage(ring: readonly Point[], widthPx: number, heightPx: number): Float32Array {
  const out = new Float32Array(widthPx * heightPx);
  for (let row = 0; row < heightPx * ROWS_PER_PX; row++) {
    const y = (row + 0.5) / ROWS_PER_PX;
    const crossings: number[] = [];
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      if (a[1] <= y !== b[1] <= y) crossings.push(a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
    });
    crossings.sort((p, q) => p - q);
    const base = Math.floor(row / ROWS_PER_PX) * widthPx;
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const from = Math.max(0, crossings[k]!);
      const to = Math.min(widthPx, crossings[k + 1]!);
      for (let x = Math.floor(from); x < to; x++) {
        out[base + x]! += Math.max(0, Math.min(to, x + 1) - Math.max(from, x)) / ROWS_PER_PX;
      }
    }
  }
  return out;
}

/** Gaussian of 0.7 px on interleaved colour. */
function blur(values: Float32Array, widthPx: number, heightPx: number): Float32Array {
  const kernel = [0.0096, 0.2054, 0.57, 0.2054, 0.0096];
  const pass = (source: Float32Array, stepX: number, stepY: number): Float32Array => {
    const out = new Float32Array(source.length);
    for (let y = 0; y < heightPx; y++) {
      for (let x = 0; x < widthPx; x++) {
        for (let k = -2; k <= 2; k++) {
          const xx = Math.min(Math.max(x + k * stepX, 0), widthPx - 1);
          const yy = Math.min(Math.max(y + k * stepY, 0), heightPx - 1);
          for (let c = 0; c < 3; c++)
            out[3 * (y * widthPx + x) + c]! += kernel[k + 2]! * source[3 * (yy * widthPx + xx) + c]!;
        }
      }
    }
    return out;
  };
  return pass(pass(values, 1, 0), 0, 1);
}

export function circleRing(x: number, y: number, radius: number): Point[] {
  return Array.from({ length: 720 }, (_, i) => [
    x + radius * Math.cos((i * Math.PI) / 360),
    y + radius * Math.sin((i * Math.PI) / 360),
  ]);
}

/** Corners of a rectangle turned about its middle, clockwise on the screen. */
export function rectangleRing(x: number, y: number, width: number, height: number, turnDeg: number): Point[] {
  const c = Math.cos((turnDeg * Math.PI) / 180);
  const s = Math.sin((turnDeg * Math.PI) / 180);
  return [
    [-width / 2, -height / 2],
    [width / 2, -height / 2],
    [width / 2, height / 2],
    [-width / 2, height / 2],
  ].map(([u, v]) => [x + c * u! - s * v!, y + s * u! + c * v!] as const);
}

/** Distance of a point from a closed ring. */
export function distanceToRing(ring: readonly Point[], p: Point): number {
  let best = Number.POSITIVE_INFINITY;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const dx = b[0] - a[0];
    const dy = b[1] - a[1];
    const t = Math.min(Math.max(((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy), 0), 1);
    best = Math.min(best, Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy));
  });
  return best;
}
