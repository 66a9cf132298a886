// The nine pieces of the "Marl" dress in size M and its copy after the fitting, drafted on the seamline: invented for this
// project, every seam as long as the demo's table says. Curves are solved for, never nudged by hand. Seam corners are true:
// the angles of two edges that are sewn together add up to 180 degrees where they meet, folds and centres are square.
// One file in spite of its length: the pieces share their measures.
// x right, y down; fronts have the fold on the left, backs the centre back on the right.
import type { Point } from '../../../shared/base/points.ts';
import { type CubicPath, densePath, pathLength, straight } from '../cubics.ts';
import type { SeamEdgeSpec } from './cutLine.ts';
import { curveBetween, curveOfLength, direction, endDeg, joined, moved, reversed } from './draftTools.ts';
import { solve } from './solve.ts';

export interface MarlDart {
  readonly edge: string;
  readonly apex: Point;
  /** Where the legs meet the seamline, in the order of the edge. */
  readonly legs: readonly [Point, Point];
}

export interface MarlNotch {
  readonly edge: string;
  /** Along the seamline from the edge's start, darts and pleats open. */
  readonly atMm: number;
  readonly count: 1 | 2;
  readonly purpose: 'match' | 'pleat' | 'opening-stop';
}

export interface MarlPiece {
  readonly id: string;
  readonly ring: readonly SeamEdgeSpec[];
  readonly darts: readonly MarlDart[];
  readonly notches: readonly MarlNotch[];
  readonly grainline: { readonly from: Point; readonly to: Point } | null;
  readonly fold: { readonly from: Point; readonly to: Point } | null;
  readonly title: { readonly words: string; readonly at: Point; readonly turnDeg: number; readonly sizeMm: number };
}

const SEAM_ALLOWANCE_MM = 15;
const HEM_ALLOWANCE_MM = 40;

/** Designed lengths of size M on the seamline, millimetres. */
export const MARL = {
  shoulderFront: 76,
  shoulderBack: 80,
  bandShoulder: 42,
  neckFront: 186,
  neckBack: 124,
  side: 205,
  bustDart: 26,
  armholeFrontLow: 80,
  armholeBackLow: 90,
  armholeHigh: 132,
  capFrontLow: 80,
  capFrontHigh: 144,
  capBackLow: 90,
  capBackHigh: 148,
  underarm: 95,
  sleeveHem: 336,
  sleevePleat: 16,
  sleeveBand: 304,
  waistFront: 208,
  waistBack: 192,
  skirtPleat: 48,
  skirtDart: 30,
  skirtSide: 590,
  pocketOpening: 160,
  pocketFrom: 40,
  zip: 550,
  /** After the fitting: each armhole opened by this below its notch, each side shortened by that. */
  openedBy: 11,
  sideShortenedBy: 13,
  /** Planted in the back skirt: one grade step too wide at the waist. */
  skirtBackStray: 10,
} as const;

const SHOULDER_SLOPE_DEG = 20;
const NECK_HALF_MM = 103;
const NECK_DEPTH_FRONT_MM = 131;
const NECK_DEPTH_BACK_MM = 58;
/** Angle between neck and shoulder on the front; the back has the rest to 180. */
const NECK_CORNER_FRONT_DEG = 80;

function seam(label: string, path: CubicPath): SeamEdgeSpec {
  return { label, role: 'seam', allowanceMm: SEAM_ALLOWANCE_MM, seam: path };
}

function opening(label: string, path: CubicPath): SeamEdgeSpec {
  return { label, role: 'opening', allowanceMm: SEAM_ALLOWANCE_MM, seam: path };
}

function fold(label: string, path: CubicPath): SeamEdgeSpec {
  return { label, role: 'fold', allowanceMm: 0, seam: path };
}

function hem(label: string, path: CubicPath): SeamEdgeSpec {
  return { label, role: 'hem', allowanceMm: HEM_ALLOWANCE_MM, seam: path };
}

