import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { polylinePath } from '../../../shared/geometry/cubicPath.ts';
import type { Shape } from '../../../shared/pattern/model.ts';
import { withRepair } from '../../../shared/pattern/repairs.ts';
import { unsureSpans, withoutUnsureEdge } from '../../../shared/pattern/unsureSpans.ts';
import { seededRandom } from '../../photos/random.ts';
import { tracedRing } from '../../support/polygonPiece.ts';

/** A square of 100 mm; doubt from 80 mm along its top round the corner to 30 mm down its right side. */
const CORNERS: readonly Point[] = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
];
const SQUARE: Shape = {
  ring: tracedRing(CORNERS),
  tracedLine: 'seam',
  notches: [],
  darts: [],
  pleats: [],
  grainline: null,
  marks: [],
  accuracy: { scaleSources: [], pointSigmaMm: 0.1 },
  unsure: [
    {
      reason: 'covered',
      points: [
        [80, 0],
        [90, 0.2],
        [99, 0],
        [100, 10],
        [100, 30],
      ],
    },
  ],
};

const spans = (shape: Shape) =>
  unsureSpans(shape).map(({ edge, fromMm, toMm, reason }) => [edge, Math.round(fromMm), Math.round(toMm), reason]);

describe('an unsure stretch', () => {
  it('is told edge by edge when it runs round a corner', () => {
    expect(spans(SQUARE)).toEqual([
      ['e1', 80, 99, 'covered'],
      ['e2', 10, 30, 'covered'],
    ]);
  });

  it('stays where it is when its edge is split, and names the new edge', () => {
    const split = withRepair(SQUARE, 'r1', { kind: 'edge-split', at: [50, 0] });
    if (!split.ok) throw new Error(split.error.sentence);
    expect(spans(split.value)).toEqual([
      ['e1-2', 30, 49, 'covered'],
      ['e2', 10, 30, 'covered'],
    ]);
  });

  it('is sure where a person drew the line anew', () => {
    const drawn = withRepair(SQUARE, 'r1', {
      kind: 'stretch-redrawn',
      curve: polylinePath([
        [70, 0],
        [85, 3],
        [100, 0],
      ]),
    });
    if (!drawn.ok) throw new Error(drawn.error.sentence);
    expect(spans(drawn.value)).toEqual([['e2', 10, 30, 'covered']]);
  });

  it('is none where the line no longer runs', () => {
    const moved = {
      ...SQUARE,
      unsure: [
        {
          reason: 'gap' as const,
          points: [
            [20, 4],
            [40, 4],
          ] as const,
        },
      ],
    };
    expect(unsureSpans(moved)).toEqual([]);
  });

  it('can be settled for an edge at a time; the last one leaves nothing behind', () => {
    const once = withoutUnsureEdge(SQUARE, 'e1');
    expect(spans(once)).toEqual([['e2', 10, 30, 'covered']]);
    expect(withoutUnsureEdge(once, 'e2').unsure).toBeUndefined();
  });

  it('leaves the sigma of its edges with the last doubt about them and their corners', () => {
    const doubtful: Shape = { ...SQUARE, ring: SQUARE.ring.map((edge) => ({ ...edge, sigmaMm: 1.5 })) };
    const sigmas = (shape: Shape) => shape.ring.map(({ sigmaMm }) => sigmaMm);
    // what of the stretch is left on e2 begins beside the corner that e1 ends in only where it is nearer than 9 mm
    const first = withoutUnsureEdge(doubtful, 'e1');
    const seenMm = Math.SQRT2 * 0.1;
    expect(sigmas(first)).toEqual([expect.closeTo(seenMm, 9), 1.5, 1.5, 1.5]);
    expect(sigmas(withoutUnsureEdge(first, 'e2'))).toEqual([
      expect.closeTo(seenMm, 9),
      expect.closeTo(seenMm, 9),
      1.5,
      1.5,
    ]);
    const other = withoutUnsureEdge(doubtful, 'e2');
    expect(sigmas(other)).toEqual([1.5, 1.5, 1.5, 1.5]);
  });

  it('leaves the sigma of an edge as the scatter of where its drawn corners meet', () => {
    const turnRad = (50 * Math.PI) / 180;
    const top: Point = [300 + 100 * Math.cos(turnRad), 100 * Math.sin(turnRad)];
    const ring = tracedRing([[0, 0], [300, 0], top, [0, 100]]).map((edge) => ({ ...edge, sigmaMm: 5 }));
    const unsure = [
      {
        reason: 'covered' as const,
        points: [
          [100, 0],
          [150, 0],
          [200, 0],
        ] as const,
      },
    ];
    const settled = withoutUnsureEdge({ ...SQUARE, ring, unsure }, 'e1');
    // against the formula: all three lines shifted across themselves at random, and the bottom measured between its corners
    const random = seededRandom(7);
    const lengths = Array.from({ length: 20_000 }, () => {
      const [bottom, left, right] = [0.1 * random.normal(), 0.1 * random.normal(), 0.1 * random.normal()];
      return 300 + right / Math.sin(turnRad) + bottom / Math.tan(turnRad) - left;
    });
    const spreadMm = Math.sqrt(lengths.reduce((sum, mm) => sum + (mm - 300) ** 2, 0) / lengths.length);
    expect(settled.ring[0]!.sigmaMm! / spreadMm).toBeCloseTo(1, 1);
  });
});
