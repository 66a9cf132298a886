// Where in a photo a length can be trusted, and what would make the photo better: numbers for the map, plain sentences for
// the person, before they go on.
import { type PhotoPointPx, type Point, photoPx, tableMm } from '../../base/points.ts';
import type { Warning } from '../../base/result.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM } from '../cards/cardLayout.ts';
import { type Camera, halfDiagonalPx } from './cameraModel.ts';
import { errorModes, FLAT_PAPER, lengthSigmaRatioAt } from './lengthUncertainty.ts';
import { type PlacedCard, type PlaneSolution, photoFromTable, tableFromPhoto } from './planeSolution.ts';

/** Relative standard uncertainty of a short length over the photo, row by row from the top left, cell centres evenly spaced. */
export interface TrustMap {
  readonly columns: number;
  readonly rows: number;
  /** columns x rows; Infinity where the table is not seen. */
  readonly sigmaRatios: readonly number[];
  /** Table millimetres of the cells' corners, (columns + 1) x (rows + 1); null where the table is not seen. */
  readonly cornersMm: readonly (Point | null)[];
}

export interface PhotoQuality {
  readonly cornerSigmaPx: number;
  /** The worst of the map, its outermost cells left out; Infinity when part of the photo shows no table. */
  readonly worstRatio: number;
  readonly map: TrustMap;
  /** What to do to make the photo better, most worthwhile first; empty when there is nothing to say. */
  readonly advice: readonly Warning[];
}

const QUALITY = {
  columns: 12,
  rows: 9,
  /** What four cards around a piece reach nearly to the rim on simulated photos; and no place so good is worth a word... */
  goodRatio: 1.5e-3,
  /** ...unless it is so many times worse than the best place: what all places share (the print) is no matter of the cards. */
  worseThanBest: 1.8,
  /** A place whose way to the table and back misses by more is not on the table. */
  leadsBackPx: 1,
  /** Corner noise above this is blur or darkness, not the finder (0.15-0.3 px in good phone photos). */
  blurredPx: 0.45,
  /** Tilt beyond what the accuracy aims speak of. */
  tiltDeg: 25,
  /** A bow worth flattening, well before it is called bent. */
  bowMm: 0.6,
  /** Cards count as on one side when their middles keep within this share of the photo's half diagonal of one another. */
  clusteredRatio: 0.55,
  /** Millimetres a pixel above which outlines lose a tenth of a millimetre. */
  coarseMmPerPixel: 0.5,
} as const;

/** @param printChecked whether the rulers of the print were measured and typed in */
export function photoQuality(solution: PlaneSolution, printChecked: boolean): PhotoQuality {
  const map = trustMap(solution);
  const worstRatio = map.sigmaRatios[worstCell(map)]!;
  return { cornerSigmaPx: solution.cornerSigmaPx, worstRatio, map, advice: adviceFor(solution, map, printChecked) };
}

function trustMap(solution: PlaneSolution): TrustMap {
  const { columns, rows } = QUALITY;
  // Paper that does not lie flat shifts the ends of a line by itself, however long the line: no matter of the place.
  const errors = errorModes(solution, { ...FLAT_PAPER, flatnessSigmaMm: 0 });
  const sigmaRatios: number[] = [];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++)
      sigmaRatios.push(lengthSigmaRatioAt(errors, cellPx(solution.camera, column, row)));
  const cornersMm: (Point | null)[] = [];
  for (let row = 0; row <= rows; row++)
    for (let column = 0; column <= columns; column++) cornersMm.push(cornerOf(solution, column, row));
  return { columns, rows, sigmaRatios, cornersMm };
}

/** The corner at the top left of a cell; null where the lens model does not lead back to it from the table. */
function cornerOf(solution: PlaneSolution, column: number, row: number): Point | null {
  const { widthPx, heightPx } = solution.camera;
  const px = photoPx((column / QUALITY.columns) * widthPx, (row / QUALITY.rows) * heightPx);
  const at = tableFromPhoto(solution, px);
  const back = photoFromTable(solution, at);
  return Math.hypot(back[0] - px[0], back[1] - px[1]) <= QUALITY.leadsBackPx ? [at[0], at[1]] : null;
}

