// Sewn lengths, what is closed in them and what is uncertain about them; sides of seams, their notches and the round.
import { describe, expect, it } from 'vitest';
import { expandCut, timesInRound } from '../../../shared/pattern/cutList.ts';
import { closedMm, closuresOn } from '../../../shared/pattern/darts.ts';
import { normalLabel } from '../../../shared/pattern/kinds.ts';
import { shiftOf } from '../../../shared/pattern/matchNotches.ts';
import { addLength, makeLength, sewnLength, subtractLength } from '../../../shared/pattern/measure.ts';
import { allowanceSlope, seamEdge } from '../../../shared/pattern/seamline.ts';
import { openMm, sectionLength, walkSide } from '../../../shared/pattern/spans.ts';
import { walkSeam } from '../../../shared/pattern/walk.ts';
import { arcShape, cutOf, e, ON_FOLD, PAIR, piece, rectangle, SINGLE, seam, setOf, span } from '../../support/sets.ts';

const SAID = { assumedAllowanceSigmaMm: 3 } as const;

describe('the uncertainty of a sewn length', () => {
  const shape = (sigma: number) =>
    rectangle({ right: [e('side', 400, { pleats: [[50, 20]] })] }, { pointSigma: sigma, scaleSources: [] });

  it('is two places for a plain edge and two more for each mouth', () => {
    expect(
      sewnLength(rectangle({ right: [e('side', 400)] }, { pointSigma: 0.1, scaleSources: [] }), 'side', null, SAID)
        .sigmaMm,
    ).toBeCloseTo(Math.SQRT2 * 0.1, 9);
    expect(sewnLength(shape(0.1), 'side', null, SAID).sigmaMm).toBeCloseTo(2 * 0.1, 9);
  });

  it("takes the edge's own uncertainty at corners and a point's at notches", () => {
    const base = rectangle({ right: [e('side', 400)] }, { pointSigma: 0.1, scaleSources: [] });
    const known = { ...base, ring: base.ring.map((edge) => ({ ...edge, sigmaMm: 0.4 })) };
    expect(sewnLength(known, 'side', null, SAID).sigmaMm).toBeCloseTo(0.4, 9);
    const upper = sewnLength(known, 'side', { fromMm: 0, toMm: 100 }, SAID);
    expect(upper.sigmaMm).toBeCloseTo(Math.hypot(0.4 / Math.SQRT2, 0.1), 9);
  });

  it('adds and subtracts what two lengths share with its sign', () => {
    const a = makeLength(100, new Map([['s', 1]]), 0.04);
    const b = makeLength(100, new Map([['s', 1]]), 0.05);
    expect(addLength(a, b).sigmaMm).toBeCloseTo(Math.hypot(2, 0.3), 9);
    expect(subtractLength(a, b).sigmaMm).toBeCloseTo(0.3, 9);
  });

  it('throws for an edge that is not there, because callers look first', () => {
    expect(() => sewnLength(shape(0.1), 'gone', null, SAID)).toThrow('no edge gone');
  });
});

describe('an assumed allowance', () => {
  it('lengthens a hollow edge and shortens a domed one by its turn for each millimetre', () => {
    const arc = (bend: 'convex' | 'concave', assumed: boolean) =>
      arcShape({ label: 'arc', mm: 300, turnRad: 0.8, bend, allowance: 15, assumed });
    expect(allowanceSlope(arc('concave', true), 'arc')).toBeCloseTo(0.8, 2);
    expect(allowanceSlope(arc('convex', true), 'arc')).toBeCloseTo(-0.8, 2);
    expect(allowanceSlope(arc('convex', false), 'arc')).toBe(0);
  });

  it('does not matter where the seamline itself was traced', () => {
    const shape = arcShape(
      { label: 'arc', mm: 300, turnRad: 0.8, bend: 'convex', allowance: 15, assumed: true },
      { tracedLine: 'seam' },
    );
    expect(allowanceSlope(shape, 'arc')).toBe(0);
    expect(seamEdge(shape, 'arc')!.lengthMm).toBeCloseTo(300, 5);
  });
});

describe('closing mouths', () => {
  it('takes each mouth out once, even where two overlap', () => {
    const shape = rectangle({
      right: [
        e('side', 400, {
          pleats: [
            [50, 20],
            [60, 20],
            [200, 10],
          ],
        }),
      ],
    });
    expect(closuresOn(shape, 'side').map((c) => [c.fromMm, c.toMm])).toEqual([
      [50, 80],
      [200, 210],
    ]);
    expect(sewnLength(shape, 'side', null, SAID).valueMm).toBeCloseTo(360, 6);
  });

  it("puts a place inside a mouth at the mouth's start", () => {
    const closures = [{ kind: 'dart', id: 'd', fromMm: 50, toMm: 80 }] as const;
    expect([40, 50, 65, 80, 100].map((at) => closedMm(closures, at))).toEqual([40, 50, 50, 50, 70]);
  });
});

