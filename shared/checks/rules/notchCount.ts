// Notches that meet carry the same number of snips: one in front, two behind by convention, the same on both edges always.
import type { SideNotch } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { notchOverlay, notchSubject } from '../seams/seamPlaces.ts';
import { inWalks } from '../subjects.ts';

interface Data {
  readonly seam: string;
  readonly first: string;
  readonly second: string;
  readonly counts: readonly [number, number];
}

const COUNT_WORDS = ['', 'single', 'double', 'triple'] as const;

export const notchCount = defineRule<readonly [SeamWalk, SideNotch, SideNotch], Data>({
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
  subjects: inWalks((walk) =>
    walk.sorted.sort === 'mirror'
      ? []
      : walk.matched.pairs.flatMap(({ first, second }) =>
          first.kind === 'notch' && second.kind === 'notch' ? [[walk, first.notch, second.notch] as const] : [],
        ),
  ),
  judge: ([walk, first, second]) => [judgePair(walk, first, second)],
});

function judgePair(walk: SeamWalk, first: SideNotch, second: SideNotch): Outcome<Data> {
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
