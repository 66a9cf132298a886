// Between the set file's types and the model's, by hand, so that either may change without the other. Also fills in what a
// short hand-written set leaves out and that has only one sensible meaning.
import type { Point } from '../../base/points.ts';
import type {
  Body,
  Edge,
  OtherMark,
  PatternSet,
  Piece,
  PiecePlan,
  Repair,
  RepairMark,
  Seam,
  Shape,
  Shot,
  ShotQuality,
} from '../../pattern/model.ts';
import { SET_FORMAT, type SetV1 } from './v1.ts';

type PieceV1 = SetV1['pieces'][number];
type ShapeV1 = PieceV1['shapes'][string];
type EdgeV1 = ShapeV1['ring'][number];
type MarkV1 = ShapeV1['marks'][number];
type RepairV1 = NonNullable<ShapeV1['repairs']>[number];
type RepairMarkV1 = Extract<RepairV1, { kind: 'mark-added' }>['mark'];
type SeamV1 = SetV1['seams'][number];
type ShotV1 = SetV1['shots'][number];

const NO_SIZE_NAMED = 'one';

/** The model of a document that passed the schema. References are not checked here (integrity.ts). */
export function modelFromDocument(doc: SetV1): PatternSet {
  const pieceIds = idsOfPieces(doc.pieces);
  const sizes = doc.sizes ?? sizesOfPieces(doc);
  return {
    format: SET_FORMAT,
    name: doc.name,
    displayUnits: doc.displayUnits,
    preset: doc.preset,
    sizes,
    baseSize: doc.baseSize ?? sizes[0] ?? NO_SIZE_NAMED,
    pieces: doc.pieces.map((piece, index) => modelPiece(piece, pieceIds[index]!)),
    seams: doc.seams.map(modelSeam),
    expectedPieces: doc.expectedPieces,
    bodies: doc.bodies.map(modelBody),
    ...(doc.fabric && { fabric: doc.fabric }),
    shots: doc.shots.map(modelShot),
    history: doc.history,
  };
}

/** The document of a model: every field written out, nothing left to defaults. */
export function documentFromModel(set: PatternSet): SetV1 {
  return {
    format: SET_FORMAT,
    name: set.name,
    displayUnits: set.displayUnits,
    preset: { ...set.preset },
    sizes: [...set.sizes],
    baseSize: set.baseSize,
    pieces: set.pieces.map((piece) => ({
      id: piece.id,
      name: piece.name,
      kind: piece.kind,
      cut: piece.cut.map((entry) => ({ ...entry })),
      grainIntent: piece.grainIntent,
      nap: piece.nap,
      shapes: documentShapes(piece.shapes),
      origin: { ...piece.origin },
      ...(piece.before && { before: documentShapes(piece.before) }),
      ...(piece.plan && {
        plan: {
          tracedLine: piece.plan.tracedLine,
          edges: piece.plan.edges.map((edge) => ({ ...edge })),
          notches: piece.plan.notches.map((notch) => ({ ...notch, mate: { ...notch.mate } })),
        },
      }),
    })),
    seams: set.seams.map((seam) => ({
      id: seam.id,
      name: seam.name,
      sides: [seam.sides[0].map(documentSpan), seam.sides[1].map(documentSpan)],
      join: seam.join,
      wantedEaseMm: seam.wantedEaseMm,
      wantedSectionsMm: seam.wantedSectionsMm === null ? null : [...seam.wantedSectionsMm],
      overlapMm: seam.overlapMm,
      status: seam.status,
    })),
    expectedPieces: set.expectedPieces.map((expected) => ({
      name: expected.name,
      kind: expected.kind,
      cut: expected.cut.map((entry) => ({ ...entry })),
    })),
    bodies: set.bodies.map(({ name, measuresMm, size, wanted }) => ({
      name,
      measuresMm: { ...measuresMm },
      ...(size === undefined ? {} : { size }),
      ...(wanted === undefined ? {} : { wanted }),
    })),
    ...(set.fabric && { fabric: { ...set.fabric } }),
    shots: set.shots.map((shot) => ({
      id: shot.id,
      file: shot.file,
      mmPerPixel: shot.mmPerPixel,
      tiltDeg: shot.tiltDeg,
      cards: shot.cards.map((card) => ({ ...card })),
      warnings: shot.warnings.map((warning) => ({ ...warning })),
      ...(shot.picture && { picture: { ...shot.picture, originMm: pair(shot.picture.originMm) } }),
      ...(shot.quality && { quality: documentQuality(shot.quality) }),
    })),
    history: set.history.map((step) => ({ what: step.what, params: { ...step.params }, sentence: step.sentence })),
  };
}

