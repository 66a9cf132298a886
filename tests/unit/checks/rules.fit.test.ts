// The rules that compare the finished garment with a body and with the cloth: each with what passes, fails, cannot be told and
// does not apply.
import { describe, expect, it } from 'vitest';
import { runChecks } from '../../../shared/checks/engine.ts';
import { easeShort } from '../../../shared/checks/rules/easeShort.ts';
import { fabricNarrow } from '../../../shared/checks/rules/fabricNarrow.ts';
import { goesOn } from '../../../shared/checks/rules/goesOn.ts';
import { handOpening } from '../../../shared/checks/rules/handOpening.ts';
import { headOpening } from '../../../shared/checks/rules/headOpening.ts';
import { lengthShort } from '../../../shared/checks/rules/lengthShort.ts';
import { idealSet } from '../../photos/marl/idealSet.ts';
import { describeCheck } from '../../support/describeCheck.ts';
import {
  bandedSkirt,
  body,
  forBody,
  inCloth,
  panel,
  panelledTop,
  princessTop,
  skirt,
  sleeve,
  top,
  trousers,
  withEdges,
  withoutGrain,
} from '../../support/fitSets.ts';

const MARL = idealSet('as designed');

describeCheck(easeShort, {
  pass: [
    {
      why: 'a top with a panel under the arm and no side seam, measured over both of its seams',
      set: forBody(panelledTop(140, 120, 130), body({ bust: 730 })),
      key: 'clear',
      data: { easeMm: 50 },
    },
    {
      why: 'the demo: 992 at the bust of 920',
      set: MARL,
      key: 'clear',
      data: { level: 'bust', easeMm: 72, fitClass: 'close' },
      says: '992 ± 1.1 mm round (half 496 mm)',
    },
    { why: 'the demo: 800 at the waist of 760', set: MARL, key: 'clear', data: { level: 'waist', easeMm: 40 } },
    {
      why: 'a princess front measured over its seam',
      set: forBody(princessTop({ quarterMm: 240 }, 100), body({ bust: 900 })),
      key: 'clear',
      data: { easeMm: 60 },
    },
    {
      why: 'a jersey top 60 smaller than its body',
      set: forBody(inCloth(top({ quarterMm: 215 }), 'knit'), body({ bust: 920 })),
      key: 'stretches',
      data: { easeMm: -60 },
    },
    {
      why: 'a skirt with its darts closed at the waist and no dart at the hip',
      set: forBody(skirt({ waistQuarterMm: 180, hipQuarterMm: 250, dartMm: 20 }), body({ waist: 700, hip: 950 })),
      key: 'clear',
      data: { level: 'hip', easeMm: 50 },
    },
    {
      why: 'a waist held in by its band',
      set: forBody(bandedSkirt({ waistQuarterMm: 190, hipQuarterMm: 250 }, 785, 'eased', 35), body({ waist: 735 })),
      key: 'clear',
      data: { level: 'waist', easeMm: 15 },
    },
    {
      why: 'a level that crosses a dart half-way down, where half of it is sewn',
      set: forBody(skirt({ waistQuarterMm: 230, hipQuarterMm: 250, dartMm: 20 }), body({ hip: 910, 'hip depth': 55 })),
      key: 'clear',
      data: { level: 'hip', easeMm: 50 },
    },
    {
      why: 'the hip of a smaller body, higher up the side',
      set: forBody(skirt({ waistQuarterMm: 180, hipQuarterMm: 250 }), body({ hip: 950, 'hip depth': 178 })),
      key: 'clear',
      data: { easeMm: 50 },
    },
    {
      why: 'an arm with 2 in of ease and more',
      set: forBody(sleeve({ bicepsMm: 344, hemMm: 240 }), body({ biceps: 290 })),
      key: 'clear',
      data: { easeMm: 54 },
    },
    {
      why: 'a leg from side to crotch, front and back',
      set: forBody(trousers({ thighMm: [280, 340], hemMm: [200, 220] }), body({ thigh: 590 })),
      key: 'clear',
      data: { level: 'thigh', easeMm: 30 },
    },
    {
      why: 'the back at its narrowest',
      set: forBody(top({ quarterMm: 240, chestMm: 180 }), body({ 'across back': 340 })),
      key: 'clear',
      data: { level: 'across back', easeMm: 20 },
    },
    {
      why: 'a body that wants it fitted and gets it',
      set: forBody(top({ quarterMm: 250 }), body({ bust: 920 }, { wanted: 'fitted' })),
      key: 'clear',
      data: { easeMm: 80, fitClass: 'fitted' },
    },
  ],
  fail: [
    {
      why: 'the same top 60 smaller than its body in a woven',
      set: forBody(top({ quarterMm: 215 }), body({ bust: 920 })),
      key: 'tooSmall',
      gravity: 'stop',
      data: { easeMm: -60 },
      says: '60 ± 1.1 mm smaller than the body of 920 mm',
    },
    {
      why: 'a waist 8 smaller than the body',
      set: forBody(skirt({ waistQuarterMm: 173, hipQuarterMm: 250 }), body({ waist: 700 })),
      key: 'tooSmall',
      gravity: 'mend',
      data: { easeMm: -8 },
    },
    {
      why: 'a bust with little room',
      set: forBody(top({ quarterMm: 235 }), body({ bust: 920 })),
      key: 'close',
      gravity: 'look',
      data: { easeMm: 20, leastMm: 38.1 },
    },
    {
      why: 'what is room enough for a dress is little for a tailored jacket',
      set: forBody(inCloth(top({ quarterMm: 242 }), 'tailored'), body({ bust: 920 })),
      key: 'close',
      gravity: 'look',
      data: { easeMm: 48, leastMm: 63.5 },
    },
    {
      why: 'a jersey an eighth smaller than its body',
      set: forBody(inCloth(top({ quarterMm: 200 }), 'knit'), body({ bust: 920 })),
      key: 'tooTight',
      gravity: 'look',
      data: { easeMm: -120, leastMm: -92 },
    },
    {
      why: 'a jersey a third smaller',
      set: forBody(inCloth(top({ quarterMm: 155 }), 'knit'), body({ bust: 920 })),
      key: 'tooTight',
      gravity: 'stop',
    },
    {
      why: 'a close top where a loose one was wanted',
      set: forBody(top({ quarterMm: 250 }), body({ bust: 920 }, { wanted: 'loose' })),
      key: 'closerThanWanted',
      gravity: 'look',
      data: { leastMm: 130.175 },
    },
    {
      why: 'a sleeve narrower than the arm',
      set: forBody(sleeve({ bicepsMm: 300, hemMm: 240 }), body({ 'upper arm': 320 })),
      key: 'tooSmall',
      gravity: 'stop',
      data: { level: 'biceps', easeMm: -20 },
    },
    {
      why: 'a leg with little room',
      set: forBody(trousers({ thighMm: [280, 340], hemMm: [200, 220] }), body({ thigh: 600 })),
      key: 'close',
      gravity: 'look',
      data: { easeMm: 20 },
    },
    {
      why: 'a back that strains from arm to arm',
      set: forBody(top({ quarterMm: 240, chestMm: 180 }), body({ 'back width': 366 })),
      key: 'tooSmall',
      gravity: 'mend',
      data: { level: 'across back', easeMm: -6 },
    },
    {
      why: 'a front that strains from arm to arm',
      set: forBody(top({ quarterMm: 240, chestMm: 180 }), body({ 'across front': 364 })),
      key: 'tooSmall',
      gravity: 'mend',
      data: { level: 'across front', easeMm: -4 },
    },
  ],
  unsure: [
    {
      why: 'pieces measured too coarsely to say whether it is larger than the body',
      set: forBody(top({ quarterMm: 240, sigma: 5 }), body({ bust: 920 })),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [
    { why: 'a set without a body', set: top({ quarterMm: 215 }), key: 'noBody' },
    {
      why: 'a princess front whose seam is not planned',
      set: forBody(princessTop({ quarterMm: 240 }, 100, 'not planned'), body({ bust: 900 })),
      key: 'notTaken',
      says: 'no seam says what continues at the edge "princess" of "side front"',
    },
    {
      why: 'sides that are not named',
      set: forBody(withEdges(top({ quarterMm: 240 }), 'side', { label: 'e4' }), body({ bust: 900 })),
      key: 'notTaken',
      says: 'no edge of "front" is named "side"',
    },
  ],
});

const SLEEVELESS = { quarterMm: 250 } as const;
/** Half of the neck on each piece is hypot(70, 40): 80.6, so 322.5 round. */
const NARROW = top(SLEEVELESS);

describeCheck(headOpening, {
  pass: [
    {
      why: 'a wide neck',
      set: forBody(top({ ...SLEEVELESS, neck: [120, 90] }), body({ head: 560 })),
      key: 'clear',
      data: { neckMm: 600, passesMm: 600 },
    },
    {
      why: 'a neck that opens at the back',
      set: forBody(top({ ...SLEEVELESS, back: { openMm: 150 } }), body({ head: 560 })),
      key: 'clear',
      data: { slitMm: 150, passesMm: 622.49 },
    },
    { why: 'the demo with its zip', set: forBody(MARL, body({ head: 560 })), key: 'clear' },
    {
      why: 'a knit that stretches over the head',
      set: forBody(inCloth(top({ ...SLEEVELESS, neck: [80, 60] }), 'knit'), body({ head: 560 })),
      key: 'stretches',
      data: { passesMm: 400 },
    },
  ],
  fail: [
    {
      why: 'a narrow neck without an opening',
      set: forBody(NARROW, body({ head: 560 })),
      key: 'narrow',
      gravity: 'stop',
      data: { neckMm: 322.49, slitMm: null },
    },
    {
      why: 'a slit that is too short',
      set: forBody(top({ ...SLEEVELESS, back: { openMm: 100 } }), body({ head: 560 })),
      key: 'narrow',
      gravity: 'stop',
      data: { passesMm: 522.49 },
      says: 'undone',
    },
    {
      why: 'a child whose head is taken from its height',
      set: forBody(NARROW, body({ height: 1040 })),
      key: 'narrow',
      gravity: 'look',
      data: { isByTable: true },
      says: 'by its height',
    },
    {
      why: 'a knit so narrow that it cannot stretch over the head',
      set: forBody(inCloth(NARROW, 'knit'), body({ head: 560 })),
      key: 'narrow',
    },
  ],
  unsure: [
    {
      why: 'a neck measured too coarsely',
      set: forBody(top({ ...SLEEVELESS, neck: [120, 90], sigma: 1 }), body({ head: 600 })),
      key: 'tooCoarse',
    },
    {
      why: 'a middle back that is neither sewn nor said to open',
      set: forBody(top({ ...SLEEVELESS, back: 'not said' }), body({ head: 560 })),
      key: 'openingNotSaid',
      says: 'Say whether it opens',
    },
  ],
  notApplicable: [
    { why: 'a set without a body', set: NARROW, key: 'noBody' },
    { why: 'a grown-up whose head was not measured', set: forBody(NARROW, body({ bust: 900 })), key: 'noHead' },
    {
      why: 'a front without its back',
      set: forBody({ ...NARROW, pieces: NARROW.pieces.slice(0, 1) }, body({ head: 560 })),
      key: 'notTaken',
      says: 'the back was not traced',
    },
  ],
});

const ARM = { bicepsMm: 360, hemMm: 240 } as const;

describeCheck(handOpening, {
  pass: [
    { why: 'a wide sleeve', set: forBody(sleeve(ARM), body({ hand: 220 })), key: 'clear', data: { passesMm: 240 } },
    {
      why: 'a cuff that is buttoned',
      set: forBody(sleeve({ ...ARM, cuff: { mm: 205, overlapMm: 25 } }), body({ hand: 220 })),
      key: 'clear',
      data: { closedMm: 180, passesMm: 360 },
    },
    {
      why: 'an elastic that gives the width of the sleeve',
      set: forBody(sleeve({ ...ARM, cuff: { mm: 170, overlapMm: 0, join: 'elasticated' } }), body({ hand: 220 })),
      key: 'clear',
      data: { closedMm: 170, passesMm: 240 },
    },
    {
      why: 'a knit that stretches over the hand',
      set: forBody(inCloth(sleeve({ ...ARM, hemMm: 170 }), 'knit'), body({ hand: 220 })),
      key: 'stretches',
    },
    {
      why: 'a trouser leg wider than the heel',
      set: forBody(trousers({ thighMm: [280, 340], hemMm: [170, 190] }), body({ foot: 330 })),
      key: 'clear',
      data: { end: 'trouser leg', passesMm: 360 },
    },
  ],
  fail: [
    {
      why: 'a narrow sleeve without an opening',
      set: forBody(sleeve({ ...ARM, hemMm: 180 }), body({ hand: 220 })),
      key: 'narrow',
      gravity: 'stop',
      data: { passesMm: 180 },
    },
    {
      why: 'a closed cuff narrower than the hand',
      set: forBody(sleeve({ ...ARM, cuff: { mm: 180, overlapMm: 0 } }), body({ hand: 220 })),
      key: 'narrow',
      gravity: 'stop',
    },
    {
      why: 'a narrow trouser leg',
      set: forBody(trousers({ thighMm: [280, 340], hemMm: [130, 150] }), body({ foot: 330 })),
      key: 'narrow',
      data: { through: 'heel', passesMm: 280 },
    },
    {
      why: 'a knit too narrow to stretch so far',
      set: forBody(inCloth(sleeve({ ...ARM, hemMm: 140 }), 'knit'), body({ hand: 220 })),
      key: 'narrow',
    },
  ],
  unsure: [
    {
      why: 'a sleeve measured too coarsely',
      set: forBody(sleeve({ ...ARM, sigma: 2 }), body({ hand: 239 })),
      key: 'tooCoarse',
    },
    {
      why: 'an underarm that no seam closes',
      set: forBody(sleeve({ ...ARM, hemMm: 180, underarm: 'free' }), body({ hand: 220 })),
      key: 'openingNotSaid',
    },
  ],
  notApplicable: [
    { why: 'a set without a body', set: sleeve(ARM), key: 'noBody' },
    {
      why: 'a sleeve whose end is not named',
      set: forBody(withEdges(sleeve(ARM), 'hem', { role: 'seam', label: 'e3' }), body({ hand: 220 })),
      key: 'notTaken',
    },
  ],
});

const PENCIL = { waistQuarterMm: 180, hipQuarterMm: 250 } as const;

describeCheck(goesOn, {
  pass: [
    {
      why: 'a waist as wide as the hips',
      set: forBody(skirt({ waistQuarterMm: 245, hipQuarterMm: 250 }), body({ hip: 960 })),
      key: 'clear',
      data: { passesMm: 980 },
    },
    {
      why: 'a zip of 180',
      set: forBody(skirt({ ...PENCIL, back: { openMm: 180 } }), body({ hip: 960 })),
      key: 'clear',
      data: { slitMm: 180, passesMm: 1080 },
    },
    {
      why: 'elastic in a waist as wide as the hips',
      set: forBody(bandedSkirt({ waistQuarterMm: 245, hipQuarterMm: 250 }, 700, 'elasticated'), body({ hip: 960 })),
      key: 'clear',
      data: { waistMm: 700, passesMm: 980 },
    },
    {
      why: 'a knit that stretches over the hips',
      set: forBody(inCloth(skirt(PENCIL), 'knit'), body({ hip: 960 })),
      key: 'stretches',
    },
    {
      why: 'a dress whose hips are narrower than its shoulders, opened by its zip',
      set: forBody(MARL, body({ hip: 980, shoulders: 1030 })),
      key: 'clear',
      data: { over: 'hips' },
    },
  ],
  fail: [
    {
      why: 'a pencil skirt without an opening',
      set: forBody(skirt(PENCIL), body({ hip: 960 })),
      key: 'tight',
      gravity: 'stop',
      data: { passesMm: 720, overMm: 960 },
      says: 'cannot be put on',
    },
    {
      why: 'a zip far too short',
      set: forBody(skirt({ ...PENCIL, back: { openMm: 60 } }), body({ hip: 960 })),
      key: 'tight',
      says: 'undone',
    },
    {
      why: 'a fitted top without an opening, over the shoulders',
      set: forBody(top({ quarterMm: 240, waistQuarterMm: 180 }), body({ shoulders: 1030 })),
      key: 'tight',
      data: { over: 'shoulders', passesMm: 720 },
    },
    {
      why: 'a knit a third of the hips',
      set: forBody(inCloth(skirt({ waistQuarterMm: 90, hipQuarterMm: 160 }), 'knit'), body({ hip: 960 })),
      key: 'tight',
    },
  ],
  unsure: [
    {
      why: 'a waist measured too coarsely',
      set: forBody(skirt({ waistQuarterMm: 240, hipQuarterMm: 250, sigma: 1 }), body({ hip: 960 })),
      key: 'tooCoarse',
    },
    {
      why: 'a middle back that is neither sewn nor said to open',
      set: forBody(skirt({ ...PENCIL, back: 'not said' }), body({ hip: 960 })),
      key: 'openingNotSaid',
    },
  ],
  notApplicable: [
    { why: 'a set without a body', set: skirt(PENCIL), key: 'noBody' },
    {
      why: 'a front without its back',
      set: forBody({ ...skirt(PENCIL), pieces: skirt(PENCIL).pieces.slice(0, 1) }, body({ hip: 960 })),
      key: 'notTaken',
    },
  ],
});

describeCheck(lengthShort, {
  pass: [
    {
      why: 'a back as long as the body',
      set: forBody(top({ quarterMm: 250, backLengthMm: 420 }), body({ 'back length': 410 })),
      key: 'clear',
      data: { finishedMm: 420 },
    },
    {
      why: 'a sleeve as long as the arm',
      set: forBody(sleeve({ ...ARM, lengthMm: 600 }), body({ arm: 600 })),
      key: 'clear',
      data: { finishedMm: 600 },
    },
    {
      why: 'a crotch with ease, and legs as long as wanted',
      set: forBody(
        trousers({ thighMm: [280, 340], hemMm: [200, 220], crotchMm: 290, inseamMm: 780 }),
        body({ 'crotch depth': 270, inseam: 780 }),
      ),
      key: 'clear',
      data: { what: 'inseam', finishedMm: 780 },
    },
    {
      why: 'a skirt as long as wanted',
      set: forBody(skirt({ ...PENCIL, lengthMm: 640 }), body({ 'skirt length': 640 })),
      key: 'clear',
      data: { finishedMm: 640 },
    },
  ],
  fail: [
    {
      why: 'a back 20 too short',
      set: forBody(top({ quarterMm: 250, backLengthMm: 400 }), body({ 'back waist': 420 })),
      key: 'short',
      gravity: 'mend',
      data: { what: 'back length', finishedMm: 400, bodyMm: 420 },
    },
    {
      why: 'a long sleeve 15 too short',
      set: forBody(sleeve({ ...ARM, lengthMm: 585 }), body({ 'sleeve length': 600 })),
      key: 'short',
      gravity: 'mend',
    },
    {
      why: 'a crotch with little ease',
      set: forBody(trousers({ thighMm: [280, 340], hemMm: [200, 220], crotchMm: 275 }), body({ 'crotch depth': 270 })),
      key: 'short',
      gravity: 'look',
      data: { finishedMm: 275 },
      says: '12.7 mm more than the body is usual',
    },
    {
      why: 'a crotch higher than the body',
      set: forBody(trousers({ thighMm: [280, 340], hemMm: [200, 220], crotchMm: 262 }), body({ 'body rise': 270 })),
      key: 'short',
      gravity: 'mend',
    },
    {
      why: 'a skirt shorter than was wished for',
      set: forBody(skirt({ ...PENCIL, lengthMm: 600 }), body({ 'skirt length': 640 })),
      key: 'short',
      gravity: 'mend',
    },
  ],
  unsure: [
    {
      why: 'a back measured too coarsely',
      set: forBody(top({ quarterMm: 250, backLengthMm: 410, sigma: 3 }), body({ 'back length': 420 })),
      key: 'tooCoarse',
    },
  ],
  notApplicable: [
    { why: 'a set without a body', set: top({ quarterMm: 250 }), key: 'noBody' },
    { why: 'a short sleeve', set: forBody(sleeve({ ...ARM, lengthMm: 250 }), body({ arm: 600 })), key: 'meant' },
    {
      why: 'a sleeve with a cuff',
      set: forBody(sleeve({ ...ARM, lengthMm: 560, cuff: { mm: 205, overlapMm: 25 } }), body({ arm: 600 })),
      key: 'withoutCuff',
    },
    {
      why: 'trousers whose inseam is not named',
      set: forBody(trousers({ thighMm: [280, 340], hemMm: [200, 220], inseamName: 'e3' }), body({ inseam: 780 })),
      key: 'notTaken',
    },
  ],
});

describeCheck(fabricNarrow, {
  pass: [
    {
      why: 'a panel on the fold of wide cloth',
      set: panel(600, 'fold', 1400),
      key: 'clear',
      data: { widthMm: 1230, isUnfolded: true },
    },
    { why: 'a single panel', set: panel(1100, 'single', 1140), key: 'clear', data: { widthMm: 1130 } },
    {
      why: 'a wide panel laid across the cloth by its arrow',
      set: panel(1200, 'cross', 1140),
      key: 'clear',
      data: { widthMm: 630 },
    },
  ],
  fail: [
    {
      why: 'a panel on the fold wider than the cloth when it is opened',
      set: panel(600, 'fold', 1140),
      key: 'wide',
      gravity: 'stop',
      data: { widthMm: 1230 },
      says: 'unfolded',
    },
    { why: 'a single panel with its allowances', set: panel(1120, 'single', 1140), key: 'wide', gravity: 'stop' },
  ],
  unsure: [{ why: 'a width at the limit', set: panel(1110, 'single', 1140, 1), key: 'tooCoarse' }],
  notApplicable: [
    { why: 'cloth of unknown width', set: panel(1200, 'single', null), key: 'noFabric' },
    { why: 'a piece without grain or fold', set: panel(1200, 'no grain', 1140), key: 'noGrain' },
  ],
});

describe('the rules of fit', () => {
  const rules = ['ease-short', 'head-opening', 'hand-opening', 'goes-on', 'length-short', 'fabric-narrow'];
  const said = (set: typeof MARL) => runChecks(set).findings.filter(({ rule }) => rules.includes(rule));

  it('are quiet about a set without a body', () => {
    const findings = said({ ...MARL, bodies: [] });
    expect(new Set(findings.map(({ verdict }) => verdict))).toEqual(new Set(['not-applicable']));
  });

  it('find nothing to act on in the demo with its own body', () => {
    const found = said(MARL).filter(({ verdict }) => verdict === 'fault' || verdict === 'unsure');
    expect(found.map(({ sentence }) => sentence)).toEqual([]);
  });

  it('leave a body alone whose size was not traced', () => {
    const set = forBody({ ...top({ quarterMm: 215 }), sizes: ['M', 'L'] }, body({ bust: 920 }, { name: 'L' }));
    expect(said(set).every(({ verdict }) => verdict === 'not-applicable')).toBe(true);
  });

  it('judge a person who is sewn in one size in that size only', () => {
    const set = forBody(top({ quarterMm: 215 }), body({ bust: 920 }, { size: 'M' }));
    expect(said(set).filter(({ verdict }) => verdict === 'fault')).toHaveLength(1);
  });

  it('read the level from the fold or the grainline, and say when neither tells', () => {
    const set = forBody(withoutGrain(trousers({ thighMm: [280, 340], hemMm: [200, 220] })), body({ thigh: 590 }));
    const [thigh] = said(set).filter(({ rule }) => rule === 'ease-short');
    expect(thigh!.sentence).toContain('neither a fold nor a grainline');
  });
});
