// One connected area of paper that was found on the table.
import type { CoarseOutline } from '../outline/coarseOutline.ts';

export interface PaperRegion {
  readonly coarse: CoarseOutline;
  readonly areaMm2: number;
  /** Share of the outline along which paper ends in one sharp step, 0-1. A reflection has none. */
  readonly sharpRatio: number;
  /** 0-1: how surely this is a cut piece of paper. */
  readonly confidence: number;
  /** It runs out of the photo. */
  readonly cutOff: boolean;
  /** Large and rectangular: perhaps a whole sheet that carries drawn outlines. */
  readonly sheet: boolean;
}

export interface PaperFindings {
  readonly regions: readonly PaperRegion[];
  /** The surface around the cards looks like the cards themselves: a sheet of paper fills the picture. */
  readonly tableIsPaper: boolean;
}
