// Photo → pieces: the stages one after the other. Each stage's warnings are handed on; the first failure ends the photo.
import type { TablePointMm } from '../base/points.ts';
import { fail, ok, type Result, type Warning } from '../base/result.ts';
import type { FoundCard } from '../vision/cards/foundCard.ts';
import type { Photo } from '../vision/image.ts';
import type { InkLine } from '../vision/ink/inkLines.ts';
import type { Excursion } from '../vision/outline/findExcursions.ts';
import type { PrintScale } from '../vision/plane/cardBodies.ts';
import { type ErrorModes, errorModes, FLAT_PAPER, lengthUncertainty } from '../vision/plane/lengthUncertainty.ts';
import { type PlaneSolution, photoFromTable, tableFromPhoto } from '../vision/plane/planeSolution.ts';
import type { PaperRegion } from '../vision/segment/paperRegion.ts';
import type { StageContext } from '../vision/stageContext.ts';
import { chooseOutline } from '../vision/stages/chooseOutline.ts';
import { findCards } from '../vision/stages/findCards.ts';
import { fitEdges } from '../vision/stages/fitEdges.ts';
import { readMarks } from '../vision/stages/readMarks.ts';
import { RECTIFY_DEFAULTS, rectify } from '../vision/stages/rectify.ts';
import { refineOutline } from '../vision/stages/refineOutline.ts';
import { segmentPaper } from '../vision/stages/segmentPaper.ts';
import { solvePlane } from '../vision/stages/solvePlane.ts';
import { splitCorners } from '../vision/stages/splitCorners.ts';
import { type DrawnOutline, drawnOutlines, findInkLines, planeMapOf } from '../vision/stages/traceInk.ts';
import type { TracedPiece, UnsureStretch } from '../vision/traced.ts';
import type { CapturedPhoto, CaptureOptions, TablePhoto } from './captured.ts';

/** What one photo gives, with its picture at true scale. */
export interface PhotoRead {
  readonly captured: CapturedPhoto;
  readonly table: TablePhoto;
}

/** Reads every piece in one photo. Pure: the same photo gives the same pieces. */
export function capturePhoto(photo: Photo, options: CaptureOptions, context: StageContext): Result<PhotoRead> {
  context.report(0.1, `Looking for reference cards in ${photo.name}`);
  const found = findCards(photo, { search: 'quick' }, context);
  context.report(0.25, `Measuring the table in ${photo.name}`);
  const frame = { widthPx: photo.rgb.widthPx, heightPx: photo.rgb.heightPx, metadata: photo.metadata };
  const plane = solvePlane(frame, found.cards, {
    printScale: printScaleOf(options),
    phoneProfile: options.phone,
    tapedDistances: [],
  });
  if (!plane.ok) return plane;
  const { solution } = plane.value;
  context.report(0.35, `Looking for pieces in ${photo.name}`);
  const rectified = rectify(photo, solution, RECTIFY_DEFAULTS, context);
  if (!rectified.ok) return rectified;
  const table = rectified.value;
  const cardRings = found.cards.map((card) => cardRing(card, solution));
  const paper = segmentPaper(table, cardRings);
  const search = {
    within: paper.value.tableIsPaper ? [] : paper.value.regions.map((region) => region.coarse.polygon),
    without: cardRings,
  };
  const map = planeMapOf(solution);
  context.report(0.5, `Following the lines in ${photo.name}`);
  const lines = findInkLines(photo, map, search);
  const drawn = drawnOutlines(lines, options.line, context);
  const chosen = chooseOutline(paper.value.regions, drawn, options.outline);
  context.report(0.65, `Measuring outlines in ${photo.name}`);
  const errors = errorModes(solution, FLAT_PAPER);
  const outlines = [
    ...chosen.paper.filter((region) => !region.cutOff).map((region) => fromPaper(photo, region, solution)),
    ...chosen.drawn.filter((ring) => !ring.cutOff).map(fromDrawing),
  ];
  if (outlines.length === 0) {
    return fail(
      'no-piece',
      `${photo.name} shows its reference cards but no whole pattern piece: lay the piece so that all of it is in the picture, on a table that differs from its paper, and take the photo again.`,
    );
  }
  context.report(0.8, `Reading the marks in ${photo.name}`);
  const pieces = outlines.map((outline, i) => tracedPiece(`p${i + 1}`, photo, outline, solution, errors, lines));
  return ok({
    captured: {
      file: photo.name,
      plane: solution,
      pieces,
      warnings: [
        ...found.warnings,
        ...solution.warnings,
        ...paper.warnings,
        ...chosen.drawn.filter((ring) => ring.cutOff).map(() => DRAWING_CUT_OFF),
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

function printScaleOf({ printScale }: CaptureOptions): PrintScale | null {
  return printScale === null ? null : { xRatio: printScale.x, yRatio: printScale.y, checked: true };
}

/** An outline measured on the photo, wherever it came from. */
interface Outlined {
  readonly line: TracedPiece['line'];
  readonly points: readonly TablePointMm[];
  readonly unsure: readonly UnsureStretch[];
  readonly excursions: readonly Excursion[];
  readonly pointSigmaMm: number;
}

function fromPaper(photo: Photo, region: PaperRegion, solution: PlaneSolution): Outlined {
  const dense = refineOutline(photo.rgb, region.coarse, (point) => photoFromTable(solution, point));
  return { line: 'paper-edge', ...dense };
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
  const { line, points, pointSigmaMm, excursions } = outlined;
  const corners = splitCorners(points);
  const { edges, outline } = fitEdges(points, corners, {
    pointSigmaMm,
    planeSigmaMm: (path) =>
      lengthUncertainty(
        errors,
        path.map((point) => photoFromTable(solution, point)),
      ).sigmaMm,
  });
  return {
    id,
    photos: [photo.name],
    line,
    outline,
    edges,
    marks: readMarks(photo, planeMapOf(solution), lines, { outline, line, excursions }),
    unsure: unsureOn(outline, points, outlined.unsure),
    pointSigmaMm,
    scaleSigmaRatio: errors.scaleSigmaRatio,
  };
}

/** The same stretches by index into the final outline: its points nearest to the old ends. */
function unsureOn(
  outline: readonly TablePointMm[],
  points: readonly TablePointMm[],
  stretches: readonly UnsureStretch[],
): UnsureStretch[] {
  const nearest = (at: TablePointMm): number => {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    outline.forEach((p, i) => {
      const away = (p[0] - at[0]) ** 2 + (p[1] - at[1]) ** 2;
      if (away < least) {
        least = away;
        best = i;
      }
    });
    return best;
  };
  return stretches.map((stretch) => ({
    ...stretch,
    fromIndex: nearest(points[stretch.fromIndex % points.length]!),
    toIndex: nearest(points[stretch.toIndex % points.length]!),
  }));
}

function cardRing(card: FoundCard, solution: PlaneSolution): readonly TablePointMm[] {
  return card.cutOutline.map((corner) => tableFromPhoto(solution, corner));
}
