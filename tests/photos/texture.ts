// Pictures in millimetres: papers drawn on a canvas become textures that the camera samples in linear light.
import { createCanvas, type SKRSContext2D } from '@napi-rs/canvas';
import type { Point } from '../../shared/base/points.ts';
import { seededRandom } from './random.ts';
import type { Ink, PaperItem } from './scene.ts';

/** RGBA bytes (sRGB colour, alpha = coverage); texel (i, j) covers the millimetre square starting at origin + (i, j) / perMm. */
export interface Texture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly perMm: number;
  readonly originMm: Point;
  readonly data: Uint8ClampedArray;
}

/** sRGB byte to linear light 0-1 (IEC 61966-2-1). */
export const LINEAR_OF_BYTE: Float64Array = Float64Array.from({ length: 256 }, (_, byte) => {
  const c = byte / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
});

function tracePath(ctx: SKRSContext2D, ring: readonly Point[], closed: boolean): void {
  ring.forEach(([x, y], i) => {
    if (i === 0) ctx.moveTo(x, y);
    else ctx.lineTo(x, y);
  });
  if (closed) ctx.closePath();
}

function paintInk(ctx: SKRSContext2D, ink: Ink): void {
  ctx.beginPath();
  if (ink.kind === 'fill') {
    for (const ring of ink.rings) tracePath(ctx, ring, true);
    ctx.fillStyle = ink.colour;
    ctx.fill('evenodd');
    return;
  }
  tracePath(ctx, ink.line, ink.closed);
  ctx.strokeStyle = ink.colour;
  ctx.lineWidth = ink.widthMm;
  ctx.lineCap = 'round';
  ctx.lineJoin = 'round';
  ctx.setLineDash([...ink.dashMm]);
  ctx.stroke();
}

export function boundsOf(points: readonly Point[]): { min: Point; max: Point } {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  return { min: [x0, y0], max: [x1, y1] };
}

/** Room for bilinear lookups beside the paper, texels. */
const RIM_PX = 2;
const DOT_PITCH_MM = 10;

function paintPattern(ctx: SKRSContext2D, item: PaperItem, min: Point, max: Point, seed: number): void {
  const random = seededRandom(seed);
  if (item.look.pattern === 'dots') {
    ctx.fillStyle = '#7f93ad';
    for (let x = Math.ceil(min[0] / DOT_PITCH_MM) * DOT_PITCH_MM; x < max[0]; x += DOT_PITCH_MM)
      for (let y = Math.ceil(min[1] / DOT_PITCH_MM) * DOT_PITCH_MM; y < max[1]; y += DOT_PITCH_MM) {
        ctx.beginPath();
        ctx.arc(x, y, 0.45, 0, 2 * Math.PI);
        ctx.fill();
      }
  } else if (item.look.pattern === 'grid') {
    ctx.strokeStyle = '#b9c7d8';
    ctx.lineWidth = 0.2;
    ctx.beginPath();
    for (let x = Math.ceil(min[0] / 5) * 5; x < max[0]; x += 5)
      tracePath(
        ctx,
        [
          [x, min[1]],
          [x, max[1]],
        ],
        false,
      );
    for (let y = Math.ceil(min[1] / 5) * 5; y < max[1]; y += 5)
      tracePath(
        ctx,
        [
          [min[0], y],
          [max[0], y],
        ],
        false,
      );
    ctx.stroke();
  } else if (item.look.pattern === 'fibres') {
    const count = Math.round(((max[0] - min[0]) * (max[1] - min[1])) / 60);
    ctx.lineWidth = 0.15;
    for (let i = 0; i < count; i++) {
      const x = random.between(min[0], max[0]);
      const y = random.between(min[1], max[1]);
      const turn = random.between(0, Math.PI);
      const length = random.between(1, 4);
      ctx.strokeStyle = random.uniform() < 0.5 ? 'rgba(60,35,10,0.25)' : 'rgba(255,240,215,0.25)';
      ctx.beginPath();
      tracePath(
        ctx,
        [
          [x, y],
          [x + length * Math.cos(turn), y + length * Math.sin(turn)],
        ],
        false,
      );
      ctx.stroke();
    }
  }
}

/** Draws a paper at `perMm` texels a millimetre of the item's own frame (print scale not applied). */
export function paintPaper(item: PaperItem, perMm: number, seed: number): Texture {
  const { min, max } = boundsOf(item.outline);
  const originMm: Point = [min[0] - RIM_PX / perMm, min[1] - RIM_PX / perMm];
  const widthPx = Math.ceil((max[0] - min[0]) * perMm) + 2 * RIM_PX;
  const heightPx = Math.ceil((max[1] - min[1]) * perMm) + 2 * RIM_PX;
  const canvas = createCanvas(widthPx, heightPx);
  const ctx = canvas.getContext('2d');
  const toMm = (): void => ctx.setTransform(perMm, 0, 0, perMm, -originMm[0] * perMm, -originMm[1] * perMm);

  // the cut shape alone, for coverage
  toMm();
  ctx.fillStyle = '#000';
  ctx.beginPath();
  tracePath(ctx, item.outline, true);
  ctx.fill();
  ctx.globalCompositeOperation = 'destination-out';
  for (const ring of item.cutAway) {
    ctx.beginPath();
    tracePath(ctx, ring, true);
    ctx.fill();
  }
  ctx.globalCompositeOperation = 'source-over';
  const mask = ctx.getImageData(0, 0, widthPx, heightPx).data;

  // the paper's face, over the whole rectangle, so that its colour does not fade at the cut
  ctx.setTransform(1, 0, 0, 1, 0, 0);
  ctx.fillStyle = item.look.colour;
  ctx.fillRect(0, 0, widthPx, heightPx);
  toMm();
  paintPattern(ctx, item, min, max, seed);
  for (const ink of item.ink) paintInk(ctx, ink);
  const data = ctx.getImageData(0, 0, widthPx, heightPx).data;
  const opacity = item.look.opacity;
  for (let i = 3; i < data.length; i += 4) data[i] = mask[i]! * opacity;
  return { widthPx, heightPx, perMm, originMm, data };
}
