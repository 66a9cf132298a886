// The rules about pieces that belong together: pairs, grain, nap, levels, openings, trims, the way a seam is joined, and what
// is only cautioned about. Each with what passes, fails, cannot be told and does not apply.
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { contextOf } from '../../../shared/checks/context.ts';
import { childCord } from '../../../shared/checks/rules/childCord.ts';
import { childSleepwear } from '../../../shared/checks/rules/childSleepwear.ts';
import { grainDisagrees } from '../../../shared/checks/rules/grainDisagrees.ts';
import { levelsDiffer } from '../../../shared/checks/rules/levelsDiffer.ts';
import { napDisagrees } from '../../../shared/checks/rules/napDisagrees.ts';
import { openingShort } from '../../../shared/checks/rules/openingShort.ts';
import { sameSide } from '../../../shared/checks/rules/sameSide.ts';
import { scoopDiffers } from '../../../shared/checks/rules/scoopDiffers.ts';
import { shoulderReversed } from '../../../shared/checks/rules/shoulderReversed.ts';
import { trimDiffers } from '../../../shared/checks/rules/trimDiffers.ts';
import { turnedRound } from '../../../shared/checks/rules/turnedRound.ts';
import { parameterAtLength } from '../../../shared/geometry/arcLength.ts';
import { splitAt } from '../../../shared/geometry/cubicPath.ts';
import type { PatternSet, Piece } from '../../../shared/pattern/model.ts';
import { idealSet } from '../../photos/marl/idealSet.ts';
import { describeCheck } from '../../support/describeCheck.ts';
import { changed, straight } from '../../support/polygonPiece.ts';
import {
  armholeSet,
  cuttingLineTrap,
  jerseyTop,
  loweredNeck,
  SOUND_ARMHOLE,
  shoulders,
  sleeveHem,
  waistband,
} from '../../support/scenarioSets.ts';
import { arcPath, cutOf, e, type NotchSpec, PAIR, piece, SINGLE, seam, setOf } from '../../support/sets.ts';
import { unseen } from '../../support/unseen.ts';

const TWO_ALIKE = [cutOf({ count: 2 })];

/** The sleeve of the scenario, front 224 and back 238, cut as a test says. */
function sleeves(cut: Piece['cut'], spec = SOUND_ARMHOLE): PatternSet {
  const set = armholeSet(spec);
  return { ...set, pieces: set.pieces.map((p) => (p.id === 'sleeve' ? { ...p, cut } : p)) };
}

/** A four-cornered piece whose lower right corner lies `outMm` beside the rectangle. */
function leaning(kind: Piece['kind'], outMm: number, sigma = 0.1): PatternSet {
  const p = straight(
    'piece',
    kind,
    [
      [0, 0],
      [200, 0],
      [200 + outMm, 300],
      [0, 300],
    ],
    [
      ['top', 'seam'],
      ['right', 'seam'],
      ['bottom', 'seam'],
      ['left', 'seam'],
    ],
    sigma,
  );
  return setOf([{ ...p, cut: TWO_ALIKE }]);
}

describeCheck(sameSide, {
  pass: [
    { why: 'a symmetric patch pocket cut twice', set: leaning('pocket', 0), key: 'clear', data: { marksAlone: 0 } },
    {
      why: 'a cuff with a notch for its overlap at one end only',
      set: setOf([piece('cuff', 'cuff', { top: [e('top', 275, { notches: [{ at: 25 }] })] }, { cut: TWO_ALIKE })]),
      key: 'clear',
      data: { marksAlone: 1 },
    },
    { why: 'a panel that is the same turned over', set: leaning('back skirt', 0), key: 'clear' },
    {
      why: 'a sleeve with two equal halves',
      set: sleeves(TWO_ALIKE, {
        ...SOUND_ARMHOLE,
        capFront: [80, 144],
        capBack: [80, 144],
        backCount: 1,
        capBackCount: 1,
      }),
      key: 'clear',
    },
  ],
  fail: [
    {
      why: 'two sleeves with caps of 224 and 238, not mirrored',
      set: sleeves(TWO_ALIKE),
      key: 'twoLeft',
      gravity: 'stop',
      says: 'same side',
    },
    { why: 'two fronts with a slanting side', set: leaning('front bodice', 30), key: 'twoLeft', gravity: 'stop' },
  ],
  unsure: [
    { why: 'two uneven collars, which may be layers', set: leaning('collar', 30), key: 'layers' },
    { why: 'a photo too coarse', set: leaning('back skirt', 0, 1.4), key: 'tooCoarse' },
  ],
  notApplicable: [{ why: 'a mirrored pair', set: sleeves(PAIR), key: 'pair' }],
});

