// Pieces that hang together lie on the same grain: the panels of one skirt, the halves of one bodice, a facing and what it
// faces.
import type { Point } from '../../base/points.ts';
import { placeAtLength } from '../../geometry/arcLength.ts';
import { angleDeg, distance, sub } from '../../geometry/vector.ts';
import { FACING_GRAIN } from '../../limits/setLimits.ts';
import { isBodice, isSkirt, isTrouser } from '../../pattern/kinds.ts';
import type { Piece, PieceKind, Shape } from '../../pattern/model.ts';
import { pointSigmaAt } from '../../pattern/pointSigma.ts';
import { seamlineOf } from '../../pattern/seamline.ts';
import { openMm, type WalkedSide } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { seamSubjects, sideName } from '../seams/seamPlaces.ts';
import { walksThat } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';

interface Data {
  readonly seam: string;
  readonly first: string;
  readonly second: string;
  readonly intents: readonly [string, string];
  /** Between the grain of each side and its seam, 0 to 90. */
  readonly anglesDeg: readonly [number, number];
  readonly sigmaDeg: number;
  readonly limitDeg: number;
}

export const grainDisagrees = defineRule<SeamWalk, Data>({
  id: 'grain-disagrees',
  title: 'Two pieces that hang together lie on different grain',
  why: 'Cloth stretches and falls differently along, across and aslant of its threads. A panel on another grain than its neighbour hangs longer after a day, the seam between them puckers, and a facing cut across its garment fights it at every wash.',
  source: `Grain parallel to the centre on every panel (NIMI, CITS Dress Making TT, 2024, p. 17); ${FACING_GRAIN.source}`,
  messages: {
    clear: (d) => `${d.seam}: ${d.first} and ${d.second} lie on the same grain.`,
    intents: (d) =>
      `${d.seam}: ${d.first} is cut on the ${d.intents[0]} and ${d.second} on the ${d.intents[1]}; unless that is the design, they will hang apart.`,
    facing: (d, say) =>
      `${d.seam}: the grain of ${d.first} lies at ${say.angle(d.anglesDeg[0])} to the seam and that of ${d.second} at ${say.angle(d.anglesDeg[1])} (± ${say.angle(2 * d.sigmaDeg)}); a facing follows its garment within ${say.angle(d.limitDeg)}.`,
    tooCoarse: (d, say) =>
      `${d.seam}: the grain of ${d.first} and ${d.second} seems to differ by ${say.uncertainAngle(Math.abs(d.anglesDeg[1] - d.anglesDeg[0]), d.sigmaDeg)}, too coarse to judge ${say.angle(d.limitDeg)}. Draw the grainlines longer.`,
    noGrain: (d) => `${d.seam}: a grainline is missing on ${d.first} or ${d.second}.`,
  },
  subjects: walksThat((walk) => isPanels(walk) || walk.sorted.sort === 'facing'),
  judge: (walk, context) => [judgeGrain(walk, context)],
});

const GRAIN_WORDS = { straight: 'straight grain', cross: 'cross grain', bias: 'bias' } as const;

/** Two different pieces of one garment part: both of the skirt, of the trousers, of the bodice. A yoke is laid crosswise by choice. */
function isPanels({ sides, sorted }: SeamWalk): boolean {
  if (sorted.sort === 'mirror') return false;
  const [a, b] = [sides[0].spans, sides[1].spans].map((spans) => (spans.length === 1 ? spans[0]!.piece : null));
  if (a === undefined || b === undefined || a === null || b === null || a.id === b.id) return false;
  return FAMILIES.some((isFamily) => isFamily(a.kind) && isFamily(b.kind));
}

const FAMILIES: readonly ((kind: PieceKind) => boolean)[] = [
  isSkirt,
  isTrouser,
  (kind) => isBodice(kind) && kind !== 'yoke',
];

