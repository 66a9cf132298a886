// The handles of an alteration on the canvas: they lie on the piece as it is laid, a place of the pointer means the amount that
// brings the handle there, and the arrow keys push it where they point.
import { describe, expect, it } from 'vitest';
import { layPieces } from '../../../../renderer/canvas/layout.ts';
import { sceneOf } from '../../../../renderer/canvas/scene.ts';
import { startHistory } from '../../../../renderer/state/history.ts';
import { initialState, type WindowState } from '../../../../renderer/state/windowState.ts';
import { amountAt, handlesOf, headingDeg, lineOf, placeOf, stepsOf } from '../../../../renderer/tools/grasp/handles.ts';
import { ALTERATIONS } from '../../../../shared/alter/alterations.ts';
import { apply } from '../../../../shared/geometry/transform.ts';
import { apart, cutTraced, seamTraced, shapeOf } from '../../../support/alterSets.ts';
import { movedSet } from '../../../support/moveSet.ts';

// Every piece turned, as it may lie under a camera; the canvas stands it upright again.
const SET = movedSet(seamTraced(), 113, [40, 7]);
const LAY = layPieces(SET, 'M', null);
const open = { handle: 'd', savedAs: null, unsaved: false, pictures: [], history: startHistory(SET) };
const altering = (id: string, more: Partial<WindowState['altering']> = {}): WindowState => ({
  ...initialState,
  open,
  size: 'M',
  area: 'alter',
  altering: { ...initialState.altering, id, ...more },
});

describe('handles', () => {
  it('of every alteration go where the pointer takes them, within what the amount may be', () => {
    const given = { piece: 'front-bodice', dart: 'd1', toEdge: 'waist' };
    for (const { id } of ALTERATIONS) {
      const handles = handlesOf(altering(id, { given: id === 'rotate-dart' ? given : {} }), LAY);
      expect(handles.length).toBeGreaterThan(0);
      for (const handle of handles) {
        const there = placeOf({ ...handle, amountMm: handle.amountMm + 6 });
        expect(amountAt(handle, there, 0.5)).toBeCloseTo(Math.round((handle.amountMm + 6) / 0.5) * 0.5, 6);
        const far = placeOf({ ...handle, amountMm: 5000 });
        expect(amountAt(handle, far, 0.5)).toBe(handle.grasp.mostMm ?? handle.spec.max);
      }
    }
  });

  it('stand on their piece, and hang down where it hangs', () => {
    const [handle] = handlesOf(altering('armhole-depth', { pieces: ['front-bodice'] }), LAY);
    const side = shapeOf(SET, 'front-bodice').ring.find(({ id }) => id === 'side')!;
    const ends = [side.curve[0]!, side.curve.at(-1)!].map((p) => apply(handle!.canvasFromPiece, p));
    expect(Math.min(...ends.map((end) => apart(end, placeOf(handle!))))).toBeLessThan(1e-6);
    // y grows downward: 90 degrees is down.
    expect(Math.abs(headingDeg(handle!) - 90)).toBeLessThan(25);
    expect(['ArrowDown', 'ArrowUp', 'PageUp', 'PageDown', 'x'].map((key) => stepsOf(handle!, key))).toEqual([
      1, -1, 10, -10, 0,
    ]);
  });

  it('move with the amount that was said, by the field or by another handle', () => {
    const rest = handlesOf(altering('side-seam'), LAY);
    const moved = handlesOf(altering('side-seam', { given: { byMm: 10 } }), LAY);
    expect(rest).toHaveLength(4);
    // The lower amount is like the upper one until it is said.
    moved.forEach((handle, i) => {
      expect(apart(placeOf(handle), placeOf(rest[i]!))).toBeCloseTo(10, 6);
    });
    expect(moved.map(({ isSaid }) => isSaid)).toEqual([true, false, true, false]);
  });

  it('are in the size and on the pieces that were chosen, and in no other step', () => {
    const count = (state: WindowState) => handlesOf(state, LAY).length;
    expect(count(altering('armhole-depth'))).toBe(2);
    expect(count(altering('armhole-depth', { pieces: ['back-bodice'] }))).toBe(1);
    expect(count(altering('armhole-depth', { sizes: ['L'] }))).toBe(0);
    expect(count({ ...altering('armhole-depth'), area: 'seams' })).toBe(0);
  });

  it('hold the whole line where the piece is cut across, and the scene shows it', () => {
    const state = altering('skirt-length', { given: { byMm: 30 } });
    const [handle] = handlesOf(state, LAY);
    const [from, to] = lineOf(handle!)!;
    expect(apart([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], placeOf(handle!))).toBeLessThan(1e-6);
    const scene = sceneOf(state, LAY);
    expect(scene.heldLines).toHaveLength(2);
    expect(scene.pieces.filter(({ isFaint }) => !isFaint).map(({ piece }) => piece.id)).toEqual([
      'front-skirt',
      'back-skirt',
    ]);
  });
});

it('what would be left behind is marked on its edge, with what it lacks', () => {
  const set = cutTraced();
  const preview = { set, sentence: '', left: [{ seam: 'sleeve-cap', size: 'M', side: 1, missingMm: 8 }] } as const;
  const state = {
    ...altering('armhole-depth', { given: { byMm: 5 } }),
    open: { ...open, history: startHistory(set) },
    preview,
  };
  const scene = sceneOf(state, layPieces(set, 'M', null));
  expect(scene.highlights).toMatchObject([{ piece: 'sleeve', edge: 'cap', side: 1 }]);
  expect(scene.notes).toEqual([{ piece: 'sleeve', edge: 'cap', words: 'must follow: 8.0 mm longer' }]);
});
