// Unsure stretches in words.
import type { UnsureReason } from '../../shared/pattern/model.ts';
import type { UnsureSpan } from '../../shared/pattern/unsureSpans.ts';
import type { LengthText } from '../../shared/report/lengthText.ts';

export function unsureWord(reason: UnsureReason): string {
  switch (reason) {
    case 'weak-edge':
      return 'hardly visible';
    case 'covered':
      return 'something lay over it';
    case 'shadow':
      return 'in shadow';
    case 'gap':
      return 'bridged';
  }
}

/** "Unsure from 40.0 to 95.0 mm: something lay over it." */
export function unsureSentence({ fromMm, toMm, reason }: UnsureSpan, lengths: LengthText): string {
  return `Unsure from ${lengths.bare(fromMm)} to ${lengths.words(toMm)}: ${unsureWord(reason)}.`;
}