function judgeGrain(walk: SeamWalk, context: CheckContext): Outcome<Data> {
  const [first, second] = walk.sides;
  const pieces = [first.spans[0]!.piece, second.spans[0]!.piece] as const;
  const base: Data = {
    seam: walk.seam.name,
    first: sideName(first),
    second: sideName(second),
    intents: [GRAIN_WORDS[pieces[0].grainIntent], GRAIN_WORDS[pieces[1].grainIntent]],
    anglesDeg: [0, 0],
    sigmaDeg: 0,
    limitDeg: FACING_GRAIN.valueDeg,
  };
  const subjects = seamSubjects(walk);
  if (walk.sorted.sort === 'facing') return judgeFacing(walk, base, context);
  if (pieces[0].grainIntent === pieces[1].grainIntent) return { verdict: 'clear', key: 'clear', data: base, subjects };
  return {
    verdict: 'fault',
    gravity: 'look',
    key: 'intents',
    data: base,
    subjects,
    overlay: pieces.flatMap((piece) => grainOverlay(piece, piece.shapes[walk.size])),
    remedies: [{ grade: 'choice', sentence: `Cut both on the ${base.intents[0]}, or both on the ${base.intents[1]}.` }],
  };
}

function judgeFacing(walk: SeamWalk, base: Data, context: CheckContext): Outcome<Data> {
  const subjects = seamSubjects(walk);
  const [a, b] = [grainToSeam(walk.sides[0]), grainToSeam(walk.sides[1])];
  if (a === null || b === null) return { verdict: 'not-applicable', key: 'noGrain', data: base, subjects };
  const sigmaDeg = Math.hypot(a.sigmaDeg, b.sigmaDeg);
  const rest = {
    data: { ...base, anglesDeg: [a.deg, b.deg] as const, sigmaDeg },
    subjects,
    measured: { value: b.deg - a.deg, sigma: sigmaDeg, unit: 'deg' },
    limit: { value: FACING_GRAIN.valueDeg, unit: 'deg', source: FACING_GRAIN.source },
  } as const;
  const decision = judgeDifference(b.deg - a.deg, sigmaDeg, FACING_GRAIN.valueDeg);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  const facing = walk.sides[walk.sorted.fuller === 1 ? 0 : 1];
  return {
    verdict: 'fault',
    gravity: 'look',
    key: 'facing',
    ...rest,
    overlay: walk.sides.flatMap((side) => grainOverlay(side.spans[0]!.piece, side.spans[0]!.shape)),
    remedies: [
      {
        grade: 'choice',
        sentence: `Lay ${sideName(facing)} on its garment edge to edge and trace the grainline through; it turns by ${context.say.angle(Math.abs(b.deg - a.deg))}.`,
      },
    ],
  };
}

function grainOverlay(piece: Piece, shape: Shape | undefined) {
  const line = shape === undefined ? null : grainOf(shape);
  return line === null
    ? []
    : [{ kind: 'segment', piece: piece.id, from: line[0], to: line[1], label: 'grain' } as const];
}

/** The arrow, or the fold, which is the grain of a piece without one. */
function grainOf(shape: Shape): readonly [Point, Point] | null {
  if (shape.grainline !== null) return [shape.grainline.from, shape.grainline.to];
  const fold = seamlineOf(shape).edges.find(({ edge }) => edge.role === 'fold');
  return fold === undefined ? null : [fold.path[0]!, fold.path.at(-1)!];
}

interface GrainAngle {
  /** Between grain and the line between the ends of the first edge, 0 to 90: the same turned or turned over. */
  readonly deg: number;
  readonly sigmaDeg: number;
}

function grainToSeam(side: WalkedSide): GrainAngle | null {
  const walked = side.spans[0]!;
  const grain = grainOf(walked.shape);
  const ends = [0, walked.length.valueMm].map((mm) => openMm(walked, walked.startsAtMm + mm));
  const [from, to] = ends.map((mm) => placeAtLength(walked.seam.path, mm));
  if (grain === null || distance(from!, to!) === 0 || distance(...grain) === 0) return null;
  const turn = Math.abs(angleDeg(sub(grain[1], grain[0])) - angleDeg(sub(to!, from!))) % 180;
  const { shape, span } = walked;
  const endsMm = ends.map((mm) => pointSigmaAt(shape, span.edge, mm));
  const grainRad = (Math.SQRT2 * shape.accuracy.pointSigmaMm) / distance(...grain);
  const sigmaRad = Math.hypot(grainRad, Math.hypot(...endsMm) / distance(from!, to!));
  return { deg: Math.min(turn, 180 - turn), sigmaDeg: (sigmaRad * 180) / Math.PI };
}
