// What is on the canvas, worked out from the state of the window: plain data, drawn by draw.ts and picked by the tools.
import { changeWords } from '../../shared/alter/words.ts';
import type { Point } from '../../shared/base/points.ts';
import { isSame } from '../../shared/base/sameValue.ts';
import type { Overlay } from '../../shared/checks/finding.ts';
import type { FindingJson } from '../../shared/checks/toFindingsJson.ts';
import { type Affine, apply, compose, invert, rigid } from '../../shared/geometry/transform.ts';
import type { Piece, Shape, Shot } from '../../shared/pattern/model.ts';
import { type Box, boxOf } from '../../shared/pattern/pieceLines.ts';
import { type ShapeChange, shapeChange } from '../../shared/pattern/shapeChange.ts';
import { signOf } from '../../shared/report/gravitySign.ts';
import { lengthsOf } from '../app/lengths.ts';
import type { MarkRef } from '../state/edits/marks.ts';
import { keyed } from '../state/findingKeys.ts';
import { currentSet, shapeOf, type WindowState } from '../state/windowState.ts';
import { handlesOf, lineOf } from '../tools/grasp/handles.ts';
import { boxUnder, type Lay } from './layout.ts';
import { layerOfPhoto, layerOfShot, NO_LAYER, type PhotoLayer } from './photoLayer.ts';
import { type WalkScene, walkScene } from './walkScene.ts';

export interface ScenePiece {
  readonly piece: Piece;
  readonly shape: Shape;
  /** Piece millimetres → canvas millimetres. */
  readonly canvasFromPiece: Affine;
  readonly isSelected: boolean;
  readonly isFaint: boolean;
  readonly selectedEdge: string | null;
}

export interface SceneHighlight {
  readonly piece: string;
  readonly edge: string;
  readonly side: 0 | 1;
  readonly stretch: { readonly fromMm: number; readonly toMm: number } | null;
}

/** A picture lying on the canvas. */
export interface ScenePicture {
  /** Names the picture for loading: a shot of the set, or a photo that waits. */
  readonly source:
    | { readonly kind: 'shot'; readonly shot: string }
    | { readonly kind: 'photo'; readonly photo: string };
  /** Canvas millimetres ← picture pixels. */
  readonly canvasFromPx: Affine;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly opacity: number;
  /** Only this part is shown, canvas millimetres; null = all. */
  readonly clip: Box | null;
}

/** A piece whose change is shown before it is made. */
export interface SceneChange {
  readonly piece: string;
  readonly canvasFromPiece: Affine;
  readonly change: ShapeChange;
}

export interface SceneNote {
  readonly piece: string;
  readonly edge: string;
  readonly words: string;
}

export interface Scene {
  readonly pieces: readonly ScenePiece[];
  readonly pictures: readonly ScenePicture[];
  readonly overlays: readonly Overlay[];
  readonly overlayColour: string;
  readonly highlights: readonly SceneHighlight[];
  readonly changes: readonly SceneChange[];
  /** Lines that a handle holds, canvas millimetres. */
  readonly heldLines: readonly (readonly [Point, Point])[];
  /** Words about an edge, beside it. */
  readonly notes: readonly SceneNote[];
  /** A seam being walked; the pieces then lie as they are rolled. */
  readonly walk: WalkScene | null;
  /** The marks of the selected piece are drawn to be picked. */
  readonly showMarks: boolean;
  readonly selectedMark: MarkRef | null;
  readonly isTable: boolean;
  /** What lies over the picture in the step Photos. */
  readonly layer: PhotoLayer;
}

/** Of overlays that belong to no finding: where a measure was taken. */
const NO_OVERLAY_COLOUR = '#0f6b78';
const EMPTY_SHEET: Scene = {
  pieces: [],
  pictures: [],
  overlays: [],
  overlayColour: NO_OVERLAY_COLOUR,
  highlights: [],
  changes: [],
  heldLines: [],
  notes: [],
  walk: null,
  showMarks: false,
  selectedMark: null,
  isTable: false,
  layer: NO_LAYER,
};
/** The part of the photo that is shown around a piece. */
const UNDERLAY_MARGIN_MM = 40;
/** Shown around the place of a change, and the change's own size on top. */
const CHANGE_MARGIN_MM = 45;

export function sceneOf(state: WindowState, lay: Lay | null): Scene {
  return state.area === 'photos' ? tableScene(state) : sheetScene(state, lay);
}

/** The box that a request to go somewhere means; null = nothing to go to. */
export function boxOfGoTo(state: WindowState, scene: Scene): Box | null {
  const { goTo } = state;
  const all = [...scene.pieces.map(pieceBox), ...scene.pictures.filter(({ clip }) => clip === null).map(pictureBox)];
  if (goTo.kind === 'piece') {
    const one = scene.pieces.find(({ piece }) => piece.id === goTo.piece);
    if (one !== undefined) return pieceBox(one);
  }
  if (goTo.kind === 'walk' && scene.walk !== null) return scene.walk.box;
  if (goTo.kind === 'preview') {
    const boxes = scene.changes.map(changeBox).filter((box) => box !== null);
    if (boxes.length > 0) return union(boxes);
  }
  if (goTo.kind === 'finding' || goTo.kind === 'seam' || goTo.kind === 'measured') {
    const ids = new Set([...scene.overlays, ...scene.highlights].map((part) => part.piece));
    const boxes = scene.pieces.filter(({ piece }) => ids.has(piece.id)).map(pieceBox);
    if (boxes.length > 0) return union(boxes);
  }
  return all.length === 0 ? null : union(all);
}

