// The geometry of each alteration, measured without the program: chords of densely walked curves, end points, closed forms.
import { Bezier } from 'bezier-js';
import { describe, expect, it } from 'vitest';
import { alter } from '../../../shared/alter/alteration.ts';
import { alterationById } from '../../../shared/alter/alterations.ts';
import type { Params } from '../../../shared/alter/params.ts';
import type { Point } from '../../../shared/base/points.ts';
import type { PatternSet, Shape } from '../../../shared/pattern/model.ts';
import { segmentsOf } from '../../photos/cubics.ts';
import {
  apart,
  chords,
  edgeIn,
  end,
  headingDeg,
  lengthOf,
  seamTraced,
  shapeOf,
  start,
} from '../../support/alterSets.ts';
import { pieceOf, rectangle, setOf } from '../../support/sets.ts';

const SET = seamTraced();

function changed(id: string, params: Params, set: PatternSet = SET): PatternSet {
  const result = alter(set, alterationById(id)!, params);
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value.set;
}

function grown(set: PatternSet, piece: string, edge: string): number {
  return lengthOf(set, piece, edge) - lengthOf(SET, piece, edge);
}

/** Length by another library. */
function byBezierJs(curve: readonly Point[]): number {
  return segmentsOf(curve).reduce(
    (sum, [a, b, c, d]) => sum + new Bezier([...a, ...b, ...c, ...d] as number[]).length(),
    0,
  );
}

describe('armhole-depth', () => {
  const opened = changed('armhole-depth', { byMm: 12.7 });

  it('takes exactly that much off both sides, the upper end only', () => {
    for (const piece of ['front-bodice', 'back-bodice']) expect(grown(opened, piece, 'side')).toBeCloseTo(-12.7, 2);
    expect(end(opened, 'front-bodice', 'side')).toEqual(end(SET, 'front-bodice', 'side'));
    expect(apart(start(opened, 'front-bodice', 'side'), start(SET, 'front-bodice', 'side'))).toBeCloseTo(12.7, 2);
  });

  it('keeps the direction of the armhole at shoulder and underarm', () => {
    const [was, is] = [edgeIn(SET, 'front-bodice', 'armhole').curve, edgeIn(opened, 'front-bodice', 'armhole').curve];
    expect(headingDeg(is[0]!, is[1]!)).toBeCloseTo(headingDeg(was[0]!, was[1]!), 6);
    expect(headingDeg(is.at(-2)!, is.at(-1)!)).toBeCloseTo(headingDeg(was.at(-2)!, was.at(-1)!), 6);
  });

  it('leaves no kink in the armhole', () => {
    const { curve } = edgeIn(opened, 'front-bodice', 'armhole');
    for (let i = 3; i + 1 < curve.length; i += 3)
      expect(headingDeg(curve[i - 1]!, curve[i]!)).toBeCloseTo(headingDeg(curve[i]!, curve[i + 1]!), 6);
  });

  it('keeps the notches at their distance from the shoulder', () => {
    expect(shapeOf(opened, 'front-bodice').notches[0]!.atMm).toBeCloseTo(132, 6);
    const back = shapeOf(opened, 'back-bodice').notches[0]!;
    expect(byBezierJs(edgeIn(opened, 'back-bodice', 'armhole').curve) - back.atMm).toBeCloseTo(132, 3);
  });

  it('leaves the bust dart where it was and refuses to cut into it', () => {
    expect(shapeOf(opened, 'front-bodice').darts).toEqual(shapeOf(SET, 'front-bodice').darts);
    const result = alter(SET, alterationById('armhole-depth')!, { byMm: 75 });
    expect(result).toMatchObject({ ok: false, error: { code: 'no-room' } });
  });
});