const NECK_FRONT: CubicPath = curveOfLength(
  [0, NECK_DEPTH_FRONT_MM],
  0,
  [NECK_HALF_MM, 0],
  SHOULDER_SLOPE_DEG + NECK_CORNER_FRONT_DEG - 180,
  MARL.neckFront,
);
const NECK_BACK: CubicPath = curveOfLength(
  [-NECK_HALF_MM, 0],
  NECK_CORNER_FRONT_DEG - SHOULDER_SLOPE_DEG,
  [0, NECK_DEPTH_BACK_MM],
  0,
  MARL.neckBack,
);

const UNDERARM_FRONT: Point = [252, 186];
const UNDERARM_BACK: Point = [-244, 203];
/** Armholes dip more than they rise: the handle at the underarm is the longer one. */
const ARMHOLE_WEIGHTS = [0.9, 1.1] as const;
const DART_FROM_UNDERARM_MM = 70;
const BUST_DART_LEG_MM = 132;

/** What the publisher drew, or what the class traced: with the demo's errors in it. */
export type Version = 'as designed' | 'as traced';
export type Fitting = 'as drafted' | 'after fitting';

/** What the fitting did: the armholes were opened below their notches, which took the top off the sides. */
function changeOf(fitting: Fitting): { readonly shortened: number; readonly opened: number } {
  return fitting === 'after fitting'
    ? { shortened: MARL.sideShortenedBy, opened: MARL.openedBy }
    : { shortened: 0, opened: 0 };
}

function frontBodice(fitting: Fitting): MarlPiece {
  const shoulderNeck: Point = [NECK_HALF_MM, 0];
  const tip = moved(shoulderNeck, direction(SHOULDER_SLOPE_DEG), MARL.shoulderFront);
  const half = MARL.bustDart / 2;
  const intakeDeg = (2 * Math.atan(half / BUST_DART_LEG_MM) * 180) / Math.PI;
  const below = MARL.side - DART_FROM_UNDERARM_MM;
  const lower = (leanDeg: number) => {
    const peak = moved(UNDERARM_FRONT, direction(90 + leanDeg), DART_FROM_UNDERARM_MM + half);
    const waistSide = moved(peak, direction(90 + leanDeg + intakeDeg), half + below);
    const waist = waistCurve(waistSide, 180 + leanDeg + intakeDeg, leanDeg + intakeDeg);
    return { peak, waistSide, waist };
  };
  const leanDeg = solve((lean) => pathLength(lower(lean).waist), MARL.waistFront, -4, 14);
  const { peak, waistSide, waist } = lower(leanDeg);
  const firstLeg = moved(UNDERARM_FRONT, direction(90 + leanDeg), DART_FROM_UNDERARM_MM);
  const { shortened, opened } = changeOf(fitting);
  const underarm = moved(UNDERARM_FRONT, direction(90 + leanDeg), shortened);
  const armhole = curveOfLength(
    tip,
    90 + SHOULDER_SLOPE_DEG,
    underarm,
    leanDeg,
    MARL.armholeHigh + MARL.armholeFrontLow + opened,
    ARMHOLE_WEIGHTS,
  );
  const bottom = waist.at(-1)!;
  return {
    id: 'front-bodice',
    ring: [
      seam('neck', NECK_FRONT),
      seam('shoulder', straight(shoulderNeck, tip)),
      seam('armhole', armhole),
      seam('side', joined(straight(underarm, peak), straight(peak, waistSide))),
      seam('waist', waist),
      fold('centre front', straight(bottom, [0, NECK_DEPTH_FRONT_MM])),
    ],
    darts: [
      {
        edge: 'side',
        legs: [firstLeg, moved(peak, direction(90 + leanDeg + intakeDeg), half)],
        apex: moved(firstLeg, direction(180 + leanDeg), BUST_DART_LEG_MM),
      },
    ],
    notches: [{ edge: 'armhole', atMm: MARL.armholeHigh, count: 1, purpose: 'match' }],
    grainline: null,
    fold: { from: [0, bottom[1] - 40], to: [0, NECK_DEPTH_FRONT_MM + 40] },
    title: { words: 'MARL FRONT M', at: [62, 330], turnDeg: 0, sizeMm: 12 },
  };
}

