// Notches that meet carry the same number of snips: one in front, two behind by convention, the same on both edges always.
import { NOTCH_PAIRS, type NotchPair } from '../parts/notchPairs.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { notchOverlay, notchSubject } from '../seams/seamPlaces.ts';

interface Data {
  readonly seam: string;
  readonly first: string;
  readonly second: string;
  readonly counts: readonly [number, number];
}

const COUNT_WORDS = ['', 'single', 'double', 'triple'] as const;

export const notchCount = defineRule<NotchPair, Data>({
  id: 'notch-count',
  title: 'Notches that meet are of different number',
  why: 'Single and double notches tell front from back: by convention one in front and two behind, on sleeve and armhole alike. Where a single meets a double, the sleeve is easily set into the wrong armhole.',
  source:
    'L. McConnell, Basic Set-in Sleeve (Taylor & Francis, 9781003022619, ch. 12); Univ. of Arkansas, Intro Apparel Production Workbook, ch. 8',
  messages: {
    clear: (d) => `${d.seam}: a ${COUNT_WORDS[d.counts[0]]} notch meets a ${COUNT_WORDS[d.counts[1]]} one.`,
    differs: (d) =>
      `${d.seam}: the notch of ${d.first} is ${COUNT_WORDS[d.counts[0]]}, its partner on ${d.second} is ${COUNT_WORDS[d.counts[1]]}.`,
  },
  subjects: NOTCH_PAIRS,
  judge: (pair) => [judgePair(pair)],
});

function judgePair({ walk, first, second }: NotchPair): Outcome<Data> {
  const counts = [first.notch.count, second.notch.count] as const;
  const rest = {
    data: { seam: walk.seam.name, first: first.piece.name, second: second.piece.name, counts },
    subjects: [
      notchSubject(first, walk.size),
      notchSubject(second, walk.size),
      { seam: walk.seam.id, size: walk.size },
    ],
    measured: { value: counts[1] - counts[0], sigma: 0, unit: 'count' },
  } as const;
  if (counts[0] === counts[1]) return { verdict: 'clear', key: 'clear', ...rest };
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: 'differs',
    ...rest,
    overlay: [...notchOverlay(first), ...notchOverlay(second)],
    remedies: [
      { grade: 'choice', sentence: `Make the notch of ${first.piece.name} ${COUNT_WORDS[counts[1]]}.` },
      { grade: 'choice', sentence: `Make the notch of ${second.piece.name} ${COUNT_WORDS[counts[0]]}.` },
    ],
  };
}
