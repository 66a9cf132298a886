// Draws cards seen by a camera straight from the layout's numbers, in linear light, with exact truth: no texture, no
// picture file and no drawing code of the product in between. For tests of the card finder only.
import { type PhotoPointPx, type Point, photoPx } from '../../shared/base/points.ts';
import {
  CARD_HEIGHT_MM,
  CARD_WIDTH_MM,
  CHEQUER_AT,
  CODE_AT,
  CODE_MM,
  MODULE_MM,
  MODULES_PER_SIDE,
  SQUARE_MM,
  SQUARES_PER_SIDE,
} from '../../shared/vision/cards/cardLayout.ts';
import { CODE_BITS_PER_SIDE, codeCells } from '../../shared/vision/cards/dictionary.ts';
import type { GrayImage, Photo } from '../../shared/vision/image.ts';
import { type CameraSpec, makeCamera, project, unproject } from '../photos/camera.ts';
import { seededRandom } from '../photos/random.ts';
import { testOpenCv } from './openCv.ts';

export interface LaidCard {
  readonly id: number;
  /** Where the card's middle lies on the table and how far it is turned, clockwise. */
  readonly middleMm: Point;
  readonly turnDeg: number;
  readonly mirrored?: boolean;
}

export interface CardScene {
  readonly camera: CameraSpec;
  readonly cards: readonly LaidCard[];
  readonly seed: number;
  /** Standard deviation of lens and pixel blur. */
  readonly blurPx: number;
  /** Standard deviation of noise in grey levels of the finished picture. */
  readonly noise: number;
  /** Reflectance of the table, 0-1. */
  readonly table?: number;
  /** Relative change of light per metre along x and y. */
  readonly lightPerM?: Point;
  /** Reflectance laid over everything inside a circle on the table: a hand, a cup, glare. */
  readonly spots?: readonly { readonly atMm: Point; readonly radiusMm: number; readonly reflectance: number }[];
  /** How far ink has bled out of every dark edge; negative shrinks. */
  readonly bleedMm?: number;
}

const INK = 0.03;
const PAPER = 0.8;
const SAMPLES = 6;

/** The photo as the stages take it. */
export function cardPhoto(scene: CardScene): Photo {
  const gray = renderGray(scene);
  const rgb = new Uint8Array(gray.data.length * 3);
  for (let i = 0; i < gray.data.length; i++) rgb.fill(gray.data[i]!, 3 * i, 3 * i + 3);
  const { widthPx, heightPx } = gray;
  return { name: 'cards', gray, rgb: { widthPx, heightPx, data: rgb }, metadata: {} };
}

/** Where a point of a card, upright card millimetres, is in the photo. */
export function truePoint(scene: CardScene, card: LaidCard, upright: Point): PhotoPointPx {
  return project(makeCamera(scene.camera), tableFromUpright(card, upright), 0);
}

function tableFromUpright(card: LaidCard, [x, y]: Point): Point {
  const dx = (x - CARD_WIDTH_MM / 2) * (card.mirrored ? -1 : 1);
  const dy = y - CARD_HEIGHT_MM / 2;
  const turn = (card.turnDeg * Math.PI) / 180;
  return [
    card.middleMm[0] + dx * Math.cos(turn) - dy * Math.sin(turn),
    card.middleMm[1] + dx * Math.sin(turn) + dy * Math.cos(turn),
  ];
}

function renderGray(scene: CardScene): GrayImage {
  const { widthPx, heightPx } = scene.camera;
  const linear = linearLight(scene);
  const { data } = testOpenCv().gaussianBlurFloat({ widthPx, heightPx, data: linear }, scene.blurPx);
  const random = seededRandom(scene.seed);
  const bytes = new Uint8Array(data.length);
  for (let i = 0; i < data.length; i++) {
    const level = 255 * srgb(data[i]!) + (scene.noise > 0 ? scene.noise * random.normal() : 0);
    bytes[i] = Math.min(255, Math.max(0, Math.round(level)));
  }
  return { widthPx, heightPx, data: bytes };
}

