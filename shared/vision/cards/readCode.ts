// Reads the cells of a candidate from the original picture and asks the dictionary which card it is and how it lies.
import type { Point } from '../../base/points.ts';
import { solveLinear } from '../../geometry/solveLinear.ts';
import { type GrayImage, grayAt } from '../image.ts';
import { homographyOf, mapByHomography } from '../plane/homography.ts';
import { CODE_CORNERS_UPRIGHT, MODULES_PER_SIDE } from './cardLayout.ts';
import type { Quad } from './codeCandidates.ts';
import { CODE_BITS_PER_SIDE, decodeCells } from './dictionary.ts';
import { CODE_LIMITS } from './findLimits.ts';

export interface SeenCode {
  readonly id: number;
  readonly mirrored: boolean;
  readonly wrongBits: number;
  /** Corners of the dark border in the order of CODE_CORNERS_UPRIGHT, photo pixels. */
  readonly corners: Quad;
  /** Row-major 3 x 3, photo pixels from upright card millimetres, by the code's corners alone. */
  readonly photoFromUpright: readonly number[];
  /** Grey levels between the white round the code and its dark border. */
  readonly contrast: number;
}

/** Where a cell is sampled, by its side from its middle: the inner part, clear of blurred edges. */
const PROBES: readonly Point[] = [
  [0, 0],
  [-0.2, -0.2],
  [0.2, -0.2],
  [-0.2, 0.2],
  [0.2, 0.2],
];

/** The ring of white outside the border is probed this far out, by cells: the quiet zone is at least 1.5 wide. */
const RING_OUT_CELLS = 0.75;

/** Reads one candidate; undefined when it is no code of ours. */
export function readCode(gray: GrayImage, quad: Quad): SeenCode | undefined {
  const n = MODULES_PER_SIDE;
  const photoFromCells = quadFromSquare(quad, n);
  if (photoFromCells === undefined || !looksLikeBorder(gray, photoFromCells)) return undefined;
  const cell = (x: number, y: number) => cellLevel(gray, photoFromCells, x, y);

  const border: Sample[] = [];
  const ring: Sample[] = [];
  for (let k = 0; k < n; k++) {
    const along = k + 0.5;
    for (const across of [0.5, n - 0.5]) {
      border.push({ x: along, y: across, level: cell(along, across) });
      if (k > 0 && k < n - 1) border.push({ x: across, y: along, level: cell(across, along) });
    }
    for (const across of [-RING_OUT_CELLS, n + RING_OUT_CELLS]) {
      ring.push({ x: along, y: across, level: cell(along, across) });
      ring.push({ x: across, y: along, level: cell(across, along) });
    }
  }
  const contrast = median(ring.map((s) => s.level)) - median(border.map((s) => s.level));
  if (!(contrast >= CODE_LIMITS.minContrast)) return undefined;
  // Light falls off across a card: the level between dark and light is a plane through the border and the white ring.
  const dark = planeThrough(border);
  const light = planeThrough(ring);
  if (dark === undefined || light === undefined) return undefined;
  const isLight = ({ x, y, level }: Sample) => level > (dark(x, y) + light(x, y)) / 2;
  const darkBorder = border.filter((sample) => !isLight(sample)).length / border.length;
  const lightRing = ring.filter(isLight).length / ring.length;
  if (darkBorder < CODE_LIMITS.minDarkBorderRatio || lightRing < CODE_LIMITS.minLightRingRatio) return undefined;

  const levels = Array.from({ length: n * n }, (_, i) => cell((i % n) + 0.5, Math.floor(i / n) + 0.5));
  const cells = Array.from({ length: CODE_BITS_PER_SIDE * CODE_BITS_PER_SIDE }, (_, i) => {
    const column = (i % CODE_BITS_PER_SIDE) + 1;
    const row = Math.floor(i / CODE_BITS_PER_SIDE) + 1;
    return isLight({ x: column + 0.5, y: row + 0.5, level: clearedOfNeighbours(levels, row * n + column) });
  });
  const decoded = decodeCells(cells);
  if (decoded === undefined) return undefined;
  const corner = (upright: number): Point => {
    const before = decoded.mirrored ? [1, 0, 3, 2][upright]! : upright;
    return quad[(before + decoded.quarterTurns) % 4]!;
  };
  const corners: Quad = [corner(0), corner(1), corner(2), corner(3)];
  const photoFromUpright = homographyOf(flat(CODE_CORNERS_UPRIGHT), flat(corners));
  if (photoFromUpright === null) return undefined;
  const { id, mirrored, wrongBits } = decoded;
  return { id, mirrored, wrongBits, corners, photoFromUpright, contrast };
}