describe('biceps', () => {
  const wide = changed('biceps', { byMm: 24 });
  const across = (set: PatternSet) => apart(start(set, 'sleeve', 'cap'), end(set, 'sleeve', 'cap'));

  it('parts the underarm points by about that much and keeps the underarm seams', () => {
    expect(across(wide) - across(SET)).toBeCloseTo(24, 0);
    for (const edge of ['underarm-front', 'underarm-back']) expect(grown(wide, 'sleeve', edge)).toBeCloseTo(0, 2);
  });

  it('keeps the low notches at their distance from the underarm and the top one in its place', () => {
    const notches = (set: PatternSet) => shapeOf(set, 'sleeve').notches.filter((notch) => notch.edge === 'cap');
    const fromEnd = (set: PatternSet) => lengthOf(set, 'sleeve', 'cap') - notches(set)[2]!.atMm;
    expect(notches(wide)[0]!.atMm).toBeCloseTo(90, 6);
    expect(fromEnd(wide)).toBeCloseTo(fromEnd(SET), 2);
    expect(grown(wide, 'sleeve', 'cap')).toBeGreaterThan(10);
  });
});

describe('shoulders', () => {
  it('shoulder-point shortens both shoulders along their own line', () => {
    const moved = changed('shoulder-point', { byMm: 10 });
    for (const piece of ['front-bodice', 'back-bodice']) expect(grown(moved, piece, 'shoulder')).toBeCloseTo(-10, 2);
    expect(headingDeg(start(moved, 'front-bodice', 'shoulder'), end(moved, 'front-bodice', 'shoulder'))).toBeCloseTo(
      20,
      6,
    );
  });

  it('shoulder-slope turns the shoulder by arcsin(drop / length) and keeps its length', () => {
    const lower = changed('shoulder-slope', { byMm: 8 });
    expect(headingDeg(start(lower, 'front-bodice', 'shoulder'), end(lower, 'front-bodice', 'shoulder'))).toBeCloseTo(
      20 + (Math.asin(8 / 76) * 180) / Math.PI,
      4,
    );
    expect(grown(lower, 'front-bodice', 'shoulder')).toBeCloseTo(0, 3);
    expect(grown(lower, 'back-bodice', 'shoulder')).toBeCloseTo(0, 3);
  });

  it('shoulder-forward takes from the front what it gives to the back', () => {
    const forward = changed('shoulder-forward', { byMm: 8 });
    for (const edge of ['neck', 'armhole']) {
      expect(grown(forward, 'front-bodice', edge)).toBeCloseTo(-8, 2);
      expect(grown(forward, 'back-bodice', edge)).toBeCloseTo(8, 2);
    }
    const ease = (set: PatternSet) =>
      lengthOf(set, 'back-bodice', 'shoulder') - lengthOf(set, 'front-bodice', 'shoulder');
    expect(ease(forward)).toBeCloseTo(ease(SET), 2);
    const was = shapeOf(SET, 'front-bodice').notches[0]!.atMm;
    expect(shapeOf(forward, 'front-bodice').notches[0]!.atMm).toBeCloseTo(was - 8, 2);
  });
});

describe('neckline', () => {
  const low = changed('neckline', { byMm: 20, backMm: 5, shoulderMm: 6 });

  it('moves along centre and shoulder by the amounts', () => {
    expect(grown(low, 'front-bodice', 'centre-front')).toBeCloseTo(-20, 2);
    expect(grown(low, 'back-bodice', 'centre-back')).toBeCloseTo(-5, 2);
    expect(grown(low, 'front-bodice', 'shoulder')).toBeCloseTo(-6, 2);
    expect(grown(low, 'back-bodice', 'shoulder')).toBeCloseTo(-6, 2);
  });

  it('stays square at the centre front', () => {
    const { curve } = edgeIn(low, 'front-bodice', 'neck');
    const fold = edgeIn(low, 'front-bodice', 'centre-front').curve;
    const between = headingDeg(curve[0]!, curve[1]!) - headingDeg(fold.at(-2)!, fold.at(-1)!);
    expect(Math.abs(between)).toBeCloseTo(90, 6);
  });
});

