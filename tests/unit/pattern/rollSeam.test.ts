// The rolled seam against an independent path: cubics evaluated by their Bernstein sums, lengths as sums of many short
// chords, directions as differences, and for a wheel on a straight rail the exact answer.
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { apply } from '../../../shared/geometry/transform.ts';
import type { PatternSet, Piece } from '../../../shared/pattern/model.ts';
import { meetingAngleDeg, partingPlace, rollSeam } from '../../../shared/pattern/rollSeam.ts';
import { type SeamWalk, walkSeam } from '../../../shared/pattern/walk.ts';
import { straight, withCurve } from '../../support/polygonPiece.ts';
import { armholeSet, SOUND_ARMHOLE } from '../../support/scenarioSets.ts';
import { arcShape, e, piece, pieceOf, seam, setOf } from '../../support/sets.ts';

function walkOf(set: PatternSet, id: string): SeamWalk {
  const result = walkSeam(set, set.seams.find((s) => s.id === id)!, 'M', { assumedAllowanceSigmaMm: 0 });
  if (!result.ok) throw new Error(`seam ${id} cannot be walked`);
  return result.value;
}

const CHORDS = 20_000;

/** Many points along 3n+1 control points, and the length passed at each. */
function dense(curve: readonly Point[]): { readonly points: readonly Point[]; readonly passed: readonly number[] } {
  const points: Point[] = [curve[0]!];
  for (let i = 0; i + 3 < curve.length; i += 3) {
    const [p0, p1, p2, p3] = curve.slice(i, i + 4) as [Point, Point, Point, Point];
    for (let k = 1; k <= CHORDS; k++) {
      const u = k / CHORDS;
      const b = [(1 - u) ** 3, 3 * u * (1 - u) ** 2, 3 * u ** 2 * (1 - u), u ** 3] as const;
      const at = (axis: 0 | 1) => b[0] * p0[axis] + b[1] * p1[axis] + b[2] * p2[axis] + b[3] * p3[axis];
      points.push([at(0), at(1)]);
    }
  }
  const passed = [0];
  for (let i = 1; i < points.length; i++) {
    passed.push(passed[i - 1]! + Math.hypot(points[i]![0] - points[i - 1]![0], points[i]![1] - points[i - 1]![1]));
  }
  return { points, passed };
}

/** Point and direction (radians) at a length along the curve. */
function denseAt(curve: readonly Point[], mm: number): { readonly at: Point; readonly rad: number } {
  const { points, passed } = dense(curve);
  const i = Math.max(
    1,
    passed.findIndex((s) => s >= mm - 1e-9),
  );
  const ratio = (mm - passed[i - 1]!) / (passed[i]! - passed[i - 1]!);
  const [a, b] = [points[i - 1]!, points[i]!];
  return {
    at: [a[0] + ratio * (b[0] - a[0]), a[1] + ratio * (b[1] - a[1])],
    rad: Math.atan2(b[1] - a[1], b[0] - a[0]),
  };
}

const near = (a: Point, b: Point, mm = 1e-3) => expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(mm);

const HOLE: readonly Point[] = [
  [0, 0],
  [30, 60],
  [90, 90],
  [160, 95],
];
const CAP: readonly Point[] = [
  [160, 0],
  [120, -70],
  [60, -60],
  [0, 0],
];

/** Two curved edges: `hole` walked with its ring, `cap` against it. */
function curvedSet(): PatternSet {
  const bodice = withCurve(
    straight(
      'bodice',
      'front bodice',
      [
        [0, 0],
        [160, 95],
        [160, 400],
        [0, 400],
      ],
      [
        ['hole', 'seam'],
        ['side', 'seam'],
        ['hem', 'hem'],
        ['centre', 'opening'],
      ],
    ),
    'hole',
    HOLE,
  );
  const sleeve = withCurve(
    straight(
      'sleeve',
      'sleeve',
      [
        [160, 0],
        [0, 0],
        [0, -300],
        [160, -300],
      ],
      [
        ['cap', 'seam'],
        ['left', 'seam'],
        ['hem', 'hem'],
        ['right', 'seam'],
      ],
    ),
    'cap',
    CAP,
  );
  const seamOnly = (p: Piece): Piece => ({ ...p, shapes: { M: { ...p.shapes.M!, tracedLine: 'seam' } } });
  return setOf([seamOnly(bodice), seamOnly(sleeve)], [seam('set-in', 'bodice.hole', '-sleeve.cap')]);
}