function modelPiece(piece: PieceV1, id: string): Piece {
  return {
    id,
    name: piece.name,
    kind: piece.kind,
    cut: piece.cut,
    grainIntent: piece.grainIntent,
    nap: piece.nap,
    shapes: modelShapes(piece.shapes),
    origin: piece.origin,
    ...(piece.plan && { plan: modelPlan(piece.plan) }),
    ...(piece.before && { before: modelShapes(piece.before) }),
  };
}

function modelShapes(shapes: PieceV1['shapes']): Piece['shapes'] {
  return Object.fromEntries(Object.entries(shapes).map(([size, shape]) => [size, modelShape(shape)]));
}

function documentShapes(shapes: Piece['shapes']): PieceV1['shapes'] {
  return Object.fromEntries(Object.entries(shapes).map(([size, shape]) => [size, documentShape(shape)]));
}

function modelPlan(plan: NonNullable<PieceV1['plan']>): PiecePlan {
  return {
    tracedLine: plan.tracedLine,
    edges: plan.edges.map((edge) => ({ ...edge, label: edge.label ?? edge.id })),
    notches: plan.notches.map((notch, index) => ({ ...notch, id: notch.id ?? `n${index + 1}` })),
  };
}

function modelShape(shape: ShapeV1): Shape {
  return {
    ring: shape.ring.map((edge, index) => modelEdge(edge, index, shape.tracedLine)),
    tracedLine: shape.tracedLine,
    notches: shape.notches.map((notch, index) => ({ ...notch, id: notch.id ?? `n${index + 1}` })),
    darts: shape.darts.map((dart, index) => ({ ...dart, id: dart.id ?? `d${index + 1}` })),
    pleats: shape.pleats.map((pleat, index) => ({ ...pleat, id: pleat.id ?? `p${index + 1}` })),
    grainline: shape.grainline,
    marks: shape.marks.map(modelMark),
    accuracy: shape.accuracy,
    ...(shape.placement && { placement: shape.placement }),
    ...(shape.unsure && { unsure: shape.unsure }),
    ...(shape.repairs && { repairs: shape.repairs }),
  };
}

function modelMark(mark: MarkV1, index: number): OtherMark {
  const id = mark.id ?? `m${index + 1}`;
  return 'at' in mark ? { kind: mark.kind, id, at: mark.at } : { kind: mark.kind, id, from: mark.from, to: mark.to };
}

function modelEdge(edge: EdgeV1, index: number, tracedLine: Shape['tracedLine']): Edge {
  const id = edge.id ?? `e${index + 1}`;
  return {
    id,
    label: edge.label ?? id,
    role: edge.role,
    curve: edge.curve.length === 2 ? straight(edge.curve[0]!, edge.curve[1]!) : edge.curve,
    allowanceMm: edge.allowanceMm ?? 0,
    allowanceAssumed: edge.allowanceAssumed ?? (edge.allowanceMm === undefined && tracedLine === 'cutting'),
    sigmaMm: edge.sigmaMm,
  };
}

/** A straight edge as one cubic with its controls at thirds. */
function straight(from: Point, to: Point): readonly Point[] {
  const at = (ratio: number): Point => [from[0] + (to[0] - from[0]) * ratio, from[1] + (to[1] - from[1]) * ratio];
  return [from, at(1 / 3), at(2 / 3), to];
}

function modelSeam(seam: SeamV1, index: number): Seam {
  return { ...seam, id: seam.id ?? `s${index + 1}`, sides: [seam.sides[0], seam.sides[1]] };
}

function modelBody({ name, measuresMm, size, wanted }: SetV1['bodies'][number]): Body {
  return {
    name,
    measuresMm,
    ...(size === undefined ? {} : { size }),
    ...(wanted === undefined ? {} : { wanted }),
  };
}

function modelShot({ picture, quality, ...shot }: ShotV1): Shot {
  return { ...shot, ...(picture && { picture }), ...(quality && { quality }) };
}

function documentQuality({
  columns,
  rows,
  sigmaRatios,
  cornersMm,
  advice,
}: ShotQuality): NonNullable<ShotV1['quality']> {
  return {
    columns,
    rows,
    sigmaRatios: [...sigmaRatios],
    cornersMm: cornersMm.map((corner) => corner && pair(corner)),
    advice: advice.map(({ code, message }) => ({ code, message })),
  };
}