function cellPx({ widthPx, heightPx }: Camera, column: number, row: number): PhotoPointPx {
  return photoPx(((column + 0.5) / QUALITY.columns) * widthPx, ((row + 0.5) / QUALITY.rows) * heightPx);
}

function adviceFor(solution: PlaneSolution, map: TrustMap, printChecked: boolean): Warning[] {
  const { cards, cornerSigmaPx, tiltDeg, mmPerPixel } = solution;
  const advice: Warning[] = [];
  const say = (code: string, message: string): void => {
    advice.push({ code, message });
  };
  const worst = worstCell(map);
  const limit = Math.max(QUALITY.goodRatio, QUALITY.worseThanBest * Math.min(...map.sigmaRatios));
  const poor = map.sigmaRatios[worst]! > limit;
  if (cards.length === 1) {
    say('add-cards', 'Lay three more cards around the piece: one card alone says little about lengths away from it.');
  } else if (poor && cards.length < 4) {
    say('add-cards', `Lay a card at the ${sideOf(map, worst)} of the picture, where lengths are least sure.`);
  } else if (poor && clustered(solution)) {
    say('spread-cards', `The cards lie close together; move one to the ${sideOf(map, worst)} of the picture.`);
  } else if (poor) {
    say('card-nearer', `Move a card nearer to the ${sideOf(map, worst)} of the picture, where lengths are least sure.`);
  }
  if (!printChecked) {
    say('check-print', 'Measure the two check rulers on the printed page and type in what you read; once is enough.');
  }
  for (const card of cards) {
    if (card.bowMm > QUALITY.bowMm) {
      const amount = card.bowMm.toFixed(1);
      say('flatten-card', `Flatten card ${card.id} or tape its corners down: it bows by about ${amount} mm.`);
    }
  }
  if (cornerSigmaPx > QUALITY.blurredPx) {
    say(
      'sharper',
      'The picture is blurred or dark: use more light, wipe the lens, and hold still or lean on something.',
    );
  }
  if (tiltDeg > QUALITY.tiltDeg) {
    say('less-tilt', `Hold the camera more directly above the piece: it was tilted by ${tiltDeg.toFixed(0)}°.`);
  }
  if (mmPerPixel > QUALITY.coarseMmPerPixel) {
    say('closer', `Go closer, or take two photos that share two cards: one pixel is ${mmPerPixel.toFixed(1)} mm wide.`);
  }
  return advice;
}

/** Pieces seldom reach into the outermost cells, and no card can lie beyond them. */
function worstCell({ columns, rows, sigmaRatios }: TrustMap): number {
  let worst = columns + 1;
  for (let row = 1; row < rows - 1; row++)
    for (let column = 1; column < columns - 1; column++) {
      const cell = row * columns + column;
      if (sigmaRatios[cell]! > sigmaRatios[worst]!) worst = cell;
    }
  return worst;
}

/** "top left corner", "right edge", "middle": where in the picture a cell lies. */
function sideOf({ columns, rows }: TrustMap, cell: number): string {
  const third = (index: number, count: number): number => Math.min(2, Math.floor((3 * index) / count));
  const across = ['left', '', 'right'][third(cell % columns, columns)]!;
  const down = ['top', '', 'bottom'][third(Math.floor(cell / columns), rows)]!;
  if (across !== '' && down !== '') return `${down} ${across} corner`;
  return across + down === '' ? 'middle' : `${across}${down} edge`;
}

/** Whether all cards lie in one part of the picture. */
function clustered(solution: PlaneSolution): boolean {
  const places = solution.cards.map((card) => cardPx(solution, card));
  const reach = QUALITY.clusteredRatio * halfDiagonalPx(solution.camera);
  return places.every((a) => places.every((b) => Math.hypot(a[0] - b[0], a[1] - b[1]) < reach));
}

function cardPx(solution: PlaneSolution, { originMm, turnRad }: PlacedCard): PhotoPointPx {
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
  const [x, y] = [CARD_WIDTH_MM / 2, CARD_HEIGHT_MM / 2];
  return photoFromTable(solution, tableMm(originMm[0] + cos * x - sin * y, originMm[1] + sin * x + cos * y));
}
