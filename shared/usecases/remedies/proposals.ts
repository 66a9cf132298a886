// Which remedies are tried for the findings of which rule. Adding one adds its line here; rules without a line have remedies
// in words only.
import type { Propose } from './candidate.ts';
import { forCapEase, forCapSpread } from './capProposals.ts';
import { forLeftBehind } from './changeProposals.ts';
import { forLengths, forShoulder, forSizes, forStrayed } from './lengthProposals.ts';
import { forAdrift, forAlone, forCount, forShifted, forUngraded } from './notchProposals.ts';
import { forDart, forFoldBent, forFoldCorner, forGrain, forJoinedCorner } from './pieceProposals.ts';

export const PROPOSALS: Readonly<Record<string, Propose>> = {
  'left-behind': forLeftBehind,
  'size-strayed': forStrayed,
  'size-differs': forSizes,
  'shoulder-reversed': forShoulder,
  'trim-differs': forLengths,
  'length-differs': forLengths,
  'cap-ease': forCapEase,
  'cap-ease-spread': forCapSpread,
  'notch-alone': forAlone,
  'notch-count': forCount,
  'notch-shifted': forShifted,
  'notch-ungraded': forUngraded,
  'notch-adrift': forAdrift,
  'dart-legs': forDart,
  'dart-cap': forDart,
  'corner-untrue': forJoinedCorner,
  'fold-corner': forFoldCorner,
  'fold-bent': forFoldBent,
  'grain-off': forGrain,
};
