// The rules about seams and notches, each with what passes, fails, cannot be told and does not apply.
import { allowanceDiffers } from '../../../shared/checks/rules/allowanceDiffers.ts';
import { capEase } from '../../../shared/checks/rules/capEase.ts';
import { capEaseSpread } from '../../../shared/checks/rules/capEaseSpread.ts';
import { lengthDiffers } from '../../../shared/checks/rules/lengthDiffers.ts';
import { notchAlone } from '../../../shared/checks/rules/notchAlone.ts';
import { notchCount } from '../../../shared/checks/rules/notchCount.ts';
import { notchShifted } from '../../../shared/checks/rules/notchShifted.ts';
import type { PatternSet, Piece, Seam } from '../../../shared/pattern/model.ts';
import { withoutUnsureEdge } from '../../../shared/pattern/unsureSpans.ts';
import { describeCheck } from '../../support/describeCheck.ts';
import { changed } from '../../support/polygonPiece.ts';
import {
  armholeSet,
  coarseNotches,
  cuttingLineTrap,
  dressWaist,
  jerseyTop,
  loweredNeck,
  princess,
  SOUND_ARMHOLE,
  shoulders,
  sideWithDart,
  sleeveHem,
  trousers,
  waistband,
  widenedBiceps,
} from '../../support/scenarioSets.ts';
import { e, type NotchSpec, PAIR, piece, SINGLE, seam, setOf } from '../../support/sets.ts';
import { unseen } from '../../support/unseen.ts';

/** Two side seams of given lengths and notches. */
function sides(
  front: number,
  back: number,
  more: {
    readonly frontNotches?: readonly NotchSpec[];
    readonly backNotches?: readonly NotchSpec[];
    readonly pointSigma?: number;
    readonly seam?: Partial<Seam>;
    readonly preset?: PatternSet['preset'];
  } = {},
): PatternSet {
  const options = { pointSigma: more.pointSigma ?? 0.1 };
  return setOf(
    [
      piece('front', 'front bodice', { right: [e('side', front, { notches: more.frontNotches ?? [] })] }, options),
      piece('back', 'back bodice', { right: [e('side', back, { notches: more.backNotches ?? [] })] }, options),
    ],
    [seam('side', 'front.side', 'back.side', more.seam ?? {})],
    more.preset === undefined ? {} : { preset: more.preset },
  );
}

/** Sides whose stretch between two notches differs by 6, the back's with something lying over it there. */
function coveredBetweenNotches(): PatternSet {
  const set = sides(205, 211, { frontNotches: [{ at: 60 }, { at: 140 }], backNotches: [{ at: 60 }, { at: 146 }] });
  return unseen(set, { piece: 'back', edge: 'side', fromMm: 80, toMm: 120, sigmaMm: 2 });
}

/** The same after somebody has looked and found the line right. */
function settledBetweenNotches(): PatternSet {
  const set = coveredBetweenNotches();
  return {
    ...set,
    pieces: set.pieces.map((p) => changed(p, (shape) => ({ unsure: withoutUnsureEdge(shape, 'side').unsure ?? [] }))),
  };
}

/** A ruffle of some length on an edge of 300. */
function ruffle(mm: number, pointSigma = 0.1): PatternSet {
  return setOf(
    [
      piece('skirt', 'front skirt', { bottom: [e('hem edge', 300)] }, { pointSigma, cut: SINGLE }),
      piece('ruffle', 'other', { top: [e('edge', mm)] }, { pointSigma, cut: SINGLE }),
    ],
    [seam('ruffle', 'skirt.hem edge', 'ruffle.edge', { join: 'gathered' })],
  );
}

/** Two straight edges of any two kinds, joined in one way; each is what is sewn once. */
function joined(
  first: readonly [kind: Piece['kind'], label: string, mm: number],
  second: readonly [kind: Piece['kind'], label: string, mm: number],
  more: Partial<Seam> = {},
): PatternSet {
  const one = (id: string, [kind, label, mm]: typeof first) =>
    piece(id, kind, { right: [e(label, mm, { id: 'edge' })] }, { cut: SINGLE });
  return setOf([one('one', first), one('other', second)], [seam('join', 'one.edge', 'other.edge', more)]);
}

