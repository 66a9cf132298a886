// A small drawn table for tests of ink and marks: papers and pen lines of known place, seen through a known tilted pinhole,
// with blur and seeded noise. Simpler than the camera of tests/photos on purpose: an independent check, and fast.
import { type PhotoPointPx, type Point, photoPx, tableMm } from '../../shared/base/points.ts';
import type { Photo } from '../../shared/vision/image.ts';
import type { PlaneMap } from '../../shared/vision/ink/planeMap.ts';

export interface PenLine {
  readonly points: readonly Point[];
  readonly closed?: boolean;
  readonly widthMm: number;
  /** On, off lengths; solid when left out. */
  readonly dashMm?: readonly [number, number];
  /** Share of the paper's light that the ink takes away (default 0.75). */
  readonly depth?: number;
}

export interface InkedTable {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mmPerPx: number;
  /** Perspective: relative change of scale from the left to the right rim. */
  readonly tilt: number;
  readonly tableLevel: number;
  readonly paperLevel: number;
  /** Rings of paper; empty = paper everywhere. */
  readonly papers: readonly (readonly Point[])[];
  /** Filled with table (holes, snips) or with ink (arrow heads). */
  readonly cutAway?: readonly (readonly Point[])[];
  readonly fills?: readonly (readonly Point[])[];
  readonly lines: readonly PenLine[];
  readonly noise: number;
  readonly seed: number;
}

export interface SeenTable {
  readonly photo: Photo;
  readonly plane: PlaneMap;
}

/** Homography photo <- table: x' = s x / (1 + k x), about the middle of the picture. */
function planeOf(table: InkedTable): PlaneMap {
  const [cx, cy] = [(table.widthPx - 1) / 2, (table.heightPx - 1) / 2];
  const k = table.tilt / (table.widthPx * table.mmPerPx);
  const s = 1 / table.mmPerPx;
  return {
    mmPerPixel: table.mmPerPx,
    photoFromTable: (p) => {
      const w = 1 + k * p[0];
      return photoPx(cx + (s * p[0]) / w, cy + (s * p[1]) / w);
    },
    tableFromPhoto: (p) => {
      const u = (p[0] - cx) / s;
      const v = (p[1] - cy) / s;
      const x = u / (1 - k * u);
      return tableMm(x, v * (1 + k * x));
    },
  };
}

export function photographInk(table: InkedTable): SeenTable {
  const plane = planeOf(table);
  const { widthPx, heightPx } = table;
  const toPhoto = (p: Point): PhotoPointPx => plane.photoFromTable(tableMm(p[0], p[1]));
  const level = new Float32Array(widthPx * heightPx).fill(
    table.papers.length === 0 ? table.paperLevel : table.tableLevel,
  );
  for (const ring of table.papers) paint(level, widthPx, heightPx, ring.map(toPhoto), table.paperLevel);
  const ink = new Float32Array(widthPx * heightPx);
  for (const line of table.lines) drawPen(ink, table, line, toPhoto);
  for (const ring of table.fills ?? []) paint(ink, widthPx, heightPx, ring.map(toPhoto), 0.75);
  for (let i = 0; i < level.length; i++) level[i]! *= 1 - ink[i]!;
  for (const ring of table.cutAway ?? []) paint(level, widthPx, heightPx, ring.map(toPhoto), table.tableLevel);
  const blurred = blur(level, widthPx, heightPx);
  const random = lcg(table.seed);
  const gray = new Uint8Array(widthPx * heightPx);
  const rgb = new Uint8Array(3 * gray.length);
  for (let i = 0; i < gray.length; i++) {
    const noise = (random() + random() + random() + random() - 2) * Math.sqrt(3) * table.noise;
    gray[i] = Math.max(0, Math.min(255, Math.round(blurred[i]! + noise)));
    rgb.fill(gray[i]!, 3 * i, 3 * i + 3);
  }
  const size = { widthPx, heightPx };
  return { plane, photo: { name: 'drawn', gray: { ...size, data: gray }, rgb: { ...size, data: rgb }, metadata: {} } };
}

const SUB = 4;

