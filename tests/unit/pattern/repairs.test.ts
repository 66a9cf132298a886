import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { documentFromModel, modelFromDocument } from '../../../shared/formats/set/convert.ts';
import { setV1 } from '../../../shared/formats/set/v1.ts';
import { pathLengthMm } from '../../../shared/geometry/arcLength.ts';
import { polylinePath } from '../../../shared/geometry/cubicPath.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import { apply, rigid } from '../../../shared/geometry/transform.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import type { RepairDeed, Shape } from '../../../shared/pattern/model.ts';
import { alignShapes, rebaseRepairs } from '../../../shared/pattern/rebaseRepairs.ts';
import { freeRepairId, notchPlace, placeOfMark, withRepair } from '../../../shared/pattern/repairs.ts';
import { emptySet } from '../../../shared/usecases/setFromCapture.ts';

/** An uneven four-cornered piece, so that only one way round fits it. */
const CORNERS: readonly Point[] = [
  [0, 20],
  [260, 0],
  [230, 410],
  [15, 380],
];

function traced(corners: readonly Point[] = CORNERS): Shape {
  return {
    ring: corners.map((from, i) => ({
      id: `e${i + 1}`,
      label: `e${i + 1}`,
      role: 'seam',
      curve: polylinePath([from, corners[(i + 1) % corners.length]!]),
      allowanceMm: 10,
      allowanceAssumed: false,
      sigmaMm: 0.1,
    })),
    tracedLine: 'seam',
    notches: [{ id: 'n1', edge: 'e2', atMm: 150, count: 1, purpose: 'match', mate: { kind: 'unknown' } }],
    darts: [],
    pleats: [],
    grainline: { from: [120, 100], to: [120, 320], heads: 2 },
    marks: [{ kind: 'hole', id: 'm1', at: [100, 200] }],
    accuracy: { scaleSources: [], pointSigmaMm: 0.1 },
  };
}

function repaired(shape: Shape, ...deeds: readonly RepairDeed[]): Shape {
  return deeds.reduce((before, deed) => {
    const after = withRepair(before, freeRepairId(before), deed);
    if (!after.ok) throw new Error(after.error.sentence);
    return after.value;
  }, shape);
}

const cornersOf = (shape: Shape): Point[] => shape.ring.map((edge) => edge.curve[0]!);

