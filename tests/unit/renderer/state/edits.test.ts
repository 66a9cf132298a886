import { describe, expect, it } from 'vitest';
import { addDart, addNotch, setGrainline, setNotch } from '../../../../renderer/state/edits/addMarks.ts';
import { markPoint, marksOf, moveMark } from '../../../../renderer/state/edits/marks.ts';
import { moveControl, moveCorner, pullEdge, redrawStretch } from '../../../../renderer/state/edits/outline.ts';
import {
  changeEdge,
  changeShape,
  removeMarkFrom,
  removePiece,
  setAllAllowances,
  setTracedLine,
} from '../../../../renderer/state/edits/pieces.ts';
import { joinWithNext, splitEdge } from '../../../../renderer/state/edits/splitJoin.ts';
import type { Point } from '../../../../shared/base/points.ts';
import { integrityProblems } from '../../../../shared/formats/set/integrity.ts';
import { pathLengthMm, pointAtLength } from '../../../../shared/geometry/arcLength.ts';
import { tangentAt } from '../../../../shared/geometry/cubicPath.ts';
import { nearestOnPath } from '../../../../shared/geometry/nearest.ts';
import { distance } from '../../../../shared/geometry/vector.ts';
import type { PatternSet, Shape } from '../../../../shared/pattern/model.ts';
import { seamEdge } from '../../../../shared/pattern/seamline.ts';
import { walkSeam } from '../../../../shared/pattern/walk.ts';
import { idealSet } from '../../../photos/marl/idealSet.ts';

const SET = idealSet('as traced');
const SIZE = 'M';
const shapeIn = (set: PatternSet, id: string): Shape => set.pieces.find((piece) => piece.id === id)!.shapes[SIZE]!;
const SLEEVE = shapeIn(SET, 'sleeve');
const BODICE = shapeIn(SET, 'front-bodice');
const curveOf = (shape: Shape, id: string) => shape.ring.find((edge) => edge.id === id)!.curve;
const notchPoint = (shape: Shape, id: string): Point => markPoint(shape, { kind: 'notch', id })!;

/** The widest gap between the end of an edge and the start of the next, millimetres. */
function gapMm(shape: Shape): number {
  return Math.max(
    ...shape.ring.map((edge, i) => distance(edge.curve.at(-1)!, shape.ring[(i + 1) % shape.ring.length]!.curve[0]!)),
  );
}
const GAP_BEFORE_MM = Math.max(gapMm(SLEEVE), gapMm(BODICE));

