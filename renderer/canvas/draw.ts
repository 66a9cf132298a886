// Draws a scene with paper.js: the only place that uses it. Draws, never measures: every length and place comes from shared/.
import paper from 'paper/dist/paper-core';
import type { Point } from '../../shared/base/points.ts';
import type { Overlay } from '../../shared/checks/finding.ts';
import { pathLengthMm, pointAtLength, subPath } from '../../shared/geometry/arcLength.ts';
import type { CubicPath } from '../../shared/geometry/cubicPath.ts';
import { type Affine, apply } from '../../shared/geometry/transform.ts';
import { add, angleDeg, leftNormal, scale, sub, unit } from '../../shared/geometry/vector.ts';
import { pieceLines } from '../../shared/pattern/pieceLines.ts';
import { seamEdge } from '../../shared/pattern/seamline.ts';
import { curveData } from '../../shared/report/pieceDrawing.ts';
import { type MarkRef, marksOf, sameMark } from '../state/edits/marks.ts';
import { drawChange } from './drawChange.ts';
import { drawPhotoLayer } from './drawPhotoLayer.ts';
import { drawText } from './drawText.ts';
import { drawUnsure, drawUnsureWords } from './drawUnsure.ts';
import { drawWalk } from './drawWalk.ts';
import { boxUnder } from './layout.ts';
import { type Named, placeNames } from './names.ts';
import { PALETTE, SCREEN_PX } from './palette.ts';
import type { Scene, SceneHighlight, SceneNote, ScenePicture, ScenePiece } from './scene.ts';

export interface DrawOptions {
  /** Canvas millimetres in one pixel of the screen. */
  readonly mmPerPx: number;
  readonly pictureOf: (picture: ScenePicture) => HTMLImageElement | null;
  /** A stroke being drawn, canvas millimetres. */
  readonly stroke: readonly Point[];
}

export type Scope = paper.PaperScope;

export function makeScope(canvas: HTMLCanvasElement): Scope {
  const scope = new paper.PaperScope();
  scope.settings.insertItems = true;
  scope.setup(canvas);
  return scope;
}

/** Everything anew: a few dozen paths, well under a frame. */
export function drawScene(scope: Scope, scene: Scene, options: DrawOptions): void {
  scope.activate();
  scope.project.clear();
  for (const picture of scene.pictures) drawPicture(scope, picture, options);
  drawPhotoLayer(scope, scene.layer, options.mmPerPx);
  const names = scene.pieces.flatMap((one) => drawPiece(scope, one, scene, options));
  drawNames(scope, names, scene, options.mmPerPx);
  for (const highlight of scene.highlights) drawHighlight(scope, scene, highlight, options);
  if (scene.walk !== null) drawWalk(scope, scene.walk, options.mmPerPx);
  for (const change of scene.changes) drawChange(scope, change, options.mmPerPx);
  for (const [from, to] of scene.heldLines) drawHeldLine(scope, segmentData(from, to), options.mmPerPx);
  for (const note of scene.notes) drawNote(scope, scene, note, options.mmPerPx);
  for (const overlay of scene.overlays) drawOverlay(scope, scene, overlay, options);
  if (options.stroke.length > 1) {
    const line = new scope.Path(options.stroke.map(([x, y]) => new scope.Point(x, y)));
    line.strokeColor = new scope.Color(PALETTE.chalk);
    line.strokeWidth = SCREEN_PX.lineSelected * options.mmPerPx;
  }
  scope.view.update();
}

function drawPicture(scope: Scope, picture: ScenePicture, { pictureOf }: DrawOptions): void {
  const image = pictureOf(picture);
  if (image === null) return;
  const raster = new scope.Raster(image, new scope.Point(0, 0));
  // A preview may be smaller than the picture it stands for.
  const ratio = picture.widthPx / raster.width;
  const [a, b, c, d, e, f] = picture.canvasFromPx;
  raster.translate(new scope.Point(raster.width / 2, raster.height / 2));
  raster.transform(new scope.Matrix(ratio, 0, 0, ratio, 0, 0));
  raster.transform(new scope.Matrix(a, b, c, d, e, f));
  raster.opacity = picture.opacity;
  if (picture.clip !== null) {
    const [minX, minY, maxX, maxY] = picture.clip;
    const window = new scope.Path.Rectangle(new scope.Point(minX, minY), new scope.Point(maxX, maxY));
    new scope.Group([window, raster]).clipped = true;
  }
}

