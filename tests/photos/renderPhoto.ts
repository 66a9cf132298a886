// The simulated camera's shutter: traces several lines of sight through every pixel onto the papers and the table, in linear
// light, then develops the picture. Nothing here is used by the product; it exists so that photos have a known truth.
import sharp from 'sharp';
import type { PhotoPointPx, Point, TablePointMm } from '../../shared/base/points.ts';
import type { RgbImage } from '../../shared/vision/image.ts';
import { paintBackground } from './backgrounds.ts';
import { type Camera, makeCamera, mmPerPixelAtTarget, project, unproject } from './camera.ts';
import { extraArc, heightAcross, itemBox, type Layer, makeLayer, tableFromItem } from './layers.ts';
import { undistortFactor } from './lens.ts';
import { bakeShadows, shadowAt } from './lighting.ts';
import type { Scene } from './scene.ts';
import { develop } from './sensor.ts';
import { LINEAR_OF_BYTE, paintPaper, type Texture } from './texture.ts';

export interface RenderedPhoto {
  readonly rgb: RgbImage;
  readonly encodeJpeg: () => Promise<Uint8Array>;
  readonly camera: Camera;
  readonly photoFromTable: (table: Point, heightAboveMm?: number) => PhotoPointPx;
  readonly tableFromPhoto: (photo: Point, heightAboveMm?: number) => TablePointMm;
  readonly mmPerPixel: number;
}

const BLOCK_PX = 32;
const RADIUS_STEPS = 8192;
const HEIGHT_STEPS = 4;
const MIN_PAPER_PER_MM = 5;
const MAX_PAPER_PER_MM = 16;
const MAX_TABLE_TEXELS = 26e6;
const MAX_TABLE_PER_MM = 4;
const TABLE_REACH_MM = 3000;
/** Light that a sheet lets through where another shadows it: ambient light creeps under a paper's edge. */
const CONTACT_SHADOW = 0.8;

export function renderPhoto(scene: Scene): RenderedPhoto {
  const camera = makeCamera(scene.camera);
  const { widthPx, heightPx } = scene.camera;
  const mmPerPixel = mmPerPixelAtTarget(camera);
  const { min, max } = tableFootprint(camera);
  const area = (max[0] - min[0]) * (max[1] - min[1]);
  const tablePerMm = Math.min(MAX_TABLE_PER_MM, 1.4 / mmPerPixel, Math.sqrt(MAX_TABLE_TEXELS / area));
  const table = paintBackground(scene.background, min, max, tablePerMm, scene.seed);
  const perMm = Math.min(MAX_PAPER_PER_MM, Math.max(MIN_PAPER_PER_MM, 2 / mmPerPixel));
  const layers = scene.items.map((item, i) => makeLayer(item, paintPaper(item, perMm, scene.seed + 101 * i)));
  const light = gatherLight(scene, camera, table, layers, min, max);
  const bytes = develop(light, widthPx, heightPx, scene.sensor, scene.seed);
  const rgb: RgbImage = { widthPx, heightPx, data: bytes };
  return {
    rgb,
    encodeJpeg: () => encodeJpeg(rgb, scene),
    camera,
    photoFromTable: (point, heightAboveMm = 0) => project(camera, point, heightAboveMm),
    tableFromPhoto: (point, heightAboveMm = 0) => unproject(camera, point, heightAboveMm),
    mmPerPixel,
  };
}

/** JPEG with the EXIF that a phone would write; make and model are invented. */
async function encodeJpeg(rgb: RgbImage, scene: Scene): Promise<Uint8Array> {
  const raw = { width: rgb.widthPx, height: rgb.heightPx, channels: 3 as const };
  return sharp(rgb.data, { raw })
    .withExif({
      IFD0: { Make: 'Sparrow', Model: 'One' },
      IFD2: { FocalLengthIn35mmFilm: String(Math.round(scene.camera.focal35Mm)) },
    })
    .jpeg({ quality: scene.sensor.jpegQuality, chromaSubsampling: '4:2:0', mozjpeg: true })
    .toBuffer();
}

