// Every remedy mends what it says, measured without the program, and touches nothing else.
import { describe, expect, it } from 'vitest';
import type { Params } from '../../../shared/alter/params.ts';
import { REMEDIES, remedyById } from '../../../shared/alter/remedies.ts';
import { applyRemedy } from '../../../shared/alter/remedy.ts';
import type { Point } from '../../../shared/base/points.ts';
import { runChecks } from '../../../shared/checks/engine.ts';
import type { PatternSet, Shape } from '../../../shared/pattern/model.ts';
import { alterSet, repeatStep } from '../../../shared/usecases/alterSet.ts';
import {
  apart,
  chords,
  cutTraced,
  edgeIn,
  end,
  headingDeg,
  lengthOf,
  seamTraced,
  shapeOf,
  start,
  twoSizes,
} from '../../support/alterSets.ts';
import { e, line, pieceOf, rectangle, seam, setOf } from '../../support/sets.ts';

const SET = seamTraced();

function mended(set: PatternSet, id: string, params: Params): PatternSet {
  const result = applyRemedy(set, remedyById(id)!, params);
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value;
}

/** The shape of one piece in size M replaced. */
function withShape(set: PatternSet, piece: string, change: (shape: Shape) => Shape): PatternSet {
  return {
    ...set,
    pieces: set.pieces.map((p) => (p.id === piece ? { ...p, shapes: { ...p.shapes, M: change(p.shapes.M!) } } : p)),
  };
}

/** Angle inside a corner from the control points beside it. */
function insideDeg(before: readonly Point[], after: readonly Point[]): number {
  const turn = headingDeg(after[0]!, after[1]!) - headingDeg(before.at(-2)!, before.at(-1)!);
  return 180 - (((turn + 540) % 360) - 180);
}

/** The demo's dress with its armholes opened and the cap left as it was. */
const OPENED = (() => {
  const opened = alterSet(SET, { what: 'armhole-depth', params: { byMm: 12.7 }, carry: false });
  if (!opened.ok) throw new Error(opened.error.sentence);
  return opened.value.set;
})();

/** Remedies of a change need a set that was changed. */
const setFor = (id: string) => (id === 'follow-seam' || id === 'take-back' ? OPENED : SET);

const CASES: Readonly<Record<string, Params>> = {
  'move-notch': { byMm: 4, piece: 'front-bodice', notch: 'armhole-1' },
  'notch-count': { count: 2, piece: 'front-bodice', notch: 'armhole-1' },
  'add-notch': { seam: 'sleeve-cap', piece: 'front-bodice', notch: 'armhole-1' },
  'spread-cap': { frontMm: 4, backMm: 5, seam: 'sleeve-cap' },
  'even-cap': { easeMm: 24, seam: 'sleeve-cap' },
  'follow-seam': { seam: 'sleeve-cap' },
  'take-back': { seam: 'sleeve-cap' },
  'true-corner': { insideDeg: 95, piece: 'front-bodice', edge: 'armhole', end: 'start' },
  'edge-length': { byMm: 6, piece: 'front-skirt', edge: 'waist' },
  'dart-legs': { piece: 'front-bodice', dart: 'd1' },
  'dart-cap': { piece: 'front-bodice', dart: 'd1' },
  'square-fold': { piece: 'front-bodice' },
  'align-grain': { piece: 'back-bodice', turnDeg: 2 },
};

