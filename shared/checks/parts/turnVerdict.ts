// A line that should run on but turns a little: what is sure to show is to be mended, what is sure to be there is worth a look,
// and a better measurement is asked for only where it could tell the two apart.

import type { LimitDeg } from '../../limits/row.ts';
import { TURN_SHOWS } from '../../limits/tolerances.ts';
import type { Gravity } from '../finding.ts';
import { type Decision, judgeDifference } from '../verdict.ts';

export interface TurnVerdict {
  readonly decision: Decision;
  readonly gravity: Gravity;
  /** The limit that decided. */
  readonly limit: LimitDeg;
}

/** @param drawn up to here the line counts as running on */
export function judgeTurn(offDeg: number, sigmaDeg: number, drawn: LimitDeg): TurnVerdict {
  const shows = judgeDifference(offDeg, sigmaDeg, TURN_SHOWS.valueDeg);
  if (shows === 'fault') return { decision: 'fault', gravity: 'mend', limit: TURN_SHOWS };
  const isTurned = judgeDifference(offDeg, sigmaDeg, drawn.valueDeg);
  if (isTurned === 'fault') return { decision: 'fault', gravity: 'look', limit: drawn };
  return { decision: shows, gravity: 'look', limit: isTurned === 'clear' ? drawn : TURN_SHOWS };
}