/** Rectangle of the table that the picture can see, with a margin. */
function tableFootprint(camera: Camera): { min: Point; max: Point } {
  const { widthPx, heightPx, targetMm } = camera.spec;
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i <= 8; i++) {
    const u = (i / 8) * (widthPx - 1);
    const v = (i / 8) * (heightPx - 1);
    for (const pixel of [
      [u, 0],
      [u, heightPx - 1],
      [0, v],
      [widthPx - 1, v],
    ] as const) {
      const [x, y] = unproject(camera, pixel, 0);
      x0 = Math.min(x0, x);
      y0 = Math.min(y0, y);
      x1 = Math.max(x1, x);
      y1 = Math.max(y1, y);
    }
  }
  const clampTo = (value: number, middle: number): number =>
    Math.min(Math.max(value, middle - TABLE_REACH_MM / 2), middle + TABLE_REACH_MM / 2);
  return {
    min: [clampTo(x0, targetMm[0]) - 10, clampTo(y0, targetMm[1]) - 10],
    max: [clampTo(x1, targetMm[0]) + 10, clampTo(y1, targetMm[1]) + 10],
  };
}

interface PixelBox {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Pixels that a layer or its shadow can touch. */
function layerBox(layer: Layer, camera: Camera): PixelBox {
  const { min, max } = itemBox(layer.item);
  const steps = 12;
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i <= steps; i++) {
    const u = min[0] + ((max[0] - min[0]) * i) / steps;
    const v = min[1] + ((max[1] - min[1]) * i) / steps;
    for (const [x, y] of [
      [u, min[1]],
      [u, max[1]],
      [min[0], v],
      [max[0], v],
    ] as const)
      for (const height of [0, layer.maxHeightMm]) {
        const [px, py] = project(camera, tableFromItem(layer.item, x, y), height);
        x0 = Math.min(x0, px);
        y0 = Math.min(y0, py);
        x1 = Math.max(x1, px);
        y1 = Math.max(y1, py);
      }
  }
  const margin = 6 + (4 * layer.maxHeightMm) / mmPerPixelAtTarget(camera);
  return { x0: x0 - margin, y0: y0 - margin, x1: x1 + margin, y1: y1 + margin };
}

/** Colour and coverage at one place of a texture, linear light. */
interface Look {
  r: number;
  g: number;
  b: number;
  a: number;
}

function lookUp(texture: Texture, x: number, y: number, out: Look): void {
  const u = (x - texture.originMm[0]) * texture.perMm - 0.5;
  const v = (y - texture.originMm[1]) * texture.perMm - 0.5;
  const i = Math.floor(u);
  const j = Math.floor(v);
  if (i < 0 || j < 0 || i >= texture.widthPx - 1 || j >= texture.heightPx - 1) {
    out.a = 0;
    return;
  }
  const fx = u - i;
  const fy = v - j;
  const w00 = (1 - fx) * (1 - fy);
  const w10 = fx * (1 - fy);
  const w01 = (1 - fx) * fy;
  const w11 = fx * fy;
  const at = (j * texture.widthPx + i) * 4;
  const below = at + texture.widthPx * 4;
  const d = texture.data;
  const lin = LINEAR_OF_BYTE;
  out.a = (w00 * d[at + 3]! + w10 * d[at + 7]! + w01 * d[below + 3]! + w11 * d[below + 7]!) / 255;
  if (out.a === 0) return;
  out.r = w00 * lin[d[at]!]! + w10 * lin[d[at + 4]!]! + w01 * lin[d[below]!]! + w11 * lin[d[below + 4]!]!;
  out.g = w00 * lin[d[at + 1]!]! + w10 * lin[d[at + 5]!]! + w01 * lin[d[below + 1]!]! + w11 * lin[d[below + 5]!]!;
  out.b = w00 * lin[d[at + 2]!]! + w10 * lin[d[at + 6]!]! + w01 * lin[d[below + 2]!]! + w11 * lin[d[below + 6]!]!;
}

