// Lengths of the finished garment: shoulder, back neck to waist, sleeve, crotch depth, inseam, skirt.
import type { Point } from '../base/points.ts';
import { placeAtLength } from '../geometry/arcLength.ts';
import { flattenPath } from '../geometry/flatten.ts';
import { dot, sub } from '../geometry/vector.ts';
import { bodySide, isBodice, isSkirt, normalLabel } from '../pattern/kinds.ts';
import { addLength, NO_LENGTH, sewnLength } from '../pattern/measure.ts';
import { neighbours, type SeamEdge, seamEdge, seamlineOf } from '../pattern/seamline.ts';
import { type Finished, type MeasureId, missing, taken } from './finishedMeasure.ts';
import { centreEdge, edgesNamed, lengthwise, type Traced } from './frame.ts';
import type { Garment } from './garment.ts';
import { crotchOf } from './girths.ts';
import { lengthAcross } from './level.ts';

/** Along the shoulder seam of the front, which the back is eased to. */
export function shoulder(garment: Garment): Finished {
  return alongEdge('shoulder', 'shoulder', bodicePieces(garment, 'front'), garment);
}

/** Down the middle of the back from the neck to the waist, over a yoke where there is one. */
export function backLength(garment: Garment): Finished {
  const backs = bodicePieces(garment, 'back').filter((entry) => centreEdge(entry.shape) !== null);
  if (backs.length === 0) return missing({ kind: 'no-piece' });
  const ends = ['neck', 'waist'].map((label) => backs.some(({ shape }) => touchesCentre(shape, label)));
  if (ends.includes(false)) {
    return missing({ kind: 'no-edge', piece: backs[0]!.piece, edge: ends[0] === true ? 'waist' : 'neck' });
  }
  const parts = backs.map((entry) => ({ ...entry, centre: centreEdge(entry.shape)! }));
  const length = parts.reduce(
    (sum, { shape, centre }) => addLength(sum, sewnLength(shape, centre.edge.id, null, garment.measuring)),
    NO_LENGTH,
  );
  return taken(
    'back length',
    length,
    parts.map(({ piece, centre }) => ({ kind: 'edge', piece: piece.id, edge: centre.edge.id })),
  );
}

/** From the top of the cap along the grain to the hem; a cuff that is sewn on is not counted. */
export function sleeveLength(garment: Garment): Finished {
  const sleeve = garment.pieces.find(({ piece }) => piece.kind === 'sleeve' || piece.kind === 'top sleeve');
  if (sleeve === undefined) return missing({ kind: 'no-piece' });
  const { piece, shape } = sleeve;
  const along = lengthwise(sleeve);
  if (along === null) return missing({ kind: 'no-direction', piece });
  const { edges } = seamlineOf(shape);
  const cap = edges.filter(({ edge }) => normalLabel(edge.label).startsWith('cap'));
  const [hem] = edges.filter(({ edge }) => isHem(edge));
  if (cap.length === 0 || hem === undefined)
    return missing({ kind: 'no-edge', piece, edge: cap.length === 0 ? 'cap' : 'hem' });
  const middle = placeAtLength(hem.path, hem.lengthMm / 2);
  const fromHem = (point: Point) => Math.abs(dot(sub(point, middle), along));
  const [top] = cap.flatMap(({ path }) => flattenPath(path, TOP_CHORD_MM)).toSorted((a, b) => fromHem(b) - fromHem(a));
  const hasCuff = garment.walks.some(
    ({ sides }) =>
      sides.some(({ spans }) =>
        spans.some(({ span, piece: one }) => one.id === piece.id && span.edge === hem.edge.id),
      ) && sides.some(({ spans }) => spans.some(({ piece: one }) => one.kind === 'cuff')),
  );
  return taken(
    'sleeve length',
    straight(sleeve, fromHem(top!), [cap[0]!, hem], garment),
    [{ kind: 'segment', piece: piece.id, from: top!, to: middle }],
    { notes: hasCuff ? ['without-cuff'] : [] },
  );
}

/** The top of a smooth cap is found to this height. */
const TOP_CHORD_MM = 0.01;

