import { describe, expect, it } from 'vitest';
import { boxUnder, layPieces, uprightTurnDeg } from '../../../../renderer/canvas/layout.ts';
import { fitBox, keepCorner, pixelAt, placeAt, zoomAt } from '../../../../renderer/canvas/viewport.ts';
import { moveMark } from '../../../../renderer/state/edits/marks.ts';
import { changeShape } from '../../../../renderer/state/edits/pieces.ts';
import { flattenPath } from '../../../../shared/geometry/flatten.ts';
import { apply, rigid } from '../../../../shared/geometry/transform.ts';
import { idealSet } from '../../../photos/marl/idealSet.ts';

const SET = idealSet('as traced');
const SIZE = { widthPx: 900, heightPx: 600 };

describe('the lay of pieces on the canvas', () => {
  it('covers no piece by another', () => {
    const { places } = layPieces(SET, 'M', null);
    const boxes = [...places].map(([id, place]) =>
      boxUnder(SET.pieces.find((piece) => piece.id === id)!.shapes.M!, place.canvasFromPiece),
    );
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1)) {
        expect(a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1]).toBe(true);
      }
    });
  });

  it('stays while a piece is corrected and changes when a piece goes', () => {
    const lay = layPieces(SET, 'M', null);
    const corrected = changeShape(SET, 'sleeve', 'M', (shape) =>
      moveMark(shape, { kind: 'corner', index: 0 }, [
        shape.ring[0]!.curve.at(-1)![0] + 8,
        shape.ring[0]!.curve.at(-1)![1],
      ]),
    );
    expect(layPieces(corrected, 'M', lay)).toBe(lay);
    expect(layPieces({ ...SET, pieces: SET.pieces.slice(1) }, 'M', lay)).not.toBe(lay);
  });

  it('stands a bodice with its waist below, however it lay on the table', () => {
    const shape = SET.pieces.find(({ id }) => id === 'front-bodice')!.shapes.M!;
    for (const turnDeg of [0, 47, 90, 180, 260]) {
      const lying = {
        ...shape,
        ring: shape.ring.map((edge) => ({ ...edge, curve: edge.curve.map((p) => apply(rigid(turnDeg, [5, 9]), p)) })),
      };
      const upright = rigid(uprightTurnDeg(lying), [0, 0]);
      const box = boxUnder(lying, upright);
      const waist = lying.ring.find(({ id }) => id === 'waist')!.curve;
      for (const point of flattenPath(waist, 1))
        expect(apply(upright, point)[1]).toBeGreaterThan((box[1] + box[3]) / 2);
    }
  });
});

describe('the view of the canvas', () => {
  it('shows all of a box with room around it', () => {
    const view = fitBox([100, 50, 500, 450], SIZE);
    expect(view.centre).toEqual([300, 250]);
    expect(400 * view.pxPerMm).toBeLessThan(600);
  });

  it('shows a box beside what covers the canvas at the left', () => {
    const view = fitBox([0, 0, 800, 100], SIZE, 200);
    expect(pixelAt(view, [0, 0], SIZE)[0]).toBeGreaterThan(200);
    expect(pixelAt(view, [800, 0], SIZE)[0]).toBeLessThan(900);
  });

  it('zooms about the place under the pointer', () => {
    const view = fitBox([0, 0, 400, 400], SIZE);
    const under = placeAt(view, [120, 80], SIZE);
    const nearer = zoomAt(view, under, 3);
    const still = placeAt(nearer, [120, 80], SIZE);
    expect(still[0]).toBeCloseTo(under[0], 9);
    expect(still[1]).toBeCloseTo(under[1], 9);
  });

  it('leaves everything where it is when the canvas grows or shrinks at its far sides', () => {
    const view = fitBox([0, 0, 400, 400], SIZE);
    const smaller = { widthPx: 700, heightPx: 576 };
    const place = placeAt(keepCorner(view, SIZE, smaller), [120, 80], smaller);
    expect(place[0]).toBeCloseTo(placeAt(view, [120, 80], SIZE)[0], 9);
    expect(place[1]).toBeCloseTo(placeAt(view, [120, 80], SIZE)[1], 9);
  });
});