describeCheck(shoulderReversed, {
  pass: [
    { why: 'a back 4 longer', set: shoulders(76, 80), key: 'clear', data: { easeMm: 4 } },
    { why: 'a front longer by 2', set: shoulders(122, 120), key: 'clear', data: { easeMm: -2 } },
  ],
  fail: [
    { why: 'a front longer by 6', set: shoulders(124, 118), key: 'reversed', gravity: 'mend', data: { easeMm: -6 } },
    { why: 'a front longer by 14', set: shoulders(132, 118), key: 'reversed', gravity: 'stop' },
  ],
  unsure: [{ why: 'a difference at the limit', set: shoulders(121.2, 118), key: 'tooCoarse' }],
  notApplicable: [],
});

/** Front and back with named neighbours of their sides; the seam walks the second side as told. */
function sideSeam(second: string, names: 'named' | 'unnamed' = 'named'): PatternSet {
  const neighbour = (label: string) => (names === 'named' ? [e(label, 200)] : []);
  const half = (id: string, kind: Piece['kind']) =>
    piece(id, kind, { top: neighbour('armhole'), right: [e('side', 205)], bottom: neighbour('waist') });
  return setOf([half('front', 'front bodice'), half('back', 'back bodice')], [seam('side', 'front.side', second)]);
}

function notchedSides(front: readonly NotchSpec[], back: readonly NotchSpec[], names?: 'named'): PatternSet {
  const neighbour = (label: string) => (names === 'named' ? [e(label, 200)] : []);
  const half = (id: string, kind: Piece['kind'], notches: readonly NotchSpec[]) =>
    piece(id, kind, { top: neighbour('armhole'), right: [e('side', 205, { notches })], bottom: neighbour('waist') });
  return setOf(
    [half('front', 'front bodice', front), half('back', 'back bodice', back)],
    [seam('side', 'front.side', 'back.side')],
  );
}

/** A cap whose front half comes where the armhole has its back. */
function backToFront(): PatternSet {
  const set = armholeSet({
    ...SOUND_ARMHOLE,
    front: [80, 132],
    back: [80, 132],
    capFront: [80, 144],
    capBack: [80, 144],
  });
  const turned = set.seams.map((s) => {
    const [armhole, cap] = s.sides;
    return s.id === 'armhole'
      ? { ...s, sides: [armhole, cap.map((span) => ({ ...span, reversed: !span.reversed }))] as const }
      : s;
  });
  return { ...set, seams: turned };
}

describeCheck(turnedRound, {
  pass: [
    { why: 'armhole to armhole', set: sideSeam('back.side'), key: 'clear' },
    { why: 'notches that meet', set: notchedSides([{ at: 60 }], [{ at: 60.5 }]), key: 'clear' },
    { why: 'a sleeve set in as it should', set: armholeSet(SOUND_ARMHOLE), key: 'clear' },
    { why: 'a notch that has slipped', set: notchedSides([{ at: 60 }], [{ at: 67 }], 'named'), key: 'clear' },
    {
      why: 'a notch that has slipped across the middle',
      set: notchedSides([{ at: 100 }], [{ at: 105 }]),
      key: 'clear',
    },
  ],
  fail: [
    {
      why: 'an armhole sewn to a waist',
      set: sideSeam('-back.side'),
      key: 'names',
      gravity: 'mend',
      says: /sewn to the/,
    },
    {
      why: 'notches that meet only turned round',
      set: notchedSides([{ at: 60 }], [{ at: 145 }]),
      key: 'notches',
      gravity: 'mend',
    },
    {
      why: 'notches 25 apart that meet when turned round',
      set: notchedSides([{ at: 90 }], [{ at: 115 }]),
      key: 'notches',
    },
    { why: 'a sleeve set in back to front', set: backToFront(), key: 'notches' },
  ],
  unsure: [
    {
      why: 'names that say one thing and notches another',
      set: notchedSides([{ at: 60 }], [{ at: 145 }], 'named'),
      key: 'disagree',
    },
  ],
  notApplicable: [{ why: 'neither names nor notches', set: sideSeam('back.side', 'unnamed'), key: 'untold' }],
});

