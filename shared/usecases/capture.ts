// Photo → pieces: the stages one after the other. Each stage's warnings are handed on; the first failure ends the photo.
import type { TablePointMm } from '../base/points.ts';
import { fail, ok, type Result, type Warning } from '../base/result.ts';
import type { FoundCard } from '../vision/cards/foundCard.ts';
import { liesOnPage, uncutPage } from '../vision/cards/uncutPage.ts';
import type { Photo } from '../vision/image.ts';
import type { InkLine } from '../vision/ink/inkLines.ts';
import type { Excursion } from '../vision/outline/findExcursions.ts';
import { marksAwayFromRim, type PhotoRim, rimFlags } from '../vision/outline/photoRim.ts';
import { spottedCorners } from '../vision/outline/spottedCorners.ts';
import { type ErrorModes, errorModes, FLAT_PAPER, lengthUncertainty } from '../vision/plane/lengthUncertainty.ts';
import { photoQuality } from '../vision/plane/photoQuality.ts';
import { type PlaneSolution, photoFromTable, tableFromPhoto } from '../vision/plane/planeSolution.ts';
import type { PaperRegion } from '../vision/segment/paperRegion.ts';
import type { TablePicture } from '../vision/segment/tablePicture.ts';
import type { StageContext } from '../vision/stageContext.ts';
import { chooseOutline } from '../vision/stages/chooseOutline.ts';
import { readMarks } from '../vision/stages/readMarks.ts';
import { RECTIFY_DEFAULTS, rectify } from '../vision/stages/rectify.ts';
import { refineOutline } from '../vision/stages/refineOutline.ts';
import { segmentPaper } from '../vision/stages/segmentPaper.ts';
import { type DrawnOutline, drawnOutlines, findInkLines, planeMapOf } from '../vision/stages/traceInk.ts';
import type { TracedMark, TracedPiece } from '../vision/traced.ts';
import type { CapturedPhoto, CaptureOptions, SeenOutline, TablePhoto, TapedCards } from './captured.ts';
import { type MeasuredOutline, outlineWarnings, pieceFromOutline } from './pieceFromOutline.ts';
import { planeOf, searchCards, tapesFor } from './solvePhoto.ts';

/** What one photo gives, with its picture at true scale. */
export interface PhotoRead {
  readonly captured: CapturedPhoto;
  readonly table: TablePhoto;
}

/** Reads every piece in one photo. Pure: the same photo gives the same pieces. */
export function capturePhoto(photo: Photo, options: CaptureOptions, context: StageContext): Result<PhotoRead> {
  context.report(0.1, `Looking for reference cards in ${photo.name}`);
  const cards = searchCards(photo, context);
  if (!cards.ok) return cards;
  const found = cards.value;
  context.report(0.25, `Measuring the table in ${photo.name}`);
  const plane = planeOf(photo, found, options);
  if (!plane.ok) return plane;
  const { solution } = plane.value;
  context.report(0.35, `Looking for pieces in ${photo.name}`);
  const rectified = rectify(photo, solution, RECTIFY_DEFAULTS, context);
  if (!rectified.ok) return rectified;
  const table = rectified.value;
  const cardRings = found.cards.map((card) => cardRing(card, solution));
  const paper = segmentPaper(table, cardRings);
  const pages = plane.value.evidence.bodies
    .map((body) => uncutPage(body.cards, (at) => tableFromPhoto(solution, at)))
    .filter((page) => page !== null);
  const regions = paper.value.regions.filter(({ coarse }) => !pages.some((page) => liesOnPage(coarse.polygon, page)));
  const search = {
    within: paper.value.tableIsPaper ? [] : regions.map((region) => region.coarse.polygon),
    without: cardRings,
  };
  const map = planeMapOf(solution);
  context.report(0.5, `Following the lines in ${photo.name}`);
  const lines = findInkLines(photo, map, search);
  const drawn = drawnOutlines(lines, options.line, context);
  const chosen = chooseOutline(regions, drawn, options.outline);
  context.report(0.65, `Measuring outlines in ${photo.name}`);
  const errors = errorModes(solution, FLAT_PAPER);
  const whole = [
    ...chosen.paper.filter((region) => !region.cutOff).map((region) => fromPaper(photo, region, solution)),
    ...chosen.drawn.filter((ring) => !ring.cutOff).map(fromDrawing),
  ];
  const parts = chosen.paper.filter((region) => region.cutOff).map((region) => fromPaper(photo, region, solution));
  if (whole.length + parts.length === 0) return noPiece(photo.name);
  context.report(0.8, `Reading the marks in ${photo.name}`);
  const pieces = whole.map((outline, i) => tracedPiece(`p${i + 1}`, photo, outline, solution, errors, lines));
  const rim = photoRimOf(solution, table);
  return ok({
    captured: {
      file: photo.name,
      plane: solution,
      evidence: plane.value.evidence,
      quality: photoQuality(solution, options.printScale !== null),
      pieces,
      outlines: [
        ...whole.map((outlined, i) => seenOutline(outlined, pieces[i]!.marks, new Uint8Array(0))),
        ...parts.map((part) => partialOutline(photo, part, solution, lines, rim)),
      ],
      tapedUnseen: tapesFor(photo.name, options.taped).filter(
        (tape, i): tape is TapedCards => !('photo' in tape) && plane.value.tapedUnseen.includes(i),
      ),
      warnings: [
        ...found.warnings,
        ...solution.warnings,
        ...paper.warnings.filter(({ code }) => code !== 'piece-cut-off'), // joining decides whether it matters
        ...chosen.drawn.filter((ring) => ring.cutOff).map(() => DRAWING_CUT_OFF),
        ...pieces.flatMap(outlineWarnings),
      ],
      learned: plane.value.learntProfile,
    },
    table: { image: table.rgb, mmPerPixel: table.mmPerPx, originMm: table.originMm },
  });
}

