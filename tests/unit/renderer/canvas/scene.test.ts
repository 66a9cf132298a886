// What the canvas is given to draw: a change before it is made, a seam while it is walked, a measure where it was taken.
import { describe, expect, it } from 'vitest';
import { layPieces } from '../../../../renderer/canvas/layout.ts';
import { boxOfGoTo, sceneOf } from '../../../../renderer/canvas/scene.ts';
import { startHistory } from '../../../../renderer/state/history.ts';
import { initialState, type WindowState } from '../../../../renderer/state/windowState.ts';
import { apply } from '../../../../shared/geometry/transform.ts';
import { changeSet } from '../../../../shared/usecases/alterSet.ts';
import { apart, seamTraced } from '../../../support/alterSets.ts';

const SET = seamTraced();
const LAY = layPieces(SET, 'M', null);
const open = { handle: 'd', savedAs: null, unsaved: false, pictures: [], history: startHistory(SET) };
const window = (more: Partial<WindowState>): WindowState => ({ ...initialState, open, size: 'M', ...more });

describe('the scene', () => {
  it('shows the pieces of a preview as they would be, with what changes, and leaves the others where they lie', () => {
    const request = { what: 'armhole-depth', params: { byMm: 12.7 }, carry: true };
    const changed = changeSet(SET, request);
    if (!changed.ok) throw new Error(changed.error.sentence);
    const state = window({ area: 'alter', preview: { set: changed.value.set, sentence: '' } });
    const scene = sceneOf(state, LAY);
    expect(scene.changes.map(({ piece }) => piece).toSorted()).toEqual(['back-bodice', 'front-bodice', 'sleeve']);
    const front = scene.pieces.find(({ piece }) => piece.id === 'front-bodice')!;
    expect(front.shape).toBe(changed.value.set.pieces.find(({ id }) => id === 'front-bodice')!.shapes.M);
    expect(front.canvasFromPiece).toBe(LAY.places.get('front-bodice')!.canvasFromPiece);
    expect(scene.pieces.find(({ piece }) => piece.id === 'back-skirt')!.isFaint).toBe(true);
    const near = boxOfGoTo({ ...state, goTo: { kind: 'preview' } }, scene)!;
    const all = boxOfGoTo({ ...state, goTo: { kind: 'all' } }, scene)!;
    expect(near[2] - near[0]).toBeLessThan(all[2] - all[0]);
  });

  it('rolls the second side of a walked seam along the first, which stays where it lies', () => {
    const cap = SET.seams.find(({ name }) => name === 'sleeve cap')!;
    const at = (alongMm: number) =>
      sceneOf(
        window({
          area: 'seams',
          selection: { ...initialState.selection, seam: cap.id },
          walking: { seam: cap.id, alongMm, rolling: 'even' },
        }),
        LAY,
      );
    const first = cap.sides[0][0]!.piece;
    const placeOf = (alongMm: number, piece: string) =>
      at(alongMm).pieces.find((one) => one.piece.id === piece)!.canvasFromPiece;
    expect(
      apart(apply(placeOf(0, first), [50, 90]), apply(LAY.places.get(first)!.canvasFromPiece, [50, 90])),
    ).toBeLessThan(1e-6);
    expect(placeOf(200, first)).toEqual(placeOf(0, first));
    expect(apart(apply(placeOf(200, 'sleeve'), [0, 0]), apply(placeOf(0, 'sleeve'), [0, 0]))).toBeGreaterThan(50);
    // Only what is walked lies on the canvas, and what lies behind is marked as passed on both sides.
    expect(at(200).pieces).toHaveLength(3);
    const passed = at(200).walk!.lines.filter(({ isPassed }) => isPassed);
    expect(passed.map(({ side }) => side)).toEqual([0, 1]);
  });

  it('shows where a measure was taken, in the step Fit alone', () => {
    const measured = {
      measure: 'bust',
      lines: [{ kind: 'segment' as const, piece: 'front-bodice', from: [0, 0] as const, to: [100, 0] as const }],
    };
    expect(sceneOf(window({ area: 'fit', measured }), LAY).overlays).toMatchObject([
      { kind: 'segment', label: 'bust' },
    ]);
    expect(sceneOf(window({ area: 'pieces', measured }), LAY).overlays).toEqual([]);
  });
});
