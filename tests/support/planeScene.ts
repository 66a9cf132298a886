// Corner positions of reference cards lying on a table, seen by a known camera: pure geometry, no pictures. Bending,
// print error and noise are drawn from a seeded generator; paper is bent by its own arc-length integration, not by the
// solver's formula.
import { type PhotoPointPx, type Point, photoPx } from '../../shared/base/points.ts';
import {
  CARD_HEIGHT_MM,
  CARD_WIDTH_MM,
  cardMmFromUpright,
  cardName,
  cardPlace,
  SADDLES_PER_SIDE,
  saddleUprightMm,
} from '../../shared/vision/cards/cardLayout.ts';
import type { FoundCard } from '../../shared/vision/cards/foundCard.ts';
import {
  type Camera,
  DIAGONAL_35MM,
  multiply3,
  projectInto,
  rotationOf,
} from '../../shared/vision/plane/cameraModel.ts';

export interface LaidCard {
  readonly id: number;
  /** Where the middle of the card lies on the table, and its turn. */
  readonly atMm: Point;
  readonly turnDeg: number;
}

export interface SceneErrors {
  readonly cornerSigmaPx: number;
  /** Relative size error an axis, one sigma, shared by all cards. */
  readonly printSigmaRatio: number;
  /** The bend's height over the card is uniform between these, up or down, in any direction. */
  readonly leastCurlMm: number;
  readonly curlMm: number;
}

export const NO_ERRORS: SceneErrors = { cornerSigmaPx: 0, printSigmaRatio: 0, leastCurlMm: 0, curlMm: 0 };

/** Small seeded generator (mulberry32): the same seed gives the same scene everywhere. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  uniform(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.uniform();
  }

  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.uniform())) * Math.cos(2 * Math.PI * this.uniform());
  }
}

export interface CameraSetup {
  readonly focal35Mm: number;
  readonly tiltDeg: number;
  /** Direction of the tilt and turn of the phone, degrees. */
  readonly towardsDeg: number;
  readonly rollDeg: number;
  /** Distance from the camera to the table point in the middle of the picture, which is the origin. */
  readonly distanceMm: number;
  readonly lens: Camera['lens'];
  readonly lensTerms: readonly [number, number];
  readonly principalRatio: readonly [number, number];
}

/** 12 MP, 35 mm equivalent 26: about 1.2 m across from 0.87 m. */
export const PHONE: CameraSetup = {
  focal35Mm: 26,
  tiltDeg: 0,
  towardsDeg: 0,
  rollDeg: 0,
  distanceMm: 870,
  lens: 'none',
  lensTerms: [0, 0],
  principalRatio: [0, 0],
};

const PHOTO_WIDTH_PX = 4032;
const PHOTO_HEIGHT_PX = 3024;

export function cameraOf(setup: CameraSetup): Camera {
  const rad = Math.PI / 180;
  const tilt = setup.tiltDeg * rad;
  const towards = setup.towardsDeg * rad;
  const tilted = rotationOf(tilt * Math.cos(towards), tilt * Math.sin(towards), 0);
  return {
    widthPx: PHOTO_WIDTH_PX,
    heightPx: PHOTO_HEIGHT_PX,
    lens: setup.lens,
    rotation: multiply3(tilted, rotationOf(0, 0, setup.rollDeg * rad)),
    translationMm: [0, 0, setup.distanceMm],
    focalRatio: setup.focal35Mm / (DIAGONAL_35MM / 2),
    lensTerms: setup.lensTerms,
    principalRatio: setup.principalRatio,
  };
}

/** Cards as a perfect finder would report them, with the scene's errors in them. */
export function seeCards(camera: Camera, cards: readonly LaidCard[], errors: SceneErrors, random: Random): FoundCard[] {
  const stretch: Point = [1 + errors.printSigmaRatio * random.normal(), 1 + errors.printSigmaRatio * random.normal()];
  return cards.map((card) => seeCard(camera, card, stretch, errors, random));
}

function seeCard(camera: Camera, card: LaidCard, stretch: Point, errors: SceneErrors, random: Random): FoundCard {
  const bend = drawnBend(errors, random, CARD_WIDTH_MM, CARD_HEIGHT_MM);
  const place = placed(card.atMm, card.turnDeg, bend);
  return seen(
    camera,
    card.id,
    (cardMm) => place(stretch[0] * (cardMm[0] - CARD_WIDTH_MM / 2), stretch[1] * (cardMm[1] - CARD_HEIGHT_MM / 2)),
    errors,
    random,
  );
}