describe('lengthen or shorten', () => {
  it('opens bodice, sleeve and skirt along the grain by the amount', () => {
    const bodice = changed('bodice-length', { byMm: 20 });
    expect(grown(bodice, 'front-bodice', 'centre-front')).toBeCloseTo(20, 6);
    expect(grown(bodice, 'back-bodice', 'centre-back')).toBeCloseTo(20, 6);
    expect(grown(bodice, 'front-bodice', 'waist')).toBeCloseTo(0, 6);
    const skirt = changed('skirt-length', { byMm: -60 });
    for (const piece of ['front-skirt', 'back-skirt']) expect(grown(skirt, piece, 'side')).toBeCloseTo(-60, 3);
    const sleeve = changed('sleeve-length', { byMm: 30 });
    const drop = (set: PatternSet) => start(set, 'sleeve', 'hem')[1];
    expect(drop(sleeve) - drop(SET)).toBeCloseTo(30, 6);
  });

  it('keeps the sides of front and back alike', () => {
    const bodice = changed('bodice-length', { byMm: 20 });
    expect(grown(bodice, 'front-bodice', 'side')).toBeCloseTo(grown(bodice, 'back-bodice', 'side'), 1);
  });

  it('opens at the line that is drawn on the piece', () => {
    const base = rectangle({
      left: [{ ...edge('fold'), role: 'fold', mm: 600 }],
      top: [named('waist', 200)],
      right: [named('side', 600)],
      bottom: [named('hem', 200)],
    });
    const shape: Shape = {
      ...base,
      notches: [{ id: 'n', edge: 'side', atMm: 150, count: 1, purpose: 'match', mate: { kind: 'unknown' } }],
      marks: [{ kind: 'lengthen-shorten', id: 'line', from: [0, 100], to: [200, 100] }],
    };
    const set = setOf([pieceOf('skirt', 'front skirt', { M: shape })]);
    const longer = changed('skirt-length', { byMm: 40 }, set);
    expect(shapeOf(longer, 'skirt').notches[0]!.atMm).toBeCloseTo(190, 6);
    expect(chords(edgeIn(longer, 'skirt', 'side').curve)).toBeCloseTo(640, 6);
  });

  it('carries the stretch of a seam that lies beyond the line', () => {
    const skirt = changed('skirt-length', { byMm: 40 });
    const stretch = (set: PatternSet, seam: string) => set.seams.find(({ id }) => id === seam)!.sides[0][0]!.stretch!;
    expect(stretch(skirt, 'pocket-front')).toEqual(stretch(SET, 'pocket-front'));
    expect(stretch(skirt, 'pocket-back').fromMm).toBeCloseTo(stretch(SET, 'pocket-back').fromMm + 40, 6);
  });
});

describe('side-seam', () => {
  it('moves each side out by the amount, square to it, and keeps its sewn length', () => {
    const out = changed('side-seam', { byMm: 6 });
    const [a, b] = [start(SET, 'back-bodice', 'side'), end(SET, 'back-bodice', 'side')];
    const along = [(b[0] - a[0]) / apart(a, b), (b[1] - a[1]) / apart(a, b)] as const;
    const moved = start(out, 'back-bodice', 'side');
    expect(Math.abs(along[0] * (moved[1] - a[1]) - along[1] * (moved[0] - a[0]))).toBeCloseTo(6, 6);
    expect(grown(out, 'back-bodice', 'side')).toBeCloseTo(0, 6);
    const mouth = (set: PatternSet) => apart(...shapeOf(set, 'front-bodice').darts[0]!.legs);
    expect(mouth(out)).toBeCloseTo(mouth(SET), 1);
    expect(shapeOf(out, 'front-bodice').darts[0]!.apex).toEqual(shapeOf(SET, 'front-bodice').darts[0]!.apex);
  });

  it('can taper to nothing at the waist', () => {
    const out = changed('side-seam', { byMm: 6, lowerMm: 0 });
    expect(grown(out, 'back-bodice', 'waist')).toBeCloseTo(0, 6);
    expect(apart(start(out, 'back-bodice', 'side'), start(SET, 'back-bodice', 'side'))).toBeCloseTo(0, 6);
  });
});