/** An armhole and a cap whose lower 80 bend by a quarter turn each, the cap's by `capTurn` of it. */
function scoops(capTurn: number, sigma = 0.1): PatternSet {
  const set = armholeSet({ ...SOUND_ARMHOLE, pointSigma: sigma });
  const change: Record<string, (p: Piece) => Piece> = {
    front: bend('armhole', 80, 212, Math.PI / 2),
    sleeve: bend('cap', 80, 462, (capTurn * Math.PI) / 2),
  };
  return { ...set, pieces: set.pieces.map((p) => change[p.id]?.(p) ?? p) };
}

/** The edge replaced by an arc of lowMm that runs on into a straight line of the rest. */
function bend(edge: string, lowMm: number, totalMm: number, turnRad: number) {
  const radius = lowMm / turnRad;
  const arc = arcPath(radius, 0, turnRad);
  const end = arc.at(-1)!;
  const onward: Point = [-Math.sin(turnRad) * (totalMm - lowMm), Math.cos(turnRad) * (totalMm - lowMm)];
  const at = (t: number): Point => [end[0] + onward[0] * t, end[1] + onward[1] * t];
  const curve = [...arc, at(1 / 3), at(2 / 3), at(1)];
  return (p: Piece) =>
    changed(p, ({ ring }) => ({ ring: ring.map((each) => (each.id === edge ? { ...each, curve } : each)) }));
}

/** The sleeve cut off beside the underarm, as an under sleeve is, and the rest of it drawn 500 away. */
function scoopInTwo(): PatternSet {
  const set = scoops(1);
  const sleeve = set.pieces.find(({ id }) => id === 'sleeve')!;
  const low = changed(sleeve, ({ ring }) => ({
    notches: [],
    ring: ring.map((edge) =>
      edge.id === 'cap' ? { ...edge, curve: splitAt(edge.curve, parameterAtLength(edge.curve, 50))[0] } : edge,
    ),
  }));
  const rest = changed(sleeve, ({ ring, notches }) => ({
    notches: notches.map((n) => ({ ...n, atMm: n.atMm - 50 })),
    ring: ring.map((edge) =>
      edge.id === 'cap'
        ? {
            ...edge,
            curve: splitAt(edge.curve, parameterAtLength(edge.curve, 50))[1].map(([x, y]): Point => [x + 500, y - 300]),
          }
        : edge,
    ),
  }));
  return {
    ...set,
    pieces: [...set.pieces.filter((p) => p !== sleeve), { ...low, id: 'under' }, { ...rest, id: 'top' }],
    seams: set.seams.flatMap((s) =>
      s.sides.flat().some(({ piece: id }) => id === 'sleeve')
        ? s.id === 'armhole'
          ? [seam('armhole', 'front.armhole + back.armhole', 'under.cap + top.cap', { join: 'eased' })]
          : []
        : [s],
    ),
  };
}