/** Gives its name back, to be written when all pieces are there. */
function drawPiece(scope: Scope, one: ScenePiece, scene: Scene, options: DrawOptions): Named[] {
  const { piece, shape, canvasFromPiece, isSelected, isFaint } = one;
  const { mmPerPx } = options;
  // The lines of the shape as drawn now, which may be a change in the making.
  const lines = pieceLines({ ...piece, shapes: { shown: shape } }, 'shown');
  if (lines === null) return [];
  const group = new scope.Group();
  const ink = isFaint ? PALETTE.inkFaint : PALETTE.ink;
  const stroke = (data: string, colour: string, px: number, dashPx: readonly number[] = []): paper.Path => {
    const path = new scope.CompoundPath(data) as unknown as paper.Path; // both carry the same style
    path.strokeColor = new scope.Color(colour);
    path.strokeWidth = px * mmPerPx;
    path.dashArray = dashPx.map((length) => length * mmPerPx);
    path.strokeJoin = 'round';
    group.addChild(path);
    return path;
  };
  const ring = (paths: readonly CubicPath[]) => `${paths.map((p, i) => curveData(p, i === 0 ? 'M' : 'L')).join('')}Z`;

  if (scene.isTable) {
    const traced = ring(shape.ring.map((edge) => edge.curve));
    stroke(traced, PALETTE.tracedHalo, SCREEN_PX.line + 3);
    stroke(traced, PALETTE.traced, isSelected ? SCREEN_PX.lineSelected + 0.6 : SCREEN_PX.line + 0.4);
  } else {
    const cut = stroke(ring(lines.cutting), ink, isSelected ? SCREEN_PX.lineSelected : SCREEN_PX.line);
    const hasPhoto = isSelected && scene.pictures.length > 0;
    cut.fillColor = new scope.Color(PALETTE.paper);
    if (hasPhoto) cut.fillColor.alpha = 0.01;
    // Rolled pieces lie over one another by their allowances.
    else if (scene.walk !== null) cut.fillColor.alpha = 0.5;
    if (lines.seam.some((path, i) => path !== lines.cutting[i])) {
      stroke(ring(lines.seam), isFaint ? PALETTE.inkFaint : PALETTE.seamline, SCREEN_PX.thin, [5, 4]);
    }
    for (const fold of lines.folds) stroke(curveData(fold, 'M'), ink, SCREEN_PX.lineSelected + 1, [14, 4, 2, 4]);
  }
  drawUnsure(scope, group, shape, { isFaint, mmPerPx });
  const markColour = scene.isTable ? PALETTE.traced : ink;
  for (const { ticks } of lines.notches) {
    for (const [from, to] of ticks) stroke(segmentData(from, to), markColour, SCREEN_PX.line + 0.8);
  }
  for (const dart of shape.darts) {
    for (const leg of dart.legs) stroke(segmentData(leg, dart.apex), markColour, SCREEN_PX.line, [7, 4]);
  }
  if (shape.grainline !== null) {
    const { from, to, heads } = shape.grainline;
    stroke(segmentData(from, to), markColour, SCREEN_PX.line);
    if (heads >= 1) arrowHead(scope, group, to, unit(sub(to, from)), markColour, mmPerPx);
    if (heads === 2) arrowHead(scope, group, from, unit(sub(from, to)), markColour, mmPerPx);
  }
  for (const mark of shape.marks) {
    if ('at' in mark) ringAt(scope, group, mark.at, SCREEN_PX.dot, markColour, mmPerPx);
    else stroke(segmentData(mark.from, mark.to), markColour, SCREEN_PX.thin, [4, 3]);
  }
  if (one.selectedEdge !== null) {
    const edge = shape.ring.find(({ id }) => id === one.selectedEdge);
    if (edge !== undefined) stroke(curveData(edge.curve, 'M'), PALETTE.chalk, SCREEN_PX.highlight).opacity = 0.55;
  }
  if (isSelected && scene.showMarks) drawMarks(scope, group, one, scene.selectedMark, mmPerPx);
  group.transform(matrixOf(scope, canvasFromPiece));
  if (isSelected && !scene.isTable) drawEdgeWords(scope, one, mmPerPx);
  if (!isFaint) drawUnsureWords(scope, one, mmPerPx);
  const at = apply(canvasFromPiece, lines.middle);
  return [{ piece: piece.id, name: piece.name, at, box: boxUnder(shape, canvasFromPiece), isFirst: isSelected }];
}

