// Unsure stretches in words.
import type { LengthText } from '../../shared/base/lengthText.ts';
import type { UnsureReason } from '../../shared/pattern/model.ts';
import type { UnsureSpan } from '../../shared/pattern/unsureSpans.ts';

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

/** "Unsure from 40 to 95 mm: something lay over it." */
export function unsureSentence({ fromMm, toMm, reason }: UnsureSpan, lengths: LengthText): string {
  return `Unsure from ${lengths.coarse(fromMm)} to ${lengths.coarse(toMm)} ${lengths.unit}: ${unsureWord(reason)}.`;
}