describe('a correction by hand', () => {
  it('moves a corner with both of its edges and keeps notches where they were', () => {
    const before = traced();
    const notchBefore = notchPlace(before, before.notches[0]!);
    const after = repaired(before, { kind: 'corner-moved', from: [231, 409], to: [241, 405] });
    expect(distance(cornersOf(after)[2]!, [240, 406])).toBeLessThan(1e-9);
    expect(after.ring[1]!.curve.at(-1)).toEqual(after.ring[2]!.curve[0]);
    // The edge swung by 10 mm at its end: the notch follows it sideways, not along.
    expect(Math.abs(notchPlace(after, after.notches[0]!)[1] - notchBefore[1])).toBeLessThan(1);
  });

  it('splits an edge into two that together are as long, and the notch goes to its part', () => {
    const before = traced();
    const after = repaired(before, { kind: 'edge-split', at: notchAt(before, 100) });
    expect(after.ring.map((edge) => edge.id)).toEqual(['e1', 'e2', 'e2-2', 'e3', 'e4']);
    const lengths = after.ring.map((edge) => pathLengthMm(edge.curve));
    expect(lengths[1]! + lengths[2]!).toBeCloseTo(pathLengthMm(before.ring[1]!.curve), 6);
    expect(after.notches[0]).toMatchObject({ edge: 'e2-2' });
    expect(after.notches[0]!.atMm).toBeCloseTo(50, 6);
  });

  it('joins two edges over the corner between them', () => {
    const before = repaired(traced(), { kind: 'edge-split', at: notchAt(traced(), 100) });
    const after = repaired(before, { kind: 'edges-joined', at: notchAt(traced(), 101) });
    expect(after.ring.map((edge) => edge.id)).toEqual(['e1', 'e2', 'e3', 'e4']);
    expect(after.notches[0]).toMatchObject({ edge: 'e2' });
    expect(after.notches[0]!.atMm).toBeCloseTo(150, 6);
  });

  it('redraws a stretch of an edge and leaves the rest of it', () => {
    const before = traced();
    const [a, b] = [notchAt(before, 200), notchAt(before, 300)];
    const bulge: Point[] = [a, [a[0] + 12, a[1] + 30], [b[0] + 12, b[1] - 30], b];
    const after = repaired(before, { kind: 'stretch-redrawn', curve: bulge });
    expect(pathLengthMm(after.ring[1]!.curve)).toBeGreaterThan(pathLengthMm(before.ring[1]!.curve) + 1);
    expect(after.ring[1]!.curve[0]).toEqual(before.ring[1]!.curve[0]);
    expect(after.ring[1]!.curve.at(-1)).toEqual(before.ring[1]!.curve.at(-1));
  });

  it('adds and removes marks', () => {
    const before = traced();
    const after = repaired(
      before,
      { kind: 'mark-removed', mark: 'notch', at: notchAt(before, 151) },
      { kind: 'mark-removed', mark: 'hole', at: [102, 199] },
      { kind: 'mark-added', mark: { kind: 'notch', at: notchAt(before, 40), count: 2 } },
      { kind: 'mark-added', mark: { kind: 'button', at: [60, 60] } },
    );
    expect(after.notches).toMatchObject([{ edge: 'e2', count: 2 }]);
    expect(after.marks.map(placeOfMark)).toEqual([[60, 60]]);
  });

  it('moves a mark and leaves it the mark that it was', () => {
    const mate = { kind: 'notch', piece: 'back', notch: 'b' } as const;
    const before: Shape = { ...traced(), notches: [{ ...traced().notches[0]!, purpose: 'hem-turn', mate }] };
    const after = repaired(
      before,
      { kind: 'mark-moved', from: notchAt(before, 150), mark: { kind: 'notch', at: notchAt(before, 190), count: 2 } },
      { kind: 'mark-moved', from: [101, 199], mark: { kind: 'hole', at: [140, 250] } },
    );
    expect(after.notches).toEqual([
      { id: 'n1', edge: 'e2', atMm: expect.closeTo(190, 6), count: 2, purpose: 'hem-turn', mate },
    ]);
    expect(after.marks).toEqual([{ kind: 'hole', id: 'm1', at: [140, 250] }]);
  });

  it('moves a dart whole, its legs on the line, and adds it where the trace did not read it', () => {
    const dart = {
      kind: 'dart',
      legs: [
        [60, 14],
        [80, 13],
      ],
      apex: [70, 90],
    } as const;
    const shown = repaired(traced(), { kind: 'mark-added', mark: dart });
    const moved = { kind: 'mark-moved', from: [70, 90], mark: { ...dart, apex: [75, 120] } } as const;
    expect(repaired(shown, moved).darts).toMatchObject([{ id: 'd1', apex: [75, 120] }]);
    expect(repaired(traced(), moved).darts).toMatchObject([{ id: 'd1', apex: [75, 120] }]);
  });

  it('carries the legs of a dart with the line that they stand on', () => {
    const before = repaired(traced(), {
      kind: 'mark-added',
      mark: {
        kind: 'dart',
        legs: [
          [120, 10],
          [140, 9],
        ],
        apex: [130, 90],
      },
    });
    const after = repaired(before, { kind: 'corner-moved', from: [260, 0], to: [260, 20] });
    for (const leg of after.darts[0]!.legs) {
      expect(nearestOnPath(after.ring[0]!.curve, leg).distanceMm).toBeLessThan(1e-6);
    }
  });

  it('leaves no slivers when the same stretch is drawn again and again', () => {
    const before = traced();
    const [a, b] = [notchAt(before, 200), notchAt(before, 300)];
    const bulge = (mm: number): Point[] => [a, [a[0] + mm, a[1] + 30], [b[0] + mm, b[1] - 30], b];
    let shape = before;
    for (let mm = 1; mm <= 6; mm++) shape = repaired(shape, { kind: 'stretch-redrawn', curve: bulge(mm) });
    expect(shape.ring[1]!.curve).toHaveLength(10);
  });

  it('is refused where there is nothing to correct', () => {
    const result = withRepair(traced(), 'r1', { kind: 'corner-moved', from: [100, 200], to: [110, 200] });
    expect(result).toMatchObject({ ok: false, error: { code: 'repair-unfit' } });
  });
});