/** From the side to the centre: leaves square to the side, arrives square to the centre, as round as it can be. */
function waistCurve(side: Point, leaveDeg: number, turnDeg: number): CubicPath {
  const rise = Math.abs(side[0]) * Math.tan((turnDeg / 2) * (Math.PI / 180));
  return curveBetween(side, leaveDeg, [0, side[1] - rise], 180, 1 / 3, 1 / 3);
}

function backBodice(fitting: Fitting, version: Version): MarlPiece {
  const shoulderNeck: Point = [-NECK_HALF_MM, 0];
  const tip = moved(shoulderNeck, direction(180 - SHOULDER_SLOPE_DEG), MARL.shoulderBack);
  const lower = (leanDeg: number) => {
    const waistSide = moved(UNDERARM_BACK, direction(90 - leanDeg), MARL.side);
    const rise = Math.abs(waistSide[0]) * Math.tan((leanDeg / 2) * (Math.PI / 180));
    const waist = curveBetween([0, waistSide[1] - rise], 180, waistSide, 180 - leanDeg, 1 / 3, 1 / 3);
    return { waistSide, waist };
  };
  const leanDeg = solve((lean) => pathLength(lower(lean).waist), MARL.waistBack, 2, 25);
  const { waistSide, waist } = lower(leanDeg);
  const { shortened, opened } = changeOf(fitting);
  const underarm = moved(UNDERARM_BACK, direction(90 - leanDeg), shortened);
  const armhole = curveOfLength(
    underarm,
    -leanDeg,
    tip,
    -90 - SHOULDER_SLOPE_DEG,
    MARL.armholeBackLow + MARL.armholeHigh + opened,
    [ARMHOLE_WEIGHTS[1], ARMHOLE_WEIGHTS[0]],
  );
  const neckCentre: Point = [0, NECK_DEPTH_BACK_MM];
  const waistCentre = waist[0]!;
  return {
    id: 'back-bodice',
    ring: [
      seam('shoulder', straight(tip, shoulderNeck)),
      seam('neck', NECK_BACK),
      opening('centre back', straight(neckCentre, waistCentre)),
      seam('waist', waist),
      seam('side', straight(waistSide, underarm)),
      seam('armhole', armhole),
    ],
    darts: [],
    notches: [
      {
        edge: 'armhole',
        atMm: MARL.armholeBackLow + opened,
        // planted: single, although the sleeve's is double
        count: version === 'as traced' ? 1 : 2,
        purpose: 'match',
      },
    ],
    grainline: { from: [-70, 330], to: [-70, 120] },
    fold: null,
    title: { words: 'MARL BACK M', at: [-172, 270], turnDeg: 0, sizeMm: 8 },
  };
}

const CAP_HEIGHT_MM = 130;
const BICEPS_FRONT_MM = 166;
const BICEPS_BACK_MM = 178;

