import { describe, expect, it } from 'vitest';
import { type Point, type TablePointMm, tableMm } from '../../../../shared/base/points.ts';
import { resamplePolyline } from '../../../../shared/geometry/polygon.ts';
import { findExcursions } from '../../../../shared/vision/outline/findExcursions.ts';
import { fitEdges } from '../../../../shared/vision/stages/fitEdges.ts';
import { splitCorners } from '../../../../shared/vision/stages/splitCorners.ts';
import { circleRing, distanceToRing, seeded } from '../../../support/paperRaster.ts';

/** The ring as a measured outline: a point every 0.7 mm with the scatter of a good photo. */
function measured(ring: readonly Point[], scatterMm: number, seed = 5): TablePointMm[] {
  const random = seeded(seed);
  return resamplePolyline([...ring, ring[0]!], 0.7)
    .slice(0, -1)
    .map(([x, y]) => tableMm(x + scatterMm * 3.4 * (random() - 0.5), y + scatterMm * 3.4 * (random() - 0.5)));
}

const coarse = (ring: readonly Point[]) => {
  const polygon = measured(ring, 0.03);
  return { polygon, state: new Uint8Array(polygon.length) };
};

describe('splitCorners', () => {
  it.each([10, 0, 200])('finds a soft corner of 38 degrees, but no bend (outline moved by %i mm)', (shift) => {
    const ring: Point[] = [
      [shift, 0],
      [100 + shift, 0],
      [100 + 100 * Math.cos((38 * Math.PI) / 180) + shift, 100 * Math.sin((38 * Math.PI) / 180)],
      [60 + shift, 200],
    ];
    const corners = splitCorners(measured(ring, 0.06));
    expect(corners).toHaveLength(4);
    expect(corners.some((c) => Math.abs(c.turnDeg - 38) < 1.5 && Math.abs(c.at[0] - 100 - shift) < 0.5)).toBe(true);
  });

  it.each([
    {
      what: 'rounded by the scissors',
      tip: [
        [146, 0],
        [148, 0.6],
        [149.4, 2],
        [150, 4],
      ] as const,
    },
    {
      what: 'chamfered by 3 mm',
      tip: [
        [147, 0],
        [150, 3],
      ] as const,
    },
  ])('finds one corner where it is $what', ({ tip }) => {
    for (const slant of [0, 0.5]) {
      const ring: Point[] = [
        [0, 0],
        ...tip.map(([x, y]): Point => [x - slant * y, y]),
        [150 - slant * 120, 120],
        [0, 120],
      ];
      const near = splitCorners(measured(ring, 0.06)).filter((c) => Math.hypot(c.at[0] - 150, c.at[1]) < 12);
      expect(near).toHaveLength(1);
      expect(Math.hypot(near[0]!.at[0] - 150, near[0]!.at[1])).toBeLessThan(0.5);
    }
  });

  it.each([3, 4, 6])(
    'finds one rounded corner of 50 degrees, though much scatter feigns a turn beside it (%i mm)',
    (r) => {
      const arc = Array.from({ length: 41 }, (_, k): Point => {
        const angle = ((-90 + (50 * k) / 40) * Math.PI) / 180;
        return [150 - r * Math.tan((25 * Math.PI) / 180) + r * Math.cos(angle), r + r * Math.sin(angle)];
      });
      const end: Point = [150 + 120 * Math.cos((50 * Math.PI) / 180), 120 * Math.sin((50 * Math.PI) / 180)];
      const ring: Point[] = [[0, 0], ...arc, end, [end[0] - 130, end[1] + 120], [-20, 200]];
      for (const seed of [20, 37, 54, 71]) {
        const near = splitCorners(measured(ring, 0.09, seed)).filter((c) => Math.hypot(c.at[0] - 150, c.at[1]) < 25);
        expect(near).toHaveLength(1);
      }
    },
  );

  it('keeps both corners of a chamfer of 8 mm', () => {
    const ring: Point[] = [
      [0, 0],
      [144, 0],
      [150, 6],
      [150, 120],
      [0, 120],
    ];
    expect(splitCorners(measured(ring, 0.06))).toHaveLength(5);
  });

  it.each([25, 60, 200])('finds no corner on a circle of radius %i mm', (radius) => {
    expect(splitCorners(measured(circleRing(0, 0, radius), 0.06))).toEqual([]);
  });

  it('does not take a dent of a millimetre on a straight edge for a corner', () => {
    const ring: Point[] = [
      [0, 0],
      [70, 0],
      [73, 1],
      [76, 0],
      [150, 0],
      [150, 100],
      [0, 100],
    ];
    expect(splitCorners(measured(ring, 0.05))).toHaveLength(4);
  });
});