describe('the outline corrected by hand', () => {
  it('keeps the ring closed whatever mark is moved', () => {
    for (const shape of [SLEEVE, BODICE]) {
      for (const { ref, at } of marksOf(shape, shape.ring[0]!.id)) {
        const moved = moveMark(shape, ref, [at[0] + 3, at[1] - 2]);
        expect(gapMm(moved), JSON.stringify(ref)).toBeLessThanOrEqual(GAP_BEFORE_MM + 1e-9);
      }
    }
  });

  it('puts a moved corner where it was put and leaves the far ends of both edges alone', () => {
    const corner = SLEEVE.ring[0]!.curve.at(-1)!;
    const moved = moveCorner(SLEEVE, 0, [corner[0] + 5, corner[1] + 4]);
    expect(moved.ring[0]!.curve.at(-1)).toEqual([corner[0] + 5, corner[1] + 4]);
    expect(moved.ring[0]!.curve[0]).toEqual(SLEEVE.ring[0]!.curve[0]);
    expect(moved.ring[1]!.curve.at(-1)).toEqual(SLEEVE.ring[1]!.curve.at(-1));
  });

  it('keeps a straight edge straight when one of its corners moves', () => {
    const straight: Shape = { ...BODICE, ring: square(100), notches: [], darts: [], pleats: [] };
    const moved = moveCorner(straight, 0, [110, -7]);
    const [from, , , to] = moved.ring[0]!.curve;
    const middle = pointAtLength(moved.ring[0]!.curve, pathLengthMm(moved.ring[0]!.curve) / 2).point;
    expect(distance(middle, [(from![0] + to![0]) / 2, (from![1] + to![1]) / 2])).toBeLessThan(1e-9);
  });

  it('leaves a notch where it lies on the paper when a corner far from it moves', () => {
    const notch = SLEEVE.notches.find(({ edge }) => edge === 'cap')!;
    const place = SLEEVE.ring.findIndex(({ id }) => id === 'cap');
    const end = SLEEVE.ring[place]!.curve.at(-1)!;
    const moved = moveCorner(SLEEVE, place, [end[0] + 2, end[1]]);
    expect(distance(notchPoint(moved, notch.id), notchPoint(SLEEVE, notch.id))).toBeLessThan(1.5);
  });

  it('turns the other handle of a smooth point along', () => {
    const curve = curveOf(SLEEVE, 'cap');
    const handle = curve[2]!;
    const moved = moveControl(SLEEVE, 'cap', 2, [handle[0] + 4, handle[1] + 4]);
    const after = curveOf(moved, 'cap');
    const arriving = [after[3]![0] - after[2]![0], after[3]![1] - after[2]![1]] as const;
    const leaving = tangentAt(after, 1);
    const sine = (arriving[0] * leaving[1] - arriving[1] * leaving[0]) / Math.hypot(...arriving);
    expect(Math.abs(sine)).toBeLessThan(1e-9);
    expect(after[3]).toEqual(curve[3]);
  });

  it('pulls an edge through the place it is pulled to, and nothing beyond the reach', () => {
    const curve = curveOf(SLEEVE, 'cap');
    const lengthMm = pathLengthMm(curve);
    const { point } = pointAtLength(curve, lengthMm / 2);
    const pulled = curveOf(pullEdge(SLEEVE, 'cap', lengthMm / 2, [point[0], point[1] - 6], 50), 'cap');
    expect(nearestOnPath(pulled, [point[0], point[1] - 6]).distanceMm).toBeLessThan(0.1);
    for (const mm of [0, 40, lengthMm / 2 - 55, lengthMm / 2 + 55, lengthMm]) {
      expect(nearestOnPath(pulled, pointAtLength(curve, mm).point).distanceMm).toBeLessThan(1e-6);
    }
  });

  it('replaces a stretch by a drawn stroke, whichever way it was drawn', () => {
    const curve = curveOf(SLEEVE, 'hem');
    const lengthMm = pathLengthMm(curve);
    const stroke = Array.from({ length: 30 }, (_, i): Point => {
      const { point } = pointAtLength(curve, lengthMm * (0.3 + (0.4 * i) / 29));
      return [point[0], point[1] + 5 * Math.sin((Math.PI * i) / 29)];
    });
    for (const drawn of [stroke, stroke.toReversed()]) {
      const redrawn = redrawStretch(SLEEVE, 'hem', drawn)!;
      expect(nearestOnPath(curveOf(redrawn, 'hem'), stroke[15]!).distanceMm).toBeLessThan(0.7);
      expect(gapMm(redrawn)).toBeLessThanOrEqual(GAP_BEFORE_MM + 1e-9);
    }
  });

  it('does not take a slip of the hand for a stroke', () => {
    const { point } = pointAtLength(curveOf(SLEEVE, 'hem'), 50);
    expect(redrawStretch(SLEEVE, 'hem', [point, [point[0] + 1, point[1]]])).toBeNull();
  });
});

