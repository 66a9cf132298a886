// Published and computed values of the trade against the whole chain from outline to finding. The source stands beside each
// value; "computed" means arithmetic from definitions, "common practice, no source" and "from memory" are what they say.
import { describe, expect, it } from 'vitest';
import type { Point } from '../../shared/base/points.ts';
import { runChecks } from '../../shared/checks/engine.ts';
import { expanded, judgeDifference } from '../../shared/checks/verdict.ts';
import { apply } from '../../shared/geometry/transform.ts';
import { CAP_EASE } from '../../shared/limits/capEase.ts';
import { GRADE_STEPS_MM } from '../../shared/limits/seamEase.ts';
import { TOLERANCES } from '../../shared/limits/tolerances.ts';
import { closingTransform, dartOnSeam } from '../../shared/pattern/darts.ts';
import { makeLength, sewnLength, subtractLength } from '../../shared/pattern/measure.ts';
import type { Dart, PatternSet, Shape } from '../../shared/pattern/model.ts';
import { seamEdge, seamlineOf } from '../../shared/pattern/seamline.ts';
import { armholeSet, cuttingLineTrap, shoulders } from '../support/scenarioSets.ts';
import { arcShape, e, line, piece, pieceOf, rectangle, seam, setOf } from '../support/sets.ts';

const INCH_MM = 25.4;
const SAID = { assumedAllowanceSigmaMm: 0 } as const;

function finding(set: PatternSet, rule: string) {
  const found = runChecks(set).findings.find((f) => f.rule === rule);
  if (found === undefined) throw new Error(`no finding of ${rule}`);
  return found;
}

/** A strip with one edge of the given length on each of two pieces, and how sure it is. */
function twoSides(front: number, back: number, pointSigma: number, sources: Shape['accuracy']['scaleSources'] = []) {
  const options = { pointSigma, scaleSources: sources };
  return setOf(
    [
      piece('front', 'front bodice', { right: [e('side', front)] }, options),
      piece('back', 'back bodice', { right: [e('side', back)] }, options),
    ],
    [seam('side', 'front.side', 'back.side')],
  );
}

describe('cutting line and seamline (fitforartpatterns.com, 5 Mar 2024)', () => {
  const set = cuttingLineTrap();
  const lengthOf = (id: string, edge: string) =>
    sewnLength(set.pieces.find((p) => p.id === id)!.shapes.M!, edge, null, SAID).valueMm;

  it('an armhole of 22 3/8 in on the cutting line is 23 in on the seamline', () => {
    expect(lengthOf('front', 'armhole') + lengthOf('back', 'armhole')).toBeCloseTo(23 * INCH_MM, 1);
  });

  it('a cap of 24 3/4 in on the cutting line is 24 in on the seamline', () => {
    expect(lengthOf('sleeve', 'cap')).toBeCloseTo(24 * INCH_MM, 1);
  });

  it('so the cap ease is 1 in, not the 2 3/8 in of the cutting lines', () => {
    expect(finding(set, 'cap-ease').measured!.value).toBeCloseTo(25.4, 1);
    expect((24.75 - 22.375) * INCH_MM).toBeCloseTo(60.325, 6);
  });

  it('each millimetre that is traced outside the line fakes 2.2 mm of cap ease (computed from the same example)', () => {
    const shiftMm = 0.625 * INCH_MM;
    expect((60.325 - 25.4) / shiftMm).toBeCloseTo(2.2, 6);
    // The same slope drives how unsure an assumed allowance makes the answer: 3 mm of doubt are 6.6 mm of cap ease.
    const ease = finding(cuttingLineTrap(true), 'cap-ease');
    expect(ease.measured!.sigma).toBeCloseTo(2.2 * 3, 1);
    expect(ease.verdict).toBe('unsure');
  });
});

