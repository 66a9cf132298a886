// Every remedy that can apply itself. Adding one adds its file and one line here.
import { alignGrain } from './remedies/alignGrain.ts';
import { squareFold, trueCorner } from './remedies/corners.ts';
import { equalDartLegs, redrawDartCap } from './remedies/darts.ts';
import { edgeLength } from './remedies/edgeLength.ts';
import { evenCap } from './remedies/evenCap.ts';
import { followSeam, takeBack } from './remedies/follow.ts';
import { addPartnerNotch, moveNotch, setNotchCount } from './remedies/notches.ts';
import { spreadCap } from './remedies/spreadCap.ts';
import type { RemedyAction } from './remedy.ts';

export const REMEDIES: readonly RemedyAction[] = [
  moveNotch,
  setNotchCount,
  addPartnerNotch,
  spreadCap,
  evenCap,
  followSeam,
  takeBack,
  trueCorner,
  edgeLength,
  equalDartLegs,
  redrawDartCap,
  squareFold,
  alignGrain,
];

export function remedyById(id: string): RemedyAction | undefined {
  return REMEDIES.find((remedy) => remedy.id === id);
}
