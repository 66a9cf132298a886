// Light on the table: a lamp or window with a gradient, shadows with soft or hard rims baked into one map, and a glare spot.
import { createCanvas } from '@napi-rs/canvas';
import type { Point } from '../../shared/base/points.ts';
import type { Light } from './scene.ts';

/** Share of the key light that arrives, one byte a texel. */
export interface ShadowMap {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly perMm: number;
  readonly originMm: Point;
  readonly data: Float32Array;
}

const SHADOW_PER_MM = 1.5;
const HARD_PENUMBRA_MM = 0.4;

/** Bakes all shadows over a rectangle of the table; null when there is none. */
export function bakeShadows(light: Light, min: Point, max: Point): ShadowMap | null {
  if (light.shadows.length === 0) return null;
  const widthPx = Math.ceil((max[0] - min[0]) * SHADOW_PER_MM) + 2;
  const heightPx = Math.ceil((max[1] - min[1]) * SHADOW_PER_MM) + 2;
  const total = new Float32Array(widthPx * heightPx).fill(1);
  for (const shadow of light.shadows) {
    const canvas = createCanvas(widthPx, heightPx);
    const ctx = canvas.getContext('2d');
    ctx.setTransform(SHADOW_PER_MM, 0, 0, SHADOW_PER_MM, -min[0] * SHADOW_PER_MM, -min[1] * SHADOW_PER_MM);
    ctx.beginPath();
    shadow.polygon.forEach(([x, y], i) => {
      if (i === 0) ctx.moveTo(x, y);
      else ctx.lineTo(x, y);
    });
    ctx.closePath();
    ctx.fill();
    const bytes = ctx.getImageData(0, 0, widthPx, heightPx).data;
    const cover = Float32Array.from({ length: total.length }, (_, i) => bytes[4 * i + 3]! / 255);
    blurPlane(cover, widthPx, heightPx, Math.max(shadow.penumbraMm, HARD_PENUMBRA_MM) * SHADOW_PER_MM);
    for (let i = 0; i < total.length; i++) total[i] = total[i]! * (1 - shadow.depth * cover[i]!);
  }
  return { widthPx, heightPx, perMm: SHADOW_PER_MM, originMm: min, data: total };
}

/** Three box passes: close to a Gaussian and independent of its width in cost. */
function blurPlane(plane: Float32Array, widthPx: number, heightPx: number, sigmaPx: number): void {
  const radius = Math.max(0, Math.round((Math.sqrt(4 * sigmaPx * sigmaPx + 1) - 1) / 2));
  if (radius === 0) return;
  const line = new Float32Array(Math.max(widthPx, heightPx));
  for (let pass = 0; pass < 3; pass++) {
    for (let y = 0; y < heightPx; y++) boxLine(plane, y * widthPx, 1, widthPx, radius, line);
    for (let x = 0; x < widthPx; x++) boxLine(plane, x, widthPx, heightPx, radius, line);
  }
}

function boxLine(
  plane: Float32Array,
  start: number,
  step: number,
  count: number,
  radius: number,
  line: Float32Array,
): void {
  const at = (i: number): number => plane[start + Math.min(Math.max(i, 0), count - 1) * step]!;
  let sum = 0;
  for (let i = -radius; i <= radius; i++) sum += at(i);
  for (let i = 0; i < count; i++) {
    line[i] = sum / (2 * radius + 1);
    sum += at(i + radius + 1) - at(i - radius);
  }
  for (let i = 0; i < count; i++) plane[start + i * step] = line[i]!;
}

/** Share of the key light at a table point; 1 outside the map. */
export function shadowAt(map: ShadowMap | null, x: number, y: number): number {
  if (map === null) return 1;
  const u = (x - map.originMm[0]) * map.perMm - 0.5;
  const v = (y - map.originMm[1]) * map.perMm - 0.5;
  const i = Math.floor(u);
  const j = Math.floor(v);
  if (i < 0 || j < 0 || i >= map.widthPx - 1 || j >= map.heightPx - 1) return 1;
  const fx = u - i;
  const fy = v - j;
  const at = j * map.widthPx + i;
  const d = map.data;
  return (
    (d[at]! * (1 - fx) + d[at + 1]! * fx) * (1 - fy) +
    (d[at + map.widthPx]! * (1 - fx) + d[at + map.widthPx + 1]! * fx) * fy
  );
}
