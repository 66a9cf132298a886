// The rules about the lines and marks of single pieces: grain, fold, darts, notches, allowances, smoothness, hems. Each with
// what passes, fails, cannot be told and does not apply.
import { expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { contextOf } from '../../../shared/checks/context.ts';
import { allowanceUneven } from '../../../shared/checks/rules/allowanceUneven.ts';
import { curveKink } from '../../../shared/checks/rules/curveKink.ts';
import { dartCap } from '../../../shared/checks/rules/dartCap.ts';
import { dartPoint } from '../../../shared/checks/rules/dartPoint.ts';
import { foldBent } from '../../../shared/checks/rules/foldBent.ts';
import { foldInOpening } from '../../../shared/checks/rules/foldInOpening.ts';
import { grainOff } from '../../../shared/checks/rules/grainOff.ts';
import { hemTurn } from '../../../shared/checks/rules/hemTurn.ts';
import { labelMissing } from '../../../shared/checks/rules/labelMissing.ts';
import { notchAdrift } from '../../../shared/checks/rules/notchAdrift.ts';
import { notchCrowded } from '../../../shared/checks/rules/notchCrowded.ts';
import { tracingWobble } from '../../../shared/checks/rules/tracingWobble.ts';
import { polylinePath } from '../../../shared/geometry/cubicPath.ts';
import type { Edge, PatternSet, Piece } from '../../../shared/pattern/model.ts';
import { idealSet } from '../../photos/marl/idealSet.ts';
import { describeCheck } from '../../support/describeCheck.ts';
import { changed, straight, withCurve } from '../../support/polygonPiece.ts';
import {
  armholeSet,
  loweredNeck,
  SOUND_ARMHOLE,
  sideWithDart,
  taperedHem,
  waistband,
} from '../../support/scenarioSets.ts';
import {
  type EdgeSpec,
  e,
  type NotchSpec,
  ON_FOLD,
  type PieceOptions,
  piece,
  pieceOf,
  rectangle,
  seam,
  setOf,
} from '../../support/sets.ts';
import { unseen } from '../../support/unseen.ts';

/** A front on the fold, or a back with a straight centre, whose arrow of 300 is off by some millimetres at one end. */
function grain(
  offMm: number,
  more: { readonly edge?: string; readonly intent?: Piece['grainIntent']; readonly sigma?: number } = {},
): PatternSet {
  const { edge = 'fold', intent = 'straight', sigma = 0.1 } = more;
  const p = piece('front', 'front bodice', { left: [e(edge, 400)], top: [e('neck', 200)] }, { pointSigma: sigma });
  const arrow = { from: [100, 350], to: [100 + offMm, 50], heads: 2 } as const;
  return setOf([{ ...changed(p, () => ({ grainline: arrow })), grainIntent: intent }]);
}

const degOf = (offMm: number) => (Math.atan(offMm / 300) * 180) / Math.PI;

/** A leg that narrows alike on both sides, or on one only, whose arrow of 300 is off by some millimetres at one end. */
function legGrain(offMm: number, narrows: 'both sides' | 'one side' = 'both sides'): PatternSet {
  const inner = narrows === 'both sides' ? 30 : 0;
  const leg = straight(
    'leg',
    'trouser front',
    [
      [0, 0],
      [260, 0],
      [230, 600],
      [inner, 600],
    ],
    [
      ['waist', 'seam'],
      ['side', 'seam'],
      ['hem', 'hem'],
      ['inseam', 'seam'],
    ],
  );
  const arrow = { from: [130, 500], to: [130 + offMm, 200], heads: 2 } as const;
  return setOf([changed(leg, () => ({ grainline: arrow }))]);
}

/** A sleeve with a slanted wrist, its underarm seams alike or one of them longer; the arrow is off by some millimetres in 300. */
function sleeveGrain(offMm: number, longerMm = 0): PatternSet {
  const sleeve = straight(
    'sleeve',
    'sleeve',
    [
      [0, 120],
      [190, 0],
      [380, 120 - longerMm],
      [350, 500],
      [200, 520],
      [30, 500],
    ],
    [
      ['back cap', 'seam'],
      ['front cap', 'seam'],
      ['front underarm', 'seam'],
      ['front wrist', 'hem'],
      ['back wrist', 'hem'],
      ['back underarm', 'seam'],
    ],
  );
  const arrow = { from: [190, 450], to: [190 + offMm, 150], heads: 2 } as const;
  return setOf([changed(sleeve, () => ({ grainline: arrow }))]);
}

describeCheck(grainOff, {
  pass: [
    { why: 'the middle of a sleeve without an even hem', set: sleeveGrain(0), key: 'clear', data: { offDeg: 0 } },
    { why: 'an arrow along a front that closes', set: grain(0, { edge: 'front edge' }), key: 'clear' },
    { why: 'an arrow along the fold', set: grain(0), key: 'clear', data: { angleDeg: 0 } },
    { why: 'an arrow 2 off in 300', set: grain(2), key: 'clear', data: { offDeg: degOf(2) } },
    { why: 'the bias of a piece that is meant so', set: grain(300, { intent: 'bias' }), key: 'clear' },
    { why: 'the crease of a leg, square to its hem', set: legGrain(0), key: 'clear', data: { offDeg: 0 } },
  ],
  fail: [
    {
      why: 'an arrow 5 off in 300, which is 10 over the length of a skirt',
      set: grain(5),
      key: 'off',
      gravity: 'mend',
      data: { offDeg: degOf(5) },
      says: '1.0',
    },
    { why: 'an arrow aslant of a centre seam', set: grain(20, { edge: 'centre back' }), key: 'off', gravity: 'look' },
    {
      why: 'an arrow aslant of the crease of a leg (common practice, no source)',
      set: legGrain(10),
      key: 'off',
      gravity: 'look',
      data: { offDeg: degOf(10) },
      says: 'square to the hem',
    },
    {
      why: 'an arrow aslant of the line under the arms of a sleeve (common practice, no source)',
      set: sleeveGrain(10),
      key: 'off',
      gravity: 'look',
      data: { offDeg: degOf(10) },
      says: 'under the arms',
    },
    { why: 'an arrow aslant of a front edge', set: grain(10, { edge: 'front edge' }), key: 'off', gravity: 'look' },
  ],
  unsure: [
    { why: 'a photo too coarse', set: grain(4, { sigma: 0.5 }), key: 'tooCoarse' },
    { why: 'a straight piece whose arrow lies on the bias', set: grain(300), key: 'otherWay', says: '45.0°' },
  ],
  notApplicable: [
    { why: 'a piece without fold or centre', set: grain(9, { edge: 'side' }), key: 'noReference' },
    { why: 'a sleeve whose underarm seams differ', set: sleeveGrain(10, 5), key: 'noReference' },
    { why: 'a panel that narrows to one side', set: legGrain(10, 'one side'), key: 'noReference' },
    { why: 'the centre seam of a gored skirt', set: grain(50, { edge: 'centre front' }), key: 'leans', says: '9.5°' },
  ],
});

/** A front whose fold edge bows by some millimetres: a cubic bows by three quarters of its handles. */
function bowed(mm: number, sigma = 0.1): PatternSet {
  const p = piece('front', 'front bodice', { left: [e('fold', 400)] }, { pointSigma: sigma });
  const from: Point = [0, 400];
  const handle = (4 / 3) * mm;
  return setOf([withCurve(p, 'fold', [from, [handle, 400 * (2 / 3)], [handle, 400 / 3], [0, 0]])]);
}

describeCheck(foldBent, {
  pass: [
    { why: 'a straight fold', set: bowed(0), key: 'clear', data: { straysMm: 0 } },
    { why: 'a fold that bows by 1', set: bowed(1), key: 'clear', data: { straysMm: 1 } },
  ],
  fail: [{ why: 'a fold that bows by 2', set: bowed(2), key: 'bent', gravity: 'mend', data: { straysMm: 2 } }],
  unsure: [
    { why: 'a photo too coarse', set: bowed(1.6, 0.4), key: 'tooCoarse' },
    {
      why: 'a bow that was partly in shadow',
      set: unseen(bowed(4), { piece: 'front', edge: 'fold', fromMm: 100, toMm: 200, reason: 'shadow' }),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [],
});

describeCheck(labelMissing, {
  pass: [{ why: 'the pieces of the scenario', set: waistband(35), key: 'clear' }],
  fail: [
    {
      why: 'a piece that only a program has named',
      set: setOf([piece('p', 'sleeve', {}, { name: 'piece 3' })]),
      key: 'missing',
      gravity: 'look',
      says: 'its name',
    },
    {
      why: 'a piece without a cut list',
      set: setOf([piece('p', 'sleeve', {}, { name: 'sleeve', cut: [] })]),
      key: 'missing',
      says: 'how often it is cut',
    },
    {
      why: 'a shape in a size without a name',
      set: setOf([pieceOf('sleeve', 'sleeve', { '': rectangle({}) })]),
      key: 'missing',
      says: 'its size',
    },
  ],
  unsure: [],
  notApplicable: [{ why: 'a plan without shapes', set: setOf([pieceOf('back', 'back bodice', {})]), key: 'noPieces' }],
});

const LEG_MM = 100;

/**
 * A back whose top edge has a dart of 30 in its middle. Each half of the edge rises toward the dart by `riseDeg`; half the
 * dart's angle makes the closed edge one line.
 */
function cappedDart(riseDeg: number, sigma = 0.1): PatternSet {
  const rise = 150 * Math.tan((riseDeg * Math.PI) / 180);
  const [a, b]: [Point, Point] = [
    [135, -rise * 0.9],
    [165, -rise * 0.9],
  ];
  const p = straight(
    'back',
    'back skirt',
    [
      [0, 0],
      [300, 0],
      [300, 400],
      [0, 400],
    ],
    [
      ['waist', 'seam'],
      ['side', 'seam'],
      ['hem', 'hem'],
      ['centre back', 'seam'],
    ],
    sigma,
  );
  const waist = polylinePath([[0, 0], a, [150, -rise], b, [300, 0]]);
  const apex: Point = [150, -rise * 0.9 + Math.sqrt(LEG_MM ** 2 - 15 ** 2)];
  const dart = { id: 'd', edge: 'waist', legs: [a, b], apex, foldTo: null } as const;
  return setOf([changed(withCurve(p, 'waist', waist), () => ({ darts: [dart] }))]);
}

const HALF_INTAKE_DEG = (Math.asin(15 / LEG_MM) * 180) / Math.PI;

describeCheck(dartCap, {
  pass: [
    { why: 'an edge that was trued with the dart closed', set: cappedDart(HALF_INTAKE_DEG), key: 'clear' },
    { why: 'two degrees of turn', set: cappedDart(HALF_INTAKE_DEG + 1.2), key: 'clear', data: { offDeg: 2.4 } },
  ],
  fail: [
    {
      why: 'an edge that turns by 16 degrees across the closed dart',
      set: cappedDart(HALF_INTAKE_DEG + 8),
      key: 'kinks',
      gravity: 'mend',
      data: { offDeg: 16 },
    },
    {
      why: 'one that turns by 8, which is drawn true in a moment',
      set: cappedDart(HALF_INTAKE_DEG - 4),
      key: 'kinks',
      gravity: 'look',
      data: { offDeg: -8 },
    },
  ],
  unsure: [{ why: 'a photo too coarse', set: cappedDart(HALF_INTAKE_DEG + 4.5, 0.7), key: 'tooCoarse' }],
  notApplicable: [
    { why: 'an edge drawn straight past the dart', set: sideWithDart(), key: 'undrawn' },
    {
      why: 'a dart at the very end of its edge',
      set: setOf([piece('back', 'back skirt', { top: [e('waist', 200, { darts: [[2, 20]] })] })]),
      key: 'noRoom',
    },
  ],
});

/** A front with a side dart 100 deep, its end at (apexX, 100), and the bust point at (bustX, bustY). */
function bustDart(
  apexX: number,
  bust: Point | null,
  more: { readonly sigma?: number; readonly second?: readonly [Point, Point, Point] } = {},
): PatternSet {
  const { sigma = 0.1 } = more;
  const p = piece('front', 'front bodice', { right: [e('side', 300)], top: [e('neck', 250)] }, { pointSigma: sigma });
  const legs = [
    [250, 85],
    [250, 115],
  ] as const;
  const dart = { id: 'd', edge: 'side', legs, apex: [apexX, 100] as Point, foldTo: null };
  const second = more.second && {
    ...dart,
    id: 'd2',
    legs: [more.second[0], more.second[1]] as const,
    apex: more.second[2],
  };
  const marks = bust === null ? [] : [{ kind: 'hole', id: 'bust point', at: bust } as const];
  return setOf([changed(p, () => ({ darts: second ? [dart, second] : [dart], marks }))]);
}

describeCheck(dartPoint, {
  pass: [
    { why: 'a dart inside its piece', set: bustDart(150, null), key: 'inside' },
    {
      why: 'a dart that ends 25 before the bust point',
      set: bustDart(150, [125, 100]),
      key: 'before',
      data: { beforeMm: 25, asideMm: 0 },
    },
  ],
  fail: [
    { why: 'a dart that ends outside', set: bustDart(-20, null), key: 'outside', gravity: 'look' },
    {
      why: 'a dart that runs past the bust point',
      set: bustDart(120, [130, 100]),
      key: 'past',
      gravity: 'mend',
      data: { beforeMm: -10 },
    },
    { why: 'a dart that ends 6 before it', set: bustDart(131, [125, 100]), key: 'near', gravity: 'look', says: '6 ±' },
    {
      why: 'a dart that aims 20 beside it',
      set: bustDart(150, [120, 120]),
      key: 'aside',
      gravity: 'look',
      data: { asideMm: 20 },
    },
    {
      why: 'two darts that cross',
      set: bustDart(150, null, {
        second: [
          [250, 50],
          [250, 70],
          [160, 130],
        ],
      }),
      key: 'crosses',
      gravity: 'mend',
    },
  ],
  unsure: [{ why: 'a photo too coarse', set: bustDart(138, [125, 100], { sigma: 0.5 }), key: 'tooCoarse' }],
  notApplicable: [],
});

function notched(notches: readonly NotchSpec[], more: Partial<EdgeSpec> = {}, options: PieceOptions = {}): PatternSet {
  return setOf([piece('back', 'back skirt', { top: [e('waist', 200, { notches, ...more })] }, options)]);
}

const strayNotch = (set: PatternSet): PatternSet => ({
  ...set,
  pieces: set.pieces.map((p) =>
    changed(p, ({ notches }) => ({ notches: notches.map((n) => ({ ...n, edge: 'gone' })) })),
  ),
});

describeCheck(notchAdrift, {
  pass: [
    { why: 'a notch on its edge', set: notched([{ at: 100 }]), key: 'clear', data: { atMm: 100 } },
    { why: 'a mark on the fold line of a dart', set: notched([{ at: 95 }], { darts: [[80, 30]] }), key: 'clear' },
    {
      why: 'notches on both legs of a dart',
      set: notched([{ at: 80 }, { at: 110 }], { darts: [[80, 30]] }),
      key: 'clear',
    },
  ],
  fail: [
    {
      why: 'a notch 5 beyond the end of its edge',
      set: notched([{ at: 205 }]),
      key: 'beyond',
      gravity: 'mend',
      data: { beyondMm: 5 },
    },
    {
      why: 'a notch 8 inside the mouth of a dart',
      set: notched([{ at: 88 }], { darts: [[80, 30]] }),
      key: 'inMouth',
      gravity: 'mend',
      data: { beyondMm: 8 },
    },
    { why: 'a notch of an edge that is gone', set: strayNotch(notched([{ at: 50 }])), key: 'noEdge', gravity: 'mend' },
  ],
  unsure: [{ why: 'a photo too coarse', set: notched([{ at: 202 }], {}, { pointSigma: 0.4 }), key: 'tooCoarse' }],
  notApplicable: [{ why: 'a mark at the turn of a hem', set: waistband(35), key: 'otherUse' }],
});

describeCheck(notchCrowded, {
  pass: [
    { why: 'two notches 20 apart', set: notched([{ at: 80 }, { at: 100 }]), key: 'clear' },
    { why: 'the notches of a sleeve', set: armholeSet(SOUND_ARMHOLE), key: 'clear' },
    {
      why: 'the two lines of a narrow pleat',
      set: notched([{ at: 80 }, { at: 88 }, { at: 30 }], { pleats: [[80, 8]] }),
      key: 'clear',
    },
  ],
  fail: [
    {
      why: 'two single notches 6 apart',
      set: notched([{ at: 80 }, { at: 86 }]),
      key: 'close',
      gravity: 'look',
      data: { apartMm: 6 },
    },
    {
      why: 'notches on an allowance of 4',
      set: notched([{ at: 100 }], { allowance: 4 }),
      key: 'shallow',
      gravity: 'look',
      data: { apartMm: 4 },
    },
  ],
  unsure: [
    { why: 'a photo too coarse', set: notched([{ at: 80 }, { at: 92.5 }], {}, { pointSigma: 0.3 }), key: 'tooCoarse' },
  ],
  notApplicable: [],
});

/** A side cut into an upper and a lower edge on one line, with their allowances. */
function twoEdges(
  upper: number,
  lower: number,
  more: { readonly assumed?: boolean; readonly role?: Edge['role'] } = {},
) {
  const { assumed = false, role = 'seam' } = more;
  return setOf([
    piece('front', 'front skirt', {
      right: [e('upper side', 200, { allowance: upper, assumed }), e('lower side', 200, { allowance: lower, role })],
    }),
  ]);
}

describeCheck(allowanceUneven, {
  pass: [
    { why: 'one allowance all along', set: twoEdges(15, 15), key: 'clear' },
    { why: 'a difference of half a millimetre', set: twoEdges(15, 15.5), key: 'clear' },
  ],
  fail: [
    {
      why: 'an allowance that steps from 15 to 10',
      set: twoEdges(15, 10),
      key: 'steps',
      gravity: 'look',
      data: { allowancesMm: [15, 10] },
    },
  ],
  unsure: [{ why: 'an allowance that nobody has said', set: twoEdges(15, 10, { assumed: true }), key: 'assumed' }],
  notApplicable: [
    { why: 'a zip opening with more allowance', set: twoEdges(15, 25, { role: 'opening' }), key: 'noLines' },
  ],
});

/** A front whose neck edge, 200 long, bends by some degrees in its middle. */
function kinked(turnDeg: number, more: { readonly sigma?: number; readonly label?: string } = {}): PatternSet {
  const { sigma = 0.1, label = 'neck' } = more;
  const p = piece('front', 'front bodice', { top: [e(label, 200)] }, { pointSigma: sigma });
  const half = ((turnDeg / 2) * Math.PI) / 180;
  const middle: Point = [100, -100 * Math.tan(half)];
  return setOf([withCurve(p, label, polylinePath([[0, 0], middle, [200, 0]]))]);
}

function rounded(path: readonly Point[]): PatternSet {
  const p = piece('front', 'front bodice', { top: [e('neck', 200)] });
  return setOf([withCurve(p, 'neck', path)]);
}

/** A flat arc over the top edge as 5 mm chords, each of which turns from the one before. */
const CHORDS: readonly Point[] = Array.from({ length: 41 }, (_, i) => {
  const angle = ((-45 - (90 * (40 - i)) / 40) * Math.PI) / 180;
  return [100 + 100 * Math.SQRT2 * Math.cos(angle), 100 + 100 * Math.SQRT2 * Math.sin(angle)] as const;
});

const UNDER_A_WEIGHT = { piece: 'front', edge: 'neck', fromMm: 80, toMm: 120 } as const;

describeCheck(curveKink, {
  pass: [
    { why: 'a straight line', set: kinked(0), key: 'clear' },
    { why: 'a bend of 5 degrees', set: kinked(5), key: 'clear' },
    { why: 'an arc of small chords', set: rounded(polylinePath(CHORDS)), key: 'clear' },
    { why: 'the peak of an edge over its own dart', set: idealSet('as designed'), key: 'clear' },
  ],
  fail: [
    {
      why: 'a neck that bends by 14 degrees',
      set: kinked(14),
      key: 'kinks',
      gravity: 'mend',
      data: { turnDeg: 14 },
      says: 'in one place',
    },
    {
      why: 'a bend beside a stretch that was covered',
      set: unseen(kinked(14), { ...UNDER_A_WEIGHT, fromMm: 130, toMm: 170 }),
      key: 'kinks',
      gravity: 'mend',
    },
    { why: 'a side seam that turns at the waist', set: kinked(14, { label: 'side' }), key: 'kinks', gravity: 'look' },
  ],
  unsure: [
    { why: 'a photo too coarse', set: kinked(9, { sigma: 0.5 }), key: 'tooCoarse' },
    { why: 'a bend where a weight lay over the line', set: unseen(kinked(14), UNDER_A_WEIGHT), key: 'tooCoarse' },
  ],
  notApplicable: [{ why: 'a corner in the middle of an edge', set: kinked(60), key: 'intended' }],
});

/** A top edge that wavers in waves of half height `mm`, six of them on 300. */
function wavy(mm: number, sigma = 0.1): PatternSet {
  const points = Array.from({ length: 121 }, (_, i): Point => [i * 2.5, -mm * Math.sin((i * 2.5 * Math.PI) / 25)]);
  const p = piece('front', 'front bodice', { top: [e('neck', 300)] }, { pointSigma: sigma });
  return setOf([withCurve(p, 'neck', polylinePath(points))]);
}

describeCheck(tracingWobble, {
  pass: [
    { why: 'a straight line', set: wavy(0), key: 'clear' },
    { why: 'waves of a third of a millimetre', set: wavy(0.3), key: 'clear' },
    { why: 'the curves of the dress', set: idealSet('as designed'), key: 'clear' },
  ],
  fail: [
    { why: 'waves of 1.5 to either side', set: wavy(1.5), key: 'wavers', gravity: 'look', says: 'changes its bend 1' },
  ],
  unsure: [
    { why: 'waves that the photo may have made', set: wavy(1.1, 1.5), key: 'tooCoarse' },
    {
      why: 'waves on an edge that was hardly to be seen',
      set: unseen(wavy(1.5), { piece: 'front', edge: 'neck', fromMm: 50, toMm: 250, reason: 'weak-edge' }),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [],
});

/** The whole paper traced, with marks at the turn of the hem 30 above the raw edge. */
function markedHem(rawMm: number): PatternSet {
  const set = taperedHem(rawMm, { traced: 'seam' });
  const mark = (edge: string, atMm: number) =>
    ({ id: edge, edge, atMm, count: 1, purpose: 'hem-turn', mate: { kind: 'none' } }) as const;
  return setOf(
    set.pieces.map((p) =>
      changed(p, ({ ring }) => {
        const tail = Math.hypot(30, 150 - rawMm / 2);
        const lengths = ring.map(({ curve }) => Math.hypot(curve[3]![0] - curve[0]![0], curve[3]![1] - curve[0]![1]));
        return { notches: [mark('underarm front', lengths[1]!), mark('underarm back', tail)] };
      }),
    ),
  );
}

describeCheck(hemTurn, {
  pass: [
    { why: 'an allowance that flares to 308', set: taperedHem(308), key: 'clear', data: { shortMm: 0 } },
    { why: 'a shirt tail, whose corner is far from square', set: taperedHem(240), key: 'clear' },
    { why: 'an allowance that flares more than it need', set: taperedHem(314), key: 'clear', says: 'wider' },
  ],
  fail: [
    {
      why: 'an allowance that narrows on to 292: 16 short when turned up',
      set: taperedHem(292),
      key: 'short',
      gravity: 'mend',
      data: { shortMm: 16, allowanceMm: 30 },
      says: '16 ±',
    },
  ],
  unsure: [{ why: 'a photo too coarse', set: taperedHem(305, { sigma: 0.5 }), key: 'tooCoarse' }],
  notApplicable: [
    { why: 'a seamline without its allowance', set: taperedHem(308, { traced: 'seam' }), key: 'notDrawn' },
    {
      why: 'a hem allowance deeper than the piece',
      set: setOf([
        changed(
          piece('band', 'other', { top: [e('top', 60)], bottom: [e('hem', 60)] }, { tracedLine: 'cutting' }),
          (s) => ({
            ring: s.ring.map((edge) => (edge.role === 'hem' ? { ...edge, allowanceMm: 80 } : edge)),
          }),
        ),
      ]),
      key: 'noSides',
    },
  ],
});

it('reads the depth of a hem from the marks at its turn where the whole paper was traced', () => {
  const [judged] = hemTurn.evaluate(contextOf(markedHem(292)));
  expect(judged!.key).toBe('short');
  expect(judged!.finding.measured!.value).toBeCloseTo(16, 2);
});

/** A back bodice open along its centre, and a neckband whose end there is what a test says. */
function backBand(end: 'opening' | 'fold', onFold: boolean, sewn = ''): PatternSet {
  const bodice = piece('back', 'back bodice', {
    top: [e('neck', 124)],
    right: [e('centre back', 300, { role: 'opening' })],
  });
  const band = piece(
    'back neckband',
    'neckband',
    { top: [e('outer', 124)], right: [e('centre back', 60, { role: end })] },
    onFold ? { cut: ON_FOLD } : {},
  );
  return setOf([bodice, band], [seam('back neck', `back.neck${sewn}`, `back neckband.outer${sewn}`)]);
}

describeCheck(foldInOpening, {
  pass: [
    { why: 'a seam that stops before the fold', set: backBand('fold', true, '@0-100'), key: 'clear' },
    { why: 'fronts and facings on the fold', set: loweredNeck(118), key: 'clear' },
    { why: 'the dress as designed', set: idealSet('as designed'), key: 'clear' },
  ],
  fail: [
    {
      why: 'a back neckband marked on the fold where the zip runs',
      set: backBand('opening', true),
      key: 'onOpening',
      gravity: 'stop',
      data: { piece: 'back neckband', edge: 'centre back' },
    },
    {
      why: 'a back neckband whose fold meets the open centre back',
      set: backBand('fold', true),
      key: 'meets',
      gravity: 'stop',
      data: { other: 'back' },
    },
    {
      why: 'a back on the fold whose open edge is called by its zip',
      set: setOf([piece('back', 'back bodice', { right: [e('CB zip', 300, { role: 'opening' })] }, { cut: ON_FOLD })]),
      key: 'onOpening',
      gravity: 'stop',
    },
    {
      why: 'a seam planned along a fold',
      set: setOf(
        [
          piece('front', 'front bodice', { left: [e('fold', 200)] }),
          piece('other', 'other', { left: [e('edge', 200)] }),
        ],
        [seam('fold', 'front.fold', 'other.edge')],
      ),
      key: 'sewn',
      gravity: 'stop',
    },
  ],
  unsure: [],
  notApplicable: [],
});