describe('marks put by hand', () => {
  it('puts a notch on the seamline where the cutting line was pressed', () => {
    const at = pointAtLength(curveOf(SLEEVE, 'underarm-front'), 40).point;
    const { shape, ref } = addNotch(SLEEVE, at);
    const seam = seamEdge(shape, 'underarm-front')!;
    expect(shape.notches).toHaveLength(SLEEVE.notches.length + 1);
    expect(nearestOnPath(seam.path, markPoint(shape, ref)!).distanceMm).toBeLessThan(1e-6);
  });

  it('gives every new mark an id of its own', () => {
    let shape = BODICE;
    for (let i = 0; i < 4; i++) shape = addNotch(shape, [0, 0]).shape;
    shape = addDart(shape, [0, 0], [50, 50]).shape;
    const ids = [...shape.notches, ...shape.darts].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('keeps a notch that is put at a number between the ends of its edge', () => {
    const { id, edge } = SLEEVE.notches[0]!;
    const { lengthMm } = seamEdge(SLEEVE, edge)!;
    const atOf = (mm: number) => setNotch(SLEEVE, id, { atMm: mm }).notches[0]!.atMm;
    expect(atOf(30)).toBe(30);
    expect(atOf(-5)).toBe(0);
    expect(atOf(1e6)).toBeCloseTo(lengthMm, 9);
  });

  it('keeps dart legs on the line and moves the point freely', () => {
    const dart = BODICE.darts[0]!;
    const leg = moveMark(BODICE, { kind: 'dart-leg', id: dart.id, leg: 0 }, [dart.legs[0][0] + 9, dart.legs[0][1] + 9]);
    expect(nearestOnPath(curveOf(leg, dart.edge), leg.darts[0]!.legs[0]).distanceMm).toBeLessThan(1e-9);
    expect(moveMark(BODICE, { kind: 'dart-apex', id: dart.id }, [1, 2]).darts[0]!.apex).toEqual([1, 2]);
  });

  it('moves the whole grainline without turning it', () => {
    const shape = setGrainline(BODICE, [0, 0], [0, 100]);
    const moved = moveMark(shape, { kind: 'grain', part: 'whole' }, [20, 60]);
    expect(moved.grainline).toMatchObject({ from: [20, 10], to: [20, 110] });
  });
});

describe('edges split and joined', () => {
  const seamLengths = (set: PatternSet) =>
    set.seams.map((seam) => {
      const walk = walkSeam(set, seam, SIZE, { assumedAllowanceSigmaMm: 0 });
      return walk.ok ? walk.value.compared.map(({ valueMm }) => valueMm) : null;
    });

  it('keep every seam as long as it was, and the set sound', () => {
    const split = splitEdge(SET, 'front-bodice', 'armhole', 0.4);
    expect(shapeIn(split, 'front-bodice').ring).toHaveLength(BODICE.ring.length + 1);
    expect(integrityProblems(split)).toEqual([]);
    seamLengths(split).forEach((lengths, i) => {
      const [first, second] = seamLengths(SET)[i]!;
      expect(lengths![0]).toBeCloseTo(first!, 1);
      expect(lengths![1]).toBeCloseTo(second!, 1);
    });
  });

  it('are undone by one another', () => {
    const split = splitEdge(SET, 'front-bodice', 'armhole', 0.4);
    const joined = joinWithNext(split, 'front-bodice', 'armhole');
    const [was, is] = [curveOf(BODICE, 'armhole'), curveOf(shapeIn(joined, 'front-bodice'), 'armhole')];
    expect(pathLengthMm(is)).toBeCloseTo(pathLengthMm(was), 6);
    expect(joined.seams).toEqual(SET.seams);
    expect(integrityProblems(joined)).toEqual([]);
    const notch = BODICE.notches.find(({ edge }) => edge === 'armhole')!;
    expect(shapeIn(joined, 'front-bodice').notches.find(({ id }) => id === notch.id)!.atMm).toBeCloseTo(notch.atMm, 1);
  });

  it('leave a seam that named one of two joined edges on its own stretch', () => {
    const joined = joinWithNext(SET, 'front-bodice', 'armhole');
    expect(integrityProblems(joined)).toEqual([]);
    const spans = joined.seams.flatMap(({ sides }) => sides.flat()).filter(({ piece }) => piece === 'front-bodice');
    expect(spans.filter(({ edge, stretch }) => edge === 'armhole' && stretch !== null).length).toBeGreaterThan(0);
  });

  it('refuse a cut at the very end of an edge and a ring of fewer than two edges', () => {
    expect(splitEdge(SET, 'sleeve', 'cap', 0.001)).toBe(SET);
    let set = SET;
    for (let i = 0; i < 10; i++) {
      const first = shapeIn(set, 'sleeve').ring[0]!.id;
      set = joinWithNext(set, 'sleeve', first);
    }
    expect(shapeIn(set, 'sleeve').ring).toHaveLength(2);
    expect(integrityProblems(set)).toEqual([]);
  });
});

describe('pieces changed', () => {
  it('leave no name of a removed piece anywhere', () => {
    const without = removePiece(SET, 'sleeve');
    expect(integrityProblems(without)).toEqual([]);
    expect(JSON.stringify(without.seams)).not.toContain('"sleeve"');
  });

  it('leave no appointment with a removed notch', () => {
    const { id } = SLEEVE.notches[0]!;
    const mate = { kind: 'notch', piece: 'sleeve', notch: id } as const;
    const paired = changeShape(SET, 'front-bodice', SIZE, (shape) => ({
      ...shape,
      notches: shape.notches.map((notch) => ({ ...notch, mate })),
    }));
    expect(integrityProblems(paired)).toEqual([]);
    const without = removeMarkFrom(paired, 'sleeve', SIZE, { kind: 'notch', id });
    expect(shapeIn(without, 'sleeve').notches).toHaveLength(SLEEVE.notches.length - 1);
    expect(integrityProblems(without)).toEqual([]);
  });

  it('keep notches where they lie on the paper when another line is said to have been traced', () => {
    const turned = shapeIn(setTracedLine(SET, 'sleeve', SIZE, 'cutting'), 'sleeve');
    const back = setTracedLine(setTracedLine(SET, 'sleeve', SIZE, 'cutting'), 'sleeve', SIZE, SLEEVE.tracedLine);
    for (const { id, atMm } of SLEEVE.notches) {
      expect(distance(notchPoint(turned, id), notchPoint(SLEEVE, id))).toBeLessThan(16);
      expect(shapeIn(back, 'sleeve').notches.find((notch) => notch.id === id)!.atMm).toBeCloseTo(atMm, 0);
    }
  });

  it('say every allowance at once but leave folds without', () => {
    const set = setAllAllowances(SET, 'front-bodice', 10);
    for (const edge of shapeIn(set, 'front-bodice').ring) {
      expect(edge.allowanceMm).toBe(edge.role === 'fold' ? 0 : 10);
      if (edge.role !== 'fold') expect(edge.allowanceAssumed).toBe(false);
    }
  });

  it('never touch the set they were made from', () => {
    const before = JSON.stringify(SET);
    changeEdge(SET, 'sleeve', 'cap', { label: 'crown', allowanceMm: 12 });
    splitEdge(SET, 'sleeve', 'cap', 0.5);
    moveCorner(SLEEVE, 0, [0, 0]);
    expect(JSON.stringify(SET)).toBe(before);
  });
});

function square(sideMm: number): Shape['ring'] {
  const corners: Point[] = [
    [0, 0],
    [sideMm, 0],
    [sideMm, sideMm],
    [0, sideMm],
  ];
  return corners.map((from, i) => {
    const to = corners[(i + 1) % 4]!;
    const at = (ratio: number): Point => [from[0] + (to[0] - from[0]) * ratio, from[1] + (to[1] - from[1]) * ratio];
    return {
      id: `e${i}`,
      label: `e${i}`,
      role: 'seam',
      curve: [from, at(1 / 3), at(2 / 3), to],
      allowanceMm: 0,
      allowanceAssumed: false,
      sigmaMm: null,
    };
  });
}