/** Fills a polygon (photo pixels) with a value, by coverage of SUB x SUB samples a pixel. */
function paint(into: Float32Array, widthPx: number, heightPx: number, ring: readonly Point[], value: number): void {
  const ys = ring.map((p) => p[1]);
  const y0 = Math.max(0, Math.floor(Math.min(...ys)) - 1);
  const y1 = Math.min(heightPx - 1, Math.ceil(Math.max(...ys)) + 1);
  const cover = new Float32Array(widthPx);
  for (let y = y0; y <= y1; y++) {
    cover.fill(0);
    for (let k = 0; k < SUB; k++) {
      const sy = y - 0.5 + (k + 0.5) / SUB;
      const xs: number[] = [];
      for (let i = 0; i < ring.length; i++) {
        const a = ring[i]!;
        const b = ring[(i + 1) % ring.length]!;
        if (a[1] > sy !== b[1] > sy) xs.push(a[0] + ((sy - a[1]) * (b[0] - a[0])) / (b[1] - a[1]));
      }
      xs.sort((p, q) => p - q);
      for (let j = 0; j + 1 < xs.length; j += 2) {
        const [from, to] = [xs[j]!, xs[j + 1]!];
        for (let x = Math.max(0, Math.floor(from)); x <= Math.min(widthPx - 1, Math.ceil(to)); x++)
          cover[x]! += Math.max(0, Math.min(to, x + 0.5) - Math.max(from, x - 0.5)) / SUB;
      }
    }
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      into[at] = into[at]! + Math.min(1, cover[x]!) * (value - into[at]!);
    }
  }
}

function drawPen(ink: Float32Array, table: InkedTable, line: PenLine, toPhoto: (p: Point) => PhotoPointPx): void {
  const points = line.closed ? [...line.points, line.points[0]!] : line.points;
  for (const [a, b] of dashes(points, line.dashMm)) {
    const [pa, pb] = [toPhoto(a), toPhoto(b)];
    // half width in pixels, by the map itself at the middle
    const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const beside: Point = [middle[0] - (b[1] - a[1]) / length, middle[1] + (b[0] - a[0]) / length];
    const [m, n] = [toPhoto(middle), toPhoto(beside)];
    const half = (Math.hypot(n[0] - m[0], n[1] - m[1]) * line.widthMm) / 2;
    stamp(ink, table, pa, pb, half, line.depth ?? 0.75);
  }
}

function stamp(ink: Float32Array, table: InkedTable, a: Point, b: Point, half: number, depth: number): void {
  const reach = half + 1;
  const x0 = Math.max(0, Math.floor(Math.min(a[0], b[0]) - reach));
  const x1 = Math.min(table.widthPx - 1, Math.ceil(Math.max(a[0], b[0]) + reach));
  const y0 = Math.max(0, Math.floor(Math.min(a[1], b[1]) - reach));
  const y1 = Math.min(table.heightPx - 1, Math.ceil(Math.max(a[1], b[1]) + reach));
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const length2 = dx * dx + dy * dy || 1;
  for (let y = y0; y <= y1; y++)
    for (let x = x0; x <= x1; x++) {
      const t = Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / length2));
      const away = Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
      const covered = Math.max(0, Math.min(1, half + 0.5 - away, 2 * half));
      const at = y * table.widthPx + x;
      ink[at] = Math.max(ink[at]!, covered * depth);
    }
}

/** Short segments of the inked parts; long segments are cut so that their width follows the perspective. */
function dashes(points: readonly Point[], dashMm: readonly [number, number] | undefined): [Point, Point][] {
  const out: [Point, Point][] = [];
  const step = 1;
  let walked = 0;
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b] = [points[i]!, points[i + 1]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const parts = Math.max(1, Math.ceil(length / step));
    for (let k = 0; k < parts; k++) {
      const at = (t: number): Point => [a[0] + ((b[0] - a[0]) * t) / parts, a[1] + ((b[1] - a[1]) * t) / parts];
      const on = dashMm === undefined || walked % (dashMm[0] + dashMm[1]) < dashMm[0];
      if (on) out.push([at(k), at(k + 1)]);
      walked += length / parts;
    }
  }
  return out;
}

/** Binomial blur, sigma about 0.7 px: lens and pixel. */
function blur(level: Float32Array, widthPx: number, heightPx: number): Float32Array {
  const across = new Float32Array(level.length);
  const out = new Float32Array(level.length);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      across[at] = (level[at - (x > 0 ? 1 : 0)]! + 2 * level[at]! + level[at + (x < widthPx - 1 ? 1 : 0)]!) / 4;
    }
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      const up = y > 0 ? widthPx : 0;
      const down = y < heightPx - 1 ? widthPx : 0;
      out[at] = (across[at - up]! + 2 * across[at]! + across[at + down]!) / 4;
    }
  return out;
}

function lcg(seed: number): () => number {
  let state = seed >>> 0 || 1;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
}
