// Parallel curves, darts, skirts and angles against closed forms and an independent polygon offsetter.
import { Bezier } from 'bezier-js';
import { EndType, inflatePathsD, JoinType } from 'clipper2-ts';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../shared/base/points.ts';
import { pathLengthMm, pointAtLength } from '../../shared/geometry/arcLength.ts';
import {
  type CubicPath,
  endOf,
  polylinePath,
  reversePath,
  startOf,
  transformPath,
} from '../../shared/geometry/cubicPath.ts';
import { flattenPath, flattenRing } from '../../shared/geometry/flatten.ts';
import { nearestOnPath } from '../../shared/geometry/nearest.ts';
import { offsetPath, offsetRing } from '../../shared/geometry/offset.ts';
import { signedAreaMm2 } from '../../shared/geometry/polygon.ts';
import { compose, rigid } from '../../shared/geometry/transform.ts';
import { distance, sub, turnDeg } from '../../shared/geometry/vector.ts';
import { arcPath, ellipsePath, polygonRing, squareRing } from '../support/curves.ts';

const FINE_MM = 1e-7;

describe('parallels with closed forms', () => {
  it.each([
    // Arc of radius 100 over 90°: length (100 + d) π/2, computed from the definition.
    { distanceMm: 0, lengthMm: 157.0796 },
    { distanceMm: 15, lengthMm: 180.6416 },
    { distanceMm: -15, lengthMm: 133.5177 },
  ])('an arc of radius 100 offset by $distanceMm', ({ distanceMm, lengthMm }) => {
    expect(pathLengthMm(offsetPath(arcPath(100, 90, 64), distanceMm, FINE_MM))).toBeCloseTo(lengthMm, 4);
  });

  it('an ellipse 100 x 60 grows by 2πd (Steiner 1840), as does its area by Ld + πd²', () => {
    const outer = offsetPath(ellipsePath(100, 60, 128), 15, FINE_MM);
    expect(pathLengthMm(outer)).toBeCloseTo(604.7877568757, 5);
    const area = signedAreaMm2(flattenPath(outer, 1e-6).slice(0, -1));
    expect(area).toBeCloseTo(Math.PI * 6000 + 510.539977268 * 15 + Math.PI * 225, 1);
  });

  it('an ellipse offset inward by less than its least radius 36 loses 2πd (Steiner 1840)', () => {
    expect(pathLengthMm(offsetPath(ellipsePath(100, 60, 128), -30, FINE_MM))).toBeCloseTo(
      510.539977268 - 2 * Math.PI * 30,
      5,
    );
  });

  it('a square 100 grown by 15 has mitred perimeter 520 and area 16900', () => {
    const ring = offsetRing(
      squareRing(100).map((path) => ({ path, distanceMm: 15 })),
      FINE_MM,
    );
    expect(sum(ring.map(pathLengthMm))).toBeCloseTo(520, 9); // 4 (100 + 2 · 15), from the definition
    expect(signedAreaMm2(flattenRing(ring, 0.01))).toBeCloseTo(16900, 6);
  });

  it('a square 100 grown by 15 with round corners has length 494.2478 and area 16706.858 (Steiner 1840)', () => {
    // The round-cornered parallel is the four sides and a full circle of radius 15.
    const sides = sum(squareRing(100).map((path) => pathLengthMm(offsetPath(path, 15, FINE_MM))));
    const corners = pathLengthMm(offsetPath(arcPath(5, 360, 256), 10, FINE_MM));
    expect(sides + corners).toBeCloseTo(494.2477796, 6);
    const cornerArea = signedAreaMm2(flattenPath(offsetPath(arcPath(5, 360, 256), 10, FINE_MM), 1e-6));
    expect(10000 + sides * 15 + cornerArea).toBeCloseTo(16706.858347, 2);
  });

  it('out and back again returns the curve', () => {
    const curve: CubicPath = [
      [0, 0],
      [0, 60],
      [40, 100],
      [100, 100],
    ];
    const back = offsetPath(offsetPath(curve, 10, FINE_MM), -10, FINE_MM);
    expect(Math.abs(pathLengthMm(back) - 159.2185390223)).toBeLessThan(1e-5);
    expect(distance(startOf(back), [0, 0])).toBeLessThan(1e-6);
    expect(distance(endOf(back), [100, 100])).toBeLessThan(1e-6);
  });

  it('cuts the loops of an ellipse 100 x 60 offset inward by 50, beyond its least radius b²/a = 36', () => {
    const ellipse = ellipsePath(100, 60, 128);
    const inner = offsetPath(halfFrom(ellipse, -Math.PI / 2), -50, 1e-5);
    for (let i = 0; i <= 20; i++) {
      const { point } = pointAtLength(inner, (pathLengthMm(inner) * i) / 20);
      expect(nearestOnPath(ellipse, point).distanceMm).toBeGreaterThan(50 - 1e-3);
    }
  });
});