describe('cap ease', () => {
  /** The block: cap 17.78 in, armhole 16.40 in (dresspatternmaking.com), halves as in the teaching block of the same page. */
  const block = (cloth: 'woven' | 'knit') => {
    const half = (16.4 * INCH_MM) / 2;
    const capHalf = (17.78 * INCH_MM) / 2;
    const lower = 85;
    return armholeSet({
      front: [lower, half - lower],
      back: [lower, half - lower],
      capFront: [lower, capHalf - lower],
      capBack: [lower, capHalf - lower],
      cloth,
    });
  };

  it('of the size 12 block is 1.38 in = 35.05 mm and right in a woven (dresspatternmaking.com)', () => {
    const ease = finding(block('woven'), 'cap-ease');
    expect(ease.measured!.value).toBeCloseTo(35.05, 2);
    expect(ease.verdict).toBe('clear');
  });

  it('of the same block is too much for a knit: 0 to 3/4 in (madalynne.com, Sleeve cap ease)', () => {
    expect(finding(block('knit'), 'cap-ease').verdict).toBe('fault');
    expect(CAP_EASE.knit.toMm).toBeCloseTo(0.75 * INCH_MM, 0);
  });

  it('of 1 to 1 1/2 in passes as the textbooks say (madalynne.com, Sleeve cap ease)', () => {
    for (const inches of [1, 1.375, 1.45]) {
      const each = (inches * INCH_MM) / 2;
      const set = armholeSet({
        front: [80, 132],
        back: [80, 132],
        capFront: [80, 132 + each],
        capBack: [80, 132 + each],
      });
      expect(finding(set, 'cap-ease').verdict).toBe('clear');
    }
  });

  it('never lets the armhole be longer than the cap (emmakespatterns.com, Sleeve cap ease)', () => {
    const set = armholeSet({ front: [80, 132], back: [80, 132], capFront: [80, 130.4], capBack: [80, 130.4] });
    const ease = finding(set, 'cap-ease');
    expect(ease.measured!.value).toBeCloseTo(-3.2, 6);
    expect(ease.verdict).toBe('fault');
  });

  it('of a trial bodice, front 3/8 and back 5/8 in, is neither too much nor lopsided (sfdlearningcenter.com, SleeveFacts)', () => {
    const set = armholeSet({
      front: [80, 132],
      back: [90, 132],
      capFront: [80, 132 + 0.375 * INCH_MM],
      capBack: [90, 132 + 0.625 * INCH_MM],
    });
    expect(finding(set, 'cap-ease').verdict).toBe('clear');
    expect(finding(set, 'cap-ease-spread').verdict).toBe('clear');
  });
});

describe('shoulders', () => {
  it("a front 1/4 in shorter than the back is right (The Cutter's Practical Guide, part 13, p. 30)", () => {
    expect(finding(shoulders(120, 120 + 0.25 * INCH_MM), 'length-differs').verdict).toBe('clear');
  });

  it('a back 1/2 in longer is still eased (common practice, no source)', () => {
    expect(finding(shoulders(120, 120 + 0.49 * INCH_MM), 'length-differs').verdict).toBe('clear');
  });
});

describe('guard bands: pass below T - U, fail above T + U, U = 2 u (ISO 14253-1, from memory; NIST TN 1297, 6.2-6.3)', () => {
  const T = 3.175;
  it.each([
    { u: 0.25, passTo: 2.675, failFrom: 3.675 },
    { u: 0.5, passTo: 2.175, failFrom: 4.175 },
    { u: 1, passTo: 1.175, failFrom: 5.175 },
  ])('u $u: clear to $passTo, fault from $failFrom (computed)', ({ u, passTo, failFrom }) => {
    const step = 0.001;
    expect(judgeDifference(passTo - step, u, T)).toBe('clear');
    expect(judgeDifference(passTo + step, u, T)).toBe('unsure');
    expect(judgeDifference(failFrom - step, u, T)).toBe('unsure');
    expect(judgeDifference(failFrom + step, u, T)).toBe('fault');
    expect(judgeDifference(-failFrom - step, u, T)).toBe('fault');
  });

  it('u 1.6: nothing can be clear, and a fault begins at 6.375 (computed)', () => {
    expect(judgeDifference(0, 1.6, T)).toBe('unsure');
    expect(judgeDifference(6.374, 1.6, T)).toBe('unsure');
    expect(judgeDifference(6.376, 1.6, T)).toBe('fault');
  });

  it('d 2.5, u 0.5 conforms with a probability of 0.9115 only, and so is no pass (computed)', () => {
    // Independent of the rule: the normal integral over the permitted interval, by Simpson's rule.
    const density = (x: number) => Math.exp((-(x - 2.5) * (x - 2.5)) / (2 * 0.25)) / (0.5 * Math.sqrt(2 * Math.PI));
    const n = 2000;
    const h = (2 * T) / n;
    let sum = density(-T) + density(T);
    for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * density(-T + i * h);
    expect((sum * h) / 3).toBeCloseTo(0.9115, 4);
    expect(judgeDifference(2.5, 0.5, T)).toBe('unsure');
  });

  it('expands a standard uncertainty by 2 (NIST TN 1297, 6.2-6.3)', () => {
    expect(expanded(0.5)).toBe(1);
  });
});