describe('one side rolled along the other', () => {
  it('touches at equal lengths, points and directions together, by dense chords', () => {
    const walk = walkOf(curvedSet(), 'set-in');
    const capMm = dense(CAP).passed.at(-1)!;
    for (const mm of [0, 17.3, 60, 111.1, 150]) {
      const rolled = rollSeam(walk, mm, 'even');
      const a = denseAt(HOLE, mm);
      const b = denseAt(CAP, capMm - mm);
      const map = rolled.sides[1][0]!.firstFromPiece;
      near(rolled.touches[0].at, a.at);
      near(rolled.touches[1].at, b.at);
      near(apply(map, b.at), a.at);
      // Against its ring the cap runs the other way; a step along it must be a step along the hole.
      const ahead: Point = [b.at[0] - Math.cos(b.rad), b.at[1] - Math.sin(b.rad)];
      near(apply(map, ahead), [a.at[0] + Math.cos(a.rad), a.at[1] + Math.sin(a.rad)], 2e-3);
      expect(rolled.sides[1][0]!.turnedOver).toBe(false);
    }
  });

  it('keeps the shape of the rolled piece and lays it beside the other, not over it', () => {
    const walk = walkOf(curvedSet(), 'set-in');
    for (const mm of [10, 80, 140]) {
      const { sides, touches } = rollSeam(walk, mm, 'even');
      const map = sides[1][0]!.firstFromPiece;
      const [p, q] = [apply(map, [0, 0]), apply(map, [160, -300])];
      expect(Math.hypot(p[0] - q[0], p[1] - q[1])).toBeCloseTo(Math.hypot(160, 300), 9);
      const { rad } = denseAt(HOLE, mm);
      const away = (at: Point) =>
        Math.cos(rad) * (at[1] - touches[0].at[1]) - Math.sin(rad) * (at[0] - touches[0].at[0]);
      // The hems lie far from the seam, one on either side of it.
      expect(Math.sign(away([80, 400]))).toBe(-Math.sign(away(apply(map, [80, -300]))));
    }
  });

  it('carries a wheel along a rail: its centre goes straight on and it turns by length over radius', () => {
    const radius = 300;
    const rail = piece('rail', 'front bodice', { top: [e('edge', 240)] });
    const wheel = pieceOf('wheel', 'sleeve', {
      M: arcShape(
        { label: 'rim', mm: 240, turnRad: 240 / radius, bend: 'convex', allowance: 0 },
        { tracedLine: 'seam' },
      ),
    });
    const walk = walkOf(setOf([rail, wheel], [seam('s', 'rail.edge', '-wheel.rim')]), 's');
    const turns = [0, 60, 240].map((mm) => {
      const rolled = rollSeam(walk, mm, 'even');
      // The rail's top edge lies on y = 0 with its piece below; the wheel stands on it.
      near(apply(rolled.sides[1][0]!.firstFromPiece, [0, 0]), [mm, -radius], 1e-4);
      return rolled.turnDeg;
    });
    const turned = (k: number) => (((turns[k]! - turns[0]!) % 360) + 360) % 360;
    expect(turned(1)).toBeCloseTo((60 / radius) * (180 / Math.PI), 4);
    expect(turned(2)).toBeCloseTo((240 / radius) * (180 / Math.PI), 4);
  });

  it('turns over a piece that shows its other face', () => {
    const [a, b] = [1, 2].map((k) => piece(`p${k}`, 'front bodice', { top: [e('edge', 200)] })) as [Piece, Piece];
    const walk = walkOf(setOf([a, b], [seam('s', 'p1.edge', 'p2.edge')]), 's');
    const { sides } = rollSeam(walk, 50, 'even');
    expect(sides[1][0]!.turnedOver).toBe(true);
    near(apply(sides[1][0]!.firstFromPiece, [50, 0]), [50, 0]);
    near(apply(sides[1][0]!.firstFromPiece, [200, 30]), [200, -30]);
  });

  it('steps over a closed dart', () => {
    const a = piece('a', 'front bodice', { top: [e('waist', 224, { darts: [[100, 24]] })] });
    const b = piece('b', 'front skirt', { top: [e('waist', 200)] });
    const walk = walkOf(setOf([a, b], [seam('s', 'a.waist', '-b.waist')]), 's');
    expect(rollSeam(walk, 99, 'even').touches[0].edgeMm).toBeCloseTo(99, 6);
    expect(rollSeam(walk, 101, 'even').touches[0].edgeMm).toBeCloseTo(125, 6);
    expect(rollSeam(walk, 101, 'even').touches[1].edgeMm).toBeCloseTo(99, 6);
  });
});

