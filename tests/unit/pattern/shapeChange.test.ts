// The lines that a preview shows: what was, what is, and where the two differ most.
import { describe, expect, it } from 'vitest';
import type { Shape } from '../../../shared/pattern/model.ts';
import { shapeChange } from '../../../shared/pattern/shapeChange.ts';
import { apart, seamTraced, shapeOf } from '../../support/alterSets.ts';

const piece = seamTraced().pieces.find(({ id }) => id === 'front-bodice')!;
const before = shapeOf(seamTraced(), 'front-bodice');

describe('the change of a shape', () => {
  it('is nothing where nothing changed', () => {
    const { was, is, places } = shapeChange(piece, before, structuredClone(before));
    expect([...was.cutting, ...was.seam, ...was.strokes, ...is.cutting, ...is.seam, ...is.strokes]).toEqual([]);
    expect(places).toEqual([]);
  });

  it('is the redrawn edge alone, and lies where the edge was bent most', () => {
    const [edge, ...rest] = before.ring;
    const curve = edge!.curve.map((p, i) => (i === 1 || i === 2 ? ([p[0] + 8, p[1] + 8] as const) : p));
    const after: Shape = { ...before, ring: [{ ...edge!, curve }, ...rest] };
    const { was, is, places } = shapeChange(piece, before, after);
    expect(was.seam.length + is.seam.length).toBeGreaterThanOrEqual(2);
    expect(was.seam.length).toBeLessThan(before.ring.length);
    expect(places).toHaveLength(1);
    // A cubic follows inner controls that both moved by d by at most 3/4 d.
    const awayMm = apart(places[0]!.was!, places[0]!.is!);
    expect(awayMm).toBeGreaterThan(0.3 * Math.hypot(8, 8));
    expect(awayMm).toBeLessThanOrEqual(0.75 * Math.hypot(8, 8) + 1e-9);
  });

  it('is each mark where the outline stays: moved, come or gone', () => {
    const [notch, ...others] = before.notches;
    const moved: Shape = { ...before, notches: [{ ...notch!, atMm: notch!.atMm + 5 }, ...others] };
    const change = shapeChange(piece, before, moved);
    expect(change.was.strokes).toHaveLength(notch!.count);
    expect(apart(change.places[0]!.was!, change.places[0]!.is!)).toBeCloseTo(5, 1);
    const gone = shapeChange(piece, before, { ...before, notches: others });
    expect(gone.places).toEqual([{ was: expect.anything(), is: null }]);
    const come = shapeChange(piece, { ...before, notches: others }, before);
    expect(come.places).toEqual([{ was: null, is: expect.anything() }]);
  });

  it('is a grainline that was turned', () => {
    const sleeve = shapeOf(seamTraced(), 'sleeve');
    const { from, to } = sleeve.grainline!;
    const turned: Shape = { ...sleeve, grainline: { ...sleeve.grainline!, to: [to[0] + 6, to[1]] } };
    const { was, is, places } = shapeChange(piece, sleeve, turned);
    expect(was.strokes).toEqual([[from, to]]);
    expect(is.strokes).toEqual([[from, [to[0] + 6, to[1]]]]);
    expect(places).toHaveLength(1);
  });
});