describe('an independent polygon offsetter', () => {
  const PIECES: { what: string; ring: CubicPath[] }[] = [
    { what: 'a square', ring: squareRing(100) },
    {
      what: 'a reflex L',
      ring: polygonRing([
        [0, 0],
        [120, 0],
        [120, 50],
        [60, 50],
        [60, 140],
        [0, 140],
      ]),
    },
    {
      what: 'a bodice-like ring with a scooped armhole',
      ring: [
        polylinePath([
          [0, 0],
          [70, -10],
        ]),
        polylinePath([
          [70, -10],
          [190, 20],
        ]),
        [
          [190, 20],
          [150, 90],
          [160, 190],
          [240, 210],
        ],
        polylinePath([
          [240, 210],
          [220, 420],
        ]),
        polylinePath([
          [220, 420],
          [0, 420],
        ]),
        polylinePath([
          [0, 420],
          [0, 0],
        ]),
      ],
    },
  ];
  it.each(PIECES.flatMap((piece) => [-15, -6.35, 15].map((distanceMm) => ({ ...piece, distanceMm }))))(
    'agrees with clipper2 on the mitred area of $what by $distanceMm',
    ({ ring, distanceMm }) => {
      const own = signedAreaMm2(
        flattenRing(
          offsetRing(
            ring.map((path) => ({ path, distanceMm })),
            1e-5,
          ),
          1e-4,
        ),
      );
      const polygon = flattenRing(ring, 1e-4).map(([x, y]) => ({ x, y }));
      const other = inflatePathsD([polygon], distanceMm, JoinType.Miter, EndType.Polygon, 6, 5);
      const otherArea = sum(other.map((path) => signedAreaMm2(path.map(({ x, y }): Point => [x, y]))));
      expect(Math.abs(own / otherArea - 1)).toBeLessThan(5e-6);
    },
  );

  it('agrees with clipper2 on the area of an ellipse offset inward by 50 with its loops cut', () => {
    const ellipse = ellipsePath(100, 60, 128);
    const own = signedAreaMm2(flattenPath(offsetPath(ellipse, -50, 1e-5), 1e-5).slice(0, -1));
    const polygon = flattenPath(ellipse, 1e-4)
      .slice(0, -1)
      .map(([x, y]) => ({ x, y }));
    const other = inflatePathsD([polygon], -50, JoinType.Round, EndType.Polygon, 2, 6, 1e-4);
    const otherArea = sum(other.map((path) => signedAreaMm2(path.map(({ x, y }): Point => [x, y]))));
    expect(Math.abs(own / otherArea - 1)).toBeLessThan(1e-3);
  });

  it('agrees with bezier-js on the place of a parallel', () => {
    const curve: CubicPath = [
      [0, 0],
      [0, 60],
      [40, 100],
      [100, 100],
    ];
    const other = new Bezier(curve.map(([x, y]) => ({ x, y })));
    const own = offsetPath(curve, 12, 1e-6);
    for (const t of [0.1, 0.35, 0.5, 0.8]) {
      const { x, y } = other.get(t);
      const normal = other.normal(t);
      // bezier-js turns the tangent the other way round: its normal points to the right of travel with y down.
      expect(nearestOnPath(own, [x - 12 * normal.x, y - 12 * normal.y]).distanceMm).toBeLessThan(1e-5);
    }
  });
});

