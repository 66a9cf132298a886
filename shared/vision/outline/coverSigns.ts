// What the photo says about an outline and what lies beside it: whether a rim goes on behind one of its corners, whether a
// stretch parts this paper from this table, and whether what lies between a stretch and the way over it is neither.
import { type PhotoPointPx, type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { distanceToSegment, pointInPolygon, signedAreaMm2 } from '../../geometry/polygon.ts';
import { angleDeg, distance, sub, unit } from '../../geometry/vector.ts';
import type { RgbImage } from '../image.ts';
import { WAY } from './edgeWay.ts';
import { colourPart, type Light, lightMinus, meanLight, patchLight } from './lightAt.ts';
import { type Extension, extensionOver, stepAlong, straightExtension } from './rimBeyond.ts';
import { around, indexApart } from './ring.ts';

const SIGN = {
  /** A step of light that could be a rim, in logarithms... */
  leastStep: 0.08,
  /** ...and in steps that are there by chance: this share of places shows less, times this. */
  chanceShare: 0.85,
  chanceTimes: 1.6,
  chancePlaces: 24,
  /** Behind a corner, so near to the outline around it, goes on the outline and no rim. */
  onOutlineMm: 1.6,
  nearByMm: 30,
  chanceTurnDeg: 15,
  chanceAwayMm: [7, 13],
  chanceBesideMm: 3.5,
  /** Differences of one material from place to place: of colour, and of brightness alone. */
  colour: 0.09,
  brightness: 0.3,
  patchMm: 0.6,
  patchStepMm: 1.6,
  /** Between the outline and the way over, so far from either. */
  clearMm: 1.3,
  fewestPatches: 8,
  /** More say no more. */
  enoughPatches: 150,
  /** Share of the patches that must be of another material. */
  foreignShare: 0.6,
  /** What lies beside the outline is learnt this far from it. */
  learnMm: [3, 6, 9],
  learnEveryMm: 6,
  /** A look counts as paper's or table's when it is seen so far off too, in this share of the places. */
  elsewhereMm: 60,
  typicalShare: 0.03,
  /** Edge beside a stretch that must part paper from table. */
  flankFromMm: 4,
  flankToMm: 16,
  directionPoints: 4,
} as const;

/** What the photo says about an outline and what lies beside it. */
export interface PhotoSigns {
  /**
   * Step behind a corner over what is there by chance: of the border after it followed back (1) or of that before it followed
   * on (-1), which is `roomMm` long up to its next corner.
   */
  readonly behind: (corner: number, step: 1 | -1, roomMm: number) => number;
  readonly table: readonly Light[];
  readonly paper: readonly Light[];
  readonly lightAt: (at: Point) => Light;
}

export function photoSigns(
  rgb: RgbImage,
  points: readonly TablePointMm[],
  corners: readonly number[],
  toPhoto: (point: TablePointMm) => PhotoPointPx,
): PhotoSigns {
  const n = points.length;
  const first = points[0]!;
  const halfPx = SIGN.patchMm * distance(toPhoto(first), toPhoto(tableMm(first[0] + 1, first[1])));
  const lightAt = ([x, y]: Point): Light => patchLight(rgb, toPhoto(tableMm(x, y)), halfPx);
  const nearCorner = (i: number): boolean =>
    corners.some((c) => indexApart(i, c, n) * WAY.stepMm < 2 * SIGN.learnMm[0]);
  const beside = (side: 1 | -1): Light[] => {
    const out: { light: Light; alongMm: number }[] = [];
    for (let i = 0; i < n; i += Math.round(SIGN.learnEveryMm / WAY.stepMm)) {
      if (nearCorner(i)) continue;
      const [dx, dy] = inwardAt(points, i);
      for (const d of SIGN.learnMm) {
        const light = lightAt([points[i]![0] + side * d * dx, points[i]![1] + side * d * dy]);
        out.push({ light, alongMm: i * WAY.stepMm });
      }
    }
    return typical(out, n * WAY.stepMm);
  };
  const knownChance = new Map<string, number>();
  /** Steps that are there by chance in a direction: grain and printed lines run one way. */
  const chance = (side: 1 | -1, direction: Point): number => {
    const turn = Math.round(angleDeg(direction) / SIGN.chanceTurnDeg);
    const key = `${side} ${turn % Math.round(180 / SIGN.chanceTurnDeg)}`;
    const before = knownChance.get(key);
    if (before !== undefined) return before;
    const steps: number[] = [];
    for (let k = 0; k < SIGN.chancePlaces; k++) {
      const i = Math.round((k * n) / SIGN.chancePlaces) % n;
      if (nearCorner(i)) continue;
      const [dx, dy] = inwardAt(points, i);
      for (const mm of SIGN.chanceAwayMm) {
        const away = side * mm;
        const way = straightExtension([points[i]![0] + away * dx, points[i]![1] + away * dy], direction);
        if (isClear(way, side)) steps.push(stepAlong(rgb, toPhoto, way));
      }
    }
    steps.sort((a, b) => a - b);
    const known = SIGN.chanceTimes * (steps[Math.floor(SIGN.chanceShare * steps.length)] ?? 0);
    knownChance.set(key, known);
    return known;
  };
  /** Whether a way and what is compared on its two sides lies on one side of the outline. */
  const isClear = (way: Extension, side: 1 | -1): boolean =>
    [way[0]!, way.at(-1)!].every(({ at, tangent }) =>
      [-SIGN.chanceBesideMm, SIGN.chanceBesideMm].every(
        (o) => pointInPolygon([at[0] - o * tangent[1], at[1] + o * tangent[0]], points) === (side === 1),
      ),
    );
  const stepBehind = (corner: number, step: 1 | -1, roomMm: number): number => {
    const way = extensionOver(points, corner, step, roomMm, WAY.stepMm);
    if (way === null) return 0;
    const seen = stepAlong(rgb, toPhoto, way);
    const middle = way[way.length >> 1]!;
    if (way.slice(way.length >> 1).some(({ at }) => liesOn(points, corner, at))) return 0;
    const side = pointInPolygon(middle.at, points) ? 1 : -1;
    return seen < SIGN.leastStep
      ? seen / SIGN.leastStep
      : seen / Math.max(SIGN.leastStep, chance(side, middle.tangent));
  };
  const knownBehind = new Map<string, number>();
  const behind: PhotoSigns['behind'] = (corner, step, roomMm) => {
    const key = `${corner} ${step} ${roomMm}`;
    const found = knownBehind.get(key) ?? stepBehind(corner, step, roomMm);
    knownBehind.set(key, found);
    return found;
  };
  return { behind, table: beside(-1), paper: beside(1), lightAt };
}

/** Without what is seen in one place only: that may be the thing lying over the edge itself. */
function typical(seen: readonly { readonly light: Light; readonly alongMm: number }[], wholeMm: number): Light[] {
  const alike = (a: Light, b: Light): boolean => differenceOf(a, b).whole < 1;
  return seen
    .filter(({ light, alongMm }) => {
      const elsewhere = seen.filter((other) => {
        const apart = Math.abs(other.alongMm - alongMm);
        return Math.min(apart, wholeMm - apart) > SIGN.elsewhereMm && alike(light, other.light);
      });
      return elsewhere.length >= SIGN.typicalShare * seen.length;
    })
    .map(({ light }) => light);
}

/** Two looks as multiples of what one material differs by: in colour alone, and in colour and brightness. */
function differenceOf(a: Light, b: Light): { readonly colour: number; readonly whole: number } {
  const difference = lightMinus(a, b);
  const colour = Math.hypot(...colourPart(difference)) / SIGN.colour;
  return { colour, whole: Math.hypot(colour, meanLight(difference) / SIGN.brightness) };
}

/** Whether the outline beside a stretch parts this paper from this table, be it in the shade: only such an edge is carried on. */
export function flankIsEdge(points: readonly TablePointMm[], end: number, step: 1 | -1, signs: PhotoSigns): boolean {
  const n = points.length;
  let [count, known] = [0, 0];
  for (let mm = SIGN.flankFromMm; mm <= SIGN.flankToMm; mm += SIGN.patchStepMm) {
    const i = around(end + step * Math.round(mm / WAY.stepMm), n);
    const [dx, dy] = inwardAt(points, i);
    for (const [side, looks] of [
      [-1, signs.table],
      [1, signs.paper],
    ] as const) {
      const d = side * SIGN.learnMm[0];
      const light = signs.lightAt([points[i]![0] + d * dx, points[i]![1] + d * dy]);
      count++;
      if (
        looks.some(
          (look) => differenceOf(light, look).colour < 1 && meanLight(lightMinus(light, look)) < SIGN.brightness,
        )
      )
        known++;
    }
  }
  return known > SIGN.foreignShare * count;
}

/** Whether most of what lies between an outline's stretch and the way over it is of another material than what lies there elsewhere. */
export interface Foreign {
  /** In colour or brightness. */
  readonly isForeign: boolean;
  /** In colour alone. */
  readonly isColoured: boolean;
}

export function foreignBetween(
  stretch: readonly Point[],
  way: readonly Point[],
  side: readonly Light[],
  { lightAt }: PhotoSigns,
): Foreign {
  const ring = [...stretch, ...way.toReversed()];
  const [x0, x1] = [Math.min(...ring.map(([x]) => x)), Math.max(...ring.map(([x]) => x))];
  const [y0, y1] = [Math.min(...ring.map(([, y]) => y)), Math.max(...ring.map(([, y]) => y))];
  const stepMm = Math.max(SIGN.patchStepMm, Math.sqrt(Math.abs(signedAreaMm2(ring)) / SIGN.enoughPatches));
  let [count, foreign, coloured] = [0, 0, 0];
  for (let x = x0; x <= x1; x += stepMm)
    for (let y = y0; y <= y1; y += stepMm) {
      const at: Point = [x, y];
      if (!pointInPolygon(at, ring)) continue;
      if (ring.some((p, i) => distanceToSegment(at, p, ring[(i + 1) % ring.length]!) < SIGN.clearMm)) continue;
      const light = lightAt(at);
      let [least, leastColour] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
      for (const known of side) {
        const { colour, whole } = differenceOf(light, known);
        leastColour = Math.min(leastColour, colour);
        least = Math.min(least, whole);
      }
      count++;
      if (least > 1) foreign++;
      if (leastColour > 1) coloured++;
    }
  const isMost = (found: number): boolean => count >= SIGN.fewestPatches && found / count > SIGN.foreignShare;
  return { isForeign: isMost(foreign), isColoured: isMost(coloured) };
}

function inwardAt(points: readonly TablePointMm[], i: number): Point {
  const n = points.length;
  const reach = SIGN.directionPoints;
  const along = unit(sub(points[(i + reach) % n]!, points[(i - reach + n) % n]!));
  return [-along[1], along[0]];
}

/** Whether a place lies on the outline itself not far from a corner: beyond a notch the edge goes on, and is no rim. */
function liesOn(points: readonly TablePointMm[], corner: number, at: Point): boolean {
  const n = points.length;
  const reach = Math.round(SIGN.nearByMm / WAY.stepMm);
  for (let k = -reach; k <= reach; k++)
    if (distance(points[around(corner + k, n)]!, at) < SIGN.onOutlineMm) return true;
  return false;
}