/** Straight down from the waist to the crotch, on the front; a waistband is not counted. */
export function crotchDepth(garment: Garment): Finished {
  const front = garment.pieces.find(({ piece }) => piece.kind === 'trouser front');
  if (front === undefined) return missing({ kind: 'no-piece' });
  const { piece, shape } = front;
  const along = lengthwise(front);
  if (along === null) return missing({ kind: 'no-direction', piece });
  const [waist] = edgesNamed(shape, 'waist');
  const corner = crotchOf(front);
  const side = waist === undefined ? null : sideEndOf(waist, front);
  if (corner === null || waist === undefined || side === null)
    return missing({ kind: 'no-edge', piece, edge: corner === null ? 'inseam' : 'waist' });
  const crotch = placeAtLength(seamEdge(shape, corner.edge)!.path, corner.atMm);
  const depthMm = Math.abs(dot(sub(crotch, side), along));
  return taken('crotch depth', straight(front, depthMm, [waist, seamEdge(shape, corner.edge)!], garment), [
    { kind: 'segment', piece: piece.id, from: side, to: crotch },
  ]);
}

/** Along the inseam of the front: the back is stretched to it. */
export function inseam(garment: Garment): Finished {
  return alongEdge(
    'inseam',
    'inseam',
    garment.pieces.filter(({ piece }) => piece.kind === 'trouser front'),
    garment,
  );
}

/** Down the middle of the front, or down the side; a waistband is not counted. */
export function skirtLength(garment: Garment): Finished {
  const skirts = garment.pieces.filter(({ piece }) => isSkirt(piece.kind));
  const front = skirts.find(({ piece }) => bodySide(piece) === 'front') ?? skirts[0];
  if (front === undefined) return missing({ kind: 'no-piece' });
  const { piece, shape } = front;
  const runsDown = (seam: SeamEdge | null | undefined) => {
    if (seam === null || seam === undefined) return false;
    const { before, after } = neighbours(shape, seam.index);
    const labels = [before, after].map(({ edge }) => (isHem(edge) ? 'hem' : normalLabel(edge.label)));
    return labels.includes('waist') && labels.includes('hem');
  };
  const edge = [centreEdge(shape), ...edgesNamed(shape, 'side')].find(runsDown);
  if (edge === null || edge === undefined) return missing({ kind: 'no-edge', piece, edge: 'side' });
  return taken('skirt length', sewnLength(shape, edge.edge.id, null, garment.measuring), [
    { kind: 'edge', piece: piece.id, edge: edge.edge.id },
  ]);
}

export function isHem({ role, label }: SeamEdge['edge']): boolean {
  return role === 'hem' || normalLabel(label) === 'hem';
}

function bodicePieces({ pieces }: Garment, which: 'front' | 'back'): readonly Traced[] {
  return pieces.filter(({ piece }) => isBodice(piece.kind) && bodySide(piece) === which);
}

function alongEdge(id: MeasureId, label: string, pieces: readonly Traced[], garment: Garment): Finished {
  const [first] = pieces;
  if (first === undefined) return missing({ kind: 'no-piece' });
  for (const { piece, shape } of pieces) {
    const [edge] = edgesNamed(shape, label);
    if (edge === undefined) continue;
    return taken(id, sewnLength(shape, edge.edge.id, null, garment.measuring), [
      { kind: 'edge', piece: piece.id, edge: edge.edge.id },
    ]);
  }
  return missing({ kind: 'no-edge', piece: first.piece, edge: label });
}

function touchesCentre(shape: Traced['shape'], label: string): boolean {
  const centre = centreEdge(shape);
  if (centre === null) return false;
  const { before, after } = neighbours(shape, centre.index);
  return [before, after].some(({ edge }) => normalLabel(edge.label) === label);
}

/** The end of the waist edge that meets the side. */
function sideEndOf(waist: SeamEdge, { shape }: Traced): Point | null {
  const { before, after } = neighbours(shape, waist.index);
  if (normalLabel(before.edge.label) === 'side') return waist.path[0]!;
  return normalLabel(after.edge.label) === 'side' ? waist.path.at(-1)! : null;
}

function straight({ shape }: Traced, valueMm: number, [a, b]: readonly [SeamEdge, SeamEdge], { measuring }: Garment) {
  return lengthAcross(shape, valueMm, {
    ends: [
      { edge: a.edge.id, atMm: null },
      { edge: b.edge.id, atMm: null },
    ],
    darts: 0,
    assumedAllowanceSigmaMm: measuring.assumedAllowanceSigmaMm,
  });
}