function sleeve(version: Version): MarlPiece {
  const front: Point = [BICEPS_FRONT_MM, CAP_HEIGHT_MM];
  const back: Point = [-BICEPS_BACK_MM, CAP_HEIGHT_MM];
  const hemAt = (leanDeg: number): CubicPath =>
    curveBetween(
      moved(front, direction(90 + leanDeg), MARL.underarm),
      180 + leanDeg,
      moved(back, direction(90 - leanDeg), MARL.underarm),
      180 - leanDeg,
      1 / 3,
      1 / 3,
    );
  const leanDeg = solve((lean) => pathLength(hemAt(lean)), MARL.sleeveHem, 0, 12);
  const hemPath = hemAt(leanDeg);
  const capBack = curveOfLength(back, -leanDeg, [0, 0], 0, MARL.capBackLow + MARL.capBackHigh, [0.9, 1.1]);
  const capFront = curveOfLength([0, 0], 0, front, leanDeg, MARL.capFrontHigh + MARL.capFrontLow, [1.1, 0.95]);
  const top = MARL.capBackLow + MARL.capBackHigh;
  // planted: the second pleat was not traced
  const pleats = version === 'as traced' ? [-2] : [-2, 1];
  const pleatNotches = pleats.flatMap((at) => [at, at + 1]).map((at) => MARL.sleeveHem / 2 + at * MARL.sleevePleat);
  return {
    id: 'sleeve',
    ring: [
      seam('cap', joined(capBack, capFront)),
      seam('underarm front', straight(front, hemPath[0]!)),
      seam('hem', hemPath),
      seam('underarm back', straight(hemPath.at(-1)!, back)),
    ],
    darts: [],
    notches: [
      { edge: 'cap', atMm: MARL.capBackLow, count: 2, purpose: 'match' },
      { edge: 'cap', atMm: top, count: 1, purpose: 'match' },
      { edge: 'cap', atMm: top + MARL.capFrontHigh, count: 1, purpose: 'match' },
      ...pleatNotches.map((atMm): MarlNotch => ({ edge: 'hem', atMm, count: 1, purpose: 'pleat' })),
    ],
    grainline: { from: [0, 195], to: [0, 35] },
    fold: null,
    title: { words: 'MARL SLEEVE M', at: [14, 160], turnDeg: 0, sizeMm: 9 },
  };
}

/** Distance between the band's two long edges; its ends lie along the shoulder, not square to the neck. */
const BAND_WIDTH_MM = MARL.bandShoulder * Math.sin((NECK_CORNER_FRONT_DEG * Math.PI) / 180);

/** The band's inner edge: like the neck's curve, with its middle a band's width away. */
function innerEdge(neck: CubicPath, a: Point, b: Point): CubicPath {
  const dense = densePath(neck);
  const middle = dense[Math.floor(dense.length / 2)]!;
  const [leave, arrive] = [
    (Math.atan2(neck[1]![1] - neck[0]![1], neck[1]![0] - neck[0]![0]) * 180) / Math.PI,
    endDeg(neck),
  ];
  const at = (k: number): CubicPath => curveBetween(a, leave, b, arrive, k, k);
  const gap = (k: number): number =>
    densePath(at(k)).reduce((least, p) => Math.min(least, Math.hypot(p[0] - middle[0], p[1] - middle[1])), Infinity);
  return at(solve(gap, BAND_WIDTH_MM, 0.05, 0.6));
}

function frontNeckband(): MarlPiece {
  const outerTop: Point = [NECK_HALF_MM, 0];
  const innerTop = moved(outerTop, direction(SHOULDER_SLOPE_DEG), -MARL.bandShoulder);
  const outerFold: Point = [0, NECK_DEPTH_FRONT_MM];
  const innerFold: Point = [0, NECK_DEPTH_FRONT_MM - BAND_WIDTH_MM];
  return {
    id: 'front-neckband',
    ring: [
      opening('inner', innerEdge(NECK_FRONT, innerFold, innerTop)),
      seam('shoulder', straight(innerTop, outerTop)),
      seam('outer', reversed(NECK_FRONT)),
      fold('centre front', straight(outerFold, innerFold)),
    ],
    darts: [],
    notches: [],
    grainline: null,
    fold: { from: [0, NECK_DEPTH_FRONT_MM - 6], to: [0, NECK_DEPTH_FRONT_MM - BAND_WIDTH_MM + 6] },
    title: { words: 'NECKBAND FRONT M', at: [60, 88], turnDeg: -58, sizeMm: 5 },
  };
}

