// The table itself: what a class room offers, from a plain top to a cutting mat with a printed grid.
import { createCanvas } from '@napi-rs/canvas';
import { assertNever } from '../../shared/base/assertNever.ts';
import type { Point } from '../../shared/base/points.ts';
import type { Background } from './scene.ts';
import type { Texture } from './texture.ts';

/** Smooth random field of unit wavelength: value noise on a hashed lattice, 0-1. */
function valueNoise(x: number, y: number, seed: number): number {
  const x0 = Math.floor(x);
  const y0 = Math.floor(y);
  const fx = x - x0;
  const fy = y - y0;
  const sx = fx * fx * (3 - 2 * fx);
  const sy = fy * fy * (3 - 2 * fy);
  const top = hash(x0, y0, seed) * (1 - sx) + hash(x0 + 1, y0, seed) * sx;
  const bottom = hash(x0, y0 + 1, seed) * (1 - sx) + hash(x0 + 1, y0 + 1, seed) * sx;
  return top * (1 - sy) + bottom * sy;
}

function hash(x: number, y: number, seed: number): number {
  let h = Math.imul(x, 0x27d4eb2d) ^ Math.imul(y, 0x165667b1) ^ Math.imul(seed, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
}

type Rgb = readonly [number, number, number];

function rgbOf(hex: string): Rgb {
  const value = Number.parseInt(hex.slice(1), 16);
  return [(value >> 16) & 255, (value >> 8) & 255, value & 255];
}

const BOARD_MM = 140;

/** Shade of planed wood, 0 = darkest: boards side by side, each with its own rings seen lengthwise. */
function woodShade(u: number, v: number, seed: number): number {
  const board = Math.floor(v / BOARD_MM);
  const inBoard = v - board * BOARD_MM;
  const gap = inBoard < 0.8 ? 0.35 : 1;
  const wave = valueNoise(u / 260 + board * 17, inBoard / 45, seed + board) * 34;
  const ring = 0.5 + 0.5 * Math.sin((inBoard * 0.55 + wave) * 0.9);
  const grain =
    valueNoise(u / 14, inBoard * 2.6, seed + 3 + board) * 0.6 + valueNoise(u / 40, inBoard * 0.9, seed + 5) * 0.4;
  const tone = 0.85 + 0.15 * hash(board, 7, seed);
  return gap * tone * (0.72 + 0.16 * ring + 0.12 * grain);
}

/** Fine unevenness that every surface has: a factor near 1. */
function mottle(x: number, y: number, seed: number, strength: number): number {
  return (
    1 +
    strength * (valueNoise(x / 90, y / 90, seed) - 0.5) +
    strength * 0.6 * (valueNoise(x / 1.1, y / 1.1, seed + 1) - 0.5)
  );
}

function paintLines(background: Background, texture: Omit<Texture, 'data'>): Uint8ClampedArray | null {
  if (background.kind !== 'mat') return null;
  const { widthPx, heightPx, perMm, originMm } = texture;
  const canvas = createCanvas(widthPx, heightPx);
  const ctx = canvas.getContext('2d');
  ctx.fillStyle = background.colour;
  ctx.fillRect(0, 0, widthPx, heightPx);
  ctx.setTransform(perMm, 0, 0, perMm, -originMm[0] * perMm, -originMm[1] * perMm);
  ctx.rotate((background.turnDeg * Math.PI) / 180);
  const reach = Math.hypot(widthPx, heightPx) / perMm + Math.hypot(originMm[0], originMm[1]);
  const n = Math.ceil(reach / background.pitchMm);
  ctx.strokeStyle = background.line;
  ctx.fillStyle = background.line;
  for (let i = -n; i <= n; i++) {
    const at = i * background.pitchMm;
    ctx.lineWidth = i % 5 === 0 ? 0.6 : 0.25;
    ctx.beginPath();
    ctx.moveTo(at, -reach);
    ctx.lineTo(at, reach);
    ctx.moveTo(-reach, at);
    ctx.lineTo(reach, at);
    ctx.stroke();
  }
  return ctx.getImageData(0, 0, widthPx, heightPx).data;
}

/** Paints the table between two corners, table millimetres. */
export function paintBackground(background: Background, min: Point, max: Point, perMm: number, seed: number): Texture {
  const widthPx = Math.ceil((max[0] - min[0]) * perMm) + 2;
  const heightPx = Math.ceil((max[1] - min[1]) * perMm) + 2;
  const frame = { widthPx, heightPx, perMm, originMm: min };
  const lines = paintLines(background, frame);
  const data = lines ?? new Uint8ClampedArray(widthPx * heightPx * 4);
  const turn = 'turnDeg' in background ? (background.turnDeg * Math.PI) / 180 : 0;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const base = 'colour' in background ? rgbOf(background.colour) : ([196, 150, 104] as const);
  const second = background.kind === 'checked' ? rgbOf(background.stripe) : base;
  for (let j = 0, at = 0; j < heightPx; j++) {
    const y = min[1] + (j + 0.5) / perMm;
    for (let i = 0; i < widthPx; i++, at += 4) {
      const x = min[0] + (i + 0.5) / perMm;
      const u = c * x + s * y;
      const v = -s * x + c * y;
      let factor: number;
      let mix = 0;
      switch (background.kind) {
        case 'plain':
          factor = mottle(x, y, seed, 0.05);
          break;
        case 'mat':
          factor = mottle(x, y, seed, 0.08);
          break;
        case 'wood':
          factor = woodShade(u, v, seed);
          break;
        case 'cloth':
          factor = mottle(x, y, seed, 0.1) * weave(u, v);
          break;
        case 'checked':
          factor = mottle(x, y, seed, 0.08) * weave(u, v);
          mix = (stripe(u, background.pitchMm) + stripe(v, background.pitchMm)) / 2;
          break;
        default:
          return assertNever(background);
      }
      if (lines) {
        data[at] = data[at]! * factor;
        data[at + 1] = data[at + 1]! * factor;
        data[at + 2] = data[at + 2]! * factor;
      } else {
        data[at] = (base[0] + (second[0] - base[0]) * mix) * factor;
        data[at + 1] = (base[1] + (second[1] - base[1]) * mix) * factor;
        data[at + 2] = (base[2] + (second[2] - base[2]) * mix) * factor;
        data[at + 3] = 255;
      }
    }
  }
  return { ...frame, data };
}

const THREAD_MM = 0.8;

function weave(u: number, v: number): number {
  return 1 + 0.06 * Math.sin((2 * Math.PI * u) / THREAD_MM) * Math.sin((2 * Math.PI * v) / THREAD_MM);
}

function stripe(at: number, pitchMm: number): number {
  return ((at % (2 * pitchMm)) + 2 * pitchMm) % (2 * pitchMm) < pitchMm ? 1 : 0;
}