function sheetScene(state: WindowState, lay: Lay | null): Scene {
  const walk = walkScene(state, lay);
  if (walk !== null) return rolledScene(walk);
  const set = currentSet(state);
  const { selection, area } = state;
  const finding = area === 'findings' ? selectedFinding(state) : null;
  const left = area === 'alter' ? leftBehindOf(state) : [];
  const highlights =
    area === 'seams' || area === 'sizes' ? seamHighlights(state) : left.map(({ highlight }) => highlight);
  const handles = handlesOf(state, lay);
  const overlays = overlaysOf(state, finding);
  const pointedAt = new Set([...overlays, ...highlights].map((part) => part.piece));
  const changes = changesOf(state, lay);
  for (const { piece } of [...changes, ...handles.map(({ grasp }) => grasp)]) pointedAt.add(piece);
  const pieces = (set?.pieces ?? []).flatMap((piece): ScenePiece[] => {
    const shape = shapeOf(state, piece.id);
    const place = lay?.places.get(piece.id);
    if (shape === null || place === undefined) return [];
    const isSelected = area === 'pieces' && selection.piece === piece.id;
    return [
      {
        piece,
        shape,
        canvasFromPiece: place.canvasFromPiece,
        isSelected,
        isFaint:
          (pointedAt.size > 0 && !pointedAt.has(piece.id)) ||
          (area === 'pieces' && selection.piece !== null && !isSelected),
        selectedEdge: isSelected ? selection.edge : null,
      },
    ];
  });
  const chosen = pieces.find(({ isSelected }) => isSelected);
  const underlay = chosen === undefined || state.underlayPercent === 0 ? [] : underlayOf(state, chosen);
  return {
    pieces,
    pictures: underlay,
    overlays,
    overlayColour: finding === null ? NO_OVERLAY_COLOUR : signOf(finding).colour,
    highlights,
    changes,
    heldLines: handles.map(lineOf).filter((line) => line !== null),
    notes: left.map(({ note }) => note),
    walk: null,
    showMarks: area === 'pieces',
    selectedMark: selection.mark,
    isTable: false,
    layer: NO_LAYER,
  };
}

function rolledScene(walk: WalkScene): Scene {
  const pieces = walk.pieces.map(
    ({ rolled: { piece, shape }, canvasFromPiece }): ScenePiece => ({
      piece,
      shape,
      canvasFromPiece,
      isSelected: false,
      isFaint: false,
      selectedEdge: null,
    }),
  );
  return { ...EMPTY_SHEET, pieces, walk };
}

/** What a finding points at, or where a measure was taken. A preview shows the new state, of which both know nothing. */
function overlaysOf({ area, measured, preview }: WindowState, finding: FindingJson | null): readonly Overlay[] {
  if (preview !== null) return [];
  if (area === 'fit' && measured !== null)
    return measured.lines.map((line) => (line.kind === 'segment' ? { ...line, label: measured.measure } : line));
  return finding === null ? [] : [finding, ...finding.consequences].flatMap((one) => one.overlay);
}

/** The finding that is selected in the list. */
export function selectedFinding(state: WindowState) {
  return keyed(state.findings?.findings ?? []).find(({ key }) => key === state.selection.finding)?.finding ?? null;
}

/** Pieces that the preview changes, in the size shown. */
function changesOf({ open, preview, size }: WindowState, lay: Lay | null): SceneChange[] {
  if (preview === null || open === null) return [];
  return preview.set.pieces.flatMap((piece): SceneChange[] => {
    const before = open.history.present.pieces.find(({ id }) => id === piece.id)?.shapes[size];
    const after = piece.shapes[size];
    const place = lay?.places.get(piece.id);
    if (before === undefined || after === undefined || place === undefined || isSame(before, after)) return [];
    const { canvasFromPiece } = place;
    return [{ piece: piece.id, canvasFromPiece, change: shapeChange(piece, before, after) }];
  });
}

/** Around the places where a change is seen best: near enough to see a millimetre, wide enough to know the piece. */
function changeBox({ change, canvasFromPiece }: SceneChange): Box | null {
  const points = change.places.flatMap(({ was, is }) => [was, is]).filter((point) => point !== null);
  if (points.length === 0) return null;
  const [minX, minY, maxX, maxY] = boxOf(points.map((point) => apply(canvasFromPiece, point)));
  const marginMm = CHANGE_MARGIN_MM + Math.max(maxX - minX, maxY - minY);
  return [minX - marginMm, minY - marginMm, maxX + marginMm, maxY + marginMm];
}