describe('every remedy', () => {
  it('has a case', () => {
    expect(Object.keys(CASES)).toEqual(REMEDIES.map(({ id }) => id));
  });

  it.each(REMEDIES)('$id leaves the old set as it was, stands in the history and can be repeated', ({ id }) => {
    const set = setFor(id);
    const copy = structuredClone(set);
    const now = mended(set, id, CASES[id]!);
    expect(set).toEqual(copy);
    const step = now.history.at(-1)!;
    expect(step).toMatchObject({ what: `remedy:${id}`, params: CASES[id]! });
    expect(step.sentence).toMatch(/^[A-Z].*\.$/);
    const again = repeatStep(set, step);
    expect(again).toEqual({ ok: true, value: now });
  });

  it.each(REMEDIES)('$id answers a piece or seam that is not there with a sentence', ({ id, params }) => {
    const wrong = Object.fromEntries(
      params
        .filter(({ unit, name }) => unit === 'name' && ['piece', 'seam'].includes(name))
        .map(({ name }) => [name, 'nowhere']),
    );
    const result = applyRemedy(setFor(id), remedyById(id)!, { ...CASES[id]!, ...wrong });
    expect(result.ok).toBe(false);
    if (!result.ok) expect(result.error.sentence).toMatch(/^[A-Z"].*\.$/);
  });
});

describe('notches', () => {
  it('moves one by the amount and no other', () => {
    const now = shapeOf(mended(SET, 'move-notch', CASES['move-notch']!), 'front-bodice');
    expect(now.notches[0]!.atMm).toBeCloseTo(136, 9);
    expect(now.ring).toBe(shapeOf(SET, 'front-bodice').ring);
    expect(applyRemedy(SET, remedyById('move-notch')!, { ...CASES['move-notch']!, byMm: 300 }).ok).toBe(false);
  });

  it('makes one double in every size, or in the one named', () => {
    const all = mended(twoSizes(), 'notch-count', CASES['notch-count']!);
    const one = mended(twoSizes(), 'notch-count', { ...CASES['notch-count']!, size: 'L' });
    const counts = (set: PatternSet) => ['M', 'L'].map((size) => shapeOf(set, 'front-bodice', size).notches[0]!.count);
    expect(counts(all)).toEqual([2, 2]);
    expect(counts(one)).toEqual([1, 2]);
  });

  it('adds the partner as far from the common end, with as many snips, on the edge walked backward too', () => {
    const set = setOf(
      [
        pieceOf('front', 'front skirt', {
          M: rectangle({ right: [e('side', 300, { notches: [{ at: 80, count: 2 }] })] }),
        }),
        pieceOf('back', 'back skirt', { M: rectangle({ left: [e('side', 304)] }) }),
      ],
      [seam('side', 'front.side', '-back.side')],
    );
    const alone = (s: PatternSet) =>
      runChecks(s).findings.filter(({ rule, verdict }) => rule === 'notch-alone' && verdict === 'fault').length;
    expect(alone(set)).toBe(1);
    const now = mended(set, 'add-notch', { seam: 'side', piece: 'front', notch: 'side-n1' });
    expect(alone(now)).toBe(0);
    expect(shapeOf(now, 'back').notches).toEqual([
      {
        id: 'side-side-n1',
        edge: 'side',
        atMm: expect.closeTo(304 - 80, 6),
        count: 2,
        purpose: 'match',
        mate: { kind: 'notch', piece: 'front', notch: 'side-n1' },
      },
    ]);
  });
});

describe('spread-cap', () => {
  const half = (set: PatternSet) => {
    const { curve } = edgeIn(set, 'sleeve', 'cap');
    const top = shapeOf(set, 'sleeve').notches.filter((notch) => notch.edge === 'cap')[1]!;
    return { back: top.atMm, front: chords(curve) - top.atMm };
  };

  it.each([
    [4, 5],
    [9, 0],
    [-6, -3],
    [3, -3],
  ])('makes the front %d and the back %d longer, the low notches where they were', (frontMm, backMm) => {
    const now = mended(SET, 'spread-cap', { frontMm, backMm, seam: 'sleeve-cap' });
    expect(half(now).front - half(SET).front).toBeCloseTo(frontMm, 2);
    expect(half(now).back - half(SET).back).toBeCloseTo(backMm, 2);
    expect(lengthOf(now, 'sleeve', 'cap') - lengthOf(SET, 'sleeve', 'cap')).toBeCloseTo(frontMm + backMm, 2);
    expect(shapeOf(now, 'sleeve').notches[0]!.atMm).toBeCloseTo(90, 2);
    for (const edge of ['underarm-front', 'hem', 'underarm-back'])
      expect(edgeIn(now, 'sleeve', edge)).toBe(edgeIn(SET, 'sleeve', edge));
  });

  it('puts the top mark where the top has gone', () => {
    const now = mended(SET, 'spread-cap', { frontMm: 5, backMm: 5, seam: 'sleeve-cap' });
    const { curve } = edgeIn(now, 'sleeve', 'cap');
    const highest = curve.filter((_, i) => i % 3 === 0).toSorted((a, b) => a[1] - b[1])[0]!;
    const before = curve.slice(0, curve.indexOf(highest) + 1);
    expect(chords(before)).toBeCloseTo(half(now).back, 1);
  });
});

describe('even-cap', () => {
  const ARMHOLES = ['front-bodice', 'back-bodice'] as const;
  const sections = (set: PatternSet) => {
    const { curve } = edgeIn(set, 'sleeve', 'cap');
    const at = shapeOf(set, 'sleeve')
      .notches.filter(({ edge }) => edge === 'cap')
      .map(({ atMm }) => atMm);
    return [...at, chords(curve)].map((mm, i) => mm - (at[i - 1] ?? 0));
  };

  it('gives the opened armhole its cap, none of the ease below the notches, more of it behind: by chords', () => {
    const now = mended(OPENED, 'even-cap', { easeMm: 28, seam: 'sleeve-cap' });
    const armhole = ARMHOLES.reduce((sum, piece) => sum + lengthOf(now, piece, 'armhole'), 0);
    expect(lengthOf(now, 'sleeve', 'cap') - armhole).toBeCloseTo(28, 2);
    // Both armholes carry one notch; the cap is drawn from back to front.
    const ease = (part: number, piece: string, below: 'below' | 'above') => {
      const notch = shapeOf(now, piece).notches.find(({ edge }) => edge === 'armhole')!;
      const parts = [notch.atMm, lengthOf(now, piece, 'armhole') - notch.atMm].toSorted((p, q) => p - q);
      return sections(now)[part]! - parts[below === 'below' ? 0 : 1]!;
    };
    expect(ease(0, 'back-bodice', 'below')).toBeCloseTo(0, 2);
    expect(ease(1, 'back-bodice', 'above')).toBeCloseTo((28 * 5) / 9, 2);
    expect(ease(2, 'front-bodice', 'above')).toBeCloseTo((28 * 4) / 9, 2);
    expect(ease(3, 'front-bodice', 'below')).toBeCloseTo(0, 2);
    const seams = ['underarm-front', 'underarm-back'].map((edge) => lengthOf(now, 'sleeve', edge));
    expect(seams[0]).toBeCloseTo(seams[1]!, 2);
  });
});

describe('a change that was left behind', () => {
  it('is followed: the cap grows by what the armholes gained, by chords', () => {
    const now = mended(OPENED, 'follow-seam', { seam: 'sleeve-cap' });
    const gain = (piece: string, edge: string) => lengthOf(now, piece, edge) - lengthOf(SET, piece, edge);
    expect(gain('sleeve', 'cap')).toBeCloseTo(gain('front-bodice', 'armhole') + gain('back-bodice', 'armhole'), 2);
    expect(gain('front-bodice', 'armhole')).toBeGreaterThan(9);
  });

  it('is taken back: every shape as it was, and nothing left behind', () => {
    const now = mended(OPENED, 'take-back', { seam: 'sleeve-cap' });
    expect(now.pieces.map(({ shapes }) => shapes)).toEqual(SET.pieces.map(({ shapes }) => shapes));
    expect(
      runChecks(now).findings.filter(({ rule, verdict }) => rule === 'left-behind' && verdict === 'fault'),
    ).toEqual([]);
  });

  it('says so where nothing was left behind', () => {
    expect(applyRemedy(SET, remedyById('follow-seam')!, { seam: 'sleeve-cap' })).toMatchObject({
      ok: false,
      error: { code: 'nothing-left' },
    });
  });
});

describe('corners', () => {
  it('trues a corner to the angle and leaves it where it lies', () => {
    const now = mended(SET, 'true-corner', CASES['true-corner']!);
    const at = insideDeg(edgeIn(now, 'front-bodice', 'shoulder').curve, edgeIn(now, 'front-bodice', 'armhole').curve);
    expect(at).toBeCloseTo(95, 0);
    expect(start(now, 'front-bodice', 'armhole')).toEqual(start(SET, 'front-bodice', 'armhole'));
    expect(end(now, 'front-bodice', 'armhole')).toEqual(end(SET, 'front-bodice', 'armhole'));
  });

  it('takes a dip out of the line across the shoulder, on seamlines and on cutting lines', () => {
    for (const set of [SET, cutTraced()]) {
      const dipped = mended(set, 'true-corner', { ...CASES['true-corner']!, insideDeg: 100 });
      const faults = (s: PatternSet) =>
        runChecks(s).findings.filter(({ rule, verdict }) => rule === 'corner-untrue' && verdict === 'fault').length;
      expect(faults(set)).toBe(0);
      expect(faults(dipped)).toBe(1);
      expect(faults(mended(dipped, 'true-corner', { ...CASES['true-corner']!, insideDeg: 90 }))).toBe(0);
    }
  });

  it('squares a bent fold: straight, with right angles at both ends', () => {
    const bent = withShape(SET, 'front-bodice', (shape) => ({
      ...shape,
      ring: shape.ring.map((edge) => {
        if (edge.role !== 'fold') return edge;
        const [a, b] = [edge.curve[0]!, edge.curve.at(-1)!];
        return { ...edge, curve: [a, [a[0] + 3, a[1] - 60], [b[0] + 3, b[1] + 60], b] };
      }),
    }));
    const now = mended(bent, 'square-fold', { piece: 'front-bodice' });
    const fold = edgeIn(now, 'front-bodice', 'centre-front').curve;
    expect(chords(fold)).toBeCloseTo(apart(fold[0]!, fold.at(-1)!), 6);
    expect(insideDeg(edgeIn(now, 'front-bodice', 'waist').curve, fold)).toBeCloseTo(90, 0);
    expect(insideDeg(fold, edgeIn(now, 'front-bodice', 'neck').curve)).toBeCloseTo(90, 0);
  });
});

describe('edge-length', () => {
  it.each([
    ['front-skirt', 'waist', 'free', 0],
    ['front-skirt', 'side', 'end', 0],
    ['back-bodice', 'waist', 'end', 0],
    ['front-neckband', 'outer', 'free', 0],
    ['front-bodice', 'armhole', 'point', 120],
  ])('brings %s %s to its length by moving its %s', (piece, edge, move, atMm) => {
    for (const byMm of [6, -4]) {
      const now = mended(SET, 'edge-length', { byMm, piece, edge, move, atMm });
      expect(lengthOf(now, piece, edge) - lengthOf(SET, piece, edge)).toBeCloseTo(byMm, 2);
    }
  });

  it('moves a point of a nearly straight edge out to make it longer, and says when it cannot be shorter', () => {
    const params = { piece: 'sleeve', edge: 'hem', move: 'point', atMm: 100 };
    const now = mended(SET, 'edge-length', { ...params, byMm: 6 });
    expect(lengthOf(now, 'sleeve', 'hem')).toBeCloseTo(342, 2);
    expect(applyRemedy(SET, remedyById('edge-length')!, { ...params, byMm: -4 }).ok).toBe(false);
  });

  it('moves the side end of a skirt waist and never the fold', () => {
    const now = mended(SET, 'edge-length', CASES['edge-length']!);
    expect(edgeIn(now, 'front-skirt', 'centre-front')).toBe(edgeIn(SET, 'front-skirt', 'centre-front'));
    expect(end(now, 'front-skirt', 'hem')).toEqual(end(SET, 'front-skirt', 'hem'));
  });

  it('moves the whole short end of a band, so that both its long edges grow', () => {
    const now = mended(SET, 'edge-length', { byMm: 8, piece: 'front-neckband', edge: 'outer' });
    const inner = lengthOf(now, 'front-neckband', 'inner') - lengthOf(SET, 'front-neckband', 'inner');
    expect(inner).toBeGreaterThan(4);
    expect(lengthOf(now, 'front-neckband', 'shoulder')).toBeCloseTo(42, 6);
  });

  it('says so when no such edge can be drawn', () => {
    const result = applyRemedy(SET, remedyById('edge-length')!, {
      byMm: -250,
      piece: 'front-bodice',
      edge: 'armhole',
      move: 'point',
      atMm: 100,
    });
    expect(result).toMatchObject({ ok: false, error: { code: 'no-room' } });
  });
});

describe('darts', () => {
  /** A straight edge of 400 with a dart of mouth `w` and depth `d` at its middle; the legs end where they are told. */
  function dartSet(w: number, d: number, secondLegMm: number): PatternSet {
    const shape = rectangle({
      top: [e('top', 400)],
      right: [e('side', 300)],
      bottom: [e('waist', 400)],
      left: [e('fold', 300)],
    });
    const apex: Point = [200, 300 - d];
    const second: Point = [200 - w / 2, 300];
    const leg = apart(apex, second);
    const longer: Point = [
      apex[0] + ((second[0] - apex[0]) * secondLegMm) / leg,
      apex[1] + ((second[1] - apex[1]) * secondLegMm) / leg,
    ];
    const first: Point = [200 + w / 2, 300];
    const waist = shape.ring.map((edge) =>
      edge.id === 'waist'
        ? {
            ...edge,
            curve: [...line([400, 300], first), ...line(first, longer).slice(1), ...line(longer, [0, 300]).slice(1)],
          }
        : edge,
    );
    const darts = [{ id: 'd', edge: 'waist', legs: [first, longer] as const, apex, foldTo: null }];
    return setOf([pieceOf('front', 'front bodice', { M: { ...shape, ring: waist, darts } })]);
  }

  it('brings both legs to their mean', () => {
    const leg = Math.hypot(15, 120);
    const now = shapeOf(mended(dartSet(30, 120, leg + 4), 'dart-legs', { piece: 'front', dart: 'd' }), 'front')
      .darts[0]!;
    expect(now.legs.map((p) => apart(p, now.apex))).toEqual([expect.closeTo(leg + 2, 3), expect.closeTo(leg + 2, 3)]);
  });

  it('draws the peak where the fold puts it: leg / cos(θ/2) from the point where the edge is square to the legs', () => {
    // The demo's front side runs square to the legs of its dart (132, mouth 26), so that the closed dart has no kink.
    const wanted = 132 / Math.cos(Math.atan(13 / 132));
    const flat = withShape(SET, 'front-bodice', (shape) => {
      const [a, b] = shape.darts[0]!.legs;
      const ring = shape.ring.map((edge) => {
        if (edge.id !== 'side') return edge;
        const [from, to] = [edge.curve[0]!, edge.curve.at(-1)!];
        return { ...edge, curve: [...line(from, a), ...line(a, b).slice(1), ...line(b, to).slice(1)] };
      });
      return { ...shape, ring };
    });
    for (const set of [flat, SET]) {
      const now = mended(set, 'dart-cap', { piece: 'front-bodice', dart: 'd1' });
      const { apex, legs } = shapeOf(now, 'front-bodice').darts[0]!;
      const joints = edgeIn(now, 'front-bodice', 'side').curve.filter((_, i) => i % 3 === 0);
      const between = joints.filter((p) => apart(p, legs[0]) < 20 && apart(p, legs[1]) < 20);
      expect(Math.max(...between.map((p) => apart(p, apex)))).toBeCloseTo(wanted, 2);
      expect(legs).toEqual(
        shapeOf(set, 'front-bodice').darts[0]!.legs.map(([x, y]) => [expect.closeTo(x, 6), expect.closeTo(y, 6)]),
      );
    }
  });

  it('leaves one line when the dart is closed', () => {
    const set = dartSet(30, 120, Math.hypot(15, 120));
    const now = mended(set, 'dart-cap', { piece: 'front', dart: 'd' });
    const { curve } = edgeIn(now, 'front', 'waist');
    const dart = shapeOf(now, 'front').darts[0]!;
    const at = (p: Point) => curve.findIndex((q) => apart(q, p) < 1e-6);
    const [i, j] = [at(dart.legs[0]), at(dart.legs[1])];
    const arriving = headingDeg(curve[i - 1]!, curve[i]!);
    const leaving = headingDeg(curve[j]!, curve[j + 1]!);
    const closing = headingDeg(dart.apex, dart.legs[0]) - headingDeg(dart.apex, dart.legs[1]);
    expect(((leaving + closing - arriving + 540) % 360) - 180).toBeCloseTo(0, 4);
  });
});

describe('align-grain', () => {
  it('lays the grainline parallel to the centre about its middle', () => {
    const tilted = mended(SET, 'align-grain', { piece: 'back-bodice', turnDeg: 3 });
    const grain = (set: PatternSet) => shapeOf(set, 'back-bodice').grainline!;
    expect(headingDeg(grain(tilted).from, grain(tilted).to)).toBeCloseTo(-87, 6);
    const now = mended(tilted, 'align-grain', { piece: 'back-bodice' });
    expect(headingDeg(grain(now).from, grain(now).to)).toBeCloseTo(-90, 6);
    expect(apart(grain(now).from, grain(SET).from)).toBeLessThan(1e-9);
  });

  it('asks for an angle where the piece has neither fold nor centre', () => {
    expect(applyRemedy(SET, remedyById('align-grain')!, { piece: 'sleeve' })).toMatchObject({ ok: false });
  });
});