function drawMarks(scope: Scope, group: paper.Group, one: ScenePiece, selected: MarkRef | null, mmPerPx: number): void {
  const { shape, selectedEdge } = one;
  const edge = shape.ring.find(({ id }) => id === selectedEdge);
  if (edge !== undefined) {
    edge.curve.forEach((point, i) => {
      const anchor = i % 3 === 1 ? edge.curve[i - 1] : i % 3 === 2 ? edge.curve[i + 1] : undefined;
      if (anchor === undefined) return;
      const line = new scope.Path.Line(new scope.Point(anchor[0], anchor[1]), new scope.Point(point[0], point[1]));
      line.strokeColor = new scope.Color(PALETTE.chalk);
      line.strokeWidth = SCREEN_PX.thin * mmPerPx;
      group.addChild(line);
    });
  }
  for (const { ref, at } of marksOf(shape, selectedEdge)) {
    const isSelected = sameMark(ref, selected);
    const radius = (isSelected ? SCREEN_PX.dotSelected : isHandle(ref) ? SCREEN_PX.handle : SCREEN_PX.dot) * mmPerPx;
    const centre = new scope.Point(at[0], at[1]);
    const dot =
      ref.kind === 'corner' || (ref.kind === 'control' && !isHandle(ref))
        ? new scope.Path.Rectangle(centre.subtract(radius), centre.add(radius))
        : new scope.Path.Circle(centre, radius);
    dot.fillColor = new scope.Color(isSelected ? PALETTE.chalk : PALETTE.paper);
    dot.strokeColor = new scope.Color(PALETTE.chalk);
    dot.strokeWidth = 1.6 * mmPerPx;
    group.addChild(dot);
  }
}

function isHandle(ref: MarkRef): boolean {
  return ref.kind === 'control' && ref.index % 3 !== 0;
}

function drawNames(scope: Scope, names: readonly Named[], { pieces }: Scene, mmPerPx: number): void {
  const faint = new Set(pieces.filter(({ isFaint }) => isFaint).map(({ piece }) => piece.id));
  for (const { piece, words, at, px } of placeNames(names, mmPerPx, [SCREEN_PX.name, SCREEN_PX.label])) {
    const colour = faint.has(piece) ? PALETTE.wordFaint : PALETTE.word;
    drawText(scope, at, words, { px, colour, mmPerPx, weight: 'bold' });
  }
}

/** Along each edge of the chosen piece, its name. */
function drawEdgeWords(scope: Scope, { shape, canvasFromPiece }: ScenePiece, mmPerPx: number): void {
  for (const edge of shape.ring) {
    const lengthMm = pathLengthMm(edge.curve);
    const { point, tangent } = pointAtLength(edge.curve, lengthMm / 2);
    // Along the line and just inside it, never upside down.
    const on = apply(canvasFromPiece, point);
    const inward = unit(sub(apply(canvasFromPiece, add(point, scale(leftNormal(tangent), -1))), on));
    const alongDeg = angleDeg(leftNormal(inward));
    const readDeg = alongDeg > 90 ? alongDeg - 180 : alongDeg <= -90 ? alongDeg + 180 : alongDeg;
    const at = add(on, scale(inward, SCREEN_PX.label * mmPerPx));
    drawText(scope, at, edge.label, {
      px: SCREEN_PX.label,
      colour: PALETTE.chalk,
      mmPerPx,
      weight: 'normal',
      turnDeg: readDeg,
    });
  }
}

function drawHighlight(
  scope: Scope,
  scene: Scene,
  { piece, edge, side, stretch }: SceneHighlight,
  options: DrawOptions,
): void {
  const one = scene.pieces.find((candidate) => candidate.piece.id === piece);
  const seam = one && seamEdge(one.shape, edge);
  if (one === undefined || seam === undefined) return;
  const path = stretch === null ? seam.path : subPath(seam.path, stretch.fromMm, stretch.toMm);
  const line = new scope.CompoundPath(curveData(path, 'M'));
  line.strokeColor = new scope.Color(PALETTE.sides[side]);
  line.strokeWidth = SCREEN_PX.highlight * options.mmPerPx;
  line.strokeCap = 'round';
  if (side === 1) line.dashArray = [16, 10].map((px) => px * options.mmPerPx);
  line.transform(matrixOf(scope, one.canvasFromPiece));
}

