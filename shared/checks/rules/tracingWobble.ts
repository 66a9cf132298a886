// A tracing wheel or a hasty hand leaves a line that wavers: it changes its bend far more often than any pattern curve does.
import type { Point } from '../../base/points.ts';
import type { CubicPath } from '../../geometry/cubicPath.ts';
import { segmentCount } from '../../geometry/cubicPath.ts';
import { flattenPath } from '../../geometry/flatten.ts';
import { resamplePolyline } from '../../geometry/polygon.ts';
import { sub, turnDeg } from '../../geometry/vector.ts';
import { WOBBLE } from '../../limits/pieceLimits.ts';
import { doubtOn } from '../../pattern/pointSigma.ts';
import type { ShapeInSize } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { EVERY_SHAPE } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';
import { edgeName, edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly changes: number;
  /** Half the height of the waves. */
  readonly waveMm: number;
  readonly sigmaMm: number;
}

export const tracingWobble = defineRule<ShapeInSize, Data>({
  id: 'tracing-wobble',
  title: 'A traced line wavers',
  why: 'A line that wavers is longer than the line that was meant, and each of its waves is sewn. Half a millimetre to and fro along an armhole adds up to several, which look like cap ease that is not there.',
  source: WOBBLE.source,
  messages: {
    clear: (d) => `${d.piece}: its edges are drawn without wavering.`,
    wavers: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edge)} changes its bend ${d.changes} times, in waves of ${say.uncertain(d.waveMm, d.sigmaMm)} to either side; ${say.length(WOBBLE.valueMm)} is allowed.`,
    tooCoarse: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edge)} seems to waver by ${say.uncertain(d.waveMm, d.sigmaMm)}, but that may be the photo. Measure the piece again, nearer and with more cards.`,
  },
  subjects: EVERY_SHAPE,
  judge: (subject) => judgeShape(subject),
});

function judgeShape({ piece, shape, size }: ShapeInSize): Outcome<Data>[] {
  const outcomes = shape.ring.flatMap((edge): Outcome<Data>[] => {
    // A few cubics cannot change their bend often enough: each has two changes at most.
    if (2 * segmentCount(edge.curve) <= WOBBLE.mostChanges) return [];
    const { changes, waveMm } = wavesOf(edge.curve);
    if (changes <= WOBBLE.mostChanges) return [];
    // Averaged over the waves, the error of a point shrinks as a mean does; a stretch that was not seen stays in doubt.
    const doubtMm = doubtOn(shape, edge.id, 0, Number.POSITIVE_INFINITY);
    const sigmaMm = Math.hypot(shape.accuracy.pointSigmaMm / Math.sqrt(changes), doubtMm);
    const rest = {
      data: { piece: piece.name, edge: edgeName(edge), changes, waveMm, sigmaMm },
      subjects: [{ piece: piece.id, edge: edge.id, size }],
      measured: { value: waveMm, sigma: sigmaMm, unit: 'mm' },
      limit: { value: WOBBLE.valueMm, unit: 'mm', source: WOBBLE.source },
    } as const;
    const decision = judgeInterval(waveMm, sigmaMm, 0, WOBBLE.valueMm);
    if (decision === 'fault') {
      return [
        {
          verdict: 'fault',
          gravity: 'look',
          key: 'wavers',
          ...rest,
          overlay: [{ kind: 'edge', piece: piece.id, edge: edge.id }],
          remedies: [
            { grade: 'choice', sentence: 'Draw this edge anew with a ruler or a curve, or photograph it again.' },
          ],
        },
      ];
    }
    return decision === 'unsure' && waveMm > WOBBLE.valueMm
      ? [{ verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest }]
      : [];
  });
  if (outcomes.length > 0) return outcomes;
  const data = { piece: piece.name, edge: '', changes: 0, waveMm: 0, sigmaMm: 0 };
  return [{ verdict: 'clear', key: 'clear', data, subjects: [{ piece: piece.id, size }] }];
}

/** Waves shorter than twice this are not seen; a hand's are 20 mm and more. */
const STEP_MM = 5;
const CHORD_MM = 0.05;

/**
 * How often the heading of a line turns back by more than the swing that counts, and the mean half height of the waves
 * between: a wave of half length L whose heading swings by s radians stands s L / 2π to either side.
 */
function wavesOf(path: CubicPath): { readonly changes: number; readonly waveMm: number } {
  const points = resamplePolyline(flattenPath(path, CHORD_MM), STEP_MM);
  const turns = reversals(headings(points));
  if (turns.length < 2) return { changes: turns.length, waveMm: 0 };
  const heights = turns.slice(1).map((turn, i) => {
    const swingRad = (Math.abs(turn.headingDeg - turns[i]!.headingDeg) * Math.PI) / 180;
    return (swingRad * (turn.index - turns[i]!.index) * STEP_MM) / (2 * Math.PI);
  });
  return { changes: turns.length, waveMm: heights.reduce((sum, h) => sum + h, 0) / heights.length };
}

/** Heading of each step against the first, unwrapped. */
function headings(points: readonly Point[]): number[] {
  const all: number[] = [0];
  let before = sub(points[1]!, points[0]!);
  for (let i = 2; i < points.length; i++) {
    const step = sub(points[i]!, points[i - 1]!);
    all.push(all[i - 2]! + turnDeg(before, step));
    before = step;
  }
  return all;
}

interface Reversal {
  readonly index: number;
  readonly headingDeg: number;
}

/** Extremes of the heading between swings of more than the least one, in order; the ends of the line do not count. */
function reversals(all: readonly number[]): Reversal[] {
  const found: Reversal[] = [];
  let extreme: Reversal = { index: 0, headingDeg: all[0]! };
  let way: 1 | -1 | 0 = 0;
  all.forEach((headingDeg, index) => {
    const gone = headingDeg - extreme.headingDeg;
    if (way === 0) {
      if (Math.abs(gone) < WOBBLE.swingDeg) return;
      way = gone > 0 ? 1 : -1;
      extreme = { index, headingDeg };
    } else if (way * gone >= 0) extreme = { index, headingDeg };
    else if (-way * gone >= WOBBLE.swingDeg) {
      found.push(extreme);
      way = way === 1 ? -1 : 1;
      extreme = { index, headingDeg };
    }
  });
  return found;
}