describe('a scale error that two seams share (computed)', () => {
  const seams = (sameShot: 'same shot' | 'two shots', ratio: number) => {
    const a = makeLength(450, new Map([['shot:1', 450 * ratio]]), 0);
    const b = makeLength(452, new Map([[sameShot === 'same shot' ? 'shot:1' : 'shot:2', 452 * ratio]]), 0);
    return subtractLength(b, a);
  };

  it('0.95 % turns 450 and 452 into a difference of 2.019, not one that is 4.3 off', () => {
    const shape = (mm: number) => rectangle({ right: [e('side', mm * 1.0095)] });
    const length = (mm: number) => sewnLength(shape(mm), 'side', null, SAID);
    expect(subtractLength(length(452), length(450)).valueMm).toBeCloseTo(2.019, 3);
    expect(seams('same shot', 0.0095).sigmaMm).toBeCloseTo(0.019, 6);
  });

  it("does not cancel between two shots: A4's 0.952 % is 4.29 mm on each seam of 450 mm (ISO 216 limits, from memory)", () => {
    expect(seams('two shots', 2 / 210).sigmaMm).toBeCloseTo(Math.hypot(4.2857, 4.3048), 3);
  });

  it('makes the same seam clear or unsure, by whether one shot or two were taken', () => {
    const side = (id: string, kind: 'front bodice' | 'back bodice', mm: number, source: string) =>
      piece(
        id,
        kind,
        { right: [e('side', mm)] },
        { pointSigma: 0.1, scaleSources: [{ id: source, sigmaRatio: 0.0095 }] },
      );
    const pair = (other: string) =>
      setOf(
        [side('front', 'front bodice', 450, 'shot:1'), side('back', 'back bodice', 452, other)],
        [seam('side', 'front.side', 'back.side')],
      );
    expect(finding(pair('shot:1'), 'length-differs').verdict).toBe('clear');
    expect(finding(pair('shot:2'), 'length-differs').verdict).toBe('unsure');
  });
});

describe('tolerances', () => {
  it('1/8 in at home and 1/16 in in the studio (Threads #200, 10 Patternwork Skills)', () => {
    expect(TOLERANCES.home.seam.valueMm).toBeCloseTo(INCH_MM / 8, 1);
    expect(TOLERANCES.studio.seam.valueMm).toBeCloseTo(INCH_MM / 16, 1);
  });

  it('call 1/4 in a real error in both (fashion-incubator.com, How many notches are too many? pt. 2)', () => {
    expect(finding(twoSides(205, 205 + INCH_MM / 4, 0.1), 'length-differs').verdict).toBe('fault');
  });

  it('15 mm is not 5/8 in, but the 0.875 mm between them are within what allowances may differ (computed; BBC Bitesize)', () => {
    expect(0.625 * INCH_MM - 15).toBeCloseTo(0.875, 6);
    expect(0.875).toBeLessThan(TOLERANCES.home.allowance.valueMm);
  });

  it('grade steps of a quarter follow the girth: 1 in to 1/4 in (fashion-incubator.com), 4 cm to 10 mm (EN 13402-3)', () => {
    const steps = GRADE_STEPS_MM.map((step) => step.valueMm);
    expect(steps).toContain(INCH_MM / 4);
    expect(steps).toContain(40 / 4);
  });
});

