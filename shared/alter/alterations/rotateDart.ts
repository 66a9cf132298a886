// A dart rotated to another edge: the paper is cut from the dart's point to the new place, the old dart closes, the new one
// opens by the same angle. What is sewn does not change.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { pointAtLength } from '../../geometry/arcLength.ts';
import { type CubicPath, endOf, joinPaths, pointAt, startOf, transformPath } from '../../geometry/cubicPath.ts';
import { flattenPath } from '../../geometry/flatten.ts';
import { intersectLine } from '../../geometry/intersect.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { pointInPolygon } from '../../geometry/polygon.ts';
import { type Affine, apply, identity, invert } from '../../geometry/transform.ts';
import { distance, lerp } from '../../geometry/vector.ts';
import { closingTransform, dartOnSeam } from '../../pattern/darts.ts';
import { edgeLabels } from '../../pattern/guessEdges.ts';
import type { Dart, Edge, OtherMark, PatternSet, Piece, Shape, Size } from '../../pattern/model.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import type { Alteration } from '../alteration.ts';
import { graspOn } from '../grasp.ts';
import { capToward, cutAtMouth } from '../kernel/dartCap.ts';
import { withEnd } from '../kernel/ends.ts';
import { placesIn } from '../kernel/find.ts';
import { type Change, fromStart, type Reshaped, reshape, splitAtPlace } from '../kernel/reshape.ts';
import { amountGiven, type Values } from '../params.ts';
import type { ChangedShape } from '../record.ts';
import { capital, dartWords, edgeLabel, lengthWords } from '../words.ts';

export const rotateDart: Alteration = {
  id: 'rotate-dart',
  title: 'Rotate a dart to another edge',
  sentence: 'Closes a dart and opens it by the same angle at another edge; its point stays where it is.',
  params: [
    {
      name: 'atMm',
      unit: 'mm',
      default: null,
      min: 0,
      max: 3000,
      sentence: 'Where the new dart opens, along the seamline of its edge from the edge’s start, other darts open.',
    },
    { name: 'piece', unit: 'name', default: null, sentence: 'The piece that holds the dart.' },
    { name: 'dart', unit: 'name', default: null, sentence: 'The dart that is closed.' },
    { name: 'toEdge', unit: 'name', default: null, sentence: 'The edge on which it opens.' },
  ],
  describe: (values, set) =>
    `${capital(dartWords(set, values.name('piece'), values.name('dart')))} rotated to the ${edgeLabel(set, values.name('piece'), values.name('toEdge'))}, ${lengthWords(set, values.amount('atMm'))} from its start.`,
  redraw: (set, values, scope) => rotateAll(set, values, scope.sizes),
  // The new mouth goes along its edge: the direction is that of the edge where the mouth lies now, in the middle at first.
  grasps: (set, given, { sizes }) =>
    placesIn(set, { pieces: [String(given.piece)], sizes }, () => true).flatMap((place) => {
      const target = seamEdge(place.shape, String(given.toEdge));
      const dart = place.shape.darts.find(({ id }) => id === given.dart);
      if (target === undefined || dart === undefined) return [];
      const atMm = amountGiven(rotateDart.params, given, 'atMm') ?? target.lengthMm / 2;
      const fromMm = Math.min(atMm, target.lengthMm);
      const { point, tangent } = pointAtLength(target.path, fromMm);
      return [
        graspOn(place, {
          param: 'atMm',
          at: point,
          toward: tangent,
          fromMm,
          mostMm: target.lengthMm,
          line: [dart.apex, point],
        }),
      ];
    }),
};

function rotateAll(set: PatternSet, values: Values, sizes: readonly Size[] | null): Result<readonly ChangedShape[]> {
  const piece = set.pieces.find(({ id }) => id === values.name('piece'));
  if (piece === undefined) return fail('no-piece', `The set has no piece "${values.name('piece')}".`);
  const changes: ChangedShape[] = [];
  for (const [size, shape] of Object.entries(piece.shapes)) {
    if (sizes !== null && !sizes.includes(size)) continue;
    const rotated = rotateIn(set, piece, shape, values);
    if (!rotated.ok) return rotated;
    changes.push({ piece: piece.id, size, ...rotated.value });
  }
  return ok(changes);
}

function rotateIn(set: PatternSet, piece: Piece, shape: Shape, values: Values): Result<Reshaped> {
  const dart = shape.darts.find(({ id }) => id === values.name('dart'));
  if (dart === undefined) return fail('no-dart', `"${piece.name}" has no dart "${values.name('dart')}".`);
  const target = seamEdge(shape, values.name('toEdge'));
  const source = shape.ring.find(({ id }) => id === dart.edge);
  const on = dartOnSeam(shape, dart);
  if (target === undefined || source === undefined || on === null)
    return fail('no-edge', `"${piece.name}" has no edge "${values.name('toEdge')}".`);
  if (target.edge.id === source.id)
    return fail('same-edge', 'A dart cannot be rotated to the edge it lies on; choose another edge.');
  const atMm = values.amount('atMm');
  if (atMm <= 0 || atMm >= target.lengthMm)
    return fail('off-edge', `The edge is ${lengthWords(set, target.lengthMm)} long; choose a place between its ends.`);
  const through = pointAtLength(target.path, atMm).point;
  const still = new Set(shape.ring.filter((edge) => isStill(piece, shape, edge)));
  return ok(rotate(shape, { dart: inOrder(dart, source), source, target: target.edge, through, still }));
}

function inOrder(dart: Dart, edge: Edge): Dart {
  const [a, b] = dart.legs.map((leg) => nearestOnPath(edge.curve, leg).atMm) as [number, number];
  return a <= b ? dart : { ...dart, legs: [dart.legs[1], dart.legs[0]] };
}