function backNeckband(): MarlPiece {
  const outerTop: Point = [-NECK_HALF_MM, 0];
  const innerTop = moved(outerTop, direction(-SHOULDER_SLOPE_DEG), MARL.bandShoulder);
  const outerCentre: Point = [0, NECK_DEPTH_BACK_MM];
  const innerCentre: Point = [0, NECK_DEPTH_BACK_MM - BAND_WIDTH_MM];
  return {
    id: 'back-neckband',
    ring: [
      opening('inner', innerEdge(NECK_BACK, innerTop, innerCentre)),
      opening('centre back', straight(innerCentre, outerCentre)),
      seam('outer', reversed(NECK_BACK)),
      seam('shoulder', straight(outerTop, innerTop)),
    ],
    darts: [],
    notches: [],
    grainline: { from: [-18, 66], to: [-18, 10] },
    fold: null,
    title: { words: 'BAND BACK M', at: [-76, 17], turnDeg: 42, sizeMm: 5 },
  };
}

const SLEEVE_BAND_WIDTH_MM = 35;

function sleeveBand(): MarlPiece {
  const [w, h] = [MARL.sleeveBand, SLEEVE_BAND_WIDTH_MM];
  return {
    id: 'sleeve-band',
    ring: [
      seam('top', straight([0, 0], [w, 0])),
      seam('end front', straight([w, 0], [w, h])),
      opening('lower', straight([w, h], [0, h])),
      seam('end back', straight([0, h], [0, 0])),
    ],
    darts: [],
    notches: [],
    grainline: { from: [190, h / 2], to: [280, h / 2] },
    fold: null,
    title: { words: 'SLEEVE BAND M', at: [40, h / 2 + 4], turnDeg: 0, sizeMm: 8 },
  };
}

const HIP_DEPTH_MM = 200;
const HIP_LEAN_DEG = 6;

/** The skirt's side from the waist down: a hip curve, then straight down; `sign` +1 = outward to the right. */
function skirtSide(top: Point, sign: 1 | -1): CubicPath {
  const outward = HIP_DEPTH_MM * Math.tan((HIP_LEAN_DEG / 2) * (Math.PI / 180));
  const hip: Point = [top[0] + sign * outward, top[1] + HIP_DEPTH_MM];
  const curve = curveBetween(top, 90 - sign * HIP_LEAN_DEG, hip, 90, 1 / 3, 1 / 3);
  return joined(curve, straight(hip, [hip[0], hip[1] + MARL.skirtSide - pathLength(curve)]));
}

function frontSkirt(): MarlPiece {
  const open = MARL.waistFront + 2 * MARL.skirtPleat;
  const waistAt = (x: number): CubicPath =>
    curveBetween([0, 0], 0, [x, -x * Math.tan((HIP_LEAN_DEG / 2) * (Math.PI / 180))], -HIP_LEAN_DEG, 1 / 3, 1 / 3);
  const waist = waistAt(solve((x) => pathLength(waistAt(x)), open, 200, 400));
  const side = skirtSide(waist.at(-1)!, 1);
  const sideBottom = side.at(-1)!;
  const pleats = [64, 176].flatMap((from) => [from, from + MARL.skirtPleat]);
  return {
    id: 'front-skirt',
    ring: [
      seam('waist', waist),
      seam('side', side),
      hem('hem', straight(sideBottom, [0, sideBottom[1]])),
      fold('centre front', straight([0, sideBottom[1]], [0, 0])),
    ],
    darts: [],
    notches: [
      ...pleats.map((atMm): MarlNotch => ({ edge: 'waist', atMm, count: 1, purpose: 'pleat' })),
      { edge: 'side', atMm: MARL.pocketFrom, count: 1, purpose: 'match' },
      { edge: 'side', atMm: MARL.pocketFrom + MARL.pocketOpening, count: 1, purpose: 'match' },
    ],
    grainline: null,
    fold: { from: [0, 520], to: [0, 60] },
    title: { words: 'MARL SKIRT FRONT M', at: [75, 300], turnDeg: 0, sizeMm: 14 },
  };
}

const SKIRT_DART_FROM_CENTRE_MM = 88;
const SKIRT_DART_LEG_MM = 140;

