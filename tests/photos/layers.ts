// A paper on the table, ready to be looked at: where a line of sight meets it (thickness and curl included) and which texel
// of its face lies there.

import type { PaperItem } from './scene.ts';
import { boundsOf, type Texture } from './texture.ts';

export interface Layer {
  readonly item: PaperItem;
  readonly texture: Texture;
  readonly cos: number;
  readonly sin: number;
  /** Upper face of the flat sheet over the table. */
  readonly topMm: number;
  /** Height = topMm + lift + bend t^2, with t the distance from the cylinder's middle line in the item's frame. */
  readonly lift: number;
  readonly bend: number;
  readonly acrossX: number;
  readonly acrossY: number;
  readonly middle: number;
  readonly half: number;
  readonly maxHeightMm: number;
}

export function makeLayer(item: PaperItem, texture: Texture): Layer {
  const turn = (item.placement.turnDeg * Math.PI) / 180;
  const axis = ((item.curl?.axisDeg ?? 0) * Math.PI) / 180;
  const [acrossX, acrossY] = [-Math.sin(axis), Math.cos(axis)];
  const along = item.outline.map(([x, y]) => acrossX * x * item.printScale[0] + acrossY * y * item.printScale[1]);
  const low = along.reduce((a, b) => Math.min(a, b));
  const high = along.reduce((a, b) => Math.max(a, b));
  const half = (high - low) / 2;
  const sagitta = item.curl?.sagittaMm ?? 0;
  const sign = item.curl?.form === 'middle-up' ? -1 : 1;
  return {
    item,
    texture,
    cos: Math.cos(turn),
    sin: Math.sin(turn),
    topMm: item.baseMm + item.thicknessMm,
    lift: sign < 0 ? sagitta : 0,
    bend: (sign * sagitta) / (half * half),
    acrossX,
    acrossY,
    middle: (low + high) / 2,
    half,
    maxHeightMm: item.baseMm + item.thicknessMm + sagitta,
  };
}

/** Where the middle of the item's frame meets the table, and where one of its points lies when flat. */
export function tableFromItem(item: PaperItem, x: number, y: number): [number, number] {
  const turn = (item.placement.turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const [px, py] = [x * item.printScale[0], y * item.printScale[1]];
  return [item.placement.xMm + c * px - s * py, item.placement.yMm + s * px + c * py];
}

/** Height of the sheet's face at a distance t from the middle line (clamped to the sheet). */
export function heightAcross(layer: Layer, t: number): number {
  const inside = Math.min(Math.max(t, -layer.half), layer.half);
  return layer.topMm + layer.lift + layer.bend * inside * inside;
}

/**
 * How much longer the bent sheet is than its footprint, from the middle line to t: the paper keeps its length (second order
 * of the arc of a parabola; the next term is below 0.001 mm for 5 mm of sagitta in 80 mm).
 */
export function extraArc(layer: Layer, t: number): number {
  return (2 / 3) * layer.bend * layer.bend * t * t * t;
}

/** Corners of the item's bounding rectangle in its own frame. */
export function itemBox(item: PaperItem): { min: readonly [number, number]; max: readonly [number, number] } {
  return boundsOf(item.outline);
}