function drawHeldLine(scope: Scope, data: string, mmPerPx: number): void {
  const line = new scope.CompoundPath(data);
  line.strokeColor = new scope.Color(PALETTE.chalk);
  line.strokeWidth = SCREEN_PX.line * mmPerPx;
  line.dashArray = [10, 5].map((px) => px * mmPerPx);
}

/** Inside the piece beside the middle of the edge. */
function drawNote(scope: Scope, scene: Scene, { piece, edge, words }: SceneNote, mmPerPx: number): void {
  const one = scene.pieces.find((candidate) => candidate.piece.id === piece);
  const seam = one && seamEdge(one.shape, edge);
  if (one === undefined || seam === undefined) return;
  const { point } = pointAtLength(seam.path, seam.lengthMm / 2);
  const [x, y] = apply(one.canvasFromPiece, point);
  drawText(scope, [x, y - NOTE_PX * mmPerPx], words, {
    px: SCREEN_PX.label + 1,
    colour: PALETTE.sides[1],
    mmPerPx,
    weight: 'bold',
  });
}

/** A note stands this far above its place. */
const NOTE_PX = 16;

function drawOverlay(scope: Scope, scene: Scene, overlay: Overlay, { mmPerPx }: DrawOptions): void {
  const one = scene.pieces.find((candidate) => candidate.piece.id === overlay.piece);
  if (one === undefined) return;
  const group = new scope.Group();
  const colour = scene.overlayColour;
  const line = (data: string) => {
    const path = new scope.CompoundPath(data);
    path.strokeColor = new scope.Color(colour);
    path.strokeWidth = SCREEN_PX.overlay * mmPerPx;
    path.strokeCap = 'round';
    path.opacity = 0.8;
    group.addChild(path);
  };
  let label: { readonly at: Point; readonly words: string } | null = null;
  switch (overlay.kind) {
    case 'edge': {
      const seam = seamEdge(one.shape, overlay.edge);
      if (seam === undefined) return;
      line(curveData(subPath(seam.path, overlay.fromMm ?? 0, overlay.toMm ?? seam.lengthMm), 'M'));
      break;
    }
    case 'point':
      ringAt(scope, group, overlay.at, 3 * SCREEN_PX.dot, colour, mmPerPx);
      if (overlay.label !== undefined) label = { at: overlay.at, words: overlay.label };
      break;
    case 'segment':
      line(segmentData(overlay.from, overlay.to));
      if (overlay.label !== undefined) label = { at: overlay.to, words: overlay.label };
      break;
  }
  group.transform(matrixOf(scope, one.canvasFromPiece));
  if (label !== null) {
    const [x, y] = apply(one.canvasFromPiece, label.at);
    drawText(scope, [x, y - 22 * mmPerPx], label.words, {
      px: SCREEN_PX.label + 1,
      colour,
      mmPerPx,
      weight: 'bold',
    });
  }
}

function arrowHead(
  scope: Scope,
  group: paper.Group,
  tip: Point,
  direction: Point,
  colour: string,
  mmPerPx: number,
): void {
  const size = SCREEN_PX.arrow * mmPerPx;
  const back = add(tip, scale(direction, -size));
  const side = scale(leftNormal(direction), size * 0.4);
  const head = new scope.Path([tip, add(back, side), sub(back, side)].map(([x, y]) => new scope.Point(x, y)));
  head.closed = true;
  head.fillColor = new scope.Color(colour);
  group.addChild(head);
}

function ringAt(scope: Scope, group: paper.Group, [x, y]: Point, px: number, colour: string, mmPerPx: number): void {
  const ring = new scope.Path.Circle(new scope.Point(x, y), px * mmPerPx);
  ring.strokeColor = new scope.Color(colour);
  ring.strokeWidth = 2.5 * mmPerPx;
  group.addChild(ring);
}

function segmentData(from: Point, to: Point): string {
  return `M${from[0]} ${from[1]}L${to[0]} ${to[1]}`;
}

function matrixOf(scope: Scope, [a, b, c, d, e, f]: Affine): paper.Matrix {
  return new scope.Matrix(a, b, c, d, e, f);
}
