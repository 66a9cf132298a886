import { describe, expect, it } from 'vitest';
import { addDart, addNotch, removeMark, setGrainline, setNotch } from '../../../../renderer/state/edits/addMarks.ts';
import { markPoint, moveMark } from '../../../../renderer/state/edits/marks.ts';
import { moveControl, pullEdge, redrawStretch } from '../../../../renderer/state/edits/outline.ts';
import { joinWithNext, splitEdge } from '../../../../renderer/state/edits/splitJoin.ts';
import type { Point } from '../../../../shared/base/points.ts';
import { distance } from '../../../../shared/geometry/vector.ts';
import type { PatternSet, Shape } from '../../../../shared/pattern/model.ts';
import { rebaseRepairs } from '../../../../shared/pattern/rebaseRepairs.ts';
import { emptySet } from '../../../../shared/usecases/setFromCapture.ts';
import { tracedRing } from '../../../support/polygonPiece.ts';

/** An uneven four-cornered piece, so that only one way round fits it. */
const CORNERS: readonly Point[] = [
  [0, 20],
  [260, 0],
  [230, 410],
  [15, 380],
];
const TRACED: Shape = {
  ring: tracedRing(CORNERS),
  tracedLine: 'cutting',
  notches: [{ id: 'n1', edge: 'e2', atMm: 150, count: 1, purpose: 'match', mate: { kind: 'unknown' } }],
  darts: [],
  pleats: [],
  grainline: { from: [120, 100], to: [120, 320], heads: 2 },
  marks: [],
  accuracy: { scaleSources: [], pointSigmaMm: 0.1 },
};

/** Laying the corrected outline onto the trace leaves hundredths. */
const ALIGNED_MM = 0.05;

const inSet = (change: (set: PatternSet) => PatternSet): Shape => {
  const piece = {
    id: 'p',
    name: 'P',
    kind: 'other' as const,
    cut: [],
    grainIntent: 'straight' as const,
    nap: 'none' as const,
    shapes: { one: TRACED },
    origin: { source: 'photo' as const, detail: '' },
  };
  return change({ ...emptySet('s'), pieces: [piece] }).pieces[0]!.shapes.one!;
};

/** Every way to correct a piece in the window. */
const CORRECTIONS: readonly (readonly [string, Shape])[] = [
  ['a corner moved', moveMark(TRACED, { kind: 'corner', index: 1 }, [236, 421])],
  ['a handle moved', moveControl(TRACED, 'e2', 1, [258, 140])],
  ['an edge pulled', pullEdge(TRACED, 'e2', 200, [252, 200], 60)],
  [
    'a stretch drawn',
    redrawStretch(TRACED, 'e1', [
      [60, 15],
      [100, 20],
      [160, 8],
    ])!,
  ],
  ['a notch added', addNotch(TRACED, [130, 12]).shape],
  ['a notch moved', moveMark(TRACED, { kind: 'notch', id: 'n1' }, [236, 220])],
  ['a notch made double', setNotch(TRACED, 'n1', { count: 2 })],
  ['a notch removed', removeMark(TRACED, { kind: 'notch', id: 'n1' })],
  ['a dart added', addDart(TRACED, [130, 10], [128, 90]).shape],
  ['the grainline drawn', setGrainline(TRACED, [100, 90], [104, 300])],
  ['the grainline moved', moveMark(TRACED, { kind: 'grain', part: 'whole' }, [90, 200])],
  ['the grainline removed', removeMark(TRACED, { kind: 'grain', part: 'whole' })],
  ['an edge split', inSet((set) => splitEdge(set, 'p', 'e2', 0.4))],
  ['two edges joined', inSet((set) => joinWithNext(set, 'p', 'e1'))],
];

describe('a correction in the window is made again on the next trace', () => {
  for (const [what, corrected] of CORRECTIONS) {
    it(what, () => {
      expect(corrected.repairs).toHaveLength(1);
      const { shape, unfit } = rebaseRepairs(corrected, TRACED);
      expect(unfit).toEqual([]);
      expect(shape.ring.map(({ id }) => id)).toEqual(corrected.ring.map(({ id }) => id));
      shape.ring.forEach((edge, i) => {
        edge.curve.forEach((at, k) => {
          expect(distance(at, corrected.ring[i]!.curve[k]!)).toBeLessThan(ALIGNED_MM);
        });
      });
      const marks = ({ notches, darts, grainline }: Shape) => [
        notches.map(({ edge, atMm, count }) => [edge, Math.round(10 * atMm), count]),
        darts.length,
        grainline?.heads,
      ];
      expect(marks(shape)).toEqual(marks(corrected));
      if (shape.grainline !== null)
        expect(distance(shape.grainline.from, corrected.grainline!.from)).toBeLessThan(ALIGNED_MM);
    });
  }

  it('pushing one corner again and again is one correction, and so is a notch that was just put', () => {
    let shape: Shape = TRACED;
    for (let i = 0; i < 5; i++) {
      const [x, y] = markPoint(shape, { kind: 'corner', index: 0 })!;
      shape = moveMark(shape, { kind: 'corner', index: 0 }, [x + 0.5, y]);
    }
    expect(shape.repairs).toMatchObject([{ kind: 'corner-moved', from: [260, 0], to: [262.5, 0] }]);
    const put = addNotch(shape, [130, 12]);
    const moved = moveMark(put.shape, put.ref, [100, 14]);
    expect(moved.repairs!.map(({ kind }) => kind)).toEqual(['corner-moved', 'mark-added']);
  });
});