describe('bust', () => {
  const full = changed('bust', { byMm: 15 });
  const [was, is] = [shapeOf(SET, 'front-bodice').darts[0]!, shapeOf(full, 'front-bodice').darts[0]!];

  it('adds the width across the bust and lengthens the centre to keep the waist level', () => {
    expect(is.apex[0] - was.apex[0]).toBeCloseTo(15, 2);
    expect(grown(full, 'front-bodice', 'centre-front')).toBeCloseTo(is.apex[1] - was.apex[1], 6);
    expect(is.apex[1]).toBeGreaterThan(was.apex[1]);
  });

  it('keeps the armhole as long as it was, measured by another library', () => {
    expect(byBezierJs(edgeIn(full, 'front-bodice', 'armhole').curve)).toBeCloseTo(212, 2);
  });

  it('enlarges the dart with its legs kept, and sews to the same side', () => {
    const leg = (d: typeof was, i: 0 | 1) => apart(d.apex, d.legs[i]);
    expect([leg(is, 0), leg(is, 1)]).toEqual([expect.closeTo(leg(was, 0), 6), expect.closeTo(leg(was, 1), 6)]);
    const cut = (set: PatternSet, d: typeof was) =>
      apart(start(set, 'front-bodice', 'side'), d.legs[0]) + apart(d.legs[1], end(set, 'front-bodice', 'side'));
    expect(cut(full, is)).toBeCloseTo(205, 3);
  });

  it('takes out what a small bust does not need, but never more than the dart', () => {
    const small = changed('bust', { byMm: -8 });
    expect(apart(...shapeOf(small, 'front-bodice').darts[0]!.legs)).toBeLessThan(26);
    expect(alter(SET, alterationById('bust')!, { byMm: -29 })).toMatchObject({ ok: false });
  });
});

describe('swayback', () => {
  it('shortens the centre back only, square at the waist, the side as it was', () => {
    const back = changed('swayback', { byMm: 10 });
    expect(grown(back, 'back-bodice', 'centre-back')).toBeCloseTo(-10, 6);
    expect(edgeIn(back, 'back-bodice', 'side')).toBe(edgeIn(SET, 'back-bodice', 'side'));
    const { curve } = edgeIn(back, 'back-bodice', 'waist');
    expect(headingDeg(curve[0]!, curve[1]!)).toBeCloseTo(180, 6);
  });
});

describe('slash-spread', () => {
  const plain = setOf([
    pieceOf('skirt', 'front skirt', {
      M: rectangle({
        top: [named('waist', 300)],
        right: [named('side', 600)],
        bottom: [named('hem', 300)],
        left: [{ ...edge('fold'), role: 'fold', mm: 600 }],
      }),
    }),
  ]);
  const inch = 25.4;
  const wide = changed('slash-spread', { byMm: 6 * inch, cuts: 3 }, plain);

  it('opens 6 in wanted by 3 cuts to 2 in each, the waist unchanged (madalynne.com, How to slash and open)', () => {
    // A cut of 600 that opens 2 in turns by 2 asin(1 in / 600); three of them turn the side by three times that.
    const turn = (3 * 2 * Math.asin(inch / 600) * 180) / Math.PI;
    const side = edgeIn(wide, 'skirt', 'side').curve;
    expect(90 - headingDeg(side[0]!, side.at(-1)!)).toBeCloseTo(turn, 1);
    expect(chords(edgeIn(wide, 'skirt', 'waist').curve)).toBeCloseTo(300, 2);
    expect(chords(side)).toBeCloseTo(600, 6);
  });

  it('lengthens the hem by what the cuts open, and leaves the fold alone', () => {
    expect(chords(edgeIn(wide, 'skirt', 'hem').curve) - 300).toBeCloseTo(6 * inch, 0);
    expect(edgeIn(wide, 'skirt', 'fold')).toBe(edgeIn(plain, 'skirt', 'fold'));
  });

  it('hinges on the seamline where the cutting line was traced', () => {
    const cut = setOf([
      pieceOf('skirt', 'front skirt', {
        M: rectangle(
          {
            top: [named('waist', 300)],
            right: [named('side', 600)],
            bottom: [named('hem', 300)],
            left: [{ ...edge('fold'), role: 'fold', mm: 600 }],
          },
          { tracedLine: 'cutting', allowance: 15 },
        ),
      }),
    ]);
    const result = alter(cut, alterationById('slash-spread')!, { byMm: 6 * inch, cuts: 3 });
    if (!result.ok) throw new Error(result.error.sentence);
    expect(result.value.changed.find((change) => change.edge === 'waist')).toBeUndefined();
    // The cutting line itself, 15 mm beyond the hinge, shrinks by 15 times the turn.
    const turnRad = 3 * 2 * Math.asin(inch / 600);
    const traced = (set: PatternSet) => chords(edgeIn(set, 'skirt', 'waist').curve);
    expect(traced(result.value.set) - traced(cut)).toBeCloseTo(-15 * turnRad, 1);
  });
});