/** Edges that would have to follow the change shown, and do not: marked, each with what it lacks. */
function leftBehindOf({ preview, size }: WindowState) {
  const { set, left = [] } = preview ?? {};
  if (set === undefined) return [];
  return left
    .filter((one) => one.size === size)
    .flatMap(({ seam, side, missingMm }) => {
      const spans = set.seams.find(({ id }) => id === seam)?.sides[side] ?? [];
      return spans.map(({ piece, edge, stretch }) => ({
        highlight: { piece, edge, stretch, side },
        note: { piece, edge, words: `must follow: ${changeWords(set, missingMm)}` },
      }));
    });
}

function seamHighlights(state: WindowState): SceneHighlight[] {
  const id = state.hoveredSeam ?? state.selection.seam;
  const seam = currentSet(state)?.seams.find((one) => one.id === id);
  if (seam === undefined) return [];
  return seam.sides.flatMap((side, i) =>
    side.map(({ piece, edge, stretch }) => ({ piece, edge, stretch, side: i === 0 ? (0 as const) : (1 as const) })),
  );
}

function underlayOf(state: WindowState, { shape, canvasFromPiece }: ScenePiece): ScenePicture[] {
  const { placement } = shape;
  const shot = currentSet(state)?.shots.find(({ id }) => id === placement?.shot);
  if (placement === undefined || shot?.picture === undefined) return [];
  const pieceFromTable = invert(rigid(placement.turnDeg, placement.originMm));
  const [minX, minY, maxX, maxY] = boxUnder(shape, canvasFromPiece);
  return [
    {
      ...picturePlace(shot, shot.picture, compose(canvasFromPiece, pieceFromTable)),
      opacity: state.underlayPercent / 100,
      clip: [
        minX - UNDERLAY_MARGIN_MM,
        minY - UNDERLAY_MARGIN_MM,
        maxX + UNDERLAY_MARGIN_MM,
        maxY + UNDERLAY_MARGIN_MM,
      ],
    },
  ];
}

function tableScene(state: WindowState): Scene {
  const set = currentSet(state);
  const { shown } = state;
  const empty: Scene = { ...EMPTY_SHEET, isTable: true };
  if (shown?.kind === 'photo') {
    const photo = state.capture.photos.find((one) => one.photo === shown.photo);
    if (photo === undefined) return empty;
    const { widthPx, heightPx } = photo;
    const picture = {
      source: shown,
      canvasFromPx: [1, 0, 0, 1, 0, 0] as const,
      widthPx,
      heightPx,
      opacity: 1,
      clip: null,
    };
    return {
      ...empty,
      pictures: [picture],
      layer: layerOfPhoto(photo, state.capture, state.trustShown.photo, lengthsOf(state)),
    };
  }
  const shot = set?.shots.find(({ id }) => id === shown?.shot);
  if (set === null || shot === undefined) return empty;
  const pieces = set.pieces.flatMap((piece): ScenePiece[] => {
    const shape = shapeOf(state, piece.id);
    if (shape?.placement?.shot !== shot.id) return [];
    const { turnDeg, originMm } = shape.placement;
    const isSelected = state.selection.piece === piece.id;
    return [
      { piece, shape, canvasFromPiece: rigid(turnDeg, originMm), isSelected, isFaint: false, selectedEdge: null },
    ];
  });
  const pictures =
    shot.picture === undefined
      ? []
      : [{ ...picturePlace(shot, shot.picture, [1, 0, 0, 1, 0, 0]), opacity: 1, clip: null }];
  const layer =
    shot.quality !== undefined && state.trustShown.shot ? layerOfShot(shot.quality, lengthsOf(state)) : NO_LAYER;
  return { ...empty, pieces, pictures, layer };
}

function picturePlace(shot: Shot, picture: NonNullable<Shot['picture']>, canvasFromTable: Affine) {
  const { mmPerPixel, originMm, widthPx, heightPx } = picture;
  const tableFromPx: Affine = [mmPerPixel, 0, 0, mmPerPixel, originMm[0], originMm[1]];
  return {
    source: { kind: 'shot' as const, shot: shot.id },
    canvasFromPx: compose(canvasFromTable, tableFromPx),
    widthPx,
    heightPx,
  };
}

/** With the allowances that lie outside a traced seamline. */
function pieceBox({ shape, canvasFromPiece }: ScenePiece): Box {
  const [minX, minY, maxX, maxY] = boxUnder(shape, canvasFromPiece);
  const outsideMm = shape.tracedLine === 'cutting' ? 0 : Math.max(0, ...shape.ring.map((edge) => edge.allowanceMm));
  return [minX - outsideMm, minY - outsideMm, maxX + outsideMm, maxY + outsideMm];
}

function pictureBox({ canvasFromPx, widthPx, heightPx }: ScenePicture): Box {
  return boxOf(boxCorners([0, 0, widthPx, heightPx]).map((point) => apply(canvasFromPx, point)));
}

function boxCorners([minX, minY, maxX, maxY]: Box): Point[] {
  return [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
}

function union(boxes: readonly Box[]): Box {
  return boxOf(boxes.flatMap((box) => boxCorners(box)));
}
