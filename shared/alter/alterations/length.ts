// Bodice, sleeve or skirt lengthened or shortened at a line square to the grain: the one that is drawn on the piece, or the
// usual place when none is drawn.
import type { Point } from '../../base/points.ts';
import { ok, type Result } from '../../base/result.ts';
import { pointAtLength } from '../../geometry/arcLength.ts';
import { pointAt } from '../../geometry/cubicPath.ts';
import { intersectLine } from '../../geometry/intersect.ts';
import { add, dot, leftNormal, lerp, scale, sub } from '../../geometry/vector.ts';
import { dartOnSeam } from '../../pattern/darts.ts';
import { isBodice, isSkirt } from '../../pattern/kinds.ts';
import type { PieceKind, Shape } from '../../pattern/model.ts';
import { seamEdge, seamlineOf } from '../../pattern/seamline.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { graspOn } from '../grasp.ts';
import { beside } from '../kernel/corners.ts';
import { edgesNamed, grainOf, type Place, placesIn } from '../kernel/find.ts';
import { type CutLine, drawnLine, spreadAcross } from '../kernel/spread.ts';
import type { ChangedShape } from '../record.ts';
import { changeWords } from '../words.ts';

interface Part {
  readonly id: string;
  readonly noun: string;
  readonly test: (kind: PieceKind) => boolean;
  /** The edge that hangs down the piece. */
  readonly hanging: (label: string) => boolean;
  /** Names of the edges at its upper end. */
  readonly upper: (label: string) => boolean;
  /** Where the line lies when none is drawn, as a share of the hanging edge below its lowest dart. */
  readonly lineRatio: number;
}

const PARTS: readonly Part[] = [
  {
    id: 'bodice-length',
    noun: 'bodice',
    test: isBodice,
    hanging: (label) => label === 'side',
    upper: (label) => label === 'armhole' || label === 'shoulder',
    lineRatio: 0.5,
  },
  {
    id: 'sleeve-length',
    noun: 'sleeve',
    test: (kind) => kind === 'sleeve' || kind === 'top sleeve' || kind === 'under sleeve',
    hanging: (label) => label.startsWith('underarm') || label === 'hindarm' || label === 'forearm',
    upper: (label) => label.startsWith('cap'),
    lineRatio: 0.5,
  },
  {
    id: 'skirt-length',
    noun: 'skirt',
    test: isSkirt,
    hanging: (label) => label === 'side',
    upper: (label) => label === 'waist',
    lineRatio: 0.6,
  },
];

export const lengths: readonly Alteration[] = PARTS.map((part) => ({
  id: part.id,
  title: `Lengthen or shorten the ${part.noun}`,
  sentence: `Opens or folds the ${part.noun} pieces along a line square to the grain; edges that cross it are redrawn.`,
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -150,
      max: 400,
      sentence: 'How much longer the pieces become; negative shortens them.',
    },
  ],
  describe: (values, set) => `The ${part.noun} made ${changeWords(set, values.amount('byMm'))}.`,
  redraw: (set, values, scope) => {
    const changes = placesIn(set, scope, part.test).flatMap((place) => {
      const changed = opened(place, part, values.amount('byMm'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0
      ? nothingToAlter(`${part.noun} with a named side and a fold, centre or grainline`)
      : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, part.test).flatMap((place) => {
      const line = lineOf(place, part);
      const across = line && acrossPiece(place.shape, line);
      if (!line || !across) return [];
      return [graspOn(place, { param: 'byMm', at: lerp(...across, 1 / 2), toward: line.toward, line: across })];
    }),
}));

/** The cut line from one side of the piece to the other; null where it misses the piece. */
function acrossPiece(shape: Shape, { through, toward }: CutLine): readonly [Point, Point] | null {
  const along = leftNormal(toward);
  const onLine = add(through, along);
  const met = seamlineOf(shape).edges.flatMap(({ path }) =>
    intersectLine(through, onLine, path).map((t) => pointAt(path, t)),
  );
  const ordered = met.toSorted((a, b) => dot(sub(a, b), along));
  const [first, last] = [ordered[0], ordered.at(-1)];
  return first === undefined || last === undefined || first === last ? null : [first, last];
}

function opened(place: Place, part: Part, byMm: number): Result<ChangedShape> | null {
  const line = lineOf(place, part);
  if (line === null) return null;
  const spread = spreadAcross(place.shape, line, byMm);
  return spread.ok ? ok({ piece: place.piece.id, size: place.size, ...spread.value }) : spread;
}

function lineOf(place: Place, part: Part): CutLine | null {
  const { shape, labels } = place;
  const edge = edgesNamed(place, part.hanging)[0];
  const grain = grainOf(place);
  const seam = edge && seamEdge(shape, edge.id);
  if (edge === undefined || grain === null || seam === undefined) return null;
  const startIsUpper = part.upper(labels.get(beside(shape, edge.id, 'start').id) ?? '');
  const at = (mm: number) => pointAtLength(seam.path, startIsUpper ? mm : seam.lengthMm - mm).point;
  const lowestMouthMm = shape.darts
    .filter((dart) => dart.edge === edge.id)
    .flatMap((dart) => dartOnSeam(shape, dart)?.atMm ?? [])
    .reduce((lowest, mm) => Math.max(lowest, startIsUpper ? mm : seam.lengthMm - mm), 0);
  const down = sub(at(seam.lengthMm), at(0));
  const toward = dot(grain, down) >= 0 ? grain : scale(grain, -1);
  const drawn = drawnLine(shape, toward);
  return drawn ?? { through: lerp(at(lowestMouthMm), at(seam.lengthMm), part.lineRatio), toward };
}
