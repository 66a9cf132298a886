// Whether a set holds together: every name that is used exists, every ring closes. What a schema cannot
// say. Wrong geometry (an outline that crosses itself) is for the checks to find, not for the reader.
import type { EdgeSpan, PatternSet, Piece, Seam, Shape } from '../../pattern/model.ts';

/** Edges of a ring must meet this closely; hand-written coordinates are rounded to hundredths. */
const RING_GAP_MM = 0.05;

/** One sentence for each thing that does not hold together; empty = sound. */
export function integrityProblems(set: PatternSet): readonly string[] {
  const pieces = new Map(set.pieces.map((piece) => [piece.id, piece]));
  return [
    ...repeated(set.pieces.map((piece) => piece.id)).map(
      (id) => `Two pieces have the id "${id}"; give one another id.`,
    ),
    ...repeated(set.seams.map((seam) => seam.id)).map((id) => `Two seams have the id "${id}"; give one another id.`),
    ...sizeProblems(set),
    ...set.pieces.flatMap((piece) =>
      Object.entries(piece.shapes).flatMap(([size, shape]) => shapeProblems(piece, size, shape, pieces)),
    ),
    ...set.seams.flatMap((seam) => seamProblems(seam, pieces)),
  ];
}

function sizeProblems(set: PatternSet): readonly string[] {
  const known = new Set(set.sizes);
  const strays = set.pieces.flatMap((piece) =>
    Object.keys(piece.shapes)
      .filter((size) => !known.has(size))
      .map(
        (size) => `Piece "${piece.id}" has a shape in size "${size}", which the set's sizes do not list; add it there.`,
      ),
  );
  if (known.has(set.baseSize)) return strays;
  return [
    `The base size "${set.baseSize}" is not among the set's sizes; add it or choose another base size.`,
    ...strays,
  ];
}

function shapeProblems(
  piece: Piece,
  size: string,
  shape: Shape,
  pieces: ReadonlyMap<string, Piece>,
): readonly string[] {
  const where = `Piece "${piece.id}" in size "${size}"`;
  const edges = new Set(shape.ring.map((edge) => edge.id));
  const onEdge = [
    ...shape.notches.map((notch) => ({ what: `notch "${notch.id}"`, edge: notch.edge })),
    ...shape.darts.map((dart) => ({ what: `dart "${dart.id}"`, edge: dart.edge })),
    ...shape.pleats.map((pleat) => ({ what: `pleat "${pleat.id}"`, edge: pleat.edge })),
  ];
  return [
    ...repeated(shape.ring.map((edge) => edge.id)).map((id) => `${where} has two edges with the id "${id}".`),
    ...repeated([...shape.notches, ...shape.darts, ...shape.pleats, ...shape.marks].map((mark) => mark.id)).map(
      (id) => `${where} has two marks with the id "${id}".`,
    ),
    ...onEdge
      .filter(({ edge }) => !edges.has(edge))
      .map(
        ({ what, edge }) =>
          `${where}: ${what} names the edge "${edge}", which is missing; ${knownNames('its edges', edges)}.`,
      ),
    ...shape.pleats
      .filter((pleat) => pleat.fromMm >= pleat.toMm)
      .map((pleat) => `${where}: pleat "${pleat.id}" ends before it starts; fromMm must be less than toMm.`),
    ...mateProblems(where, shape, pieces),
    ...curveProblems(where, shape),
  ];
}

function mateProblems(where: string, shape: Shape, pieces: ReadonlyMap<string, Piece>): readonly string[] {
  return shape.notches.flatMap((notch) => {
    if (notch.mate.kind !== 'notch') return [];
    const { piece, notch: mate } = notch.mate;
    const other = pieces.get(piece);
    if (other === undefined)
      return [`${where}: notch "${notch.id}" has its mate on the piece "${piece}", which is missing.`];
    const shapes = Object.values(other.shapes);
    const found = shapes.length === 0 || shapes.some((one) => one.notches.some(({ id }) => id === mate));
    return found ? [] : [`${where}: notch "${notch.id}" has the mate "${mate}", which piece "${piece}" does not have.`];
  });
}

function curveProblems(where: string, shape: Shape): readonly string[] {
  const uneven = shape.ring.filter((edge) => edge.curve.length % 3 !== 1);
  if (uneven.length > 0) {
    return uneven.map(
      (edge) =>
        `${where}: the curve of edge "${edge.id}" has ${edge.curve.length} points; a cubic path has 4, 7, 10 … points (a straight edge may have 2).`,
    );
  }
  const gaps = shape.ring.flatMap((edge, index) => {
    const next = shape.ring[(index + 1) % shape.ring.length]!;
    const end = edge.curve.at(-1)!;
    const start = next.curve[0]!;
    const gapMm = Math.hypot(end[0] - start[0], end[1] - start[1]);
    return gapMm > RING_GAP_MM
      ? [
          `${where}: edge "${next.id}" starts ${gapMm.toFixed(2)} mm from where edge "${edge.id}" ends; the ring must close.`,
        ]
      : [];
  });
  return gaps;
}

function seamProblems(seam: Seam, pieces: ReadonlyMap<string, Piece>): readonly string[] {
  return seam.sides.flat().flatMap((span) => spanProblems(`Seam "${seam.id}"`, span, pieces));
}

function spanProblems(where: string, span: EdgeSpan, pieces: ReadonlyMap<string, Piece>): readonly string[] {
  const piece = pieces.get(span.piece);
  if (piece === undefined) {
    return [`${where} names the piece "${span.piece}", which is missing; ${knownNames('the set has', pieces.keys())}.`];
  }
  const edges = new Set([
    ...Object.values(piece.shapes).flatMap((shape) => shape.ring.map((edge) => edge.id)),
    ...(piece.plan?.edges ?? []).map((edge) => edge.id),
  ]);
  if (edges.size > 0 && !edges.has(span.edge)) {
    return [
      `${where} names the edge "${span.edge}" of piece "${span.piece}", which is missing; ${knownNames('its edges', edges)}.`,
    ];
  }
  return span.stretch !== null && span.stretch.fromMm >= span.stretch.toMm
    ? [`${where}: the stretch on edge "${span.edge}" of piece "${span.piece}" ends before it starts.`]
    : [];
}

const NAMES_LISTED = 12;

function knownNames(lead: string, names: Iterable<string>): string {
  const all = [...names].map((name) => `"${name}"`);
  const shown = all.slice(0, NAMES_LISTED).join(', ');
  const verb = lead.startsWith('its') ? `${lead} are` : lead;
  return all.length === 0 ? `${verb} none` : `${verb} ${shown}${all.length > NAMES_LISTED ? ' …' : ''}`;
}

function repeated(ids: readonly string[]): readonly string[] {
  return [...new Set(ids.filter((id, index) => ids.indexOf(id) !== index))];
}
