// Every alteration, in the order in which they are listed. Adding one adds its file and one line here.
import type { Alteration } from './alteration.ts';
import { armholeDepth } from './alterations/armholeDepth.ts';
import { biceps } from './alterations/biceps.ts';
import { fullBust } from './alterations/fullBust.ts';
import { lengths } from './alterations/length.ts';
import { neckline } from './alterations/neckline.ts';
import { rotateDart } from './alterations/rotateDart.ts';
import { shoulderForward } from './alterations/shoulderForward.ts';
import { shoulderPoint } from './alterations/shoulderPoint.ts';
import { shoulderSlope } from './alterations/shoulderSlope.ts';
import { sideSeam } from './alterations/sideSeam.ts';
import { slashSpread } from './alterations/slashSpread.ts';
import { swayback } from './alterations/swayback.ts';

export const ALTERATIONS: readonly Alteration[] = [
  armholeDepth,
  biceps,
  shoulderPoint,
  shoulderForward,
  shoulderSlope,
  neckline,
  ...lengths,
  sideSeam,
  fullBust,
  swayback,
  slashSpread,
  rotateDart,
];

export function alterationById(id: string): Alteration | undefined {
  return ALTERATIONS.find((alteration) => alteration.id === id);
}
