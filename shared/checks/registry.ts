// Every rule, in the order in which its findings are read when they weigh the same. Adding a rule adds one line here.
import type { Rule } from './rule.ts';
import { allowanceDiffers } from './rules/allowanceDiffers.ts';
import { capEase } from './rules/capEase.ts';
import { capEaseSpread } from './rules/capEaseSpread.ts';
import { cornerUntrue } from './rules/cornerUntrue.ts';
import { dartLegs } from './rules/dartLegs.ts';
import { edgeUnclaimed } from './rules/edgeUnclaimed.ts';
import { foldCorner } from './rules/foldCorner.ts';
import { foldOnUneven } from './rules/foldOnUneven.ts';
import { grainMissing } from './rules/grainMissing.ts';
import { lengthDiffers } from './rules/lengthDiffers.ts';
import { notchAlone } from './rules/notchAlone.ts';
import { notchCount } from './rules/notchCount.ts';
import { notchShifted } from './rules/notchShifted.ts';
import { outlineCrosses } from './rules/outlineCrosses.ts';
import { pieceMissing } from './rules/pieceMissing.ts';

export const RULES: readonly Rule[] = [
  pieceMissing,
  outlineCrosses,
  foldOnUneven,
  lengthDiffers,
  capEase,
  capEaseSpread,
  notchAlone,
  notchCount,
  notchShifted,
  dartLegs,
  cornerUntrue,
  foldCorner,
  grainMissing,
  allowanceDiffers,
  edgeUnclaimed,
];
