// A match notch has a mate on the other side of its seam. Notches for darts, pleats, hems, zips and allowances have none, and
// one that meets a seam end, a dart leg, a centre or a foldline needs no notch there.
import type { SideNotch } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { notchOverlay, notchSubject, sideName } from '../seams/seamPlaces.ts';
import { walksThat } from '../subjects.ts';

interface Data {
  readonly seam: string;
  readonly piece: string;
  readonly partner: string;
  readonly atMm: number;
  readonly count: number;
  readonly pairs: number;
}

const COUNT_WORDS = ['', 'single', 'double', 'triple'] as const;

export const notchAlone = defineRule<SeamWalk, Data>({
  id: 'notch-alone',
  title: 'A notch has no partner',
  why: 'Notches are appointments: each is kept by a mark on the other edge. A notch without partner leaves the person at the machine guessing, and usually means that one of the two pieces was not marked or was altered.',
  source: 'A notch has a purpose and a mate: common practice, no source',
  messages: {
    clear: (d) => `${d.seam}: every match notch has its partner (${d.pairs} ${d.pairs === 1 ? 'pair' : 'pairs'}).`,
    alone: (d, say) =>
      `${d.seam}: the ${COUNT_WORDS[d.count]} notch of ${d.piece}, ${say.length(d.atMm)} from the start of the seam, has no partner on ${d.partner}.`,
    named: (d) => `${d.seam}: the notch of ${d.piece} is said to meet a notch that is not on ${d.partner}.`,
    noNotches: (d) => `${d.seam}: no match notches on this seam that could be paired.`,
    halfAndWhole: (d) =>
      `${d.seam}: one side shows half of the round and the other all of it, so their notches are not paired.`,
  },
  subjects: walksThat((walk) => walk.sorted.sort !== 'mirror' && walk.sorted.sort !== 'rises'),
  judge: (walk) => judgeSeam(walk),
});

function judgeSeam(walk: SeamWalk): Outcome<Data>[] {
  const pairs = walk.matched.pairs.filter((p) => p.first.kind === 'notch' || p.second.kind === 'notch').length;
  const quiet: Data = { seam: walk.seam.name, piece: '', partner: '', atMm: 0, count: 1, pairs };
  const subjects = [{ seam: walk.seam.id, size: walk.size }];
  if (walk.basis === 'round') return [{ verdict: 'not-applicable', key: 'halfAndWhole', data: quiet, subjects }];
  const alone = ([0, 1] as const).flatMap((which) =>
    walk.matched.alone[which].map((notch) => aloneNotch(walk, notch, which === 0 ? 1 : 0)),
  );
  if (alone.length > 0) return alone;
  if (pairs === 0) return [{ verdict: 'not-applicable', key: 'noNotches', data: quiet, subjects }];
  return [{ verdict: 'clear', key: 'clear', data: quiet, subjects }];
}

function aloneNotch(walk: SeamWalk, notch: SideNotch, other: 0 | 1): Outcome<Data> {
  const partner = sideName(walk.sides[other]);
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: notch.notch.mate.kind === 'notch' ? 'named' : 'alone',
    data: {
      seam: walk.seam.name,
      piece: notch.piece.name,
      partner,
      atMm: notch.atMm,
      count: notch.notch.count,
      pairs: 0,
    },
    subjects: [notchSubject(notch, walk.size), { seam: walk.seam.id, size: walk.size }],
    overlay: notchOverlay(notch),
    remedies: [
      { grade: 'choice', sentence: `Add the partner notch to ${partner} at the same distance along the seam.` },
      { grade: 'choice', sentence: `Or say what the notch is for, when it marks a zip, a pleat, a dart or a hem.` },
    ],
  };
}
