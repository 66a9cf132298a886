// Width added at the hem by slash and spread: cuts from the hem to the waist, hinged at the waist, which keeps its length on
// the seamline; every cut opens by the same amount at the hem.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { pathLengthMm, pointAtLength, subPath } from '../../geometry/arcLength.ts';
import {
  type CubicPath,
  endOf,
  endTangent,
  joinPaths,
  reversePath,
  startOf,
  tangentAt,
  transformPath,
} from '../../geometry/cubicPath.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { type Affine, apply } from '../../geometry/transform.ts';
import { add, distance, dot, scale, sub } from '../../geometry/vector.ts';
import { isSkirt } from '../../pattern/kinds.ts';
import type { Dart, Edge, OtherMark, Shape } from '../../pattern/model.ts';
import { insetMm, seamEdge } from '../../pattern/seamline.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { LITTLE_MM, settingOut } from '../grasp.ts';
import { type Bent, bendPath, type Hinge } from '../kernel/bend.ts';
import type { Still } from '../kernel/blend.ts';
import { pointAtEnd, withEnd } from '../kernel/ends.ts';
import { edgeNamed, edgesNamed, handOf, type Place, placesIn } from '../kernel/find.ts';
import { type Change, fromNearerEnd, fromStart, mouthsOn, reshape } from '../kernel/reshape.ts';
import { solveFor } from '../kernel/solve.ts';
import { amountGiven } from '../params.ts';
import type { ChangedShape } from '../record.ts';
import { lengthWords } from '../words.ts';

