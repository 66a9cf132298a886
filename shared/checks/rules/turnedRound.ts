// Both sides of a seam are walked from the same end of it. When the names of the neighbouring edges or all the notches say
// that one side runs the other way, the seam is joined upside down.
import { normalLabel } from '../../pattern/kinds.ts';
import { type Matched, matchNotches } from '../../pattern/matchNotches.ts';
import type { SeamSide } from '../../pattern/model.ts';
import { type WalkedSide, walkSide } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { endLabel, seamSubjects, sideName, stretchOverlay } from '../seams/seamPlaces.ts';
import { walksThat } from '../subjects.ts';

interface Data {
  readonly seam: string;
  readonly first: string;
  readonly second: string;
  /** The edge that both sides should start at. */
  readonly start: string;
  readonly end: string;
}

export const turnedRound = defineRule<SeamWalk, Data>({
  id: 'turned-round',
  title: 'The two sides of a seam are joined the wrong way round',
  why: 'Two edges of equal length can be sewn together in two ways, and only one of them gives a garment: hem to hem, underarm to underarm. A sleeve set in back to front has the right length too, and pulls at every movement.',
  source: 'Walk both edges from a common start (thedailysew.com, Feb 2018): geometry, no limit',
  messages: {
    clear: (d) => `${d.seam}: both sides start at the same end.`,
    names: (d) =>
      `${d.seam}: ${d.first} starts at the ${d.start} and ends at the ${d.end}, ${d.second} the other way round: joined so, the ${d.start} would be sewn to the ${d.end}.`,
    notches: (d) =>
      `${d.seam}: as joined the notches of ${d.first} and ${d.second} miss each other, and turned round every one of them meets its partner.`,
    disagree: (d) =>
      `${d.seam}: by the names of the edges beside it both sides run the same way, but the notches meet only when ${d.second} is turned round. Check the notches, or the names.`,
    untold: (d) => `${d.seam}: neither names nor notches tell which end of ${d.first} meets which end of ${d.second}.`,
  },
  subjects: walksThat((walk) => walk.sorted.sort !== 'mirror' && walk.basis !== 'round' && !isSameEdge(walk)),
  judge: (walk, context) => [judgeWay(walk, context)],
});

/** An edge joined to itself, whole or in part, has no other way to run. */
function isSameEdge({ seam }: SeamWalk): boolean {
  const [a, b] = seam.sides;
  return a.every((span, i) => span.piece === b[i]?.piece && span.edge === b[i]?.edge);
}

function judgeWay(walk: SeamWalk, context: CheckContext): Outcome<Data> {
  const [first, second] = walk.sides;
  const names = byNames(walk);
  const notches = byNotches(walk, context);
  const rest = {
    data: {
      seam: walk.seam.name,
      first: sideName(first),
      second: sideName(second),
      start: endLabel(first, 'start') ?? 'start',
      end: endLabel(first, 'end') ?? 'end',
    } satisfies Data,
    subjects: seamSubjects(walk),
  };
  if (names === 'turned' && notches !== 'as-joined') return turned('names');
  if (names === null && notches === 'turned') return turned('notches');
  if ((names === 'as-joined' && notches === 'turned') || (names === 'turned' && notches === 'as-joined'))
    return { verdict: 'unsure', reason: 'not-said', key: 'disagree', ...rest };
  if (names === null && notches === null) return { verdict: 'not-applicable', key: 'untold', ...rest };
  return { verdict: 'clear', key: 'clear', ...rest };

  function turned(key: 'names' | 'notches'): Outcome<Data> {
    return {
      verdict: 'fault',
      gravity: 'mend',
      key,
      ...rest,
      overlay: stretchOverlay(walk, walk.anchors[0]!, walk.anchors.at(-1)!),
      remedies: [{ grade: 'choice', sentence: `Turn ${rest.data.second} round in this seam, end for end.` }],
    };
  }
}

type Way = 'as-joined' | 'turned' | null;

/** By the edges beside the two ends: their names must agree end by end, and tell the ends apart. */
function byNames({ sides }: SeamWalk): Way {
  const name = (side: WalkedSide, end: 'start' | 'end') => normalLabel(endLabel(side, end) ?? '');
  const [aStart, aEnd] = [name(sides[0], 'start'), name(sides[0], 'end')];
  const [bStart, bEnd] = [name(sides[1], 'start'), name(sides[1], 'end')];
  if (aStart === '' || aEnd === '' || aStart === aEnd) return null;
  if (aStart === bStart && aEnd === bEnd) return 'as-joined';
  return aStart === bEnd && aEnd === bStart ? 'turned' : null;
}

/** By the match notches: which way round every one of them keeps its appointment. */
function byNotches(walk: SeamWalk, context: CheckContext): Way {
  const here = meets(walk.matched, CLEAR_MISS_MM);
  if (here === null) return null;
  if (here) return 'as-joined';
  const turned: SeamSide = walk.seam.sides[1].map((span) => ({ ...span, reversed: !span.reversed })).toReversed();
  const other = walkSide(context.setIn(walk.size), turned, walk.size, context.measuring);
  return other.ok && meets(matchNotches(walk.sides[0], other.value), context.limits.notch.valueMm) === true
    ? 'turned'
    : null;
}

/** A notch that misses its partner by less may have slipped; that is what `notch-shifted` speaks of. */
const CLEAR_MISS_MM = 12.7;

/** True when every match notch meets one with the same number of snips; null when there is none to meet. */
function meets({ pairs, alone }: Matched, limitMm: number): boolean | null {
  const notched = pairs.flatMap(({ first, second, shiftMm }) =>
    first.kind === 'notch' && second.kind === 'notch'
      ? [Math.abs(shiftMm) <= limitMm && first.notch.notch.count === second.notch.notch.count]
      : [],
  );
  const matching = notched.length + alone[0].length + alone[1].length;
  return matching === 0 ? null : alone[0].length + alone[1].length === 0 && notched.every(Boolean);
}