describe('what has been passed', () => {
  // Armhole 80 + 132 and 132 + 90; cap 88 + 136 and 142 + 96: 8, 12, 22 and 28 more up to each pair.
  const walk = walkOf(
    armholeSet({ ...SOUND_ARMHOLE, capFront: [88, 136], capBack: [96, 142], front: [80, 132], back: [90, 132] }),
    'armhole',
  );

  it('is every notch and joint in order, with how far it misses', () => {
    const so = (mm: number) => rollSeam(walk, mm, 'even').passed.map(({ missMm }) => Math.round(missMm * 1e6) / 1e6);
    expect(so(79)).toEqual([0]);
    expect(so(80)).toEqual([0, 8]);
    expect(so(212)).toEqual([0, 8, 12]);
    expect(so(434)).toEqual([0, 8, 12, 22]);
    expect(rollSeam(walk, 434, 'eased').passed.map(({ missMm }) => missMm)).toEqual([0, 0, 0, 0]);
  });

  it('runs up to the difference of the seam, evenly from notch to notch', () => {
    const running = (mm: number) => rollSeam(walk, mm, 'even').runningMm;
    expect(running(0)).toBeCloseTo(0, 9);
    expect(running(40)).toBeCloseTo(4, 9);
    expect(running(80)).toBeCloseTo(8, 9);
    expect(running(146)).toBeCloseTo(10, 9);
    expect(running(434)).toBeCloseTo(28, 9);
    expect(running(1000)).toBeCloseTo(walk.difference.valueMm, 9);
  });

  it('meets every pair when the ease is spread, and is behind them when it is not', () => {
    expect(rollSeam(walk, 80, 'eased').atMm[1]).toBeCloseTo(88, 9);
    expect(rollSeam(walk, 80, 'even').atMm[1]).toBeCloseTo(80, 9);
    expect(rollSeam(walk, 434, 'eased').atMm[1]).toBeCloseTo(462, 9);
  });

  it('says where the two part', () => {
    expect(partingPlace(walk, 5)?.anchor.atMm[0]).toBeCloseTo(80, 9);
    expect(partingPlace(walk, 9)?.missMm).toBeCloseTo(12, 9);
    expect(partingPlace(walk, 30)).toBeNull();
  });

  it('chains the pieces of a side so that their seamlines run on', () => {
    const { sides } = rollSeam(walk, 0, 'even');
    const [, back] = sides[0];
    // The front armhole is the top edge of a rectangle from 0 to 212; the back's follows on the same line.
    near(apply(back!.firstFromPiece, [0, 0]), [212, 0]);
    near(apply(back!.firstFromPiece, [222, 0]), [434, 0]);
    near(apply(back!.firstFromPiece, [0, 50]), [212, 50]);
  });
});

describe('the angle across the end of a seam', () => {
  it('is the two inside angles together', () => {
    const lean = (id: string, deg: number) => {
      const out = 200 / Math.tan((deg * Math.PI) / 180);
      return straight(
        id,
        'front skirt',
        [
          [0, 0],
          [300, 0],
          [300 + out, 200],
          [0, 200],
        ],
        [
          ['waist', 'seam'],
          ['side', 'seam'],
          ['hem', 'hem'],
          ['centre', 'opening'],
        ],
      );
    };
    const pieces = [lean('a', 80), lean('b', 97)].map(
      (p): Piece => ({ ...p, shapes: { M: { ...p.shapes.M!, tracedLine: 'seam' } } }),
    );
    const walk = walkOf(setOf(pieces, [seam('s', 'a.side', 'b.side')]), 's');
    // Inside angles at the waist 100 and 83, at the hem 80 and 97, by the slope of the side.
    expect(meetingAngleDeg(walk, 'start')).toBeCloseTo(100 + 83, 6);
    expect(meetingAngleDeg(walk, 'end')).toBeCloseTo(80 + 97, 6);
  });

  it('is unknown where a side stops before its edge does', () => {
    const [a, b] = [1, 2].map((k) => piece(`p${k}`, 'front skirt', { top: [e('edge', 200)] })) as [Piece, Piece];
    const walk = walkOf(setOf([a, b], [seam('s', 'p1.edge@0-120', 'p2.edge')]), 's');
    expect(meetingAngleDeg(walk, 'start')).toBeCloseTo(180, 6);
    expect(meetingAngleDeg(walk, 'end')).toBeNull();
  });
});