describe('a new trace of a corrected piece', () => {
  const deeds: readonly RepairDeed[] = [
    { kind: 'corner-moved', from: [230, 410], to: [238, 412] },
    { kind: 'mark-removed', mark: 'hole', at: [100, 200] },
    { kind: 'mark-added', mark: { kind: 'notch', at: [130, 10], count: 1 } },
  ];

  /** The same piece as another photo shows it: turned, elsewhere, a few tenths off, its edges numbered from another corner. */
  function tracedAgain(): Shape {
    const shape = traced(CORNERS.map(([x, y], i): Point => [x + 0.2 * (i % 2), y - 0.15 * (i % 3)]));
    const map = rigid(112, [500, 90]);
    const ring = [...shape.ring.slice(2), ...shape.ring.slice(0, 2)].map((edge, i) => ({
      ...edge,
      id: `e${i + 1}`,
      label: `e${i + 1}`,
      curve: edge.curve.map((point) => apply(map, point)),
    }));
    const marks = [{ kind: 'hole' as const, id: 'm1', at: apply(map, [100.4, 200.3]) }];
    return { ...shape, ring, notches: [], grainline: null, marks };
  }

  it('gets the corrections again at the nearest places', () => {
    const { shape, unfit } = rebaseRepairs(repaired(traced(), ...deeds), tracedAgain());
    expect(unfit).toEqual([]);
    const map = rigid(112, [500, 90]);
    // Corner 3 of the old trace is corner 1 of the new one.
    expect(distance(cornersOf(shape)[0]!, apply(map, [238, 412]))).toBeLessThan(1.5);
    expect(shape.marks).toEqual([]);
    expect(shape.notches).toHaveLength(1);
    expect(distance(notchPlace(shape, shape.notches[0]!), apply(map, [130, 10]))).toBeLessThan(1.5);
    expect(shape.repairs).toHaveLength(3);
  });

  it('keeps the corrections over any number of traces', () => {
    let shape = repaired(traced(), ...deeds);
    for (let round = 0; round < 3; round++) shape = rebaseRepairs(shape, tracedAgain()).shape;
    expect(distance(cornersOf(shape)[0]!, apply(rigid(112, [500, 90]), [238, 412]))).toBeLessThan(1.5);
    expect(shape.repairs!.every(({ setAside }) => !setAside)).toBe(true);
  });

  it('sets aside and reports what finds no place, and tries it again next time', () => {
    const split = repaired(traced(), { kind: 'edge-split', at: notchAt(traced(), 100) });
    const corner = notchAt(traced(), 100);
    const old = repaired(split, { kind: 'corner-moved', from: corner, to: [corner[0] + 5, corner[1]] });
    // Without the split there is no such corner.
    const withoutSplit: Shape = { ...old, repairs: old.repairs!.slice(1) };
    const first = rebaseRepairs(withoutSplit, tracedAgain());
    expect(first.unfit.map(({ id, setAside }) => ({ id, setAside }))).toEqual([{ id: 'r2', setAside: true }]);
    expect(first.shape.repairs).toHaveLength(1);
    expect(rebaseRepairs(first.shape, tracedAgain()).unfit).toHaveLength(1);
  });

  it('is another piece when its outline is another one', () => {
    const other = traced([
      [0, 0],
      [300, 0],
      [300, 200],
      [0, 200],
    ]);
    expect(alignShapes(traced(), other)).toBeNull();
    expect(rebaseRepairs(repaired(traced(), ...deeds), other).unfit).toHaveLength(3);
  });
});

it('corrections survive the set file', () => {
  const shape = repaired(
    traced(),
    { kind: 'corner-moved', from: [0, 20], to: [1, 21] },
    {
      kind: 'mark-added',
      mark: {
        kind: 'dart',
        legs: [
          [120, 9],
          [140, 8],
        ],
        apex: [130, 90],
      },
    },
  );
  const set = {
    ...emptySet('demo'),
    pieces: [
      {
        id: 'p1',
        name: 'p1',
        kind: 'other' as const,
        cut: [],
        grainIntent: 'straight' as const,
        nap: 'none' as const,
        shapes: { one: shape },
        origin: { source: 'photo' as const, detail: 'a.jpg' },
      },
    ],
  };
  const back = modelFromDocument(setV1.parse(JSON.parse(JSON.stringify(documentFromModel(set)))));
  expect(back.pieces[0]!.shapes.one!.repairs).toEqual(shape.repairs);
});

/** The place so far along the second edge. */
function notchAt(shape: Shape, atMm: number): Point {
  return notchPlace(shape, { ...shape.notches[0]!, edge: 'e2', atMm });
}
