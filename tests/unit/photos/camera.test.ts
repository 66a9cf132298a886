// The simulated camera against hand calculation: every error here would be an error of all truths.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { type CameraSpec, DIAGONAL_35_MM, makeCamera, project, unproject } from '../../photos/camera.ts';
import { distortFactor, type Lens, undistortFactor } from '../../photos/lens.ts';

const NO_LENS: Lens = { model: 'polynomial', k1: 0, k2: 0 };
/** 4000 x 3000 has a diagonal of 5000, so the full-frame diagonal as focal length gives 5000 px. */
const OVERHEAD: CameraSpec = {
  widthPx: 4000,
  heightPx: 3000,
  focal35Mm: DIAGONAL_35_MM,
  lens: NO_LENS,
  principalOffsetPx: [0, 0],
  targetMm: [0, 0],
  distanceMm: 1000,
  tiltDeg: 0,
  azimuthDeg: 0,
  rollDeg: 0,
};

function expectPoint(actual: Point, expected: Point, digits = 6): void {
  expect(actual[0]).toBeCloseTo(expected[0], digits);
  expect(actual[1]).toBeCloseTo(expected[1], digits);
}

describe('the simulated camera', () => {
  it('scales by focal length over distance straight from above, pixel centres at integers', () => {
    const camera = makeCamera(OVERHEAD);
    expect(camera.focalPx).toBeCloseTo(5000, 9);
    expectPoint(project(camera, [100, 50], 0), [1999.5 + 500, 1499.5 + 250]);
  });

  it('sees a raised point where the table lies h tan(view angle) farther out', () => {
    const camera = makeCamera(OVERHEAD);
    // 400 mm off the axis at 998 mm below the lens: seen at 400 * 1000 / 998 on the table
    expectPoint(project(camera, [400, 0], 2), project(camera, [(400 * 1000) / 998, 0], 0));
  });

  it('looks up the table from below when it is tilted', () => {
    const camera = makeCamera({ ...OVERHEAD, tiltDeg: 45 });
    const side = 1000 / Math.SQRT2;
    expect(camera.position[1]).toBeCloseTo(side, 9);
    expect(camera.position[2]).toBeCloseTo(-side, 9);
    // (0, -100): 70.71 farther along the axis and 70.71 above it
    const step = 100 / Math.SQRT2;
    expectPoint(project(camera, [0, -100], 0), [1999.5, 1499.5 - (5000 * step) / (1000 + step)]);
  });

  it('turns the picture by the roll, clockwise camera, anticlockwise picture', () => {
    const camera = makeCamera({ ...OVERHEAD, rollDeg: 90 });
    expectPoint(project(camera, [100, 0], 0), [1999.5, 1499.5 - 500]);
  });

  it('moves the picture by the offset of the principal point', () => {
    const camera = makeCamera({ ...OVERHEAD, principalOffsetPx: [7, -3] });
    expectPoint(project(camera, [0, 0], 0), [1999.5 + 7, 1499.5 - 3]);
  });

  it('distorts by the radial polynomial and by the division model as their formulas say', () => {
    expect(distortFactor({ model: 'polynomial', k1: 0.1, k2: -0.2 }, 0.5)).toBeCloseTo(1 + 0.025 - 0.0125, 12);
    // r_d = 0.5, lambda = -0.1: r_u = 0.5 / (1 - 0.025)
    const division: Lens = { model: 'division', lambda: -0.1 };
    expect(undistortFactor(division, 0.5)).toBeCloseTo(1 / 0.975, 12);
    expect(distortFactor(division, 0.5 / 0.975)).toBeCloseTo(0.975, 12);
  });

  it('finds its way back from the photo to the table at any height, through either lens', () => {
    const lens: fc.Arbitrary<Lens> = fc.oneof(
      fc.record({
        model: fc.constant('polynomial' as const),
        k1: fc.double({ min: -0.08, max: 0.12, noNaN: true }),
        k2: fc.constant(-0.05),
      }),
      fc.record({ model: fc.constant('division' as const), lambda: fc.double({ min: -0.08, max: 0.08, noNaN: true }) }),
    );
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        lens,
        number(0, 35),
        number(-180, 180),
        number(-180, 180),
        number(-250, 250),
        number(-200, 200),
        number(0, 5),
        (l, tiltDeg, azimuthDeg, rollDeg, x, y, h) => {
          const camera = makeCamera({ ...OVERHEAD, focal35Mm: 26, lens: l, tiltDeg, azimuthDeg, rollDeg });
          expectPoint(unproject(camera, project(camera, [x, y], h), h), [x, y], 5);
        },
      ),
    );
  });
});