const collar = (shortMm: number) => joined(['front bodice', 'neck', 400], ['collar', 'neck', 400 - shortMm]);
const hindarm = (moreMm: number) => joined(['under sleeve', 'hindarm', 400], ['top sleeve', 'hindarm', 400 + moreMm]);
const forearm = (moreMm: number) => joined(['top sleeve', 'forearm', 400], ['under sleeve', 'forearm', 400 + moreMm]);
const stretched = (mm: number) =>
  joined(['front bodice', 'neck', 400], ['neckband', 'neck', mm], { join: 'stretched' });
/** The same join entered the other way round. */
function turnedRound(set: PatternSet): PatternSet {
  return {
    ...set,
    seams: set.seams.map(({ sides: [first, second], ...rest }) => ({ ...rest, sides: [second, first] })),
  };
}
/** An edge of a leg stretched onto its partner: both are wide, so it is no band. */
const stretchedLeg = (mm: number) =>
  setOf(
    [
      piece('front', 'other', { top: [e('top', 250)], right: [e('leg', 400)] }, { cut: SINGLE }),
      piece('back', 'other', { top: [e('top', 250)], right: [e('leg', mm)] }, { cut: SINGLE }),
    ],
    [seam('leg', 'front.leg', 'back.leg', { join: 'stretched' })],
  );
/** A strip of 30 on the edge of a wide panel. */
const boundPanel = (mm: number) =>
  setOf(
    [
      piece('panel', 'other', { top: [e('top', 250)], right: [e('edge', 400)] }, { cut: SINGLE }),
      piece('strip', 'other', { top: [e('end', 30)], right: [e('long', mm)] }, { cut: SINGLE }),
    ],
    [seam('binding', 'panel.edge', 'strip.long', { join: 'bound' })],
  );
const bound = (mm: number) => joined(['front bodice', 'neck', 400], ['other', 'edge', mm], { join: 'bound' });

/** A puff sleeve. */
function gatheredCap(capMm: number): PatternSet {
  return setOf(
    [
      piece('front', 'front bodice', { top: [e('armhole', 210)] }),
      piece('back', 'back bodice', { top: [e('armhole', 220)] }),
      piece('sleeve', 'sleeve', { top: [e('cap', capMm)] }),
    ],
    [seam('armhole', 'front.armhole + back.armhole', 'sleeve.cap', { join: 'gathered' })],
  );
}

/** A puff sleeve that is plain below its notches and `ratio` times as long above them. */
function puffed(ratio: number): PatternSet {
  const head = (210 - 80 + 220 - 90) * ratio;
  return setOf(
    [
      piece('front', 'front bodice', { top: [e('armhole', 210, { notches: [{ at: 80 }] })] }),
      piece('back', 'back bodice', { top: [e('armhole', 220, { notches: [{ at: 130, count: 2 }] })] }),
      piece('sleeve', 'sleeve', {
        top: [e('cap', 80 + head + 90, { notches: [{ at: 80 }, { at: 80 + head, count: 2 }] })],
      }),
    ],
    [seam('armhole', 'front.armhole + back.armhole', 'sleeve.cap', { join: 'gathered' })],
  );
}

/** A collar that is so much shorter than the neckline of a front that opens. */
const toCentre = (shortMm: number, status: Seam['status']) =>
  setOf(
    [
      piece('front', 'front bodice', { top: [e('neck', 200)], left: [e('front edge', 400, { role: 'opening' })] }),
      piece('collar', 'collar', { bottom: [e('neck', 200 - shortMm)] }),
    ],
    [seam('neck', 'front.neck', 'collar.neck', { status })],
  );