function backSkirt(version: Version): MarlPiece {
  const half = MARL.skirtDart / 2;
  const intakeDeg = (2 * Math.atan(half / SKIRT_DART_LEG_MM) * 180) / Math.PI;
  const peak: Point = [-(SKIRT_DART_FROM_CENTRE_MM + half), 0];
  const firstLeg = moved(peak, direction(-intakeDeg), -half);
  // planted: the waist followed the next size's line
  const strayed = version === 'as traced' ? MARL.skirtBackStray : 0;
  const toDart = MARL.waistBack + strayed - SKIRT_DART_FROM_CENTRE_MM;
  const outer = (chord: number): CubicPath =>
    curveBetween(
      moved(firstLeg, direction((HIP_LEAN_DEG - intakeDeg) / 2), -chord),
      HIP_LEAN_DEG,
      firstLeg,
      -intakeDeg,
      1 / 3,
      1 / 3,
    );
  const outerPart = outer(solve((chord) => pathLength(outer(chord)), toDart, 50, 200));
  const side = skirtSide(outerPart[0]!, -1);
  const sideBottom = side.at(-1)!;
  const bodice = backBodice('as drafted', version).ring.find((edge) => edge.label === 'centre back')!;
  const zipStop = MARL.zip - BAND_WIDTH_MM - pathLength(bodice.seam);
  return {
    id: 'back-skirt',
    ring: [
      seam('waist', joined(outerPart, straight(firstLeg, peak), straight(peak, [0, 0]))),
      seam('centre back', straight([0, 0], [0, sideBottom[1]])),
      hem('hem', straight([0, sideBottom[1]], sideBottom)),
      seam('side', reversed(side)),
    ],
    darts: [
      {
        edge: 'waist',
        legs: [firstLeg, [-SKIRT_DART_FROM_CENTRE_MM, 0]],
        apex: moved(firstLeg, direction(90 - intakeDeg), SKIRT_DART_LEG_MM),
      },
    ],
    notches: [
      { edge: 'centre back', atMm: zipStop, count: 1, purpose: 'opening-stop' },
      { edge: 'side', atMm: MARL.skirtSide - MARL.pocketFrom - MARL.pocketOpening, count: 1, purpose: 'match' },
      { edge: 'side', atMm: MARL.skirtSide - MARL.pocketFrom, count: 1, purpose: 'match' },
    ],
    grainline: { from: [-60, 500], to: [-60, 220] },
    fold: null,
    title: { words: 'MARL SKIRT BACK M', at: [-215, 320], turnDeg: 0, sizeMm: 8 },
  };
}

function pocketBag(): MarlPiece {
  const bottom: Point = [0, MARL.pocketOpening];
  return {
    id: 'pocket-bag',
    ring: [
      seam('opening', straight(bottom, [0, 0])),
      seam(
        'bag',
        joined(
          curveBetween([0, 0], 0, [150, 120], 90, 0.5, 0.38),
          curveBetween([150, 120], 90, [90, 236], 180, 0.5, 0.3),
          curveBetween([90, 236], 180, bottom, 230, 0.3, 0.3),
        ),
      ),
    ],
    darts: [],
    notches: [],
    grainline: { from: [75, 205], to: [75, 90] },
    fold: null,
    title: { words: 'POCKET M', at: [24, 66], turnDeg: 0, sizeMm: 9 },
  };
}

/** The nine pieces in the order of the cutting list. */
export function marlPieces(version: Version): readonly MarlPiece[] {
  return [
    frontBodice('as drafted'),
    backBodice('as drafted', version),
    sleeve(version),
    frontNeckband(),
    backNeckband(),
    sleeveBand(),
    frontSkirt(),
    backSkirt(version),
    pocketBag(),
  ];
}

/** The pieces that changed at the fitting; all others stayed as they were. */
export function marlAfterFitting(): readonly MarlPiece[] {
  return [frontBodice('after fitting'), backBodice('after fitting', 'as traced')];
}