function documentShape(shape: Shape): ShapeV1 {
  return {
    ring: shape.ring.map((edge) => ({
      id: edge.id,
      label: edge.label,
      role: edge.role,
      curve: edge.curve.map(pair),
      allowanceMm: edge.allowanceMm,
      allowanceAssumed: edge.allowanceAssumed,
      sigmaMm: edge.sigmaMm,
    })),
    tracedLine: shape.tracedLine,
    notches: shape.notches.map((notch) => ({
      id: notch.id,
      edge: notch.edge,
      atMm: notch.atMm,
      count: notch.count,
      purpose: notch.purpose,
      mate: { ...notch.mate },
    })),
    darts: shape.darts.map((dart) => ({
      id: dart.id,
      edge: dart.edge,
      legs: [pair(dart.legs[0]), pair(dart.legs[1])],
      apex: pair(dart.apex),
      foldTo: dart.foldTo,
    })),
    pleats: shape.pleats.map((pleat) => ({ id: pleat.id, edge: pleat.edge, fromMm: pleat.fromMm, toMm: pleat.toMm })),
    grainline: shape.grainline && {
      from: pair(shape.grainline.from),
      to: pair(shape.grainline.to),
      heads: shape.grainline.heads,
    },
    marks: shape.marks.map((mark) =>
      'at' in mark
        ? { kind: mark.kind, id: mark.id, at: pair(mark.at) }
        : { kind: mark.kind, id: mark.id, from: pair(mark.from), to: pair(mark.to) },
    ),
    accuracy: {
      scaleSources: shape.accuracy.scaleSources.map((source) => ({ ...source })),
      pointSigmaMm: shape.accuracy.pointSigmaMm,
    },
    ...(shape.placement && { placement: { ...shape.placement, originMm: pair(shape.placement.originMm) } }),
    ...(shape.unsure && {
      unsure: shape.unsure.map(({ reason, points }) => ({ reason, points: points.map(pair) })),
    }),
    ...(shape.repairs && { repairs: shape.repairs.map(documentRepair) }),
  };
}

function documentRepair(repair: Repair): RepairV1 {
  const { id, setAside } = repair;
  switch (repair.kind) {
    case 'corner-moved':
      return { kind: repair.kind, id, setAside, from: pair(repair.from), to: pair(repair.to) };
    case 'stretch-redrawn':
      return { kind: repair.kind, id, setAside, curve: repair.curve.map(pair) };
    case 'edge-split':
    case 'edges-joined':
      return { kind: repair.kind, id, setAside, at: pair(repair.at) };
    case 'mark-added':
      return { kind: repair.kind, id, setAside, mark: documentRepairMark(repair.mark) };
    case 'mark-moved':
      return { kind: repair.kind, id, setAside, from: pair(repair.from), mark: documentRepairMark(repair.mark) };
    case 'mark-removed':
      return { kind: repair.kind, id, setAside, mark: repair.mark, at: pair(repair.at) };
  }
}

function documentRepairMark(mark: RepairMark): RepairMarkV1 {
  switch (mark.kind) {
    case 'notch':
      return { kind: mark.kind, at: pair(mark.at), count: mark.count };
    case 'dart':
      return { kind: mark.kind, legs: [pair(mark.legs[0]), pair(mark.legs[1])], apex: pair(mark.apex) };
    case 'grainline':
      return { kind: mark.kind, from: pair(mark.from), to: pair(mark.to), heads: mark.heads };
    case 'hole':
    case 'button':
      return { kind: mark.kind, at: pair(mark.at) };
    default:
      return { kind: mark.kind, from: pair(mark.from), to: pair(mark.to) };
  }
}

function documentSpan(span: Seam['sides'][0][number]): SeamV1['sides'][0][number] {
  return {
    piece: span.piece,
    edge: span.edge,
    reversed: span.reversed,
    stretch: span.stretch === null ? null : { fromMm: span.stretch.fromMm, toMm: span.stretch.toMm },
  };
}

function pair(point: Point): [number, number] {
  return [point[0], point[1]];
}

function sizesOfPieces(doc: SetV1): readonly string[] {
  const sizes = new Set(doc.pieces.flatMap((piece) => Object.keys(piece.shapes)));
  return sizes.size === 0 ? [NO_SIZE_NAMED] : [...sizes];
}

function slug(name: string): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return plain === '' ? 'piece' : plain;
}

/** Ids as written; a missing one is made from the name and kept apart from all others. */
function idsOfPieces(pieces: readonly PieceV1[]): readonly string[] {
  const taken = new Set(pieces.flatMap((piece) => piece.id ?? []));
  return pieces.map((piece) => {
    if (piece.id !== undefined) return piece.id;
    const wanted = slug(piece.name);
    let id = wanted;
    for (let copy = 2; taken.has(id); copy++) id = `${wanted}-${copy}`;
    taken.add(id);
    return id;
  });
}