/** How much of the difference to its neighbours a cell gets back: about what blur of half a cell takes. */
const UNBLUR = 0.8;

/** In a blurred photo a cell has taken on something of its four neighbours; in a sharp one this changes no decision. */
function clearedOfNeighbours(levels: readonly number[], at: number): number {
  const n = MODULES_PER_SIDE;
  const around = (levels[at - n]! + levels[at + n]! + levels[at - 1]! + levels[at + 1]!) / 4;
  return levels[at]! + UNBLUR * (levels[at]! - around);
}

export function flat(points: readonly Point[]): Float64Array {
  return Float64Array.from(points.flat());
}

/**
 * The homography that takes the square from (0, 0) to (side, side) to four corners, in closed form.
 * Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, section 2.2.3. Undefined for a degenerate quad.
 */
function quadFromSquare([p0, p1, p2, p3]: Quad, side: number): number[] | undefined {
  const [dx1, dy1] = [p1[0] - p2[0], p1[1] - p2[1]];
  const [dx2, dy2] = [p3[0] - p2[0], p3[1] - p2[1]];
  const [sx, sy] = [p0[0] - p1[0] + p2[0] - p3[0], p0[1] - p1[1] + p2[1] - p3[1]];
  const det = dx1 * dy2 - dx2 * dy1;
  if (det === 0) return undefined;
  const g = (sx * dy2 - dx2 * sy) / det;
  const h = (dx1 * sy - sx * dy1) / det;
  const row = (c0: number, c1: number, c3: number) => [(c1 - c0 + g * c1) / side, (c3 - c0 + h * c3) / side, c0];
  return [...row(p0[0], p1[0], p3[0]), ...row(p0[1], p1[1], p3[1]), g / side, h / side, 1];
}

/** A quick look before the full reading: at the middle of each side, is it darker just inside than just outside? */
function looksLikeBorder(gray: GrayImage, photoFromCells: readonly number[]): boolean {
  const n = MODULES_PER_SIDE;
  const level = (x: number, y: number) => grayAt(gray, mapByHomography(photoFromCells, x, y));
  const steps = (at: number) => [
    level(at, -RING_OUT_CELLS) - level(at, 0.5),
    level(at, n + RING_OUT_CELLS) - level(at, n - 0.5),
    level(-RING_OUT_CELLS, at) - level(0.5, at),
    level(n + RING_OUT_CELLS, at) - level(n - 0.5, at),
  ];
  return median([...steps(0.4 * n), ...steps(0.6 * n)]) >= CODE_LIMITS.minContrast / 2;
}

interface Sample {
  readonly x: number;
  readonly y: number;
  readonly level: number;
}

function cellLevel(gray: GrayImage, photoFromCells: readonly number[], x: number, y: number): number {
  let sum = 0;
  for (let k = 0; k < PROBES.length; k++) {
    const probe = PROBES[k]!;
    sum += grayAt(gray, mapByHomography(photoFromCells, x + probe[0], y + probe[1]));
  }
  return sum / PROBES.length;
}

/** Least squares plane of grey level over the code. */
function planeThrough(samples: readonly Sample[]): ((x: number, y: number) => number) | undefined {
  const normal = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  const right = [0, 0, 0];
  for (const { x, y, level } of samples) {
    const terms = [1, x, y];
    for (let i = 0; i < 3; i++) {
      right[i]! += terms[i]! * level;
      for (let k = 0; k < 3; k++) normal[i]![k]! += terms[i]! * terms[k]!;
    }
  }
  const fit = solveLinear(normal, right);
  return fit === null ? undefined : (x, y) => fit[0]! + fit[1]! * x + fit[2]! * y;
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}