describeCheck(lengthDiffers, {
  pass: [
    {
      why: 'a cap that is gathered in, as any gathered edge (common practice, no source)',
      set: gatheredCap(645),
      key: 'ratioHolds',
    },
    { why: 'equal sides', set: sides(205, 205), key: 'meets', data: { differenceMm: 0 } },
    { why: 'a difference of 2.4 at home', set: sides(205, 207.4), key: 'meets', data: { differenceMm: 2.4 } },
    { why: 'a front side that is equal once its dart is closed', set: sideWithDart(), key: 'meets' },
    { why: 'a back shoulder eased by 6', set: shoulders(112, 118), key: 'eased', data: { differenceMm: 6 } },
    { why: 'a skirt eased into its waistband', set: waistband(35), key: 'eased', says: '760 mm' },
    { why: 'a princess seam eased between its notches', set: princess([98, 136, 210], [98, 142, 210]), key: 'eased' },
    { why: 'a back inseam stretched above the knee', set: trousers([320, 412], [312, 412]), key: 'eased' },
    { why: 'a pleated hem with both pleats', set: sleeveHem(2), key: 'meets' },
    { why: 'a ruffle twice as long', set: ruffle(600), key: 'ratioHolds', says: '200 %' },
    { why: 'a collar 5 short', set: collar(5), key: 'eased' },
    { why: 'a top sleeve eased by 8 at the elbow', set: hindarm(8), key: 'eased' },
    { why: 'a top sleeve stretched by 4 along the forearm', set: forearm(4), key: 'eased' },
    { why: 'a stretched band of 80 %', set: stretched(320), key: 'ratioHolds' },
    { why: 'a bias strip of 90 %', set: bound(360), key: 'ratioHolds' },
    { why: 'a strip that is entered first', set: turnedRound(boundPanel(360)), key: 'ratioHolds' },
    { why: 'a ruffle that is entered first', set: turnedRound(ruffle(600)), key: 'ratioHolds', says: '200 %' },
    { why: 'a waistband that is entered first', set: turnedRound(waistband(35)), key: 'eased', says: '760 mm' },
    {
      why: 'a seam that is meant to be eased, nobody said by how much',
      set: sides(200, 207, { seam: { join: 'eased' } }),
      key: 'eased',
    },
    { why: 'a wide piece stretched by 8', set: stretchedLeg(392), key: 'eased' },
    { why: 'a wide piece that its partner is stretched to', set: stretchedLeg(408), key: 'eased' },
    { why: 'a knit band of 85 %', set: jerseyTop('knit'), key: 'ratioHolds', says: '85 %' },
    {
      why: 'ease that the plan wants',
      set: sides(200, 208, { seam: { join: 'eased', wantedEaseMm: 8 } }),
      key: 'eased',
      data: { differenceMm: 8 },
    },
    {
      why: 'ease that the plan wants section by section',
      set: sides(200, 206, {
        frontNotches: [{ at: 100 }],
        backNotches: [{ at: 106 }],
        seam: { join: 'eased', wantedSectionsMm: [6, 0] },
      }),
      key: 'eased',
    },
    {
      why: 'a puff sleeve gathered between its notches and plain below them (common practice, no source)',
      set: puffed(1.5),
      key: 'ratioHolds',
      says: '150 %',
    },
  ],
  fail: [
    { why: 'a back side 6 longer', set: sides(205, 211), key: 'differs', gravity: 'mend', data: { differenceMm: 6 } },
    {
      why: 'a difference between notches where somebody has settled the edge',
      set: settledBetweenNotches(),
      key: 'differs',
    },
    { why: 'a back side 14 longer', set: sides(205, 219), key: 'differs', gravity: 'stop' },
    { why: 'an eighth of a short edge too much', set: sides(64, 72), key: 'differs', gravity: 'stop' },
    { why: 'a front shoulder longer than the back', set: shoulders(124, 118), key: 'differs', gravity: 'mend' },
    { why: 'a back shoulder 16 longer', set: shoulders(110, 126), key: 'differs', gravity: 'look' },
    { why: 'a facing 18 short', set: loweredNeck(136), key: 'differs', gravity: 'stop', says: '36 mm round' },
    { why: 'a collar 8 short', set: collar(8), key: 'differs', gravity: 'look' },
    { why: 'a top sleeve 12 longer at the elbow', set: hindarm(12), key: 'differs', gravity: 'look' },
    { why: 'an under sleeve 7 longer along the forearm', set: forearm(7), key: 'differs', gravity: 'look' },
    { why: 'a top sleeve longer along the forearm', set: forearm(-6), key: 'differs', gravity: 'mend' },
    { why: 'a stretched band of 65 %', set: stretched(260), key: 'ratioOut', gravity: 'look' },
    { why: 'a stretched band longer than its edge', set: stretched(420), key: 'ratioOut', gravity: 'mend' },
    { why: 'a wide piece stretched by 25', set: stretchedLeg(375), key: 'differs', gravity: 'stop' },
    { why: 'a bias strip of 75 %', set: bound(300), key: 'ratioOut', gravity: 'look' },
    { why: 'a waist one grade step too long', set: dressWaist(202), key: 'differs', says: 'one grade step' },
    { why: 'one pleat not traced', set: sleeveHem(1), key: 'differs', says: 'one pleat' },
    { why: 'a ruffle that is barely longer', set: ruffle(330), key: 'ratioOut', gravity: 'look' },
    { why: 'a ruffle that is shorter', set: ruffle(280), key: 'ratioOut', gravity: 'mend' },
    {
      why: 'too little of the ease that the plan wants',
      set: sides(200, 202, { seam: { join: 'eased', wantedEaseMm: 8 } }),
      key: 'differs',
    },
    {
      why: 'a difference of 2.4 in a studio',
      set: sides(205, 207.4, { preset: { tolerance: 'studio', cloth: 'woven' } }),
      key: 'differs',
      gravity: 'mend',
    },
    {
      why: 'a gathered cap that is hardly fuller anywhere',
      set: puffed(1.1),
      key: 'ratioOut',
      gravity: 'look',
      says: '110 %',
    },
    {
      why: 'a collar that is short where somebody has said what it is sewn to',
      set: toCentre(20, 'confirmed'),
      key: 'differs',
      gravity: 'stop',
    },
  ],
  unsure: [
    {
      why: 'a photo too coarse',
      set: sides(205, 207.4, { pointSigma: 0.6 }),
      key: 'tooCoarse',
      data: { differenceMm: 2.4 },
    },
    { why: 'a difference too near to the limit', set: sides(205, 208.2), key: 'tooCoarse' },
    {
      why: 'a difference between notches where something lay over the edge',
      set: coveredBetweenNotches(),
      key: 'tooCoarse',
    },
    {
      why: 'a cuff that may have an overlap',
      set: joined(['sleeve', 'hem', 250], ['cuff', 'top', 275]),
      key: 'underlap',
      says: 'other is 25 mm longer than one',
    },
    { why: 'a waistband that may have an underlap', set: waistband(0), key: 'underlap', says: '25 mm longer' },
    {
      why: 'a proposed collar that may end at the centre of a buttoned front (common practice, no source)',
      set: toCentre(20, 'proposed'),
      key: 'toCentre',
      says: '20 mm longer',
    },
    { why: 'a ruffle too near to the end of the range', set: ruffle(391, 1), key: 'ratioUnsure' },
    {
      why: 'a seam of an edge that is not there',
      set: { ...sides(205, 205), seams: [seam('side', 'front.side', 'back.hem')] },
      key: 'broken',
      says: 'no edge "hem"',
    },
    {
      why: 'a seam of a piece that is not there',
      set: { ...sides(205, 205), seams: [seam('side', 'front.side', 'yoke.side')] },
      key: 'broken',
      says: '"yoke" is not in the set',
    },
  ],
  notApplicable: [{ why: 'front rise against back rise', set: trousers([320, 412], [320, 412]), key: 'rises' }],
});

