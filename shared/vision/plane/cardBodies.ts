// From cards as found to the bodies that the solver places: the printed points about their middle, corrected by the
// typed print scale, with the stiffness of what they are printed on.
import { type PhotoPointPx, type Point, photoPx } from '../../base/points.ts';
import type { FoundCard } from '../cards/foundCard.ts';
import { handedness, homographyOf, mapByHomography } from './homography.ts';
import type { Body } from './planeProblem.ts';
import { PLANE_PRIORS } from './priors.ts';

/** Measured over nominal length of the check rulers, an axis of the page. */
export interface PrintScale {
  readonly xRatio: number;
  readonly yRatio: number;
  /** False when the ratios are assumed, not measured. */
  readonly checked: boolean;
}

/** One rigid body: a single cut card, or several cards of a page that was not cut. */
export interface CardBody {
  readonly cards: readonly FoundCard[];
  /** Middle of its corners, millimetres as printed, in the card's own axes (single card) or the page's (several). */
  readonly middleMm: Point;
  readonly body: Body;
}

export interface SortedCards {
  /** Usable, largest in the photo first. */
  readonly usable: readonly FoundCard[];
  readonly mirrored: readonly FoundCard[];
  /** Fewer than four corners, or all on one line. */
  readonly degenerate: readonly FoundCard[];
}

export function sortCards(cards: readonly FoundCard[]): SortedCards {
  const usable: FoundCard[] = [];
  const mirrored: FoundCard[] = [];
  const degenerate: FoundCard[] = [];
  for (const card of cards) {
    const map = cardHomography(card);
    if (map === null) degenerate.push(card);
    else if (handedness(map, ...meanOf(card.corners.map((c) => c.cardMm))) < 0) mirrored.push(card);
    else usable.push(card);
  }
  return { usable: usable.sort((a, b) => spreadPx(b) - spreadPx(a)), mirrored, degenerate };
}

/** Photo point of a point of the card, by the card's own homography: good on the card, not beyond it. */
export function photoFromCard(card: FoundCard, cardMm: Point): PhotoPointPx | null {
  const map = cardHomography(card);
  if (map === null) return null;
  const [x, y] = mapByHomography(map, cardMm[0], cardMm[1]);
  return photoPx(x, y);
}

function cardHomography(card: FoundCard): number[] | null {
  return homographyOf(
    Float64Array.from(card.corners.flatMap((c) => [...c.cardMm])),
    Float64Array.from(card.corners.flatMap((c) => [...c.photo])),
  );
}

export function cutCard(card: FoundCard, scale: PrintScale): CardBody {
  const points = card.corners.map(({ cardMm }): Point => [cardMm[0] * scale.xRatio, cardMm[1] * scale.yRatio]);
  return bodyFrom([card], points, paperOf(card, scale), PLANE_PRIORS.cardBowMm, PLANE_PRIORS.cardLiftMm);
}

/** Cards of one page that was not cut between them. */
export function uncutCards(cards: readonly FoundCard[], scale: PrintScale): CardBody {
  const points = cards.flatMap(({ corners, onPageMm }) =>
    corners.map(
      ({ cardMm }): Point => [(onPageMm[0] + cardMm[0]) * scale.xRatio, (onPageMm[1] + cardMm[1]) * scale.yRatio],
    ),
  );
  const middle = meanOf(points);
  const reach = reachOf(points, middle);
  const paper: Paper = { middle, reach, halfSizeMm: Math.hypot(reach[0], reach[1]) };
  return bodyFrom(cards, points, paper, PLANE_PRIORS.pageBowMm, PLANE_PRIORS.pageLiftMm);
}

function bodyFrom(
  cards: readonly FoundCard[],
  points: readonly Point[],
  paper: Paper,
  bowSigmaMm: number,
  liftSigmaMm: number,
): CardBody {
  const middleMm = meanOf(points);
  const pointsMm = Float64Array.from(points.flatMap((p) => [p[0] - middleMm[0], p[1] - middleMm[1]]));
  const seenPx = Float64Array.from(cards.flatMap((card) => card.corners.flatMap((c) => [...c.photo])));
  const paperMiddleMm = [paper.middle[0] - middleMm[0], paper.middle[1] - middleMm[1]] as const;
  const { halfSizeMm, reach } = paper;
  return {
    cards,
    middleMm,
    body: { pointsMm, seenPx, halfSizeMm, paperMiddleMm, paperReachMm: reach, bowSigmaMm, liftSigmaMm },
  };
}

/** Paper reaches this much farther from the middle than the outermost corner when the cut outline is not known. */
const PAPER_BEYOND_CORNERS = 1.3;

interface Paper {
  readonly middle: Point;
  readonly reach: Point;
  readonly halfSizeMm: number;
}

/** Middle and half width of the card's paper, from its cut outline seen through its own homography. */
function paperOf(card: FoundCard, scale: PrintScale): Paper {
  const printed = card.corners.map(({ cardMm }): Point => [cardMm[0] * scale.xRatio, cardMm[1] * scale.yRatio]);
  const middle = meanOf(printed);
  const inverse = homographyOf(
    Float64Array.from(card.corners.flatMap((c) => [...c.photo])),
    Float64Array.from(printed.flatMap((p) => [...p])),
  );
  if (card.cutOutline.length !== 4 || inverse === null) {
    const [x, y] = reachOf(printed, middle);
    const reach: Point = [PAPER_BEYOND_CORNERS * x, PAPER_BEYOND_CORNERS * y];
    return { middle, reach, halfSizeMm: (reach[0] + reach[1]) / 2 };
  }
  const outline = card.cutOutline.map((p) => mapByHomography(inverse, p[0], p[1]));
  const centre = meanOf(outline);
  const reach = reachOf(outline, centre);
  return { middle: centre, reach, halfSizeMm: (reach[0] + reach[1]) / 2 };
}

/** Largest distance from the middle along x and along y. */
function reachOf(points: readonly Point[], middle: Point): Point {
  return [
    Math.max(...points.map((p) => Math.abs(p[0] - middle[0]))),
    Math.max(...points.map((p) => Math.abs(p[1] - middle[1]))),
  ];
}

function spreadPx(card: FoundCard): number {
  const [x, y] = meanOf(card.corners.map((c) => c.photo));
  return card.corners.reduce((sum, c) => sum + Math.hypot(c.photo[0] - x, c.photo[1] - y), 0);
}

function meanOf(points: readonly Point[]): Point {
  let x = 0;
  let y = 0;
  for (const p of points) {
    x += p[0] / points.length;
    y += p[1] / points.length;
  }
  return [x, y];
}
