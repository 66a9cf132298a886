// How surely single points and sewn lengths are known where a stretch of the line was not seen.
import { describe, expect, it } from 'vitest';
import { UNSURE_SIGMA_MM } from '../../../shared/base/unsure.ts';
import { polylinePath } from '../../../shared/geometry/cubicPath.ts';
import { flattenPath } from '../../../shared/geometry/flatten.ts';
import { distanceToSegment } from '../../../shared/geometry/polygon.ts';
import { cornersOf } from '../../../shared/pattern/corners.ts';
import { sewnLength } from '../../../shared/pattern/measure.ts';
import { pointSigmaAround, pointSigmaAt, pointSigmaOn } from '../../../shared/pattern/pointSigma.ts';
import { withoutUnsureEdge } from '../../../shared/pattern/unsureSpans.ts';
import { e, rectangle } from '../../support/sets.ts';
import { unseenOn } from '../../support/unseen.ts';

const POINT_MM = 0.1;
const SAID = { assumedAllowanceSigmaMm: 3 } as const;
/** 400 long, with something lying over it from 100 to 180. */
const WHERE = { piece: 'p', edge: 'side', fromMm: 100, toMm: 180, sigmaMm: 1.5 } as const;
const SEEN = rectangle({ right: [e('side', 400)] }, { pointSigma: POINT_MM, scaleSources: [] });
const SHAPE = unseenOn(SEEN, WHERE);

describe('a point of an edge', () => {
  it('is as sure as every point where the edge was seen, and less sure in the stretch that was not', () => {
    const covered = Math.hypot(POINT_MM, UNSURE_SIGMA_MM.covered);
    expect(pointSigmaOn(SHAPE, 'side', 200, 400)).toBe(POINT_MM);
    expect(pointSigmaOn(SHAPE, 'side', 0, 120)).toBeCloseTo(covered, 9);
    expect(pointSigmaOn(SHAPE, 'side', 120, 0)).toBeCloseTo(covered, 9);
    expect(pointSigmaAt(SHAPE, 'side', 185)).toBeCloseTo(covered, 9);
    expect(pointSigmaAt(SHAPE, 'side', 200)).toBe(POINT_MM);
    expect(pointSigmaAround(SHAPE)).toBeCloseTo(covered, 9);
    expect(pointSigmaAround(SEEN)).toBe(POINT_MM);
  });

  it('is as sure as every point again once somebody has settled the stretch', () => {
    const settled = withoutUnsureEdge(SHAPE, 'side');
    expect(pointSigmaOn(settled, 'side', 0, 400)).toBe(POINT_MM);
  });

  it('is less sure the more the line turns over what was not seen: a corner may hide there', () => {
    // what the formula claims, measured: a corner of 20 degrees and the smooth cubic between the same ends and directions
    const [half, turnDeg] = [40, 20];
    const lean = (turnDeg / 2) * (Math.PI / 180);
    const corner = [half * Math.cos(lean), half * Math.sin(lean)] as const;
    const end = [2 * corner[0], 0] as const;
    const handle = end[0] / 3;
    const smooth = flattenPath(
      [
        [0, 0],
        [handle * Math.cos(lean), handle * Math.sin(lean)],
        [end[0] - handle * Math.cos(lean), handle * Math.sin(lean)],
        end,
      ],
      0.001,
    );
    const apartMm = Math.min(...smooth.slice(1).map((p, i) => distanceToSegment(corner, smooth[i]!, p)));
    const bent = {
      ...SEEN,
      ring: SEEN.ring.map((edge) =>
        edge.id === 'side'
          ? {
              ...edge,
              curve: polylinePath([
                [0, 0],
                [100, 0],
                [100 + half * Math.cos(2 * lean), half * Math.sin(2 * lean)],
                [100 + 3 * half * Math.cos(2 * lean), 3 * half * Math.sin(2 * lean)],
              ]),
            }
          : edge,
      ),
    };
    const doubted = unseenOn(bent, { ...WHERE, fromMm: 100 - half, toMm: 100 + half });
    const expectedMm = Math.hypot(POINT_MM, apartMm / Math.sqrt(3));
    expect(expectedMm).toBeGreaterThan(1.5 * UNSURE_SIGMA_MM.covered);
    expect(pointSigmaOn(doubted, 'side', 0, 200) / expectedMm).toBeCloseTo(1, 1);
  });

  it('makes the angle of the corner beside it less sure', () => {
    const atCorner = unseenOn(SEEN, { ...WHERE, fromMm: 5, toMm: 60 });
    const sigmaOf = (shape: typeof SEEN) => cornersOf(shape).find(({ after }) => after.edge.id === 'side')!.sigmaDeg;
    expect(sigmaOf(atCorner)).toBeGreaterThan(5 * sigmaOf(SEEN));
    expect(sigmaOf(SHAPE)).toBe(sigmaOf(SEEN));
  });
});

describe('a sewn length over a stretch that was not seen', () => {
  const sigma = (shape: typeof SEEN, fromMm: number, toMm: number) =>
    sewnLength(shape, 'side', { fromMm, toMm }, SAID).sigmaMm;

  it('is no surer than the whole edge, be the stretch all inside or only partly', () => {
    expect(sigma(SHAPE, 50, 300)).toBeCloseTo(WHERE.sigmaMm, 9);
    expect(sigma(SHAPE, 50, 110)).toBeCloseTo(WHERE.sigmaMm, 9);
  });

  it('is that of two places beside it, and after somebody has settled it', () => {
    expect(sigma(SHAPE, 200, 300)).toBeCloseTo(Math.SQRT2 * POINT_MM, 9);
    expect(sigma(withoutUnsureEdge(SHAPE, 'side'), 50, 300)).toBeCloseTo(Math.SQRT2 * POINT_MM, 9);
  });
});