describe('findExcursions', () => {
  const square = (notch: readonly Point[]): Point[] => [[0, 0], ...notch, [150, 0], [150, 120], [0, 120]];
  it.each([
    {
      what: 'one triangle outward',
      notch: [
        [66.5, 0],
        [70, -5],
        [73.5, 0],
      ],
      shapes: ['triangle-out'],
      places: [70],
    },
    {
      what: 'one triangle inward',
      notch: [
        [67, 0],
        [70, 4],
        [73, 0],
      ],
      shapes: ['triangle-in'],
      places: [70],
    },
    {
      what: 'a snip',
      notch: [
        [69.6, 0],
        [70, 4],
        [70.4, 0],
      ],
      shapes: ['snip'],
      places: [70],
    },
    {
      what: 'two triangles eight millimetres apart',
      notch: [
        [62.5, 0],
        [66, -5],
        [69.5, 0],
        [70.5, 0],
        [74, -5],
        [77.5, 0],
      ],
      shapes: ['triangle-out', 'triangle-out'],
      places: [66, 74],
    },
  ] as const)('sees $what and runs straight on over it', ({ notch, shapes, places }) => {
    const found = findExcursions(coarse(square(notch)));
    const tips = found.excursions.flatMap((e) => e.tips);
    expect(tips.map((tip) => tip.shape)).toEqual(shapes);
    tips.forEach((tip, i) => {
      expect(Math.abs(tip.at[0] - places[i]!)).toBeLessThan(0.5);
      expect(Math.abs(tip.at[1])).toBeLessThan(0.3);
    });
    for (const p of found.coarse.polygon) expect(distanceToRing(square([]), p)).toBeLessThan(0.35);
    expect(splitCorners(found.coarse.polygon)).toHaveLength(4);
  });

  it('leaves corners alone, sharp ones too', () => {
    const kite: Point[] = [
      [0, 0],
      [120, -30],
      [160, 0],
      [120, 30],
    ];
    expect(findExcursions(coarse(kite)).excursions).toEqual([]);
    expect(findExcursions(coarse(square([]))).excursions).toEqual([]);
  });
});

describe('fitEdges', () => {
  const fitted = (ring: readonly Point[], scatterMm: number) => {
    const points = measured(ring, scatterMm);
    return fitEdges(points, splitCorners(points), { pointSigmaMm: scatterMm, planeSigmaMm: () => 0.3 });
  };

  it('measures a noisy straight edge without lengthening it, as one straight cubic', () => {
    const { edges, outline } = fitted(
      [
        [0, 0],
        [300, 0],
        [300, 80],
        [0, 80],
      ],
      0.08,
    );
    expect(edges.map((edge) => edge.curve.length)).toEqual([4, 4, 4, 4]);
    const lengths = edges.map((edge) => edge.lengthMm).sort((a, b) => a - b);
    expect(Math.abs(lengths[3]! - 300)).toBeLessThan(0.15);
    expect(Math.abs(lengths[0]! - 80)).toBeLessThan(0.15);
    for (const edge of edges) expect(edge.sigmaMm).toBeCloseTo(Math.hypot(0.3, edge.localSigmaMm), 10);
    for (const p of outline)
      expect(
        distanceToRing(
          [
            [0, 0],
            [300, 0],
            [300, 80],
            [0, 80],
          ],
          p,
        ),
      ).toBeLessThan(0.15);
  });

  it('follows a bend and gives its arc length, not that of the scattered points', () => {
    const arc = Array.from({ length: 181 }, (_, i): Point => {
      const t = Math.PI * (1 + i / 180);
      return [80 + 80 * Math.cos(t), 80 * Math.sin(t)];
    });
    const { edges } = fitted([...arc, [160, 60], [0, 60]], 0.06);
    const bent = edges.reduce((best, edge) => (edge.lengthMm > best.lengthMm ? edge : best));
    // the arc runs into the straight sides without a corner
    expect(Math.abs(bent.lengthMm - (Math.PI * 80 + 120))).toBeLessThan(0.4);
  });

  it('makes one closed edge of an outline without corners', () => {
    const { edges, outline } = fitted(circleRing(0, 0, 50), 0.06);
    expect(edges).toHaveLength(1);
    expect(Math.abs(edges[0]!.lengthMm - 2 * Math.PI * 50)).toBeLessThan(0.3);
    for (let i = 0; i < outline.length; i++) {
      const a = outline[i]!;
      const b = outline[(i + 1) % outline.length]!;
      const sagitta = 50 - Math.hypot((a[0] + b[0]) / 2, (a[1] + b[1]) / 2);
      expect(Math.abs(sagitta)).toBeLessThan(0.2);
    }
  });
});
