// Every rule, in the order in which its findings are read when they weigh the same. Adding a rule adds one line here.
import type { Rule } from './rule.ts';
import { allowanceDiffers } from './rules/allowanceDiffers.ts';
import { allowanceUneven } from './rules/allowanceUneven.ts';
import { capEase } from './rules/capEase.ts';
import { capEaseSpread } from './rules/capEaseSpread.ts';
import { childCord } from './rules/childCord.ts';
import { childSleepwear } from './rules/childSleepwear.ts';
import { cornerUntrue } from './rules/cornerUntrue.ts';
import { curveKink } from './rules/curveKink.ts';
import { dartCap } from './rules/dartCap.ts';
import { dartLegs } from './rules/dartLegs.ts';
import { dartPoint } from './rules/dartPoint.ts';
import { easeShort } from './rules/easeShort.ts';
import { edgeUnclaimed } from './rules/edgeUnclaimed.ts';
import { fabricNarrow } from './rules/fabricNarrow.ts';
import { foldBent } from './rules/foldBent.ts';
import { foldCorner } from './rules/foldCorner.ts';
import { foldInOpening } from './rules/foldInOpening.ts';
import { foldOnUneven } from './rules/foldOnUneven.ts';
import { goesOn } from './rules/goesOn.ts';
import { gradeCrosses } from './rules/gradeCrosses.ts';
import { gradeJump } from './rules/gradeJump.ts';
import { grainDisagrees } from './rules/grainDisagrees.ts';
import { grainMissing } from './rules/grainMissing.ts';
import { grainOff } from './rules/grainOff.ts';
import { handOpening } from './rules/handOpening.ts';
import { headOpening } from './rules/headOpening.ts';
import { hemTurn } from './rules/hemTurn.ts';
import { labelMissing } from './rules/labelMissing.ts';
import { leftBehind } from './rules/leftBehind.ts';
import { lengthDiffers } from './rules/lengthDiffers.ts';
import { lengthShort } from './rules/lengthShort.ts';
import { levelsDiffer } from './rules/levelsDiffer.ts';
import { napDisagrees } from './rules/napDisagrees.ts';
import { notchAdrift } from './rules/notchAdrift.ts';
import { notchAlone } from './rules/notchAlone.ts';
import { notchCount } from './rules/notchCount.ts';
import { notchCrowded } from './rules/notchCrowded.ts';
import { notchShifted } from './rules/notchShifted.ts';
import { notchUngraded } from './rules/notchUngraded.ts';
import { openingShort } from './rules/openingShort.ts';
import { outlineCrosses } from './rules/outlineCrosses.ts';
import { pieceMissing } from './rules/pieceMissing.ts';
import { sameSide } from './rules/sameSide.ts';
import { scoopDiffers } from './rules/scoopDiffers.ts';
import { shoulderReversed } from './rules/shoulderReversed.ts';
import { sizeDiffers } from './rules/sizeDiffers.ts';
import { sizeMissing } from './rules/sizeMissing.ts';
import { sizeStrayed } from './rules/sizeStrayed.ts';
import { tracingWobble } from './rules/tracingWobble.ts';
import { trimDiffers } from './rules/trimDiffers.ts';
import { turnedRound } from './rules/turnedRound.ts';

export const RULES: readonly Rule[] = [
  pieceMissing,
  outlineCrosses,
  foldOnUneven,
  foldInOpening,
  sameSide,
  turnedRound,
  leftBehind,
  sizeStrayed,
  sizeDiffers,
  shoulderReversed,
  trimDiffers,
  lengthDiffers,
  capEase,
  capEaseSpread,
  scoopDiffers,
  notchAlone,
  notchCount,
  notchShifted,
  notchUngraded,
  notchAdrift,
  notchCrowded,
  dartLegs,
  dartCap,
  dartPoint,
  cornerUntrue,
  foldCorner,
  foldBent,
  curveKink,
  tracingWobble,
  hemTurn,
  grainMissing,
  grainOff,
  grainDisagrees,
  napDisagrees,
  levelsDiffer,
  openingShort,
  easeShort,
  headOpening,
  handOpening,
  goesOn,
  lengthShort,
  fabricNarrow,
  allowanceDiffers,
  allowanceUneven,
  sizeMissing,
  gradeJump,
  gradeCrosses,
  edgeUnclaimed,
  labelMissing,
  childCord,
  childSleepwear,
];