describe('parallels in other frames', () => {
  it.each([0.01, 0.1, 1, 10, 100].flatMap((factor) => [0, 45, 163].map((angle) => ({ factor, angle }))))(
    'scaled $factor and turned $angle, mirrored or not',
    ({ factor, angle }) => {
      const curve: CubicPath = [
        [0, 0],
        [0, 60],
        [40, 100],
        [100, 100],
      ];
      const lengthMm = pathLengthMm(offsetPath(curve, -15, 1e-8));
      for (const mirror of [1, -1]) {
        const map = compose(rigid(angle, [5, 700]), [factor * mirror, 0, 0, factor, 0, 0]);
        const offset = offsetPath(transformPath(map, curve), -15 * factor * mirror, 1e-8 * factor);
        expect(Math.abs(pathLengthMm(offset) / (lengthMm * factor) - 1)).toBeLessThan(1e-8);
      }
    },
  );
});

describe('darts, skirts and drift', () => {
  it.each([
    // Dart angle = 2 asin(intake / (2 leg)), computed from the definition.
    { intakeMm: 25.4, legMm: 254, angleDeg: 5.731968 },
    { intakeMm: 20, legMm: 100, angleDeg: 11.478341 },
    { intakeMm: 30, legMm: 120, angleDeg: 14.361512 },
  ])('a dart of intake $intakeMm on legs of $legMm opens $angleDeg degrees', ({ intakeMm, legMm, angleDeg }) => {
    const height = Math.sqrt(legMm ** 2 - (intakeMm / 2) ** 2);
    expect(turnDeg(sub([intakeMm / 2, height], [0, 0]), sub([-intakeMm / 2, height], [0, 0]))).toBeCloseTo(angleDeg, 6);
  });

  it.each([
    { legMm: 254, mouthMm: 66.3073 },
    { legMm: 180, mouthMm: 46.9894 },
  ])('a dart of 15 degrees is $mouthMm wide at a leg of $legMm', ({ legMm, mouthMm }) => {
    const tip = transformPath(rigid(15, [0, 0]), [[legMm, 0]])[0]!;
    expect(distance([legMm, 0], tip)).toBeCloseTo(mouthMm, 4); // 2 leg sin 7.5°, computed from the definition
  });

  it.each([
    // r = n W / (2π) for a waist of 700; the hem lies 600 further out. Computed from the definition.
    { part: 'full', sweepDeg: 360, radiusMm: 111.4085, hemMm: 4469.911 },
    { part: 'half', sweepDeg: 180, radiusMm: 222.8169, hemMm: 2584.956 },
    { part: 'quarter', sweepDeg: 90, radiusMm: 445.6338, hemMm: 1642.478 },
  ])('a $part circle skirt with a waist of 700 has its hem from the waist by a parallel', (skirt) => {
    const waist = arcPath(skirt.radiusMm, skirt.sweepDeg, 128);
    expect(pathLengthMm(waist)).toBeCloseTo(700, 3);
    expect(pathLengthMm(offsetPath(waist, 600, 1e-6))).toBeCloseTo(skirt.hemMm, 2);
  });

  it('grain that drifts 1/8 inch in 24 inches is 0.298413 degrees off', () => {
    expect(turnDeg([24, 0], [24, 0.125])).toBeCloseTo(0.298413, 6); // atan, computed from the definition
  });
});

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** The half of a closed clockwise ellipse that surrounds one sharp end. */
function halfFrom(ellipse: CubicPath, fromRad: number): CubicPath {
  const shift = Math.round((((fromRad + 2 * Math.PI) % (2 * Math.PI)) / (2 * Math.PI)) * ((ellipse.length - 1) / 3));
  const turned = [...ellipse.slice(3 * shift), ...ellipse.slice(1, 3 * shift + 1)];
  return reversePath(reversePath(turned.slice(0, (turned.length - 1) / 2 + 1)));
}