describe('rotate-dart', () => {
  /** A dart of 15° from the lower edge, legs 254; the right edge lies 180 from its point. */
  const apex: Point = [200, 220];
  const half = (7.5 * Math.PI) / 180;
  const bottom = apex[1] + 254 * Math.cos(half);
  const mouth = 2 * 254 * Math.sin(half);
  const base = rectangle({
    top: [named('top', 380)],
    right: [named('side', bottom)],
    bottom: [named('waist', 380)],
    left: [{ ...edge('fold'), role: 'fold', mm: bottom }],
  });
  const shape: Shape = {
    ...base,
    darts: [
      {
        id: 'd',
        edge: 'waist',
        legs: [
          [apex[0] + mouth / 2, bottom],
          [apex[0] - mouth / 2, bottom],
        ],
        apex,
        foldTo: null,
      },
    ],
  };
  const set = setOf([pieceOf('front', 'front bodice', { M: shape })]);

  it('keeps 15°: mouth 66.3073 at a leg of 254, 46.9894 at 180 (2 · leg · sin 7.5°)', () => {
    expect(mouth).toBeCloseTo(66.3073, 4);
    const turned = changed('rotate-dart', { atMm: apex[1], piece: 'front', dart: 'd', toEdge: 'side' }, set);
    const dart = shapeOf(turned, 'front').darts[0]!;
    expect(dart.edge).toBe('side');
    expect(dart.apex).toEqual(apex);
    expect(dart.legs.map((leg) => apart(leg, apex))).toEqual([expect.closeTo(180, 6), expect.closeTo(180, 6)]);
    expect(apart(...dart.legs)).toBeCloseTo(46.9894, 4);
  });

  it('closes the old mouth and leaves the sewn lengths', () => {
    const turned = changed('rotate-dart', { atMm: apex[1], piece: 'front', dart: 'd', toEdge: 'side' }, set);
    expect(chords(edgeIn(turned, 'front', 'waist').curve)).toBeCloseTo(380 - mouth, 4);
    expect(edgeIn(turned, 'front', 'fold')).toBe(edgeIn(set, 'front', 'fold'));
    const dart = shapeOf(turned, 'front').darts[0]!;
    const side = edgeIn(turned, 'front', 'side').curve;
    expect(apart(side[0]!, dart.legs[0]) + apart(dart.legs[1], side.at(-1)!)).toBeCloseTo(bottom, 4);
  });

  it('refuses the edge that the dart lies on and a place off the edge', () => {
    for (const params of [
      { atMm: 50, piece: 'front', dart: 'd', toEdge: 'waist' },
      { atMm: 2000, piece: 'front', dart: 'd', toEdge: 'side' },
    ])
      expect(alter(set, alterationById('rotate-dart')!, params)).toMatchObject({ ok: false });
  });
});

function named(label: string, mm: number) {
  return { ...edge(label), mm };
}

function edge(label: string) {
  return {
    id: label,
    label,
    role: label === 'hem' ? ('hem' as const) : ('seam' as const),
    mm: 0,
    allowance: null,
    assumed: false,
    notches: [],
    pleats: [],
    darts: [],
  };
}