/** Coverage alone, for shadows. */
function coverAt(texture: Texture, x: number, y: number): number {
  const u = (x - texture.originMm[0]) * texture.perMm - 0.5;
  const v = (y - texture.originMm[1]) * texture.perMm - 0.5;
  const i = Math.floor(u);
  const j = Math.floor(v);
  if (i < 0 || j < 0 || i >= texture.widthPx - 1 || j >= texture.heightPx - 1) return 0;
  const fx = u - i;
  const fy = v - j;
  const at = (j * texture.widthPx + i) * 4 + 3;
  const below = at + texture.widthPx * 4;
  const d = texture.data;
  return ((d[at]! * (1 - fx) + d[at + 4]! * fx) * (1 - fy) + (d[below]! * (1 - fx) + d[below + 4]! * fx) * fy) / 255;
}

function gatherLight(
  scene: Scene,
  camera: Camera,
  table: Texture,
  layers: readonly Layer[],
  min: Point,
  max: Point,
): Float32Array {
  const { widthPx, heightPx, lens, targetMm } = scene.camera;
  const { light } = scene;
  const shadows = bakeShadows(light, min, max);
  const out = new Float32Array(3 * widthPx * heightPx);
  const boxes = layers.map((layer) => layerBox(layer, camera));

  const rim = Math.hypot(widthPx, heightPx) / camera.focalPx;
  const rim2 = rim * rim;
  const factors = Float64Array.from({ length: RADIUS_STEPS + 2 }, (_, i) =>
    undistortFactor(lens, Math.sqrt((i / RADIUS_STEPS) * rim2)),
  );

  const a = camera.axes;
  const [eyeX, eyeY, eyeZ] = camera.position;
  const tan = 1 / Math.tan((light.elevationDeg * Math.PI) / 180);
  const lampX = Math.cos((light.azimuthDeg * Math.PI) / 180);
  const lampY = Math.sin((light.azimuthDeg * Math.PI) / 180);
  const [tableX0, tableY0, tableX1, tableY1] = [min[0] + 1, min[1] + 1, max[0] - 1, max[1] - 1];

  const tableGloss = light.glare?.tableGloss ?? 0;
  const n = scene.samples;
  const weight = 1 / (n * n);
  const face: Look = { r: 0, g: 0, b: 0, a: 0 };

  for (let by = 0; by < heightPx; by += BLOCK_PX)
    for (let bx = 0; bx < widthPx; bx += BLOCK_PX) {
      const here: Layer[] = [];
      layers.forEach((layer, i) => {
        const box = boxes[i]!;
        if (box.x0 < bx + BLOCK_PX && box.x1 > bx - 1 && box.y0 < by + BLOCK_PX && box.y1 > by - 1) here.push(layer);
      });
      const yEnd = Math.min(by + BLOCK_PX, heightPx);
      const xEnd = Math.min(bx + BLOCK_PX, widthPx);
      for (let py = by; py < yEnd; py++)
        for (let px = bx; px < xEnd; px++) {
          let [sumR, sumG, sumB] = [0, 0, 0];
          for (let sy = 0; sy < n; sy++)
            for (let sx = 0; sx < n; sx++) {
              const xd = (px + (sx + 0.5) / n - 0.5 - camera.centrePx[0]) / camera.focalPx;
              const yd = (py + (sy + 0.5) / n - 0.5 - camera.centrePx[1]) / camera.focalPx;
              const step = ((xd * xd + yd * yd) / rim2) * RADIUS_STEPS;
              const cell = Math.floor(step);
              const factor = factors[cell]! + (step - cell) * (factors[cell + 1]! - factors[cell]!);
              const xu = xd * factor;
              const yu = yd * factor;
              const dx = a[0]! * xu + a[3]! * yu + a[6]!;
              const dy = a[1]! * xu + a[4]! * yu + a[7]!;
              const dz = a[2]! * xu + a[5]! * yu + a[8]!;
              const slopeX = dx / dz;
              const slopeY = dy / dz;
              // foot of the line of sight on the table; at height h it is moved back by h times its slope
              const footX = eyeX - eyeZ * slopeX;
              const footY = eyeY - eyeZ * slopeY;

              let through = 1;
              for (let index = here.length - 1; index >= -1 && through > 0; index--) {
                let height = 0;
                let x = footX;
                let y = footY;
                let gloss = 0;
                let lean = 1;
                if (index >= 0) {
                  const layer = here[index]!;
                  const { item } = layer;
                  height = layer.topMm;
                  let lx = 0;
                  let ly = 0;
                  let t = 0;
                  const steps = layer.bend === 0 ? 1 : HEIGHT_STEPS;
                  for (let k = 0; k < steps; k++) {
                    x = footX - height * slopeX;
                    y = footY - height * slopeY;
                    const rx = x - item.placement.xMm;
                    const ry = y - item.placement.yMm;
                    lx = layer.cos * rx + layer.sin * ry;
                    ly = -layer.sin * rx + layer.cos * ry;
                    if (layer.bend === 0) break;
                    t = layer.acrossX * lx + layer.acrossY * ly - layer.middle;
                    height = heightAcross(layer, t);
                  }
                  if (layer.bend !== 0) {
                    const stretch = extraArc(layer, t);
                    lx += layer.acrossX * stretch;
                    ly += layer.acrossY * stretch;
                    // the face leans toward or away from the lamp
                    const slope = 2 * layer.bend * t;
                    const worldX = layer.cos * layer.acrossX - layer.sin * layer.acrossY;
                    const worldY = layer.sin * layer.acrossX + layer.cos * layer.acrossY;
                    lean = Math.max(0, 1 - slope * tan * (worldX * lampX + worldY * lampY));
                  }
                  lookUp(layer.texture, lx / item.printScale[0], ly / item.printScale[1], face);
                  if (face.a === 0) continue;
                  gloss = item.look.gloss;
                } else {
                  lookUp(table, Math.min(Math.max(x, tableX0), tableX1), Math.min(Math.max(y, tableY0), tableY1), face);
                  face.a = 1;
                  gloss = tableGloss;
                }
                let key =
                  lean *
                  (1 + (light.gradientPerM[0] * (x - targetMm[0]) + light.gradientPerM[1] * (y - targetMm[1])) / 1000);
                key *= shadowAt(shadows, x, y);
                for (let above = index + 1; above < here.length; above++)
                  key *= 1 - CONTACT_SHADOW * shadowFrom(here[above]!, x, y, height, tan * lampX, tan * lampY);
                let mirror = 0;
                if (light.glare !== null && gloss > 0) {
                  const q = ((x - light.glare.at[0]) ** 2 + (y - light.glare.at[1]) ** 2) / light.glare.radiusMm ** 2;
                  mirror = gloss * light.glare.strength * Math.exp(-q);
                }
                const share = through * face.a;
                sumR += share * (face.r * (light.ambient[0] + light.key[0] * key) + mirror);
                sumG += share * (face.g * (light.ambient[1] + light.key[1] * key) + mirror);
                sumB += share * (face.b * (light.ambient[2] + light.key[2] * key) + mirror);
                through *= 1 - face.a;
              }
            }
          const at = 3 * (py * widthPx + px);
          out[at] = sumR * weight;
          out[at + 1] = sumG * weight;
          out[at + 2] = sumB * weight;
        }
    }
  return out;
}

/** Share of the lamp that a layer hides from a point `height` over the table. */
function shadowFrom(layer: Layer, x: number, y: number, height: number, towardX: number, towardY: number): number {
  const { item } = layer;
  let rx = x - item.placement.xMm;
  let ry = y - item.placement.yMm;
  const t =
    layer.acrossX * (layer.cos * rx + layer.sin * ry) +
    layer.acrossY * (-layer.sin * rx + layer.cos * ry) -
    layer.middle;
  const rise = heightAcross(layer, t) - height;
  if (rise <= 0) return 0;
  rx += rise * towardX;
  ry += rise * towardY;
  return coverAt(
    layer.texture,
    (layer.cos * rx + layer.sin * ry) / item.printScale[0],
    (-layer.sin * rx + layer.cos * ry) / item.printScale[1],
  );
}