describe('darts (computed)', () => {
  /** A dart of the given mouth and straight legs on the long side of a rectangle. */
  const withDart = (mouthMm: number, legMm: number): { shape: Shape; dart: Dart } => {
    const base = rectangle({ right: [e('side', 400)] });
    const depth = Math.sqrt(legMm ** 2 - (mouthMm / 2) ** 2);
    const x = base.ring.find((edge) => edge.id === 'side')!.curve[0]![0];
    const dart: Dart = {
      id: 'd',
      edge: 'side',
      legs: [
        [x, 200 - mouthMm / 2],
        [x, 200 + mouthMm / 2],
      ],
      apex: [x - depth, 200],
      foldTo: null,
    };
    return { shape: { ...base, darts: [dart] }, dart };
  };

  it.each([
    { mouth: 25.4, leg: 254, deg: 5.731968 },
    { mouth: 20, leg: 100, deg: 11.478341 },
    { mouth: 30, leg: 120, deg: 14.361512 },
  ])('a mouth of $mouth on legs of $leg opens $deg degrees', ({ mouth, leg, deg }) => {
    const { shape, dart } = withDart(mouth, leg);
    const on = dartOnSeam(shape, dart)!;
    expect(on.intakeDeg).toBeCloseTo(deg, 5);
    expect(on.legsMm[0]).toBeCloseTo(leg, 6);
  });

  it('of 25.4 on 254 has an axis of 253.6823', () => {
    expect(
      withDart(25.4, 254).shape.ring.find((edge) => edge.id === 'side')!.curve[0]![0] -
        withDart(25.4, 254).dart.apex[0],
    ).toBeCloseTo(253.6823, 4);
  });

  it('of 15 degrees is 66.3073 wide at 254 and 46.9894 at 180, and its angle stays', () => {
    for (const [leg, mouth] of [
      [254, 66.3073],
      [180, 46.9894],
    ] as const) {
      const exact = 2 * leg * Math.sin((7.5 * Math.PI) / 180);
      expect(exact).toBeCloseTo(mouth, 4);
      const { shape, dart } = withDart(exact, leg);
      expect(dartOnSeam(shape, dart)!.intakeDeg).toBeCloseTo(15, 6);
      expect(sewnLength(shape, 'side', null, SAID).valueMm).toBeCloseTo(400 - mouth, 3);
    }
  });

  it('closes by turning about its apex until one leg lies on the other', () => {
    const { shape, dart } = withDart(66.3073, 254);
    const on = dartOnSeam(shape, dart)!;
    const moved = apply(closingTransform(dart, on), on.points[1]);
    expect(moved[0]).toBeCloseTo(on.points[0][0], 6);
    expect(moved[1]).toBeCloseTo(on.points[0][1], 6);
    const apex = apply(closingTransform(dart, on), dart.apex);
    expect(apex[0]).toBeCloseTo(dart.apex[0], 6);
    expect(apex[1]).toBeCloseTo(dart.apex[1], 6);
  });
});