describeCheck(scoopDiffers, {
  pass: [
    { why: 'two equal hollows', set: scoops(1), key: 'clear', data: { apartMm: 0 } },
    { why: 'the sleeve of the dress', set: idealSet('as designed'), key: 'clear' },
    { why: 'a hollow cut off beside the underarm, its pieces drawn apart', set: scoopInTwo(), key: 'clear' },
  ],
  fail: [
    {
      why: 'a cap that is flat where the armhole is hollow',
      set: scoops(0.2),
      key: 'differs',
      gravity: 'look',
      data: { where: 'front' },
    },
  ],
  unsure: [
    { why: 'a photo too coarse', set: scoops(1, 3), key: 'tooCoarse' },
    {
      why: 'a flat cap whose hollow lay in shadow',
      set: unseen(scoops(0.2), { piece: 'sleeve', edge: 'cap', fromMm: 10, toMm: 50, reason: 'shadow' }),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [
    { why: 'a cap without notches', set: cuttingLineTrap(), key: 'noNotches' },
    {
      why: 'a shirt sleeve',
      set: { ...scoops(0.2), preset: { tolerance: 'home', cloth: 'shirt' } },
      key: 'flatSet',
    },
  ],
});

/** A front and a back skirt with the grain that a test says. */
function panels(back: Piece['grainIntent']): PatternSet {
  const half = (id: string, kind: Piece['kind']) => piece(id, kind, { right: [e('side', 590)] });
  return setOf(
    [half('front', 'front skirt'), { ...half('back', 'back skirt'), grainIntent: back }],
    [seam('side', 'front.side', 'back.side')],
  );
}

function facing(turnDeg: number, more: { readonly sigma?: number; readonly grain?: 'none' } = {}): PatternSet {
  const { sigma = 0.1, grain = 'arrow' } = more;
  const rad = (turnDeg * Math.PI) / 180;
  const arrow = { from: [50, 50], to: [50 + 40 * Math.sin(rad), 50 - 40 * Math.cos(rad)], heads: 2 } as const;
  const body = piece('back', 'back bodice', { top: [e('neck', 100)] }, { pointSigma: sigma });
  const strip = piece('back facing', 'facing', { top: [e('neck', 100)] }, { pointSigma: sigma });
  return setOf(
    [body, changed(strip, () => ({ grainline: grain === 'none' ? null : arrow }))],
    [seam('facing', 'back.neck', 'back facing.neck')],
  );
}

describeCheck(grainDisagrees, {
  pass: [
    { why: 'two panels on the straight grain', set: panels('straight'), key: 'clear' },
    { why: 'a facing 4 degrees off', set: facing(4), key: 'clear', data: { anglesDeg: [90, 86] } },
  ],
  fail: [
    { why: 'a back skirt on the bias', set: panels('bias'), key: 'intents', gravity: 'look', says: 'bias' },
    {
      why: 'a facing 30 degrees off its garment',
      set: facing(30),
      key: 'facing',
      gravity: 'look',
      data: { anglesDeg: [90, 60] },
    },
  ],
  unsure: [{ why: 'arrows too short to tell', set: facing(9.5, { sigma: 0.5 }), key: 'tooCoarse' }],
  notApplicable: [{ why: 'a facing without a grainline', set: facing(0, { grain: 'none' }), key: 'noGrain' }],
});

/** A front and a back skirt, napped or not, whose arrows point up or down. */
function napped(
  front: { readonly nap: Piece['nap']; readonly heads?: 0 | 1 | 2; readonly points?: 'up' | 'down' },
  back: { readonly nap: Piece['nap']; readonly heads?: 0 | 1 | 2; readonly points?: 'up' | 'down' },
): PatternSet {
  const half = (id: string, kind: Piece['kind'], { nap, heads = 1, points = 'up' }: typeof front) => {
    const p = piece(id, kind, { top: [e('waist', 200)], bottom: [e('hem', 200)], right: [e('side', 590)] });
    const [low, high]: [Point, Point] = [
      [100, 500],
      [100, 100],
    ];
    const [from, to] = points === 'up' ? [low, high] : [high, low];
    return { ...changed(p, () => ({ grainline: { from, to, heads } })), nap };
  };
  return setOf([half('front', 'front skirt', front), half('back', 'back skirt', back)]);
}

describeCheck(napDisagrees, {
  pass: [
    { why: 'both panels up', set: napped({ nap: 'one-way' }, { nap: 'one-way' }), key: 'clear' },
    {
      why: 'both panels down',
      set: napped({ nap: 'one-way', points: 'down' }, { nap: 'one-way', points: 'down' }),
      key: 'clear',
    },
  ],
  fail: [
    {
      why: 'one panel up and one down',
      set: napped({ nap: 'one-way' }, { nap: 'one-way', points: 'down' }),
      key: 'opposite',
      gravity: 'stop',
      data: { oneWay: ['front'], others: ['back'] },
    },
    {
      why: 'only one panel marked',
      set: napped({ nap: 'one-way' }, { nap: 'none' }),
      key: 'eitherWay',
      gravity: 'look',
    },
  ],
  unsure: [
    { why: 'an arrow with two heads', set: napped({ nap: 'one-way' }, { nap: 'one-way', heads: 2 }), key: 'untold' },
  ],
  notApplicable: [{ why: 'plain cloth', set: napped({ nap: 'none' }, { nap: 'none' }), key: 'noNap' }],
});

/** A bodice dart at 80 of 200 with a mouth of 20, over a skirt dart that lies `offMm` farther along. */
function darts(offMm: number, sigma = 0.1): PatternSet {
  const half = (id: string, kind: Piece['kind'], at: number) =>
    piece(id, kind, { top: [e('waist', 220, { darts: [[at, 20]] })] }, { pointSigma: sigma });
  return setOf(
    [half('bodice', 'back bodice', 80), half('skirt', 'back skirt', 80 + offMm)],
    [seam('waist', 'bodice.waist', 'skirt.waist')],
  );
}

/** Buttons every `step` on the left front, buttonholes every 80 on the right. */
function buttons(step: number, count = 4, sigma = 0.1): PatternSet {
  const front = (id: string) =>
    piece(
      id,
      'front bodice',
      { right: [e('centre front', 400)], top: [e('neck', 200)] },
      { pointSigma: sigma, cut: SINGLE },
    );
  const row = (n: number, mm: number) => Array.from({ length: n }, (_, i) => 40 + i * mm);
  return setOf([
    changed(front('left front'), () => ({
      marks: row(count, step).map((y, i) => ({ kind: 'button', id: `b${i}`, at: [180, y] }) as const),
    })),
    changed(front('right front'), () => ({
      marks: row(4, 80).map((y, i) => ({ kind: 'buttonhole', id: `h${i}`, from: [170, y], to: [188, y] }) as const),
    })),
  ]);
}

describeCheck(levelsDiffer, {
  pass: [
    { why: 'a skirt dart under the bodice dart', set: darts(2), key: 'meet', data: { apartMm: 2 } },
    { why: 'buttons spaced as their holes', set: buttons(80.5), key: 'spaced', data: { apartMm: 1.5 } },
  ],
  fail: [
    { why: 'darts that miss by 12', set: darts(12), key: 'miss', gravity: 'look', data: { apartMm: 12 } },
    { why: 'buttons that drift by 6', set: buttons(82), key: 'spacing', gravity: 'mend', data: { apartMm: 6 } },
    { why: 'a button too many', set: buttons(80, 5), key: 'counts', gravity: 'mend', data: { counts: [5, 4] } },
  ],
  unsure: [{ why: 'a photo too coarse', set: darts(6, 0.4), key: 'tooCoarse' }],
  notApplicable: [{ why: 'darts that have nothing to do with each other', set: darts(60), key: 'apart' }],
});

/** A back skirt whose zip stops some way below the waist. */
function zip(openMm: number, more: { readonly sigma?: number; readonly cloth?: 'knit' } = {}): PatternSet {
  const stop = { at: openMm, purpose: 'opening-stop', mate: { kind: 'none' } } as const;
  return setOf(
    [
      piece(
        'back skirt',
        'back skirt',
        { top: [e('waist', 180)], right: [e('centre back', 590, { notches: [stop] })] },
        { pointSigma: more.sigma ?? 0.1 },
      ),
    ],
    [],
    { preset: { tolerance: 'home', cloth: more.cloth ?? 'woven' } },
  );
}

const openSide = setOf([
  piece('front skirt', 'front skirt', {
    top: [e('waist', 180)],
    right: [e('placket', 120, { role: 'opening' }), e('side', 470)],
  }),
]);

describeCheck(openingShort, {
  pass: [
    { why: 'a zip of 200', set: zip(200), key: 'clear', data: { openMm: 200 } },
    { why: 'the zip of the scenario skirt', set: waistband(35), key: 'clear' },
  ],
  fail: [
    { why: 'a zip of 130', set: zip(130), key: 'short', gravity: 'look', data: { openMm: 130 } },
    { why: 'a zip of 90', set: zip(90), key: 'short', gravity: 'mend' },
    { why: 'a placket of 120', set: openSide, key: 'short', gravity: 'look', data: { openMm: 120 } },
  ],
  unsure: [{ why: 'a photo too coarse', set: zip(150.5, { sigma: 0.4 }), key: 'tooCoarse' }],
  notApplicable: [
    { why: 'a knit', set: zip(60, { cloth: 'knit' }), key: 'stretches' },
    { why: 'a skirt for a child', set: { ...zip(90), name: 'Girls skirt' }, key: 'child' },
  ],
});

describeCheck(trimDiffers, {
  pass: [
    { why: 'a facing 1 smaller', set: loweredNeck(118), key: 'fits' },
    { why: 'a waistband with its underlap', set: waistband(35), key: 'fits' },
    { why: 'a pleated sleeve hem', set: sleeveHem(2), key: 'fits' },
  ],
  fail: [
    {
      why: 'a facing 18 short on the half',
      set: loweredNeck(136),
      key: 'differs',
      gravity: 'stop',
      data: { trim: 'front facing', differenceMm: -18 },
      says: '36 mm round',
    },
    {
      why: 'a sleeve hem with one pleat',
      set: sleeveHem(1),
      key: 'differs',
      gravity: 'stop',
      says: 'equals one pleat',
    },
    { why: 'a waistband 60 short round', set: waistband(35, 725), key: 'differs', data: { differenceMm: -70 } },
  ],
  unsure: [
    {
      why: 'a cuff measured too coarsely',
      set: setOf(
        [
          piece('sleeve', 'sleeve', { bottom: [e('hem edge', 240)] }, { pointSigma: 0.5 }),
          piece('cuff', 'cuff', { top: [e('edge', 237)] }, { pointSigma: 0.5 }),
        ],
        [seam('cuff', 'cuff.edge', '-sleeve.hem edge')],
      ),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [{ why: 'a band stretched onto a knit', set: jerseyTop('knit'), key: 'byRatio' }],
});

const named = (name: string, pieces: readonly string[], more: Partial<PatternSet> = {}): PatternSet =>
  setOf(
    pieces.map((p, i) => piece(`p${i}`, 'other', {}, { name: p })),
    [],
    { name, ...more },
  );

describeCheck(childCord, {
  pass: [],
  fail: [],
  unsure: [
    { why: 'a drawstring on a jacket for toddlers', set: named('Toddler jacket', ['Hood', 'Drawstring']), key: 'cord' },
    { why: 'a tie in size 4T', set: named('Dress', ['Neck tie'], { sizes: ['4T'] }), key: 'cord', says: '16 CFR 1120' },
    {
      why: 'a cord in sizes 98 and 104',
      set: named('Jacket', ['Hood cord'], { sizes: ['98', '104'] }),
      key: 'cord',
      says: 'EN 14682',
    },
    {
      why: 'a cord in sizes by months, from one to another',
      set: named('Jacket', ['Hood cord'], { sizes: ['3–6 months', '6-9 mths'] }),
      key: 'cord',
      says: '3–6 months',
    },
    {
      why: 'a belt for a body with a chest of 580',
      set: named('Coat', ['Belt'], { bodies: [{ name: 'Kim', measuresMm: { chest: 580 } }] }),
      key: 'cord',
    },
  ],
  notApplicable: [
    { why: 'a child’s jacket without one', set: named('Kids jacket', ['Hood']), key: 'noCord' },
    { why: 'a belt on a grown-up’s dress', set: named('Marl', ['Belt'], { sizes: ['92', '96'] }), key: 'noChild' },
  ],
});

describeCheck(childSleepwear, {
  pass: [],
  fail: [],
  unsure: [
    { why: 'pyjamas for girls', set: named('Girls pyjamas', ['Front']), key: 'sleepwear', says: '16 CFR 1615' },
    {
      why: 'a nightshirt front in size 6X',
      set: named('Set', ['Nightshirt front'], { sizes: ['6X'] }),
      key: 'sleepwear',
    },
  ],
  notApplicable: [
    { why: 'a child’s dress', set: named('Dress for children', ['Front']), key: 'otherWear' },
    { why: 'a grown-up’s pyjamas', set: named('Pyjamas', ['Front']), key: 'noChild' },
  ],
});

describe('what is cautioned about', () => {
  it('is never called harmless: the rules are named and nothing is vouched for', () => {
    const set = named('Toddler pyjamas', ['Drawstring', 'Front']);
    for (const rule of [childCord, childSleepwear]) {
      const judged = rule.evaluate(contextOf(set));
      expect(judged.map(({ finding }) => finding.verdict)).toEqual(['unsure']);
      for (const { finding } of judged) {
        expect(finding.sentence).toContain('does not test');
        expect(`${finding.sentence} ${finding.why}`).not.toMatch(/\b(safe|complian|complies|certif)/i);
      }
    }
  });
});