/** The four cards of page 1 as they hang together uncut and bend as one sheet; the page's middle lies at `atMm`. */
export function seePage(
  camera: Camera,
  atMm: Point,
  turnDeg: number,
  errors: SceneErrors,
  random: Random,
): FoundCard[] {
  const stretch: Point = [1 + errors.printSigmaRatio * random.normal(), 1 + errors.printSigmaRatio * random.normal()];
  const place = placed(atMm, turnDeg, drawnBend(errors, random, 2 * CARD_WIDTH_MM, 2 * CARD_HEIGHT_MM));
  return [0, 1, 2, 3].map((id) => {
    const [pageX, pageY] = cardPlace(id).onPageMm;
    const placeOnPage = (cardMm: Point): Place =>
      place(stretch[0] * (pageX + cardMm[0] - CARD_WIDTH_MM), stretch[1] * (pageY + cardMm[1] - CARD_HEIGHT_MM));
    return seen(camera, id, placeOnPage, errors, random);
  });
}

type Place = readonly [xMm: number, yMm: number, heightMm: number];
type Bend = (x: number, y: number) => Place;

function drawnBend(errors: SceneErrors, random: Random, widthMm: number, heightMm: number): Bend {
  const domed = random.uniform() < 0.5;
  return bentPaper(
    random.between(errors.leastCurlMm, errors.curlMm),
    domed,
    random.between(0, Math.PI),
    widthMm,
    heightMm,
  );
}

function placed(atMm: Point, turnDeg: number, bend: Bend): Bend {
  const turn = (turnDeg * Math.PI) / 180;
  return (px, py) => {
    const [x, y, height] = bend(px, py);
    return [
      atMm[0] + Math.cos(turn) * x - Math.sin(turn) * y,
      atMm[1] + Math.sin(turn) * x + Math.cos(turn) * y,
      height,
    ];
  };
}

function seen(
  camera: Camera,
  id: number,
  place: (cardMm: Point) => Place,
  errors: SceneErrors,
  random: Random,
): FoundCard {
  const corners: { cardMm: Point; photo: PhotoPointPx }[] = [];
  for (let row = 0; row < SADDLES_PER_SIDE; row++)
    for (let column = 0; column < SADDLES_PER_SIDE; column++) {
      const cardMm = cardMmFromUpright(id, saddleUprightMm(column, row));
      const at = photoOf(camera, ...place(cardMm));
      const x = at[0] + errors.cornerSigmaPx * random.normal();
      const y = at[1] + errors.cornerSigmaPx * random.normal();
      corners.push({ cardMm, photo: photoPx(x, y) });
    }
  const { onPageMm, set } = cardPlace(id);
  const outline: Point[] = [
    [0, 0],
    [CARD_WIDTH_MM, 0],
    [CARD_WIDTH_MM, CARD_HEIGHT_MM],
    [0, CARD_HEIGHT_MM],
  ];
  return {
    id: cardName(id),
    onPageMm,
    page: set,
    corners,
    cutOutline: outline.map((p) => photoOf(camera, ...place(p))),
    homographyResidualPx: errors.cornerSigmaPx,
  };
}

export function photoOf(camera: Camera, xMm: number, yMm: number, heightMm = 0): PhotoPointPx {
  const out = new Float64Array(2);
  projectInto(camera, xMm, yMm, heightMm, out, 0);
  return photoPx(out[0]!, out[1]!);
}

const ARC_STEPS = 40;

/** Paper bent to a parabola of the given height over its size along one direction, lying on the table. */
function bentPaper(sagittaMm: number, domed: boolean, directionRad: number, widthMm: number, heightMm: number): Bend {
  const c = Math.cos(directionRad);
  const s = Math.sin(directionRad);
  // How far the paper reaches along the bend: its corners touch the table (dome) or stand up (bowl).
  const reach = (Math.abs(c) * widthMm + Math.abs(s) * heightMm) / 2;
  const k = sagittaMm / (reach * reach);
  return (x, y) => {
    const along = c * x + s * y;
    const across = -s * x + c * y;
    // Walk the arc: d(ground) = d(arc) / sqrt(1 + slope^2).
    let ground = 0;
    const step = along / ARC_STEPS;
    for (let i = 0; i < ARC_STEPS; i++) {
      const slope = 2 * k * (ground + step / 2);
      ground += step / Math.sqrt(1 + slope * slope);
    }
    const height = k * ground * ground;
    return [c * ground - s * across, s * ground + c * across, domed ? sagittaMm - height : height];
  };
}
