// The rules about single pieces and about the set, each with what passes, fails, cannot be told and does not apply.
import { expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { runChecks } from '../../../shared/checks/engine.ts';
import { cornerUntrue } from '../../../shared/checks/rules/cornerUntrue.ts';
import { dartLegs } from '../../../shared/checks/rules/dartLegs.ts';
import { edgeUnclaimed } from '../../../shared/checks/rules/edgeUnclaimed.ts';
import { foldCorner } from '../../../shared/checks/rules/foldCorner.ts';
import { foldOnUneven } from '../../../shared/checks/rules/foldOnUneven.ts';
import { grainMissing } from '../../../shared/checks/rules/grainMissing.ts';
import { outlineCrosses } from '../../../shared/checks/rules/outlineCrosses.ts';
import { pieceMissing } from '../../../shared/checks/rules/pieceMissing.ts';
import type { PatternSet, Piece, Shape } from '../../../shared/pattern/model.ts';
import { describeCheck } from '../../support/describeCheck.ts';
import { straight } from '../../support/polygonPiece.ts';
import { armholeSet, dressWaist, SOUND_ARMHOLE, sideWithDart, waistband } from '../../support/scenarioSets.ts';
import { cutOf, e, expected, line, ON_FOLD, piece, pieceOf, rectangle, seam, setOf } from '../../support/sets.ts';

function withDart(extraMm: number, pointSigma = 0.1): PatternSet {
  const set = sideWithDart();
  const front = set.pieces[0]!;
  const shape = front.shapes.M!;
  const dart = shape.darts[0]!;
  const [from, to] = dart.legs;
  const apex: Point = [dart.apex[0], dart.apex[1] + extraMm];
  const changed: Shape = {
    ...shape,
    darts: [{ ...dart, legs: [from, to], apex }],
    accuracy: { ...shape.accuracy, pointSigmaMm: pointSigma },
  };
  return setOf([{ ...front, shapes: { M: changed } }]);
}

/** Legs end 14.95 to each side on the cutting line, 115 beside the apex; the seamline lies 100 beside it. */
describeCheck(dartLegs, {
  pass: [
    { why: 'an isosceles dart', set: withDart(0), key: 'clear', data: { differenceMm: 0 } },
    { why: 'an apex that is off by 2', set: withDart(2), key: 'clear' },
  ],
  fail: [
    {
      why: 'an apex that is off by 20',
      set: withDart(20),
      key: 'differs',
      gravity: 'mend',
      data: {
        legsMm: [Math.hypot(100, (34.95 * 100) / 115), Math.hypot(100, (5.05 * 100) / 115)],
        differenceMm: Math.hypot(100, (34.95 * 100) / 115) - Math.hypot(100, (5.05 * 100) / 115),
      },
    },
  ],
  unsure: [
    { why: 'a photo too coarse', set: withDart(6, 0.5), key: 'tooCoarse' },
    {
      why: 'a dart on an edge that is not there',
      set: setOf([
        pieceOf('front', 'front bodice', {
          M: {
            ...rectangle({}),
            darts: [
              {
                id: 'd',
                edge: 'gone',
                legs: [
                  [0, 0],
                  [0, 20],
                ],
                apex: [50, 10],
                foldTo: null,
              },
            ],
          },
        }),
      ]),
      key: 'noEdge',
    },
  ],
  notApplicable: [],
});

describeCheck(grainMissing, {
  pass: [
    { why: 'an arrow', set: setOf([piece('back', 'back bodice', {})]), key: 'arrow' },
    {
      why: 'a fold edge without an arrow',
      set: setOf([piece('front', 'front bodice', { left: [e('fold', 300)] }, { grain: 'none' })]),
      key: 'fold',
    },
  ],
  fail: [
    {
      why: 'neither arrow nor fold',
      set: setOf([piece('sleeve', 'sleeve', { top: [e('cap', 300)] }, { grain: 'none' })]),
      key: 'missing',
      gravity: 'mend',
    },
  ],
  unsure: [],
  notApplicable: [],
});

/** Front bodice whose neck leaves the fold at the given inside angle. */
function foldAt(insideDeg: number, pointSigma = 0.1): PatternSet {
  const rad = (insideDeg * Math.PI) / 180;
  const neckEnd: Point = [120 * Math.sin(rad), 120 * Math.cos(rad)];
  return setOf([
    straight(
      'front',
      'front bodice',
      [[0, 0], neckEnd, [200, 300], [0, 300]],
      [
        ['neck', 'seam'],
        ['side', 'seam'],
        ['hem', 'hem'],
        ['fold', 'fold'],
      ],
      pointSigma,
    ),
  ]);
}

describeCheck(foldCorner, {
  pass: [
    { why: 'a square neck', set: foldAt(90), key: 'clear', data: { angleDeg: 90 } },
    { why: 'two degrees off', set: foldAt(92), key: 'clear', data: { angleDeg: 92 } },
  ],
  fail: [
    {
      why: 'a neck that rises to a point',
      set: foldAt(82),
      key: 'untrue',
      gravity: 'mend',
      data: { angleDeg: 82 },
      says: 'point',
    },
    { why: 'a neck that dips', set: foldAt(99), key: 'untrue', says: 'dip' },
  ],
  unsure: [{ why: 'a corner too coarse', set: foldAt(86, 0.4), key: 'tooCoarse' }],
  notApplicable: [{ why: 'a V neck', set: foldAt(50), key: 'intended' }],
});

/** Front and back with shoulders whose neck corners have the given inside angles. */
function shoulderCorners(frontDeg: number, backDeg: number, pointSigma = 0.1): PatternSet {
  const half = (id: string, kind: Piece['kind'], deg: number) => {
    const rad = (deg * Math.PI) / 180;
    const neckEnd: Point = [-100 * Math.cos(rad), 100 * Math.sin(rad)];
    return straight(
      id,
      kind,
      [
        [0, 0],
        [120, 0],
        [120, 300],
        [-150, 300],
        [-neckEnd[0], neckEnd[1]],
      ],
      [
        ['shoulder', 'seam'],
        ['side', 'opening'],
        ['hem', 'hem'],
        ['centre', 'opening'],
        ['neck', 'seam'],
      ],
      pointSigma,
    );
  };
  const collar = piece('collar', 'collar', { bottom: [e('neck', 300)] });
  return setOf(
    [half('front', 'front bodice', frontDeg), half('back', 'back bodice', backDeg), collar],
    [
      seam('shoulder', 'front.shoulder', 'back.shoulder', { join: 'eased' }),
      seam('neck', 'front.neck + -back.neck', 'collar.neck'),
    ],
  );
}

/** A collar of two layers with points of 70 degrees, its outer edge and ends sewn to themselves. */
function collarLayers(): PatternSet {
  const collar = straight(
    'collar',
    'collar',
    [
      [0, 0],
      [220, 0],
      [200, 70],
      [0, 70],
    ],
    [
      ['outer', 'seam'],
      ['point', 'seam'],
      ['neck', 'seam'],
      ['fold', 'fold'],
    ],
  );
  return setOf(
    [{ ...collar, cut: [cutOf({ count: 2, onFold: true })] }],
    [seam('outer', 'collar.outer', 'collar.outer'), seam('ends', 'collar.point', 'collar.point')],
  );
}

it('asks for no line across the points of a collar, whose layers lie on each other', () => {
  expect(runChecks(collarLayers()).findings.filter((f) => f.rule === 'corner-untrue')).toEqual([]);
});

it('asks for none where both edges beside a seam are sewn to each other, as at a turned point', () => {
  const set = shoulderCorners(98, 92);
  const turned = { ...set, seams: [...set.seams, seam('necks', 'front.neck', 'back.neck')] };
  expect(runChecks(turned).findings.filter((f) => f.rule === 'corner-untrue' && f.verdict === 'fault')).toEqual([]);
});

/** Trousers of which rise and inseam meet at an angle, the rise sewn to its mirror image. */
it('asks for no line across the crotch, where four pieces meet in a point (common practice, no source)', () => {
  const leg = straight(
    'leg',
    'trouser front',
    [
      [0, 0],
      [200, 0],
      [200, 900],
      [0, 900],
      [-40, 250],
    ],
    [
      ['waist', 'seam'],
      ['side', 'seam'],
      ['hem', 'hem'],
      ['inseam', 'seam'],
      ['rise', 'seam'],
    ],
  );
  const ends = runChecks(setOf([leg], [seam('rise', 'leg.rise', 'leg.rise')])).findings.filter(
    (f) => f.rule === 'corner-untrue',
  );
  expect(ends.map(({ sentence }) => sentence).filter((text) => text.includes('inseam'))).toEqual([]);
  expect(ends.map(({ sentence }) => sentence).filter((text) => text.includes('waist'))).toHaveLength(1);
});

describeCheck(cornerUntrue, {
  pass: [
    { why: 'two square corners', set: shoulderCorners(90, 90), key: 'clear', data: { offDeg: 0 } },
    { why: '96 and 84', set: shoulderCorners(96, 84), key: 'clear', data: { offDeg: 0 } },
    {
      why: 'a small turn, too coarse to be sure of: nothing that shows, nothing to measure again',
      set: shoulderCorners(94, 80, 0.3),
      key: 'clear',
    },
    { why: 'side seams that meet waist and hem square', set: waistband(35), key: 'clear' },
  ],
  fail: [
    {
      why: 'a peak at the shoulder: 94 and 80',
      set: shoulderCorners(94, 80),
      key: 'untrue',
      gravity: 'look',
      data: { anglesDeg: [94, 80], offDeg: -6 },
      says: 'peak',
    },
    {
      why: 'a dip at the shoulder that stands 2 mm deep when it is blended over 30 (30 x tan(15/4 deg))',
      set: shoulderCorners(100, 95),
      key: 'untrue',
      gravity: 'mend',
      data: { offDeg: 15 },
      says: 'dip',
    },
  ],
  unsure: [{ why: 'corners too coarse', set: shoulderCorners(94, 75, 0.5), key: 'tooCoarse' }],
  notApplicable: [{ why: 'a corner that is meant', set: shoulderCorners(60, 90), key: 'intended' }],
});

const CROSSED = straight(
  'pocket',
  'pocket',
  [
    [0, 0],
    [100, 100],
    [100, 0],
    [0, 100],
  ],
  [
    ['a', 'seam'],
    ['b', 'seam'],
    ['c', 'seam'],
    ['d', 'seam'],
  ],
);

function opened(gapMm: number): Piece {
  const sound = straight(
    'pocket',
    'pocket',
    [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
    ],
    [
      ['a', 'seam'],
      ['b', 'seam'],
      ['c', 'seam'],
      ['d', 'seam'],
    ],
  );
  const shape = sound.shapes.M!;
  const last = shape.ring.at(-1)!;
  const ring = [...shape.ring.slice(0, -1), { ...last, curve: line([0, 100], [0, gapMm]) }];
  return { ...sound, shapes: { M: { ...shape, ring } } };
}

describeCheck(outlineCrosses, {
  pass: [
    { why: 'a rectangle', set: setOf([opened(0)]), key: 'clear', data: { crossings: 0 } },
    { why: 'all pieces of the dress waist', set: dressWaist(192), key: 'clear' },
  ],
  fail: [
    { why: 'a bow tie', set: setOf([CROSSED]), key: 'crosses', gravity: 'stop', data: { crossings: 1 } },
    { why: 'edges that part by 2', set: setOf([opened(2)]), key: 'open', gravity: 'stop', data: { gapMm: 2 } },
  ],
  unsure: [],
  notApplicable: [],
});

/** A back that is cut from several cloths, with one edge that is in no seam. */
function layered(materials: readonly ('shell' | 'lining')[], label: string) {
  const cut = materials.map((material) => cutOf({ material, count: 2, mirrored: true }));
  return piece('back', 'back bodice', { top: [e(label, 90)] }, { cut });
}

describeCheck(edgeUnclaimed, {
  pass: [
    {
      why: 'every edge sewn, folded, hemmed or open',
      set: setOf(
        [
          piece('front', 'front skirt', { right: [e('side', 300)], bottom: [e('hem', 100)], left: [e('fold', 300)] }),
          piece('back', 'back skirt', { right: [e('side', 300)] }),
        ],
        [seam('side', 'front.side', 'back.side')],
      ),
      key: 'clear',
    },
    {
      why: 'a waistband folded over itself: its inner edge and its ends (common practice, no source)',
      set: setOf(
        [
          piece('skirt', 'front skirt', { top: [e('waist', 700)] }),
          piece('band', 'waistband', {
            top: [e('inner', 700)],
            bottom: [e('waist', 700)],
            left: [e('end', 60)],
            right: [e('end', 60, { id: 'end-2' })],
          }),
        ],
        [seam('waist', 'skirt.waist', 'band.waist')],
      ),
      key: 'clear',
    },
    {
      why: 'the neck of a waistcoat back, which its lining finishes (common practice, no source)',
      set: setOf([layered(['shell', 'lining'], 'neck')]),
      key: 'clear',
    },
  ],
  fail: [
    {
      why: 'a side without partner',
      set: setOf([piece('front', 'front skirt', { right: [e('side', 300)] })]),
      key: 'unclaimed',
      gravity: 'look',
      data: { edges: ['side'], freeMm: 300 },
    },
    {
      why: 'three edges of one piece: one finding',
      set: setOf([
        piece('front', 'front skirt', { top: [e('waist', 100)], right: [e('side', 300)], left: [e('centre', 300)] }),
      ]),
      key: 'several',
      gravity: 'look',
      data: { freeMm: 300 },
      says: 'waist',
    },
    {
      why: 'a band that is sewn to nothing',
      set: setOf([piece('band', 'waistband', { top: [e('waist', 700)] })]),
      key: 'unclaimed',
    },
    {
      why: 'the side of a piece in two layers, which no layer finishes',
      set: setOf([layered(['shell', 'lining'], 'side')]),
      key: 'unclaimed',
    },
    {
      why: 'a side that is sewn for 200 of 300',
      set: setOf(
        [
          piece('front', 'front skirt', { right: [e('side', 300)] }),
          piece('back', 'back skirt', { right: [e('side', 200)] }),
        ],
        [seam('side', 'front.side@0-200', 'back.side')],
      ),
      key: 'partly',
      data: { freeMm: 100 },
    },
  ],
  unsure: [],
  notApplicable: [
    { why: 'a patch pocket', set: setOf([piece('pocket', 'pocket', { top: [e('edge', 100)] })]), key: 'placed' },
  ],
});

describeCheck(pieceMissing, {
  pass: [
    {
      why: 'every expected piece, whatever the case of its name',
      set: setOf([piece('f', 'front bodice', {}, { name: 'Front  bodice' })], [], {
        expectedPieces: [expected('front bodice', 'front bodice')],
      }),
      key: 'clear',
    },
    {
      why: 'a piece of the right kind under another name',
      set: setOf([piece('f', 'sleeve', {}, { name: 'piece 3' })], [], {
        expectedPieces: [expected('short sleeve', 'sleeve')],
      }),
      key: 'clear',
    },
  ],
  fail: [
    {
      why: 'a facing that was never traced',
      set: setOf([piece('f', 'front bodice', {})], [], {
        expectedPieces: [expected('f', 'front bodice'), expected('neck facing', 'facing')],
      }),
      key: 'missing',
      gravity: 'stop',
      data: { piece: 'neck facing' },
    },
    {
      why: 'one of two pieces of the same kind',
      set: setOf([piece('a', 'pocket', {})], [], {
        expectedPieces: [expected('pocket bag', 'pocket'), expected('pocket facing', 'pocket')],
      }),
      key: 'missing',
      data: { piece: 'pocket facing' },
    },
    {
      why: 'a planned piece without a shape',
      set: setOf([piece('f', 'front bodice', {}), pieceOf('back', 'back bodice', {})]),
      key: 'missing',
      data: { piece: 'back' },
    },
  ],
  unsure: [],
  notApplicable: [],
});

const EVEN_ARMHOLE = { ...SOUND_ARMHOLE, back: [80, 132], capBack: [80, 144], backCount: 1, capBackCount: 1 } as const;

/** A sleeve of which one half was traced, on the fold, for the given armholes. */
function halfSleeve(front: number, back: number, backCount: 1 | 2): PatternSet {
  const bodice = (id: string, kind: 'front bodice' | 'back bodice', mm: number, count: 1 | 2) =>
    piece(id, kind, { top: [e('armhole', mm, { notches: [{ at: mm / 2, count }] })] });
  return setOf(
    [
      bodice('front', 'front bodice', front, 1),
      bodice('back', 'back bodice', back, backCount),
      piece('sleeve', 'sleeve', { top: [e('cap', 226)], left: [e('fold', 200)] }, { cut: ON_FOLD }),
    ],
    [seam('armhole', 'front.armhole + back.armhole', 'sleeve.cap', { join: 'eased' })],
  );
}

describeCheck(foldOnUneven, {
  pass: [
    {
      why: 'a front bodice on the fold',
      set: setOf([piece('front', 'front bodice', { left: [e('fold', 300)] })]),
      key: 'even',
    },
    {
      why: 'a sleeve with two equal halves',
      set: armholeSet({ ...EVEN_ARMHOLE, sleeve: 'whole marked on fold' }),
      key: 'capEven',
    },
    { why: 'half a sleeve for two equal armholes', set: halfSleeve(212, 212, 1), key: 'capEven' },
  ],
  fail: [
    {
      why: 'a sleeve whose caps differ',
      set: armholeSet({ ...SOUND_ARMHOLE, sleeve: 'whole marked on fold' }),
      key: 'capDiffers',
      gravity: 'stop',
      data: { halvesMm: [224, 238] },
    },
    {
      why: 'half a sleeve for two different armholes',
      set: halfSleeve(212, 222, 1),
      key: 'armholeDiffers',
      gravity: 'stop',
      data: { halvesMm: [212, 222] },
    },
    {
      why: 'half a sleeve where the armholes are notched apart',
      set: halfSleeve(212, 212, 2),
      key: 'countsDiffer',
      gravity: 'stop',
    },
  ],
  unsure: [
    {
      why: 'a piece marked on the fold without a fold edge',
      set: setOf([piece('back neckband', 'neckband', { top: [e('neck', 124)] }, { cut: ON_FOLD })]),
      key: 'noEdge',
    },
    {
      why: 'a sleeve that no seam sets in',
      set: setOf([piece('sleeve', 'sleeve', { top: [e('cap', 460)] }, { cut: [cutOf({ onFold: true })] })]),
      key: 'noSeam',
    },
    {
      why: 'a photo too coarse',
      set: armholeSet({ ...EVEN_ARMHOLE, capBack: [80, 147], pointSigma: 0.8, sleeve: 'whole marked on fold' }),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [],
});