/** The fold and the centre keep their place, so that the grain does. */
function isStill(piece: Piece, shape: Shape, edge: Edge): boolean {
  return edge.role === 'fold' || (edgeLabels(piece, shape).get(edge.id) ?? '').startsWith('centre');
}

interface Rotation {
  /** Legs in the order of the source edge. */
  readonly dart: Dart;
  readonly source: Edge;
  readonly target: Edge;
  /** Place on the target's seamline where the new dart opens. */
  readonly through: Point;
  readonly still: ReadonlySet<Edge>;
}

function rotate(shape: Shape, rotation: Rotation): Reshaped {
  const { dart, source, target, through } = rotation;
  const on = dartOnSeam(shape, dart);
  if (on === null) throw new Error('the dart has been found before');
  const after = edgesBetween(shape, source, target);
  const before = edgesBetween(shape, target, source);
  const holdsStill = (edges: readonly Edge[]) => edges.some((edge) => rotation.still.has(edge));
  // What lies between the old mouth and the new one turns, one way round or the other.
  const turnsAfter = !holdsStill(after) || holdsStill(before);
  const close = closingTransform(dart, on);
  const map = turnsAfter ? close : invert(close);
  const turning = turnsAfter ? after : before;
  const kept = (path: CubicPath) => path;
  const turned = (path: CubicPath) => transformPath(map, path);
  const [first, second] = turnsAfter ? [kept, turned] : [turned, kept];

  const shut = cutAtMouth(source.curve, dart.apex, mouthMm(source, dart));
  const head = first(shut.before);
  const closed = joinPaths([head, withEnd(second(shut.after), 'start', endOf(head))]);

  const openMm = nearestOnPath(target.curve, legTo(target, dart.apex, through)).atMm;
  const cut = cutAtMouth(target.curve, dart.apex, [openMm, openMm]);
  const [start, end] = [second(cut.before), first(cut.after)];
  const legs = [endOf(start), startOf(end)] as const;
  const opened = joinPaths([start, capToward(start, { apex: dart.apex, legs }), end]);

  const changes = new Map<string, Change>(
    turning.map((edge) => [edge.id, { curve: turned(edge.curve), carry: fromStart }]),
  );
  changes.set(source.id, { curve: closed, carry: splitAtPlace((on.atMm[0] + on.atMm[1]) / 2) });
  const placeMm = nearestOnPath(seamEdge(shape, target.id)!.path, through).atMm;
  changes.set(target.id, { curve: opened, carry: splitAtPlace(placeMm) });
  const outline = flattenPath(
    turnsAfter
      ? joinPaths([shut.after, ...curves(turning), cut.before])
      : joinPaths([cut.after, ...curves(turning), shut.before]),
    CHORD_MM,
  );
  const region = [dart.apex, ...outline];
  const mapOf = (point: Point) => (pointInPolygon(point, region) ? map : identity);
  const darts = new Map(
    shape.darts.map((other): [string, Dart] => {
      if (other.id === dart.id) return [dart.id, { ...dart, edge: target.id, legs }];
      // A dart turns as a whole; just inside its mouth is where its part of the paper lies.
      const own = mapOf(lerp(lerp(other.legs[0], other.legs[1], 1 / 2), other.apex, INSIDE_RATIO));
      const [a, b] = other.legs;
      return [other.id, { ...other, legs: [apply(own, a), apply(own, b)], apex: apply(own, other.apex) }];
    }),
  );
  const { shape: next, carry } = reshape(shape, changes, darts);
  const { grainline } = shape;
  const grainMap = grainline === null ? identity : mapOf(lerp(grainline.from, grainline.to, 1 / 2));
  return {
    carry,
    shape: {
      ...next,
      grainline: grainline && {
        ...grainline,
        from: apply(grainMap, grainline.from),
        to: apply(grainMap, grainline.to),
      },
      marks: shape.marks.map((mark) => turnedMark(mark, mapOf)),
    },
  };
}

/** Near enough to tell on which side of the cut a mark lies. */
const CHORD_MM = 0.1;
/** From the mouth of a dart toward its point. */
const INSIDE_RATIO = 0.05;

function curves(edges: readonly Edge[]): readonly CubicPath[] {
  return edges.map((edge) => edge.curve);
}

/** Edges after the first and before the second around the ring. */
function edgesBetween(shape: Shape, from: Edge, to: Edge): readonly Edge[] {
  const count = shape.ring.length;
  const [a, b] = [shape.ring.indexOf(from), shape.ring.indexOf(to)];
  return Array.from({ length: (b - a - 1 + count) % count }, (_, i) => shape.ring[(a + 1 + i) % count]!);
}

function mouthMm(edge: Edge, dart: Dart): readonly [number, number] {
  return [nearestOnPath(edge.curve, dart.legs[0]).atMm, nearestOnPath(edge.curve, dart.legs[1]).atMm];
}

/** Where the line from the apex through a place on the seamline leaves the traced edge. */
function legTo(edge: Edge, apex: Point, through: Point): Point {
  const crossings = intersectLine(apex, through, edge.curve).map((t) => pointAt(edge.curve, t));
  return crossings.toSorted((p, q) => distance(p, through) - distance(q, through))[0] ?? through;
}

function turnedMark(mark: OtherMark, mapOf: (point: Point) => Affine): OtherMark {
  if ('at' in mark) return { ...mark, at: apply(mapOf(mark.at), mark.at) };
  const map = mapOf(lerp(mark.from, mark.to, 1 / 2));
  return { ...mark, from: apply(map, mark.from), to: apply(map, mark.to) };
}
