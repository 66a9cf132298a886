// A mark of a walk in words and as a shape: the same shapes stand on the canvas and in the list beside it.

import type { LengthText } from '../../shared/base/lengthText.ts';
import { COVERAGE_FACTOR } from '../../shared/base/measured.ts';
import type { MarkState, WalkMark } from '../../shared/checks/seams/walkMarks.ts';

export interface MarkShape {
  /** In a 24 x 24 box. */
  readonly path: string;
  /** Filled, or drawn as a line with these dashes. */
  readonly dash: 'filled' | readonly number[];
}

const DISC = 'M12 3a9 9 0 1 0 0 18a9 9 0 1 0 0-18z';

/** Hollow while it lies ahead, a disc when it meets, a diamond when it misses, a triangle without partner. */
export const MARK_SHAPES: Readonly<Record<MarkState, MarkShape>> = {
  ahead: { path: 'M12 6a6 6 0 1 0 0 12a6 6 0 1 0 0-12z', dash: [] },
  meets: { path: DISC, dash: 'filled' },
  misses: { path: 'M12 1L23 12L12 23L1 12z', dash: 'filled' },
  unsure: { path: DISC, dash: [5, 3.4] },
  alone: { path: 'M12 2L23 21H1z', dash: 'filled' },
};

export const MARK_COLOURS: Readonly<Record<MarkState, string>> = {
  ahead: '#56626a',
  meets: '#2c6141',
  misses: '#9a4a00',
  unsure: '#5b3f8c',
  alone: '#8c1c3a',
};

/** A word or two, as on the canvas. */
export function shortWords({ state, miss }: WalkMark, lengths: LengthText): string {
  switch (state) {
    case 'ahead':
      return '';
    case 'meets':
      return 'meets';
    case 'misses':
      return `off by ${lengths.bare(Math.abs(miss?.valueMm ?? 0))}`;
    case 'unsure':
      return 'unsure';
    case 'alone':
      return 'no partner';
  }
}

/** The mark as the list says it. */
export function markSentence(mark: WalkMark, lengths: LengthText): string {
  const { state, name, miss, atMm, easedMm } = mark;
  const at = lengths.words(atMm[0] ?? atMm[1] ?? 0);
  const value = miss === null ? '' : lengths.signedWords(miss.valueMm, COVERAGE_FACTOR * miss.sigmaMm);
  switch (state) {
    case 'ahead':
      return `${name} at ${at}: ahead`;
    case 'meets':
      return easedMm === null
        ? `${name} at ${at}: meets (${value})`
        : `${name} at ${at}: brought together, ${lengths.signed(easedMm)} ${lengths.unit} eased in so far`;
    case 'misses':
      return `${name} at ${at}: off by ${value}`;
    case 'unsure':
      return `${name} at ${at}: ${value}, too coarse to tell`;
    case 'alone':
      return `${name} at ${at} of the ${atMm[0] === null ? 'second' : 'first'} side: no partner`;
  }
}
