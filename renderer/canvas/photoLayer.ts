// What lies over a picture of the table in the step Photos: where lengths can be trusted, the cards that were found, taped
// distances. Worked out here as plain data, drawn by drawPhotoLayer.ts.
import type { LengthText } from '../../shared/base/lengthText.ts';
import type { Point } from '../../shared/base/points.ts';
import { pointInPolygon } from '../../shared/geometry/polygon.ts';
import { distance, lerp } from '../../shared/geometry/vector.ts';
import type { ShotQuality } from '../../shared/pattern/model.ts';
import { bandOf, type TrustBand, trustWords } from '../photos/trustBands.ts';
import type { AddedPhoto, CaptureState, TapeEnd } from '../state/windowState.ts';

export interface TrustCell {
  /** Four corners, canvas units. */
  readonly corners: readonly Point[];
  readonly band: TrustBand;
  readonly words: string;
}

export interface TapeLine {
  readonly ends: readonly Point[];
  readonly words: string;
}

export interface PhotoLayer {
  readonly trust: readonly TrustCell[];
  readonly cards: readonly { readonly id: string; readonly outline: readonly Point[]; readonly tapeEnd: Point }[];
  readonly tapes: readonly TapeLine[];
}

export const NO_LAYER: PhotoLayer = { trust: [], cards: [], tapes: [] };

/** Over the photo itself: one canvas unit is one pixel of the upright photo. */
export function layerOfPhoto(
  photo: AddedPhoto,
  capture: CaptureState,
  showTrust: boolean,
  lengths: LengthText,
): PhotoLayer {
  if (photo.look?.state !== 'seen') return NO_LAYER;
  const { cards, map, widthPx, heightPx } = photo.look;
  const corner = (column: number, row: number): Point => [
    (column / map.columns) * widthPx,
    (row / map.rows) * heightPx,
  ];
  const placed = (end: TapeEnd): Point => cards.find(({ id }) => id === end.card)?.tapeEndPx ?? end.atPx;
  const own = capture.tapes.filter(
    (tape) =>
      tape.photo === photo.photo ||
      [tape.from, tape.to].every(({ card }) => card !== null && cards.some(({ id }) => id === card)),
  );
  const picking = capture.taping?.photo === photo.photo ? capture.taping.ends : [];
  return {
    trust: showTrust ? cellsOf({ ...map, cornerAt: corner }, lengths).map((cell) => wordlessUnder(cell, cards)) : [],
    cards: cards.map(({ id, outlinePx, tapeEndPx }) => ({ id, outline: outlinePx, tapeEnd: tapeEndPx })),
    tapes: [
      ...own.map(({ from, to, lengthMm }) => ({ ends: [placed(from), placed(to)], words: lengths.words(lengthMm) })),
      ...(picking.length === 0
        ? []
        : [{ ends: picking.map(placed), words: picking.length === 2 ? `? ${lengths.unit}` : '' }]),
    ],
  };
}

/** A card in the middle of a cell has its own words. */
function wordlessUnder(cell: TrustCell, cards: readonly { readonly outlinePx: readonly Point[] }[]): TrustCell {
  const { middle } = roomOf(cell);
  return cards.some(({ outlinePx }) => pointInPolygon(middle, outlinePx)) ? { ...cell, words: '' } : cell;
}

/** Over the straightened picture of a shot: canvas units are table millimetres. */
export function layerOfShot({ columns, rows, sigmaRatios, cornersMm }: ShotQuality, lengths: LengthText): PhotoLayer {
  const cornerAt = (column: number, row: number): Point | null => cornersMm[row * (columns + 1) + column] ?? null;
  return { ...NO_LAYER, trust: cellsOf({ columns, rows, sigmaRatios, cornerAt }, lengths) };
}

interface TrustGrid {
  readonly columns: number;
  readonly rows: number;
  readonly sigmaRatios: readonly (number | null)[];
  readonly cornerAt: (column: number, row: number) => Point | null;
}

/** Cells of which a corner is not on the table are left out. */
function cellsOf({ columns, rows, sigmaRatios, cornerAt }: TrustGrid, lengths: LengthText): TrustCell[] {
  const cells: TrustCell[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const corners = [
        cornerAt(column, row),
        cornerAt(column + 1, row),
        cornerAt(column + 1, row + 1),
        cornerAt(column, row + 1),
      ].filter((corner) => corner !== null);
      const ratio = sigmaRatios[row * columns + column] ?? null;
      if (corners.length === 4) cells.push({ corners, band: bandOf(ratio), words: trustWords(ratio, lengths) });
    }
  }
  return cells;
}

/** Middle of a cell and its narrower width: whether words fit into it. */
export function roomOf({ corners }: TrustCell): { readonly middle: Point; readonly widthMm: number } {
  const [a, b, c, d] = corners as readonly [Point, Point, Point, Point];
  return { middle: lerp(lerp(a, b, 0.5), lerp(d, c, 0.5), 0.5), widthMm: Math.min(distance(a, b), distance(a, d)) };
}