describeCheck(capEase, {
  pass: [
    { why: 'the dress in its size', set: armholeSet(SOUND_ARMHOLE), key: 'clear', data: { easeMm: 28, wantedMm: 28 } },
    { why: 'cutting lines that look 60 apart', set: cuttingLineTrap(), key: 'clear', data: { easeMm: 25.4 } },
    {
      why: 'a tailored cap with 46',
      set: armholeSet({ ...SOUND_ARMHOLE, wanted: 46, cloth: 'tailored', capFront: [80, 153], capBack: [90, 157] }),
      key: 'clear',
    },
    {
      why: 'a tailored cap with 46 and no plan',
      set: armholeSet({
        front: [80, 132],
        back: [90, 132],
        capFront: [80, 153],
        capBack: [90, 157],
        cloth: 'tailored',
      }),
      key: 'clear',
    },
    { why: 'a jersey cap 2 longer', set: jerseyTop('knit'), key: 'clear', data: { easeMm: 2 } },
    {
      why: 'a flat-set shirt sleeve with 6',
      set: armholeSet({ ...SOUND_ARMHOLE, wanted: 6, cloth: 'shirt', capFront: [80, 135], capBack: [90, 135] }),
      key: 'clear',
    },
  ],
  fail: [
    { why: 'a widened biceps', set: widenedBiceps(), key: 'tooMuch', gravity: 'look', data: { easeMm: 44 } },
    {
      why: 'an opened armhole',
      set: armholeSet({ ...SOUND_ARMHOLE, front: [91, 132], back: [101, 132] }),
      key: 'tooLittle',
      gravity: 'mend',
      data: { easeMm: 6 },
      says: '22 mm of the wanted 28 mm are gone',
    },
    { why: '2 of cap ease in a woven', set: jerseyTop('woven'), key: 'tooLittle', gravity: 'look' },
    {
      why: '60 of cap ease in a woven',
      set: armholeSet({ front: [80, 132], back: [90, 132], capFront: [80, 160], capBack: [90, 164] }),
      key: 'tooMuch',
      gravity: 'mend',
    },
    {
      why: 'an armhole 8 longer than its cap',
      set: armholeSet({ front: [80, 142], back: [90, 146], capFront: [80, 136], capBack: [90, 144] }),
      key: 'negative',
      gravity: 'mend',
      data: { easeMm: -8 },
    },
    {
      why: 'an armhole 20 longer than its cap',
      set: armholeSet({ front: [80, 142], back: [90, 146], capFront: [80, 130], capBack: [90, 138] }),
      key: 'negative',
      gravity: 'stop',
    },
    {
      why: 'a cap in range that is not what the plan wants',
      set: armholeSet({ ...SOUND_ARMHOLE, front: [80, 137], back: [90, 138] }),
      key: 'notAsWanted',
      gravity: 'look',
      data: { easeMm: 17 },
    },
  ],
  unsure: [
    { why: 'an allowance that is only assumed', set: cuttingLineTrap(true), key: 'tooCoarse' },
    {
      why: 'a photo too coarse',
      set: armholeSet({ ...SOUND_ARMHOLE, capFront: [80, 136], capBack: [90, 144], pointSigma: 1.2 }),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [],
});

/**
 * A shirt whose yoke is brought forward over the shoulder: its seam lies 24 before the top of the cap, which meets no seam
 * (common practice, no source).
 */
function capUnderYoke(topMm: number): PatternSet {
  return setOf(
    [
      piece('front', 'front bodice', { top: [e('armhole', 180, { notches: [{ at: 90 }] })] }),
      piece('yoke', 'yoke', { top: [e('armhole', 70)] }),
      piece('back', 'back bodice', { top: [e('armhole', 200, { notches: [{ at: 110, count: 2 }] })] }),
      piece('sleeve', 'sleeve', {
        top: [e('cap', 458, { notches: [{ at: 90 }, { at: topMm }, { at: 368, count: 2 }] })],
      }),
    ],
    [seam('armhole', 'front.armhole + yoke.armhole + back.armhole', 'sleeve.cap', { join: 'eased' })],
    { preset: { tolerance: 'home', cloth: 'shirt' } },
  );
}

/** A sleeve in two pieces whose seams lie elsewhere along the armhole than those of the body; its notches meet nothing by place. */
function capInTwo(): PatternSet {
  return setOf(
    [
      piece('front', 'front bodice', { top: [e('armhole', 210, { notches: [{ at: 60 }] })] }),
      piece('back', 'back bodice', { top: [e('armhole', 220)] }),
      piece('top', 'top sleeve', { top: [e('cap', 300, { notches: [{ at: 140 }] })] }),
      piece('under', 'under sleeve', { top: [e('cap', 166)] }),
    ],
    [seam('armhole', 'front.armhole + back.armhole', 'top.cap + under.cap', { join: 'eased' })],
    { preset: { tolerance: 'home', cloth: 'tailored' } },
  );
}

describeCheck(capEaseSpread, {
  pass: [
    { why: 'ease over the top only', set: armholeSet(SOUND_ARMHOLE), key: 'clear' },
    { why: 'a cap under a yoke, whose seam is not the shoulder', set: capUnderYoke(204), key: 'clear' },
  ],
  fail: [
    {
      why: 'both underarm parts 11 out',
      set: armholeSet({ ...SOUND_ARMHOLE, front: [91, 132], back: [101, 132] }),
      key: 'underarm',
      gravity: 'stop',
      data: { wrong: [{ easeMm: -11 }, { easeMm: -11 }] },
    },
    {
      why: 'one underarm part 5 out',
      set: armholeSet({ ...SOUND_ARMHOLE, capBack: [95, 143] }),
      key: 'underarm',
      gravity: 'mend',
      data: { wrong: [{ easeMm: 5, capMm: 95, armholeMm: 90 }] },
    },
    {
      why: 'a front half that shrinks',
      set: armholeSet({ ...SOUND_ARMHOLE, capFront: [80, 126], capBack: [90, 166] }),
      key: 'shrinks',
      gravity: 'mend',
      data: { wrong: [{ easeMm: -6 }] },
    },
    {
      why: 'all ease on the back half',
      set: armholeSet({ ...SOUND_ARMHOLE, capFront: [80, 134], capBack: [90, 158] }),
      key: 'uneven',
      gravity: 'look',
    },
  ],
  unsure: [
    {
      why: 'a photo too coarse',
      set: armholeSet({ ...SOUND_ARMHOLE, capBack: [93, 145], pointSigma: 0.8 }),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [
    { why: 'no notches at all', set: armholeSet({ ...SOUND_ARMHOLE, notches: 'none' }), key: 'noNotches' },
    { why: 'a sleeve in two pieces that begins elsewhere along the armhole', set: capInTwo(), key: 'noNotches' },
  ],
});

describeCheck(notchAlone, {
  pass: [
    {
      why: 'one notch on each side',
      set: sides(205, 205, { frontNotches: [{ at: 100 }], backNotches: [{ at: 100 }] }),
      key: 'clear',
    },
    { why: 'a cap top under a yoke', set: capUnderYoke(204), key: 'clear', data: { pairs: 2 } },
    { why: 'a cap top that meets the shoulder seam', set: armholeSet(SOUND_ARMHOLE), key: 'clear', data: { pairs: 3 } },
    {
      why: 'a hem and a zip notch beside a pair',
      set: sides(205, 205, {
        frontNotches: [{ at: 100 }, { at: 180, purpose: 'hem-turn' }],
        backNotches: [{ at: 40, purpose: 'opening-stop' }, { at: 100 }],
      }),
      key: 'clear',
    },
    {
      why: 'a notch on a dart leg, which is the mark of the dart',
      set: setOf(
        [
          piece('front', 'front bodice', {
            right: [e('side', 231, { darts: [[60, 26]], notches: [{ at: 60 }, { at: 86 }, { at: 150 }] })],
          }),
          piece('back', 'back bodice', { right: [e('side', 205, { notches: [{ at: 124 }] })] }),
        ],
        [seam('side', 'front.side', 'back.side')],
      ),
      key: 'clear',
      data: { pairs: 1 },
    },
  ],
  fail: [
    {
      why: 'a notch on the front only',
      set: sides(205, 205, { frontNotches: [{ at: 100 }] }),
      key: 'alone',
      gravity: 'mend',
      data: { piece: 'front', partner: 'back', atMm: 100 },
    },
    {
      why: 'a second notch on the back only',
      set: sides(205, 205, { frontNotches: [{ at: 60 }], backNotches: [{ at: 60 }, { at: 150, count: 2 }] }),
      key: 'alone',
      data: { piece: 'back', count: 2 },
    },
    {
      why: 'two notches that lie too far apart to be partners',
      set: sides(205, 205, { frontNotches: [{ at: 40 }], backNotches: [{ at: 130 }] }),
      key: 'alone',
      data: { piece: 'front', atMm: 40 },
    },
    {
      why: 'a mate that is not on the other side',
      set: sides(205, 205, {
        frontNotches: [{ at: 60, mate: { kind: 'notch', piece: 'sleeve', notch: 'n9' } }],
        backNotches: [],
      }),
      key: 'named',
    },
  ],
  unsure: [],
  notApplicable: [
    { why: 'a seam without notches', set: sides(205, 205), key: 'noNotches' },
    { why: 'a sleeve in two pieces that begins elsewhere along the armhole', set: capInTwo(), key: 'noNotches' },
    { why: 'half of the round against all of it', set: waistband(35), key: 'halfAndWhole' },
  ],
});

describeCheck(notchCount, {
  pass: [{ why: 'single to single and double to double', set: armholeSet(SOUND_ARMHOLE), key: 'clear' }],
  fail: [
    {
      why: 'a single notch where the sleeve has a double one',
      set: armholeSet({ ...SOUND_ARMHOLE, backCount: 1 }),
      key: 'differs',
      gravity: 'mend',
      data: { counts: [1, 2] },
      says: 'the notch of back is single, its partner on sleeve is double',
    },
    {
      why: 'a double notch where the sleeve has a single one',
      set: armholeSet({ ...SOUND_ARMHOLE, capBackCount: 1 }),
      key: 'differs',
      data: { counts: [2, 1] },
    },
  ],
  unsure: [],
  notApplicable: [],
});

describeCheck(notchShifted, {
  pass: [
    {
      why: 'notches that meet',
      set: sides(205, 205, { frontNotches: [{ at: 100 }], backNotches: [{ at: 100.5 }] }),
      key: 'clear',
    },
    {
      why: 'a side that is longer beyond its notch',
      set: sides(205, 215, { frontNotches: [{ at: 100 }], backNotches: [{ at: 100 }] }),
      key: 'clear',
      data: { shiftMm: 0 },
    },
  ],
  fail: [
    {
      why: 'a notch 4 too far',
      set: sides(205, 205, { frontNotches: [{ at: 100 }], backNotches: [{ at: 104 }] }),
      key: 'shifted',
      gravity: 'mend',
      data: { shiftMm: 4 },
    },
    {
      why: 'a sleeve notch 7 too far from the underarm',
      set: armholeSet({ ...SOUND_ARMHOLE, capBack: [97, 141] }),
      key: 'shifted',
      data: { shiftMm: -7 },
    },
  ],
  unsure: [
    { why: 'a miss of 2.4 with U 1.2', set: coarseNotches(), key: 'tooCoarse', data: { shiftMm: 2.4, limitMm: 1.6 } },
    {
      why: 'a photo that could never place a notch to 1.6',
      set: sides(205, 205, { frontNotches: [{ at: 100 }], backNotches: [{ at: 101 }], pointSigma: 0.6 }),
      key: 'hopeless',
    },
  ],
  notApplicable: [
    {
      why: 'an opened armhole',
      set: armholeSet({ ...SOUND_ARMHOLE, front: [91, 132], back: [101, 132] }),
      key: 'byTheParts',
    },
  ],
});

/** Two sides with allowances of their own, traced on the cutting line. */
function allowances(
  front: number,
  back: number,
  assumed = false,
  tracedLine: 'cutting' | 'seam' = 'cutting',
): PatternSet {
  const options = { tracedLine, cut: PAIR } as const;
  return setOf(
    [
      piece('front', 'front bodice', { right: [e('side', 205, { allowance: front, assumed })] }, options),
      piece('back', 'back bodice', { right: [e('side', 205, { allowance: back })] }, options),
    ],
    [seam('side', 'front.side', 'back.side')],
  );
}

describeCheck(allowanceDiffers, {
  pass: [
    { why: '15 on both', set: allowances(15, 15), key: 'clear' },
    { why: '15 beside 5/8 in', set: allowances(15, 15.875), key: 'clear' },
  ],
  fail: [
    { why: '15 beside 10 entered on seamlines', set: allowances(15, 10, false, 'seam'), key: 'differs' },
    { why: '15 beside 10', set: allowances(15, 10), key: 'differs', gravity: 'look', data: { allowancesMm: [15, 10] } },
  ],
  unsure: [{ why: 'an allowance that nobody has said', set: allowances(15, 10, true), key: 'assumed' }],
  notApplicable: [],
});
