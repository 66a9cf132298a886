// Whether the table beside a piece shows spots of the paper's colour, as dotted and chequered cloth does. A spot that touches
// the edge looks like a triangle of paper left standing: there, no bump can be believed to be a notch.
import { type Point, tableMm } from '../../base/points.ts';
import { type Colour, medianColour } from '../colour.ts';
import { type Photo, type Rgb, rgbAt } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { moved, turned } from '../ink/polyline.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { OutlineIndex } from './outlineIndex.ts';

/** True when ways from the edge out over the table cross spots of the paper's colour nearly all round: a bump may be one. */
export function hasPaperlikeSpots(photo: Photo, plane: PlaneMap, outline: OutlineIndex): boolean {
  const { spots } = MARK_LIMITS;
  const ways = new Array<number>(spots.sections).fill(0);
  const spotted = new Array<number>(spots.sections).fill(0);
  for (let atMm = 0; atMm < outline.lengthMm; atMm += spots.everyMm) {
    const section = Math.floor((atMm / outline.lengthMm) * spots.sections);
    const { point, along } = outline.placeAt(atMm);
    const inward = turned(along);
    const colour = (insideMm: number): Rgb => {
      const at: Point = moved(point, inward, insideMm);
      return rgbAt(photo.rgb, plane.photoFromTable(tableMm(at[0], at[1])));
    };
    const paper = medianColour(MARK_LIMITS.cut.depthsMm.map(colour));
    const outside: Rgb[] = [];
    for (let offMm = spots.fromMm; offMm <= spots.toMm; offMm += spots.stepMm) outside.push(colour(-offMm));
    ways[section]!++;
    if (crossesSpot(outside, paper)) spotted[section]!++;
  }
  return spotted.filter((count, i) => count > spots.leastShare * ways[i]!).length >= spots.leastSections;
}

/** A run of the paper's colour with something else before and behind it, as long as a notch may be. */
function crossesSpot(colours: readonly Colour[], paper: Colour): boolean {
  const { spots, cut } = MARK_LIMITS;
  let run = 0;
  let fenced = false;
  for (const colour of colours) {
    if (apartRatio(colour, paper) <= cut.paperRatio) {
      run++;
      continue;
    }
    const runMm = run * spots.stepMm;
    if (fenced && runMm >= spots.leastMm && runMm <= spots.mostMm) return true;
    run = 0;
    fenced = true;
  }
  return false;
}

/** The greatest difference of a channel, share of the brightest value of both. */
export function apartRatio(a: Colour, b: Colour): number {
  const differences = a.map((value, channel) => Math.abs(value - b[channel]!));
  return Math.max(...differences) / Math.max(1, ...a, ...b);
}