export const slashSpread: Alteration = {
  id: 'slash-spread',
  title: 'Add width by slash and spread',
  sentence: 'Opens skirt pieces from the hem by cuts that hinge at the waist; the waist keeps its length.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -200,
      max: 800,
      sentence: 'How much wider each piece becomes at the hem, in all; negative takes width out.',
    },
    { name: 'cuts', unit: 'count', default: 3, min: 1, max: 12, sentence: 'How many cuts share it.' },
  ],
  describe: (values, set) =>
    `Hem widened by ${lengthWords(set, values.amount('byMm'))} with ${values.amount('cuts')} cuts hinged at the waist.`,
  redraw: (set, values, scope) => {
    const changes = placesIn(set, scope, isSkirt).flatMap((place) => {
      const changed = spread(place, values.amount('byMm'), values.amount('cuts'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0 ? nothingToAlter('skirt piece with a waist and a hem') : allOf(changes);
  },
  // The swinging corner of the hem; which way it sets out is found by opening the cuts a little.
  grasps: (set, given, scope) =>
    placesIn(set, scope, isSkirt).flatMap((place) => {
      const walked = walk(place);
      const cuts = amountGiven(slashSpread.params, given, 'cuts');
      const opened = cuts === null ? null : spread(place, LITTLE_MM, cuts);
      if (walked === null || opened === null || !opened.ok) return [];
      const cornerOf = (shape: Shape) =>
        pointAtEnd(seamEdge(shape, walked.hem.id)!.path, walked.forward ? 'start' : 'end');
      const at = cornerOf(place.shape);
      return [settingOut(place, 'byMm', at, cornerOf(opened.value.shape))];
    }),
};

/** The turn is spread over this much to each side of a hinge, less where cuts lie closer. */
const HINGE_REACH_MM = 20;
/** Of a part between two cuts this much is redrawn at each end of the hem to bridge the gap. */
const BRIDGE_MM = 20;
const BRIDGE_RATIO = 0.25;

/** Waist and hem, both walked from the side that stays to the side that swings out. */
interface Walked {
  readonly waist: Edge;
  readonly hem: Edge;
  readonly waistPath: CubicPath;
  readonly hemPath: CubicPath;
  /** True where the ring walks the waist from the still side. */
  readonly forward: boolean;
  /** Edges from the waist's swinging end to the hem's. */
  readonly swinging: readonly Edge[];
}

function spread(place: Place, byMm: number, cuts: number): Result<ChangedShape> | null {
  const { shape } = place;
  const walked = walk(place);
  if (walked === null) return null;
  const cutMm = hingePlaces(walked, shape, cuts);
  // Width at the hem is width where the hem is sewn; the cuts go on from there to the traced line.
  const seam = seamEdge(shape, walked.hem.id)!;
  const hemSeam = walked.forward ? reversePath(seam.path) : seam.path;
  const onSeam = cutMm.map((_, i) => pointAtLength(hemSeam, (seam.lengthMm * (i + 1)) / (cuts + 1)).point);
  const hemPlaces = onSeam.map((point) => nearestOnPath(walked.hemPath, point).atMm);
  const keptMm = -insetMm(shape, walked.waist) * handOf(shape) * (walked.forward ? 1 : -1);
  const hinges: Hinge[] = [];
  for (const [i, atMm] of cutMm.entries()) {
    const turnDeg = openingTurn(
      walked,
      [...hinges],
      { atMm, onHem: onSeam[i]!, reachMm: reachOf(cutMm, walked) },
      byMm / cuts,
      keptMm,
    );
    if (turnDeg === null) return fail('no-room', 'The cuts cannot open that far; take less or make more cuts.');
    hinges.push({ atMm, turnDeg, reachMm: reachOf(cutMm, walked) });
  }
  const bent = bendPath(walked.waistPath, hinges, keptMm);
  return ok({ piece: place.piece.id, size: place.size, ...redrawn(shape, walked, bent, cutMm, hemPlaces) });
}

function walk(place: Place): Walked | null {
  const { shape } = place;
  const waist = edgeNamed(place, 'waist');
  const hem = edgesNamed(place, (label) => label === 'hem')[0] ?? shape.ring.find((edge) => edge.role === 'hem');
  if (waist === null || hem === undefined) return null;
  const count = shape.ring.length;
  const at = (edge: Edge) => shape.ring.indexOf(edge);
  const between = (from: number, to: number) =>
    Array.from({ length: (to - from - 1 + count) % count }, (_, i) => shape.ring[(from + 1 + i) % count]!);
  const afterWaist = between(at(waist), at(hem));
  const afterHem = between(at(hem), at(waist));
  const stays = (edges: readonly Edge[]) =>
    edges.some((edge) => edge.role === 'fold' || (place.labels.get(edge.id) ?? '').startsWith('centre'));
  const forward = !stays(afterWaist) || stays(afterHem);
  return {
    waist,
    hem,
    forward,
    waistPath: forward ? waist.curve : reversePath(waist.curve),
    hemPath: forward ? reversePath(hem.curve) : hem.curve,
    swinging: forward ? afterWaist : afterHem,
  };
}

/** Even shares of the waist with its darts closed; a hinge keeps clear of a mouth. */
function hingePlaces(walked: Walked, shape: Shape, cuts: number): number[] {
  const totalMm = pathLengthMm(walked.waistPath);
  const mouths = mouthsOn(shape, walked.waist.id).map(
    ({ fromMm, toMm }): Still =>
      walked.forward ? { fromMm, toMm } : { fromMm: totalMm - toMm, toMm: totalMm - fromMm },
  );
  const closedMm = totalMm - mouths.reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0);
  return Array.from({ length: cuts }, (_, i) => {
    let atMm = (closedMm * (i + 1)) / (cuts + 1);
    for (const { fromMm, toMm } of mouths.toSorted((a, b) => a.fromMm - b.fromMm))
      if (fromMm < atMm) atMm += toMm - fromMm;
    return atMm;
  });
}

function reachOf(cutMm: readonly number[], { waistPath }: Walked): number {
  const places = [0, ...cutMm, pathLengthMm(waistPath)];
  const gaps = places.slice(1).map((place, i) => place - places[i]!);
  return Math.min(HINGE_REACH_MM, Math.min(...gaps) / 3);
}

/** The turn at one hinge that opens its cut by the wanted amount at the hem, measured straight across. */
function openingTurn(
  { waistPath }: Walked,
  before: readonly Hinge[],
  cut: { readonly atMm: number; readonly onHem: Point; readonly reachMm: number },
  wantedMm: number,
  keptMm: number,
): number | null {
  const { onHem } = cut;
  const { point, tangent } = pointAtLength(waistPath, cut.atMm);
  const arm = sub(onHem, point);
  // Turning clockwise moves the end of the arm along (−y, x): it must go the way the waist is walked.
  const sign = dot([-arm[1], arm[0]], tangent) >= 0 ? 1 : -1;
  const openingAt = (turnDeg: number): number => {
    const { mapAt } = bendPath(
      waistPath,
      [...before, { atMm: cut.atMm, turnDeg: sign * turnDeg, reachMm: cut.reachMm }],
      keptMm,
    );
    const beyond = apply(mapAt(cut.atMm + cut.reachMm), onHem);
    const here = apply(mapAt(cut.atMm - cut.reachMm), onHem);
    return Math.sign(turnDeg) * distance(beyond, here);
  };
  const guessDeg = (2 * Math.asin(Math.min(1, Math.abs(wantedMm) / (2 * distance(point, onHem)))) * 180) / Math.PI;
  const found = solveFor(openingAt, wantedMm, { guess: Math.sign(wantedMm) * guessDeg, farthest: MOST_TURN_DEG });
  return found === null ? null : sign * found;
}

/** A single cut opened further than this is a new pattern. */
const MOST_TURN_DEG = 90;

function redrawn(shape: Shape, walked: Walked, bent: Bent, cutMm: readonly number[], hemPlaces: readonly number[]) {
  const totalMm = pathLengthMm(walked.waistPath);
  const last = bent.mapAt(totalMm);
  const along = (atMm: number) => bent.mapAt(walked.forward ? atMm : totalMm - atMm);
  const maps = partMaps(bent, cutMm, totalMm);
  const hem = spreadHem(walked.hemPath, hemPlaces, maps);
  const changes = new Map<string, Change>(
    walked.swinging.map((edge) => [edge.id, { curve: transformPath(last, edge.curve), carry: fromStart }]),
  );
  const waistCurve = walked.forward ? bent.path : reversePath(bent.path);
  changes.set(walked.waist.id, { curve: waistCurve, carry: fromStart });
  changes.set(walked.hem.id, { curve: walked.forward ? reversePath(hem) : hem, carry: fromNearerEnd });
  const mapOf = (dart: Dart): Affine => {
    const edge = shape.ring.find(({ id }) => id === dart.edge)!;
    if (walked.swinging.includes(edge)) return last;
    const [a, b] = dart.legs.map((leg) => nearestOnPath(walked.waist.curve, leg).atMm) as [number, number];
    return edge === walked.waist ? along((a + b) / 2) : IDENTITY;
  };
  const darts = new Map(
    shape.darts.map((dart): [string, Dart] => {
      const map = mapOf(dart);
      const legs = [apply(map, dart.legs[0]), apply(map, dart.legs[1])] as const;
      return [dart.id, { ...dart, legs, apex: apply(map, dart.apex) }];
    }),
  );
  const { shape: next, carry } = reshape(shape, changes, darts);
  const moved = (point: Point) => apply(along(nearestOnPath(walked.waist.curve, point).atMm), point);
  return { carry, shape: { ...next, marks: shape.marks.map((mark) => movedMark(mark, moved)) } };
}

const IDENTITY: Affine = [1, 0, 0, 1, 0, 0];

/** One map for each part between the cuts, from the still side. */
function partMaps(bent: Bent, cutMm: readonly number[], totalMm: number): readonly Affine[] {
  const places = [0, ...cutMm, totalMm];
  return places.slice(1).map((place, i) => bent.mapAt((place + places[i]!) / 2));
}

/** The parts of the hem carried to their places, with a smooth bridge across every opening. */
function spreadHem(hemPath: CubicPath, hemPlaces: readonly number[], maps: readonly Affine[]): CubicPath {
  const totalMm = pathLengthMm(hemPath);
  const places = [0, ...hemPlaces, totalMm];
  const parts = maps.map((map, i): CubicPath => {
    const [from, to] = [places[i]!, places[i + 1]!];
    const bridgeMm = Math.min(BRIDGE_MM, BRIDGE_RATIO * (to - from));
    const start = i === 0 ? from : from + bridgeMm;
    const end = i === maps.length - 1 ? to : to - bridgeMm;
    return transformPath(map, subPath(hemPath, start, end));
  });
  const first = withEnd(parts[0]!, 'start', apply(maps[0]!, startOf(hemPath)));
  const joined = parts.slice(1).reduce((path, part) => joinPaths([path, bridge(path, part), part]), first);
  return withEnd(joined, 'end', apply(maps.at(-1)!, endOf(hemPath)));
}

function bridge(from: CubicPath, to: CubicPath): CubicPath {
  const [a, b] = [endOf(from), startOf(to)];
  const handleMm = distance(a, b) / 3;
  return [a, add(a, scale(endTangent(from), handleMm)), add(b, scale(tangentAt(to, 0), -handleMm)), b];
}

function movedMark(mark: OtherMark, moved: (point: Point) => Point): OtherMark {
  return 'at' in mark ? { ...mark, at: moved(mark.at) } : { ...mark, from: moved(mark.from), to: moved(mark.to) };
}
