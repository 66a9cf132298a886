// What is broken on purpose to prove that the tests of each rule would notice: one change to its formula and one to its limit
// or to the condition that stands for one.

export interface Mutation {
  readonly rule: string;
  /** What is changed, in words. */
  readonly what: string;
  readonly file: string;
  /** Stands exactly once in the file. */
  readonly find: string;
  readonly put: string;
}

const RULES = 'shared/checks/rules';
const PIECE_LIMITS = 'shared/limits/pieceLimits.ts';
const SET_LIMITS = 'shared/limits/setLimits.ts';
const TOLERANCES = 'shared/limits/tolerances.ts';

type Change = readonly [what: string, file: string, find: string, put: string];

const CHANGES: Readonly<Record<string, readonly Change[]>> = {
  'piece-missing': [
    [
      'names are compared the wrong way',
      `${RULES}/pieceMissing.ts`,
      'return plain(a) === plain(b);',
      'return plain(a) !== plain(b);',
    ],
    ['a piece found is missing', `${RULES}/pieceMissing.ts`, 'if (found !== null)', 'if (found === null)'],
  ],
  'outline-crosses': [
    ['limit x 5', TOLERANCES, 'OPEN_OUTLINE: LimitMm = { valueMm: 0.5', 'OPEN_OUTLINE: LimitMm = { valueMm: 2.5'],
    [
      'half the gap',
      `${RULES}/outlineCrosses.ts`,
      'gapMm: distance(from, to), from',
      'gapMm: distance(from, to) / 2, from',
    ],
  ],
  'fold-on-uneven': [
    [
      'difference / 10',
      `${RULES}/foldOnUneven.ts`,
      'judgeDifference(difference.valueMm, ',
      'judgeDifference(difference.valueMm / 10, ',
    ],
    ['snips not counted', `${RULES}/foldOnUneven.ts`, '(sum, n) => sum + n.notch.count, 0', '(sum) => sum, 0'],
  ],
  'fold-in-opening': [
    [
      'openings do not count',
      'shared/checks/parts/openCentre.ts',
      "edge.role === 'opening' ||",
      "edge.role === 'hem' ||",
    ],
    [
      'the edge before is taken for the edge after',
      `${RULES}/foldInOpening.ts`,
      '(atRingEnd ? after : before).edge',
      '(atRingEnd ? before : after).edge',
    ],
  ],
  'same-side': [
    ['limit x 10', SET_LIMITS, 'SAME_BOTH_WAYS: LimitMm = { valueMm: 3.2', 'SAME_BOTH_WAYS: LimitMm = { valueMm: 32'],
    [
      'marks do not count',
      'shared/checks/parts/symmetry.ts',
      'return [...notches, ...mouths];',
      'return [...notches, ...mouths].slice(0, 0);',
    ],
  ],
  'turned-round': [
    ['limit x 4', `${RULES}/turnedRound.ts`, 'CLEAR_MISS_MM = 12.7', 'CLEAR_MISS_MM = 50.8'],
    ['limit / 4', `${RULES}/turnedRound.ts`, 'CLEAR_MISS_MM = 12.7', 'CLEAR_MISS_MM = 3.2'],
    [
      'names the wrong way',
      `${RULES}/turnedRound.ts`,
      'aStart === bStart && aEnd === bEnd',
      'aStart === bEnd && aEnd === bStart',
    ],
  ],
  'left-behind': [
    [
      'what is missing x 1.2',
      'shared/pattern/followers.ts',
      'const missingMm = isAsWanted ? 0 : sign * (easeBeforeMm - easeAfterMm);',
      'const missingMm = isAsWanted ? 0 : 1.2 * sign * (easeBeforeMm - easeAfterMm);',
    ],
    [
      'limit x 4',
      `${RULES}/leftBehind.ts`,
      'const toleranceMm = slackMm(now, context);\n  const whole',
      'const toleranceMm = 4 * slackMm(now, context);\n  const whole',
    ],
    [
      'sections do not count',
      `${RULES}/leftBehind.ts`,
      "const bySection = whole !== 'fault' && part === 'fault';",
      'const bySection = false;',
    ],
  ],
  'size-strayed': [
    [
      'expected length off by half',
      'shared/sizes/oddSizes.ts',
      'const expectedMm = length.valueMm - excessMm;',
      'const expectedMm = length.valueMm - excessMm / 2;',
    ],
    ['lines drawn to 10 mm', 'shared/limits/grading.ts', 'DRAWN_TO = { valueMm: 0.5,', 'DRAWN_TO = { valueMm: 10,'],
    [
      'toward the base counts as strayed',
      'shared/checks/parts/seamNests.ts',
      'one.twice !== null && !one.twice.isTowardBase',
      'one.twice !== null && one.twice.isTowardBase',
    ],
  ],
  'size-differs': [
    [
      'departure x 1.2',
      'shared/sizes/oddSizes.ts',
      'const departure = subtractLength(walk.difference, reference.difference);',
      'const raw = subtractLength(walk.difference, reference.difference);\n      const departure = { ...raw, valueMm: 1.2 * raw.valueMm };',
    ],
    [
      'limit x 4',
      'shared/checks/parts/seamNests.ts',
      'judgeDifference(one.departure.valueMm, one.departure.sigmaMm, toleranceMm)',
      'judgeDifference(one.departure.valueMm, one.departure.sigmaMm, 4 * toleranceMm)',
    ],
  ],
  'size-missing': [
    ['limit x 1.9', 'shared/limits/grading.ts', 'begunBelowRatio: 0.5', 'begunBelowRatio: 0.95'],
    ['limit / 3', 'shared/limits/grading.ts', 'begunBelowRatio: 0.5', 'begunBelowRatio: 0.16'],
    [
      'no piece is a main piece',
      `${RULES}/sizeMissing.ts`,
      'return isBodice(kind) || isSleeve(kind)',
      'return false && isSleeve(kind)',
    ],
  ],
  'grade-jump': [
    ['limit x 2', 'shared/limits/grading.ts', 'toRatio: 2,', 'toRatio: 4,'],
    ['limit / 1.5', 'shared/limits/grading.ts', 'toRatio: 2,', 'toRatio: 1.33,'],
    ['slack x 4', 'shared/limits/grading.ts', 'slackMm: 3.2', 'slackMm: 12.8'],
    [
      'step x 1.2',
      'shared/sizes/edgeSteps.ts',
      'addLength(NO_LENGTH, subtractLength(length, before.length), 1 / apart)',
      'addLength(NO_LENGTH, subtractLength(length, before.length), 1.2 / apart)',
    ],
  ],
  'grade-crosses': [
    [
      'distance / 2',
      'shared/sizes/nestLines.ts',
      'Math.min(Math.abs(fromSmaller), Math.abs(toLarger)) : 0',
      'Math.min(Math.abs(fromSmaller), Math.abs(toLarger)) / 2 : 0',
    ],
    [
      'limit x 4',
      `${RULES}/gradeCrosses.ts`,
      'const limitMm = context.limits.seam.valueMm;',
      'const limitMm = 4 * context.limits.seam.valueMm;',
    ],
  ],
  'notch-ungraded': [
    ['shift x 1.2', 'shared/sizes/notchSteps.ts', 'const shiftMm = bMm - aMm;', 'const shiftMm = 1.2 * (bMm - aMm);'],
    [
      'limit x 4',
      `${RULES}/notchUngraded.ts`,
      "judgeDifference(shiftMm, sigmaMm, limitMm) !== 'fault'",
      "judgeDifference(shiftMm, sigmaMm, 4 * limitMm) !== 'fault'",
    ],
    ['one less is as many', 'shared/sizes/notchSteps.ts', 'return now < before\n', 'return now + 1 < before\n'],
  ],
  'shoulder-reversed': [
    [
      'ease x 1.1',
      `${RULES}/shoulderReversed.ts`,
      'walk.difference.valueMm : -walk',
      '1.1 * walk.difference.valueMm : -walk',
    ],
    [
      'limit x 2',
      `${RULES}/shoulderReversed.ts`,
      'judgeInterval(easeMm, sigmaMm, -limitMm',
      'judgeInterval(easeMm, sigmaMm, -2 * limitMm',
    ],
  ],
  'trim-differs': [
    [
      'difference x 1.1',
      `${RULES}/trimDiffers.ts`,
      'differenceMm: trim === 1 ? difference.valueMm',
      'differenceMm: trim === 1 ? 1.1 * difference.valueMm',
    ],
    [
      'limit x 10',
      'shared/checks/seams/seamBands.ts',
      'fromMm: wantedMm - seam.valueMm,\n    toMm: wantedMm + seam.valueMm,',
      'fromMm: wantedMm - 10 * seam.valueMm,\n    toMm: wantedMm + 10 * seam.valueMm,',
    ],
  ],
  'length-differs': [
    [
      'every collar may end at the centre',
      'shared/checks/seams/compareSeam.ts',
      "seam.status !== 'proposed' || sorted.sort !== 'collar'",
      "sorted.sort !== 'collar'",
    ],
    ['limit / 2', 'shared/limits/seamEase.ts', 'fromMm: 10,\n  toMm: 40,', 'fromMm: 5,\n  toMm: 15,'],
    [
      'a gathered cap is gathered under the arm too',
      `${RULES}/lengthDiffers.ts`,
      'return full.length > 0 ? full : judged',
      'return full.length < 0 ? full : judged',
    ],
    [
      'a gathered cap is eased',
      'shared/pattern/seamSort.ts',
      "sort === 'cap' && seam.join === 'gathered'",
      "sort === 'cap' && seam.join === 'bound'",
    ],
    [
      'limit x 2',
      'shared/checks/seams/seamBands.ts',
      'fromMm: wantedMm - seam.valueMm,\n    toMm: wantedMm + seam.valueMm,',
      'fromMm: wantedMm - 2 * seam.valueMm,\n    toMm: wantedMm + 2 * seam.valueMm,',
    ],
    [
      'difference x 1.1',
      'shared/pattern/walk.ts',
      'const gap = subtractLength(compared[1], compared[0]);',
      'const plain = subtractLength(compared[1], compared[0]);\n  const gap = { ...plain, valueMm: 1.1 * plain.valueMm };',
    ],
  ],
  'cap-ease': [
    [
      'ease x 1.1',
      `${RULES}/capEase.ts`,
      'const easeMm = sign * walk.difference.valueMm;',
      'const easeMm = 1.1 * sign * walk.difference.valueMm;',
    ],
    [
      'limit x 1.5',
      'shared/limits/capEase.ts',
      'toMm: 38.1,\n    lookFromMm: 0,\n    lookToMm: 51',
      'toMm: 57,\n    lookFromMm: 0,\n    lookToMm: 76',
    ],
  ],
  'cap-ease-spread': [
    ['ease x 1.1', 'shared/pattern/capSections.ts', 'easeMm: sign * section', 'easeMm: 1.1 * sign * section'],
    [
      'limit x 5',
      `${RULES}/capEaseSpread.ts`,
      'const limitMm = context.limits.seam.valueMm;',
      'const limitMm = 5 * context.limits.seam.valueMm;',
    ],
    ['a cap meets every seam of the body', 'shared/pattern/matchNotches.ts', 'AT_JOINT_MM = 6', 'AT_JOINT_MM = 600'],
  ],
  'scoop-differs': [
    [
      'a hollow runs on into the next piece',
      `${RULES}/scoopDiffers.ts`,
      'reachMm: Math.min(end, walked.startsAtMm + walked.length.valueMm) - start',
      'reachMm: end - start',
    ],
    ['limit x 2', SET_LIMITS, 'SCOOP: LimitMm = {\n  valueMm: 6.35', 'SCOOP: LimitMm = {\n  valueMm: 12.7'],
    ['distance / 2', `${RULES}/scoopDiffers.ts`, 'return Math.min(misfit(cap', 'return 0.5 * Math.min(misfit(cap'],
  ],
  'notch-alone': [
    ['all caps begin alike', 'shared/pattern/walk.ts', 'return isTwoPiece && ', 'return false && isTwoPiece && '],
    ['distant notches are paired', 'shared/pattern/matchNotches.ts', 'NOTCH_ALONE_MM = 20', 'NOTCH_ALONE_MM = 2000'],
    [
      'every mate is unknown',
      'shared/pattern/matchNotches.ts',
      "kind === 'notch' || notch.notch.mate.kind === 'unknown'",
      "kind === 'notch'",
    ],
    [
      'a yoke has a shoulder seam',
      'shared/pattern/matchNotches.ts',
      "piece.kind === 'yoke';\n}",
      "piece.kind === 'pocket';\n}",
    ],
  ],
  'notch-count': [
    ['one more on one side', `${RULES}/notchCount.ts`, 'counts[0] === counts[1])', 'counts[0] + 1 === counts[1])'],
    ['any number meets any', `${RULES}/notchCount.ts`, 'counts[0] === counts[1])', 'counts[0] <= 3 * counts[1])'],
  ],
  'notch-shifted': [
    [
      'shift x 1.1',
      `${RULES}/notchShifted.ts`,
      'const shiftMm = judgedShift(walk, pair);',
      'const shiftMm = 1.1 * judgedShift(walk, pair);',
    ],
    [
      'limit x 3',
      `${RULES}/notchShifted.ts`,
      'judgeDifference(shiftMm, sigmaMm, limitMm)',
      'judgeDifference(shiftMm, sigmaMm, 3 * limitMm)',
    ],
  ],
  'notch-adrift': [
    ['limit x 4', PIECE_LIMITS, 'NOTCH_ADRIFT: LimitMm = { valueMm: 1.6', 'NOTCH_ADRIFT: LimitMm = { valueMm: 6.4'],
    ['depth / 2', `${RULES}/notchAdrift.ts`, 'Math.max(outsideMm, mouthMm);', 'Math.max(outsideMm, mouthMm) / 2;'],
  ],
  'notch-crowded': [
    [
      'limit x 2',
      PIECE_LIMITS,
      'NOTCH_CROWDED: LimitMm = {\n  valueMm: 12.7',
      'NOTCH_CROWDED: LimitMm = {\n  valueMm: 25.4',
    ],
    ['limit / 2', PIECE_LIMITS, 'SNIP_ROOM: LimitMm = {\n  valueMm: 5.2', 'SNIP_ROOM: LimitMm = {\n  valueMm: 2.6'],
    [
      'distance x 1.1',
      `${RULES}/notchCrowded.ts`,
      'apartMm: notch.atMm - notches[i]!.atMm',
      'apartMm: 1.1 * (notch.atMm - notches[i]!.atMm)',
    ],
  ],
  'dart-legs': [
    [
      'difference x 1.1',
      `${RULES}/dartLegs.ts`,
      'const differenceMm = legsMm[0] - legsMm[1];',
      'const differenceMm = 1.1 * (legsMm[0] - legsMm[1]);',
    ],
    [
      'limit x 5',
      `${RULES}/dartLegs.ts`,
      'judgeDifference(differenceMm, sigmaMm, limitMm)',
      'judgeDifference(differenceMm, sigmaMm, 5 * limitMm)',
    ],
  ],
  'dart-cap': [
    [
      'turn x 1.1',
      `${RULES}/dartCap.ts`,
      'within180(openTurnDeg + closingDeg)',
      'within180(1.1 * (openTurnDeg + closingDeg))',
    ],
    [
      'limit x 3',
      `${RULES}/dartCap.ts`,
      'judgeTurn(offDeg, sigmaDeg, joinedCorner)',
      'judgeTurn(offDeg, sigmaDeg, { ...joinedCorner, valueDeg: 3 * joinedCorner.valueDeg })',
    ],
    [
      'what shows x 2',
      TOLERANCES,
      'TURN_SHOWS: LimitDeg = {\n  valueDeg: 12',
      'TURN_SHOWS: LimitDeg = {\n  valueDeg: 24',
    ],
  ],
  'dart-point': [
    [
      'distance x 1.1',
      `${RULES}/dartPoint.ts`,
      'const beforeMm = dot(toward, aim);',
      'const beforeMm = 1.1 * dot(toward, aim);',
    ],
    ['limit x 2', PIECE_LIMITS, 'leastMm: 12.7,\n', 'leastMm: 26,\n'],
    ['limit x 2', PIECE_LIMITS, 'asideMm: 12.7', 'asideMm: 25.4'],
  ],
  'corner-untrue': [
    [
      'angle x 1.1',
      `${RULES}/cornerUntrue.ts`,
      'a.corner.insideDeg + b.corner.insideDeg - STRAIGHT_DEG',
      '1.1 * (a.corner.insideDeg + b.corner.insideDeg - STRAIGHT_DEG)',
    ],
    [
      'limit x 2',
      `${RULES}/cornerUntrue.ts`,
      'judgeTurn(offDeg, sigmaDeg, context.limits.joinedCorner)',
      'judgeTurn(offDeg, sigmaDeg, { ...context.limits.joinedCorner, valueDeg: 8 })',
    ],
    [
      'what shows x 2',
      TOLERANCES,
      'TURN_SHOWS: LimitDeg = {\n  valueDeg: 12',
      'TURN_SHOWS: LimitDeg = {\n  valueDeg: 24',
    ],
    [
      'what shows / 3',
      TOLERANCES,
      'TURN_SHOWS: LimitDeg = {\n  valueDeg: 12',
      'TURN_SHOWS: LimitDeg = {\n  valueDeg: 4',
    ],
  ],
  'fold-corner': [
    [
      'angle / 2',
      `${RULES}/foldCorner.ts`,
      'corner.insideDeg - RIGHT_ANGLE_DEG;',
      '(corner.insideDeg - RIGHT_ANGLE_DEG) / 2;',
    ],
    [
      'limit x 3',
      `${RULES}/foldCorner.ts`,
      'judgeDifference(offDeg, corner.sigmaDeg, limitDeg)',
      'judgeDifference(offDeg, corner.sigmaDeg, 3 * limitDeg)',
    ],
  ],
  'fold-bent': [
    [
      'distance x 1.1',
      'shared/checks/parts/straightness.ts',
      'const awayMm = distanceToSegment(at, from, to);',
      'const awayMm = 1.1 * distanceToSegment(at, from, to);',
    ],
    ['limit x 1.5', PIECE_LIMITS, 'home: { valueMm: 1.6', 'home: { valueMm: 2.4'],
  ],
  'curve-kink': [
    ['turn x 1.1', `${RULES}/curveKink.ts`, 'const turn = Math.abs(', 'const turn = 1.1 * Math.abs('],
    ['limit x 2', PIECE_LIMITS, 'valueDeg: 8,', 'valueDeg: 16,'],
  ],
  'tracing-wobble': [
    ['limit x 2', PIECE_LIMITS, 'valueMm: 0.8,', 'valueMm: 1.6,'],
    ['limit / 2', PIECE_LIMITS, 'valueMm: 0.8,', 'valueMm: 0.2,'],
    ['swing x 5', PIECE_LIMITS, 'swingDeg: 4', 'swingDeg: 40'],
  ],
  'hem-turn': [
    ['half the depth', `${RULES}/hemTurn.ts`, 'turnedEnd(corner, 2 * allowanceMm)', 'turnedEnd(corner, allowanceMm)'],
    [
      'limit x 6',
      `${RULES}/hemTurn.ts`,
      'Number.NEGATIVE_INFINITY, limitMm)',
      'Number.NEGATIVE_INFINITY, 6 * limitMm)',
    ],
  ],
  'grain-missing': [
    ['a fold is no grain', `${RULES}/grainMissing.ts`, "edge.role === 'fold'", "edge.role === 'hem'"],
    ['an arrow is no grain', `${RULES}/grainMissing.ts`, 'shape.grainline !== null', 'shape.grainline === null'],
  ],
  'grain-off': [
    ['limit x 2', PIECE_LIMITS, 'evenWithinDeg: 2', 'evenWithinDeg: 4'],
    ['seams of a sleeve x 5', PIECE_LIMITS, 'evenWithinMm: 3.2', 'evenWithinMm: 16'],
    ['no front edge', `${RULES}/grainOff.ts`, "['front', 'front edge']", "['front']"],
    [
      'angle x 1.1',
      `${RULES}/grainOff.ts`,
      'const offDeg = betweenDeg - WANTED_DEG[intent];',
      'const offDeg = 1.1 * (betweenDeg - WANTED_DEG[intent]);',
    ],
    ['limit x 1.5', PIECE_LIMITS, 'home: { valueDeg: 0.75', 'home: { valueDeg: 1.1'],
    ['limit / 2', PIECE_LIMITS, 'home: { valueDeg: 0.75', 'home: { valueDeg: 0.37'],
  ],
  'grain-disagrees': [
    ['limit x 4', SET_LIMITS, 'FACING_GRAIN: LimitDeg = { valueDeg: 10', 'FACING_GRAIN: LimitDeg = { valueDeg: 40'],
    [
      'angle x 1.1',
      `${RULES}/grainDisagrees.ts`,
      'deg: Math.min(turn, 180 - turn)',
      'deg: 1.1 * Math.min(turn, 180 - turn)',
    ],
  ],
  'nap-disagrees': [
    ['up is down', `${RULES}/napDisagrees.ts`, "climb > 0 ? 'up' : 'down'", "climb < 0 ? 'up' : 'down'"],
    [
      'one head is not enough',
      `${RULES}/napDisagrees.ts`,
      'grainline.heads !== 1) return null',
      'grainline.heads !== 2) return null',
    ],
  ],
  'levels-differ': [
    ['limit x 2', SET_LIMITS, 'LEVELS = {\n  valueMm: 6.35', 'LEVELS = {\n  valueMm: 12.7'],
    [
      'distance x 1.1',
      `${RULES}/levelsDiffer.ts`,
      'apartMm: Math.abs(b.atMm - a.atMm)',
      'apartMm: 1.1 * Math.abs(b.atMm - a.atMm)',
    ],
    [
      'drift x 1.1',
      `${RULES}/levelsDiffer.ts`,
      'const apartMm = Math.min(drift',
      'const apartMm = 1.1 * Math.min(drift',
    ],
  ],
  'opening-short': [
    ['limit / 1.2', SET_LIMITS, 'valueMm: 150', 'valueMm: 125'],
    ['limit x 1.5', SET_LIMITS, 'valueMm: 150', 'valueMm: 225'],
    [
      'counted from the other end',
      `${RULES}/openingShort.ts`,
      '(atStart ? atMm : seam.lengthMm - atMm)',
      '(atStart ? seam.lengthMm - atMm : atMm)',
    ],
  ],
  'ease-short': [
    [
      'the least ease at the bust / 2',
      'shared/limits/wearingEase.ts',
      'bust: { clearFrom: { mm: 38.1 }, ...STRAINS, source: `bodice 1 1/2',
      'bust: { clearFrom: { mm: 19.05 }, ...STRAINS, source: `bodice 1 1/2',
    ],
    [
      'a knit may be half as much smaller',
      'shared/limits/wearingEase.ts',
      'clearFrom: { ratio: -0.1 }',
      'clearFrom: { ratio: -0.05 }',
    ],
    ['ease x 1.1', `${RULES}/easeShort.ts`, 'length.valueMm - bodyMm;', '1.1 * (length.valueMm - bodyMm);'],
    [
      'the round counts once',
      'shared/fit/level.ts',
      'addLength(sum, length, times(piece))',
      'addLength(sum, length, 1)',
    ],
    ['darts stay open', 'shared/fit/across.ts', 'hits.length === 2', 'hits.length === 3'],
    [
      'the hip half as deep',
      'shared/checks/parts/bodyFits.ts',
      'if (said !== undefined) return said;',
      'if (said !== undefined) return said / 2;',
    ],
  ],
  'head-opening': [
    [
      'a slit opens once',
      'shared/fit/edgeGirth.ts',
      'addLength(girth, makeLength(slitMm, new Map(), 0), 2)',
      'addLength(girth, makeLength(slitMm, new Map(), 0), 1)',
    ],
    ['a knit stretches by a fifth', 'shared/limits/bodyFit.ts', 'ratio: 1.5', 'ratio: 1.2'],
    ['children have heads as wide as high', 'shared/limits/bodyFit.ts', 'return below[1] +', 'return 0 * below[1] +'],
  ],
  'hand-opening': [
    ['elastic does not stretch', 'shared/fit/openings.ts', "cuff?.join === 'elasticated'", "cuff?.join === 'bound'"],
    ['a cuff is never undone', 'shared/fit/openings.ts', 'cuff.lapMm > 0', 'cuff.lapMm > 1000'],
    ['the hand x 0.7', `${RULES}/handOpening.ts`, 'letsThrough(opening, bodyMm', 'letsThrough(opening, 0.7 * bodyMm'],
  ],
  'goes-on': [
    ['the hips x 0.7', `${RULES}/goesOn.ts`, 'letsThrough(opening, overMm', 'letsThrough(opening, 0.7 * overMm'],
    ['elastic does not stretch', 'shared/fit/girths.ts', "band?.join === 'elasticated'", "band?.join === 'bound'"],
    [
      'the harder way counts',
      `${RULES}/goesOn.ts`,
      'toSorted((a, b) => a.overMm - b.overMm)',
      'toSorted((a, b) => b.overMm - a.overMm)',
    ],
  ],
  'length-short': [
    ['limit x 4', 'shared/limits/bodyFit.ts', 'clearFromMm: -6.35,', 'clearFromMm: -25.4,'],
    [
      'lengths x 1.1',
      `${RULES}/lengthShort.ts`,
      'const overMm = valueMm - bodyMm;',
      'const overMm = 1.1 * valueMm - bodyMm;',
    ],
  ],
  'fabric-narrow': [
    [
      'limit x 1.2',
      `${RULES}/fabricNarrow.ts`,
      'judgeInterval(valueMm, sigmaMm, 0, fabricMm)',
      'judgeInterval(valueMm, sigmaMm, 0, 1.2 * fabricMm)',
    ],
    ['the fold stays folded', `${RULES}/fabricNarrow.ts`, 'isUnfolded ? 2 : 1', 'isUnfolded ? 1 : 1'],
  ],
  'allowance-differs': [
    [
      'limit x 10',
      `${RULES}/allowanceDiffers.ts`,
      'judgeDifference(differenceMm, 0, limitMm)',
      'judgeDifference(differenceMm, 0, 10 * limitMm)',
    ],
  ],
  'allowance-uneven': [
    [
      'limit x 10',
      `${RULES}/allowanceUneven.ts`,
      'judgeDifference(differenceMm, 0, limitMm)',
      'judgeDifference(differenceMm, 0, 10 * limitMm)',
    ],
    [
      'limit / 10',
      `${RULES}/allowanceUneven.ts`,
      'judgeDifference(differenceMm, 0, limitMm)',
      'judgeDifference(differenceMm, 0, limitMm / 10)',
    ],
  ],
  'edge-unclaimed': [
    ['a band is never finished', `${RULES}/edgeUnclaimed.ts`, 'isSewn && (isBand', '!isSewn && (isBand'],
    ['one cloth finishes itself', `${RULES}/edgeUnclaimed.ts`, 'cloths.size > 1', 'cloths.size > 2'],
    [
      'every edge is finished',
      'shared/pattern/kinds.ts',
      'return !PANEL_EDGES.includes',
      'return true || !PANEL_EDGES.includes',
    ],
    ['limit x 20', TOLERANCES, 'UNCLAIMED: LimitMm = {\n  valueMm: 12.7', 'UNCLAIMED: LimitMm = {\n  valueMm: 254'],
    [
      'half of what is free',
      `${RULES}/edgeUnclaimed.ts`,
      'return Math.max(longest, lengthMm - reached);',
      'return Math.max(longest, lengthMm - reached) / 2;',
    ],
  ],
  'label-missing': [
    [
      'any name will do',
      `${RULES}/labelMissing.ts`,
      'UNNAMED.test(piece.name.trim())',
      'UNNAMED.test("x" + piece.name.trim())',
    ],
    ['one piece is no cut list', `${RULES}/labelMissing.ts`, 'count < 1', 'count < 2'],
  ],
  'child-cord': [
    ['taller than any child', 'shared/limits/childSafety.ts', 'CHILD_CHEST_MM = 640', 'CHILD_CHEST_MM = 540'],
    ['another step of heights', 'shared/checks/parts/childSet.ts', 'HEIGHT_STEP_CM = 6', 'HEIGHT_STEP_CM = 4'],
  ],
  'child-sleepwear': [
    ['everybody is a child', `${RULES}/childSleepwear.ts`, 'if (sign === null)', 'if (sign !== null)'],
    ['the set has no name', `${RULES}/childSleepwear.ts`, 'SLEEPWEAR.test(set.name) ?', "SLEEPWEAR.test('') ?"],
  ],
};

export const MUTATIONS: readonly Mutation[] = Object.entries(CHANGES).flatMap(([rule, changes]) =>
  changes.map(([what, file, find, put]) => ({ rule, what, file, find, put })),
);