describe('one side of a seam', () => {
  const set = setOf([
    piece('front', 'front bodice', {
      right: [e('side', 231, { darts: [[60, 26]], notches: [{ at: 30 }, { at: 200 }] })],
    }),
    piece('yoke', 'yoke', { right: [e('side', 50, { notches: [{ at: 10 }] })] }),
  ]);
  const walked = (texts: readonly string[]) => {
    const result = walkSide(set, texts.map(span), 'M', SAID);
    if (!result.ok) throw new Error(result.error.kind);
    return result.value;
  };

  it('lays notches out along the walk with darts closed', () => {
    expect(walked(['front.side']).notches.map((n) => n.atMm)).toEqual([expect.closeTo(30, 6), expect.closeTo(174, 6)]);
  });

  it('counts them from the other end when it is walked the other way', () => {
    expect(walked(['-front.side']).notches.map((n) => n.atMm)).toEqual([expect.closeTo(31, 6), expect.closeTo(175, 6)]);
  });

  it('goes on from piece to piece', () => {
    const side = walked(['-front.side', 'yoke.side']);
    expect(side.jointsMm).toEqual([expect.closeTo(205, 6)]);
    expect(side.total.valueMm).toBeCloseTo(255, 6);
    expect(side.notches.at(-1)!.atMm).toBeCloseTo(215, 6);
    expect(sectionLength(side, 175, 215, SAID).valueMm).toBeCloseTo(40, 6);
  });

  it('finds the way back from the side to the edge', () => {
    const side = walked(['-front.side']);
    for (const { notch, atMm } of side.notches) expect(openMm(side.spans[0]!, atMm)).toBeCloseTo(notch.atMm, 6);
  });

  it('says which piece or edge is not there', () => {
    const problem = (text: string, size = 'M') => {
      const result = walkSide(set, [span(text)], size, SAID);
      return result.ok ? null : result.error;
    };
    expect(problem('back.side')).toEqual({ kind: 'no-piece', piece: 'back' });
    expect(problem('front.hem')).toEqual({ kind: 'no-edge', piece: 'front', edge: 'hem' });
    expect(problem('front.side', 'XL')).toEqual({ kind: 'no-shape', piece: 'front' });
  });
});

describe('how far two notches miss each other', () => {
  it('is counted from the end from which it is smaller', () => {
    expect(shiftOf(100, 104, [205, 205])).toBe(4);
    expect(shiftOf(100, 104, [205, 211])).toBe(0);
    expect(shiftOf(100, 110, [205, 211])).toBe(4);
    expect(shiftOf(100, 100, [205, 215])).toBe(0);
  });
});

describe('the cut list', () => {
  it('expands into what is sewn', () => {
    const hands = (cut: Parameters<typeof expandCut>[0]['cut']) =>
      expandCut({ cut }).map((p) => `${p.material} ${p.hand}`);
    expect(hands(PAIR)).toEqual(['shell left', 'shell right']);
    expect(hands(ON_FOLD)).toEqual(['shell whole']);
    expect(hands([...PAIR, cutOf({ material: 'facing', count: 1, onFold: true })])).toEqual([
      'shell left',
      'shell right',
      'facing whole',
    ]);
    expect(hands([])).toEqual(['shell whole']);
  });

  it('tells half of the round from all of it', () => {
    const band = (cut: typeof PAIR) => timesInRound(piece('b', 'waistband', { top: [e('edge', 300)] }, { cut }));
    expect(band(SINGLE)).toBe(1);
    expect(band(PAIR)).toBe(2);
    expect(band([cutOf({ count: 2 })])).toBe('open');
    expect(timesInRound(piece('f', 'front skirt', { left: [e('fold', 300)] }, { cut: SINGLE }))).toBe(2);
    expect(timesInRound(piece('s', 'sleeve', {}, { cut: [cutOf({ count: 2 })] }))).toBe(2);
  });

  it('reads "cut 2" of a band as two layers or as a pair, whichever fits its garment', () => {
    const basisOf = (bandMm: number) => {
      const set = setOf(
        [
          piece('front', 'front skirt', { top: [e('waist', 190)], left: [e('fold', 300)] }),
          piece('back', 'back skirt', { top: [e('waist', 190)] }),
          piece('band', 'waistband', { top: [e('edge', bandMm)] }, { cut: [cutOf({ count: 2 })] }),
        ],
        [],
      );
      const walk = walkSeam(set, seam('w', 'front.waist + back.waist', 'band.edge'), 'M', SAID);
      if (!walk.ok) throw new Error(walk.error.problem.kind);
      return [walk.value.basis, Math.round(walk.value.difference.valueMm)];
    };
    expect(basisOf(380)).toEqual(['half', 0]);
    expect(basisOf(760)).toEqual(['round', 0]);
  });
});

describe('edge names', () => {
  it('are the same edge however they are spelt', () => {
    expect(['Side seam', 'side_seam', ' side ', 'Outseam'].map(normalLabel)).toEqual(['side', 'side', 'side', 'side']);
    expect(normalLabel('Vent')).toBe('vent');
    // A word that every object of the language answers to.
    expect(normalLabel('constructor')).toBe('constructor');
  });
});