describe('seamlines of simple figures (computed)', () => {
  it('an arc of radius 100 over 90 degrees is 157.0796 long, 133.5177 when moved 15 inward, 180.6416 when moved outward', () => {
    const length = (bend: 'convex' | 'concave') => {
      const shape = arcShape({ label: 'arc', mm: 50 * Math.PI, turnRad: Math.PI / 2, bend, allowance: 15 });
      return seamEdge(shape, 'arc')!.lengthMm;
    };
    expect(50 * Math.PI).toBeCloseTo(157.0796, 4);
    expect(length('convex')).toBeCloseTo(133.5177, 2);
    expect(length('concave')).toBeCloseTo(180.6416, 2);
  });

  it('a square of 100 with 15 of mitred allowance has a cutting line of 520', () => {
    const sides = { top: [e('a', 100)], right: [e('b', 100)], bottom: [e('c', 100)], left: [e('d', 100)] };
    const shape = rectangle(sides, { tracedLine: 'cutting', allowance: 15 });
    const cut = shape.ring.reduce(
      (sum, { curve }) => sum + Math.hypot(curve[3]![0] - curve[0]![0], curve[3]![1] - curve[0]![1]),
      0,
    );
    expect(cut).toBeCloseTo(520, 6);
    expect(seamlineOf(shape).edges.reduce((sum, edge) => sum + edge.lengthMm, 0)).toBeCloseTo(400, 3);
  });

  it('a full circle skirt for a waist of 700 has a radius of 111.4085 and a hem of 4469.911 at 600 below', () => {
    const radius = 700 / (2 * Math.PI);
    expect(radius).toBeCloseTo(111.4085, 4);
    // A quarter of it: the hem arc is the outer one of a sector, measured as an edge of the piece.
    const shape = arcShape({
      label: 'hem arc',
      mm: ((radius + 600) * Math.PI) / 2,
      turnRad: Math.PI / 2,
      bend: 'convex',
      allowance: 0,
    });
    expect(4 * seamEdge(shape, 'hem arc')!.lengthMm).toBeCloseTo(4469.911, 2);
  });
});

describe('drafts of the handbooks', () => {
  it('size 36 back shoulder tip lies at (8.8571, -0.3016) in, so its slope is 12.529 degrees (Rosenfeld, First Foundation Lines)', () => {
    // From K(3, 1) through I(7.5, 0), 6 in long; y up, inches. A piece drawn so has a shoulder edge of 152.4 mm.
    const [dx, dy] = [4.5, -1];
    const tip: Point = [3 + (6 * dx) / Math.hypot(dx, dy), 1 + (6 * dy) / Math.hypot(dx, dy)];
    expect(tip[0]).toBeCloseTo(8.8571, 4);
    expect(tip[1]).toBeCloseTo(-0.3016, 4);
    const mm = ([x, y]: Point): Point => [x * INCH_MM, -y * INCH_MM];
    const base = rectangle({});
    const corners: Point[] = [mm([3, 1]), mm(tip), mm([8.8571, -12]), mm([0, -12]), mm([0, 0])];
    const ring = corners.map((from, i) => ({
      ...base.ring[0]!,
      id: `e${i}`,
      label: i === 0 ? 'shoulder' : '',
      role: 'seam' as const,
      curve: line(from, corners[(i + 1) % corners.length]!),
    }));
    const back = pieceOf('back', 'back bodice', { M: { ...base, ring } });
    const front = piece('front', 'front bodice', { top: [e('shoulder', (6 - 0.25) * INCH_MM)] });
    const set = setOf([front, back], [seam('shoulder', 'front.shoulder', 'back.e0', { join: 'eased' })]);
    const shoulder = finding(set, 'length-differs');
    expect(shoulder.measured!.value).toBeCloseTo(0.25 * INCH_MM, 6);
    expect(shoulder.verdict).toBe('clear');
  });

  it('a waist of 28 in with 1 in of ease is 7 1/4 in a quarter (dresspatternmaking.com): four quarters meet their band', () => {
    const quarterMm = ((28 + 1) / 4) * INCH_MM;
    expect(quarterMm).toBeCloseTo(7.25 * INCH_MM, 6);
    const set = setOf(
      [
        piece('front', 'front skirt', { top: [e('waist', quarterMm)], left: [e('fold', 500)] }),
        piece('back', 'back skirt', { top: [e('waist', quarterMm)], right: [e('centre back', 500)] }),
        piece(
          'band',
          'waistband',
          { bottom: [e('edge', 29 * INCH_MM)] },
          { cut: [{ material: 'shell', count: 1, onFold: false, mirrored: false, allowanceMm: null }] },
        ),
      ],
      [seam('waist', 'front.waist + back.waist', 'band.edge', { join: 'eased' })],
    );
    const waist = finding(set, 'length-differs');
    expect(waist.measured!.value).toBeCloseTo(0, 6);
    expect(waist.verdict).toBe('clear');
  });
});