/** Light of every pixel, averaged over its square about its integer coordinates. */
function linearLight(scene: CardScene): Float32Array {
  const { widthPx, heightPx } = scene.camera;
  const reflectance = reflectanceOf(scene);
  const [lx, ly] = scene.lightPerM ?? [0, 0];
  // Table points of the pixels' corners: the pixel (x, y) lies between corners (x, y) and (x + 1, y + 1).
  const columns = widthPx + 1;
  const corners = new Float64Array(2 * columns * (heightPx + 1));
  const camera = makeCamera(scene.camera);
  for (let y = 0; y <= heightPx; y++) {
    for (let x = 0; x <= widthPx; x++) {
      corners.set(unproject(camera, photoPx(x - 0.5, y - 0.5), 0), 2 * (y * columns + x));
    }
  }
  const linear = new Float32Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const nw = 2 * (y * columns + x);
      const sw = nw + 2 * columns;
      const [ax, ay, bx, by] = [corners[nw]!, corners[nw + 1]!, corners[nw + 2]!, corners[nw + 3]!];
      const [cx, cy, dx, dy] = [corners[sw]!, corners[sw + 1]!, corners[sw + 2]!, corners[sw + 3]!];
      const at = (u: number, v: number) =>
        reflectance(
          (1 - v) * ((1 - u) * ax + u * bx) + v * ((1 - u) * cx + u * dx),
          (1 - v) * ((1 - u) * ay + u * by) + v * ((1 - u) * cy + u * dy),
        );
      const light = 1 + (lx * (ax + dx)) / 2000 + (ly * (ay + dy)) / 2000;
      linear[y * widthPx + x] = light * meanOverSquare(at);
    }
  }
  return linear;
}

/** Nothing drawn is thinner than a pixel: where nine points of the square agree, so does the rest. */
function meanOverSquare(at: (u: number, v: number) => number): number {
  const middle = at(0.5, 0.5);
  let isUniform = true;
  for (let k = 0; k < 9 && isUniform; k++) isUniform = at((k % 3) / 2, Math.floor(k / 3) / 2) === middle;
  if (isUniform) return middle;
  let sum = 0;
  for (let j = 0; j < SAMPLES; j++) {
    for (let i = 0; i < SAMPLES; i++) sum += at((i + 0.5) / SAMPLES, (j + 0.5) / SAMPLES);
  }
  return sum / (SAMPLES * SAMPLES);
}

function reflectanceOf(scene: CardScene): (x: number, y: number) => number {
  const table = scene.table ?? 0.25;
  const bleed = scene.bleedMm ?? 0;
  const cards = scene.cards.map((card) => {
    const turn = (card.turnDeg * Math.PI) / 180;
    return {
      card,
      cos: Math.cos(turn),
      sin: Math.sin(turn),
      cells: codeCells(card.id),
    };
  });
  return (x, y) => {
    for (const { atMm, radiusMm, reflectance } of scene.spots ?? []) {
      if (Math.hypot(x - atMm[0], y - atMm[1]) < radiusMm) return reflectance;
    }
    for (const { card, cos, sin, cells } of cards) {
      const tx = x - card.middleMm[0];
      const ty = y - card.middleMm[1];
      const cx = (tx * cos + ty * sin) * (card.mirrored ? -1 : 1) + CARD_WIDTH_MM / 2;
      const cy = -tx * sin + ty * cos + CARD_HEIGHT_MM / 2;
      if (cx < 0 || cy < 0 || cx > CARD_WIDTH_MM || cy > CARD_HEIGHT_MM) continue;
      return isInk(cells, cx, cy, bleed) ? INK : PAPER;
    }
    return table;
  };
}

/** Ink spreads by `bleed` from every dark edge (or draws back), so the four places at that distance are asked. */
function isInk(cells: readonly boolean[], x: number, y: number, bleed: number): boolean {
  if (bleed === 0) return isInkNominal(cells, x, y);
  const isSpreading = bleed > 0;
  for (const dx of [-bleed, bleed]) {
    for (const dy of [-bleed, bleed]) if (isInkNominal(cells, x + dx, y + dy) === isSpreading) return isSpreading;
  }
  return !isSpreading;
}

function isInkNominal(cells: readonly boolean[], x: number, y: number): boolean {
  const column = Math.floor((x - CHEQUER_AT[0]) / SQUARE_MM);
  const row = Math.floor((y - CHEQUER_AT[1]) / SQUARE_MM);
  if (column >= 0 && row >= 0 && column < SQUARES_PER_SIDE && row < SQUARES_PER_SIDE) return (column + row) % 2 === 0;
  const [cx, cy] = [x - CODE_AT[0], y - CODE_AT[1]];
  if (cx < 0 || cy < 0 || cx >= CODE_MM || cy >= CODE_MM) return false;
  const [i, j] = [Math.floor(cx / MODULE_MM), Math.floor(cy / MODULE_MM)];
  const last = MODULES_PER_SIDE - 1;
  if (i === 0 || j === 0 || i === last || j === last) return true;
  return !cells[(j - 1) * CODE_BITS_PER_SIDE + i - 1];
}

/** IEC 61966-2-1 encoding of linear light, clipped. */
function srgb(linear: number): number {
  const v = Math.min(1, Math.max(0, linear));
  return v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055;
}