const DRAWING_CUT_OFF: Warning = {
  code: 'drawing-cut-off',
  message: 'A drawn outline runs out of the photo and was not traced: take a photo that shows all of it.',
};

/** A photo, or several together, without a single whole piece. */
export function noPiece(name: string): Result<never> {
  return fail(
    'no-piece',
    `${name} shows its reference cards but no whole pattern piece: lay the piece so that all of it is in the picture, on a table that differs from its paper, and take the photo again.`,
  );
}

/** An outline measured on the photo, with what notches are read from. */
interface Outlined extends MeasuredOutline {
  readonly excursions: readonly Excursion[];
}

function fromPaper(photo: Photo, region: PaperRegion, solution: PlaneSolution): Outlined {
  const dense = refineOutline(photo.rgb, region.coarse, (point) => photoFromTable(solution, point));
  const spotted = spottedCorners(photo, planeMapOf(solution), dense.points);
  return { line: 'paper-edge', ...dense, unsure: [...dense.unsure, ...spotted] };
}

function fromDrawing(ring: DrawnOutline): Outlined {
  const sigmas = ring.sigmaMm.toSorted((a, b) => a - b);
  return {
    line: 'drawn-line',
    points: ring.points,
    unsure: ring.unsure,
    excursions: [],
    pointSigmaMm: sigmas[sigmas.length >> 1] ?? 0,
  };
}

function tracedPiece(
  id: string,
  photo: Photo,
  outlined: Outlined,
  solution: PlaneSolution,
  errors: ErrorModes,
  lines: readonly InkLine[],
): TracedPiece {
  const { line, excursions } = outlined;
  return pieceFromOutline(outlined, {
    id,
    photos: [photo.name],
    scaleSigmaRatio: errors.scaleSigmaRatio,
    planeSigmaMm: (path) => planeSigmaMm(solution, errors, path),
    marks: (outline) => readMarks(photo, planeMapOf(solution), lines, { outline, line, excursions }),
  });
}

/** How sure the length of a path on the table is, as one photo saw it. */
export function planeSigmaMm(solution: PlaneSolution, errors: ErrorModes, path: readonly TablePointMm[]): number {
  return lengthUncertainty(
    errors,
    path.map((point) => photoFromTable(solution, point)),
  ).sigmaMm;
}

function seenOutline(outlined: Outlined, marks: readonly TracedMark[], atRim: Uint8Array): SeenOutline {
  const { line, points, unsure, pointSigmaMm } = outlined;
  return { line, points, atRim, unsure, pointSigmaMm, marks };
}

/** A piece that runs out of the photo: its outline with the rim told apart, and the marks that lie well inside the photo. */
function partialOutline(
  photo: Photo,
  outlined: Outlined,
  solution: PlaneSolution,
  lines: readonly InkLine[],
  rim: PhotoRim,
): SeenOutline {
  const { line, points, excursions } = outlined;
  const marks = readMarks(photo, planeMapOf(solution), lines, { outline: points, line, excursions });
  return seenOutline(outlined, marksAwayFromRim(marks, rim), rimFlags(points, rim));
}

/** Where the photo, or the part of it that was straightened, ends. */
function photoRimOf(solution: PlaneSolution, { rgb, mmPerPx, originMm }: TablePicture): PhotoRim {
  const { widthPx, heightPx } = solution.camera;
  return {
    photoFromTable: (point) => photoFromTable(solution, point),
    photo: { widthPx, heightPx },
    mmPerPixel: solution.mmPerPixel,
    table: {
      left: originMm[0],
      top: originMm[1],
      right: originMm[0] + rgb.widthPx * mmPerPx,
      bottom: originMm[1] + rgb.heightPx * mmPerPx,
    },
  };
}

function cardRing(card: FoundCard, solution: PlaneSolution): readonly TablePointMm[] {
  return card.cutOutline.map((corner) => tableFromPhoto(solution, corner));
}
