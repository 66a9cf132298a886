// One cause is one finding. Faults of one seam in one size that follow from each other are nested under the one that
// explains them; everything that waits for a better measurement becomes one request to measure again.
import { groupedBy } from '../base/groupedBy.ts';
import type { CheckContext } from './context.ts';
import type { Finding } from './finding.ts';
import { sizeOf, walkOf } from './findingPlace.ts';
import { graverOf } from './gravity.ts';
import { oddPieces } from './oddPiece.ts';
import type { Judged } from './rule.ts';

/** What a wrong length of one side says elsewhere. */
const OTHER_LENGTHS = [
  'trim-differs',
  'length-differs',
  'cap-ease',
  'cap-ease-spread',
  'notch-ungraded',
  'notch-shifted',
] as const;

/**
 * Which fault explains which, within one seam and size, strongest cause first: a seam of the wrong length moves its notches,
 * a moved notch makes the sections beside it differ.
 */
const EXPLAINS: readonly { readonly cause: string; readonly follows: readonly string[] }[] = [
  {
    cause: 'turned-round',
    follows: ['notch-shifted', 'notch-alone', 'notch-count', 'cap-ease-spread', 'scoop-differs', 'length-differs'],
  },
  {
    cause: 'left-behind',
    follows: [
      'size-strayed',
      'size-differs',
      'notch-ungraded',
      'shoulder-reversed',
      'trim-differs',
      'length-differs',
      'cap-ease',
      'cap-ease-spread',
      'scoop-differs',
      'notch-shifted',
    ],
  },
  { cause: 'size-strayed', follows: ['shoulder-reversed', ...OTHER_LENGTHS] },
  { cause: 'notch-ungraded', follows: ['notch-shifted', 'notch-alone', 'cap-ease-spread'] },
  { cause: 'shoulder-reversed', follows: ['size-differs', 'length-differs', 'notch-shifted'] },
  { cause: 'size-differs', follows: OTHER_LENGTHS },
  { cause: 'trim-differs', follows: ['length-differs', 'notch-shifted'] },
  { cause: 'cap-ease', follows: ['cap-ease-spread', 'notch-shifted', 'scoop-differs'] },
  { cause: 'notch-shifted', follows: ['cap-ease-spread'] },
  { cause: 'cap-ease-spread', follows: ['notch-shifted'] },
  { cause: 'length-differs', follows: ['notch-shifted'] },
];

/** Rules that one crossing outline makes meaningless for the same piece and size. */
const OUTLINE_RULE = 'outline-crosses';

/** The base size of the set leads when the same fault is found in several sizes. What is no fault explains nothing. */
export function nestCauses(judged: readonly Judged[], context: CheckContext): Finding[] {
  const faults: Judged[] = [];
  const questions: Judged[] = [];
  const others: Judged[] = [];
  for (const one of judged) {
    if (one.finding.verdict === 'fault') faults.push(one);
    else (one.reason === 'not-said' ? questions : others).push(one);
  }
  const bySeam = inGroups(faults, ({ finding }) => seamAndSize(finding), explained);
  const byEdge = inGroups(
    bySeam,
    ({ finding }) => sizeOf(finding) ?? null,
    (group) => underWrongLength(group, context),
  );
  const byPiece = inGroups(byEdge, ({ finding }) => onePieceAndSize(finding), underCrossedOutline);
  const byOddPiece = inGroups(
    byPiece,
    ({ finding }) => sizeOf(finding) ?? null,
    (group) => underOddPiece(group, context),
  );
  const { baseSize } = context.set;
  return [...oneForAllSizes(byOddPiece, baseSize), ...oneForAllSizes(questions, baseSize), ...oneRequest(others)];
}

/** Nests those that share a place among themselves; those that have none pass through in their order. */
function inGroups(
  faults: readonly Judged[],
  placeOf: (j: Judged) => string | null,
  nest: (group: readonly Judged[]) => readonly Judged[],
): Judged[] {
  const groups = groupedBy(faults, (j) => [placeOf(j)]);
  const rest = groups.get(null) ?? [];
  return [...[...groups].flatMap(([place, group]) => (place === null ? [] : nest(group))), ...rest];
}

/** The faults of one seam in one size. */
function explained(group: readonly Judged[]): readonly Judged[] {
  let open = group;
  for (const { cause, follows } of EXPLAINS) {
    const head = open.find((j) => j.finding.rule === cause);
    const tail = open.filter((j) => follows.includes(j.finding.rule));
    if (head !== undefined && tail.length > 0) open = nested(open, head, tail);
  }
  return open;
}

/** The faults of one piece in one size: an outline that crosses itself explains all others. */
function underCrossedOutline(group: readonly Judged[]): readonly Judged[] {
  const head = group.find((j) => j.finding.rule === OUTLINE_RULE);
  const tail = group.filter((j) => j !== head);
  return head === undefined || tail.length === 0 ? group : nested(group, head, tail);
}

/**
 * An edge that turns sharply, as it does where a dart or a pleat opens, and lies on the longer side of a seam: a mouth that
 * was not closed, or not traced. A kink on the shorter side is something else.
 */
function underWrongLength(group: readonly Judged[], context: CheckContext): readonly Judged[] {
  let open = group;
  for (const kink of group.filter((j) => j.finding.rule === KINK_RULE)) {
    const head = open.find(
      ({ finding }) => WRONG_LENGTH.includes(finding.rule) && isOnLongerSide(kink.finding, finding, context),
    );
    if (head !== undefined) open = nested(open, head, [kink]);
  }
  return open;
}

function isOnLongerSide({ subjects: [at] }: Finding, finding: Finding, context: CheckContext): boolean {
  const walk = walkOf(finding, context);
  if (walk === null) return false;
  const longer = walk.seam.sides[walk.difference.valueMm > 0 ? 1 : 0];
  return longer.some(({ piece, edge }) => piece === at?.piece && edge === at.edge);
}

const KINK_RULE = 'curve-kink';
const WRONG_LENGTH: readonly string[] = ['trim-differs', 'length-differs'];

/** Faults of several seams that one piece explains. */
function underOddPiece(group: readonly Judged[], context: CheckContext): readonly Judged[] {
  let open = group;
  for (const { members, sentence } of oddPieces(group, context)) {
    const [head, ...tail] = members.filter((member) => open.includes(member));
    if (head === undefined) continue;
    const said = { ...head, finding: { ...head.finding, sentence: `${head.finding.sentence} ${sentence}` } };
    const others = open.map((j) => (j === head ? said : j));
    open = tail.length === 0 ? others : nested(others, said, tail);
  }
  return open;
}

function nested(open: readonly Judged[], head: Judged, tail: readonly Judged[]): Judged[] {
  const whole = {
    ...head,
    finding: under(
      head.finding,
      tail.map((j) => j.finding),
    ),
  };
  return open.filter((j) => !tail.includes(j)).map((j) => (j === head ? whole : j));
}

/** A cause weighs as much as the gravest of what follows from it. */
function under(head: Finding, tail: readonly Finding[]): Finding {
  const gravity = [head, ...tail].map((f) => f.gravity).reduce(graverOf);
  return { ...head, gravity, consequences: [...head.consequences, ...tail] };
}

/** All results that are too coarse to judge are one request: the first of them leads, the others wait under it. */
function oneRequest(open: readonly Judged[]): Finding[] {
  const coarse: Finding[] = [];
  const others: Finding[] = [];
  for (const { finding, reason } of open) (reason === 'too-coarse' ? coarse : others).push(finding);
  const [head, ...tail] = coarse.toSorted((a, b) => ratioToLimit(b) - ratioToLimit(a));
  if (head === undefined) return others;
  if (tail.length === 0) return [...others, head];
  const also = tail.length === 1 ? 'One more result waits' : `${tail.length} more results wait`;
  return [
    ...others,
    { ...head, sentence: `${head.sentence} ${also} for the same better measurement.`, consequences: tail },
  ];
}

/** How far the measured value is past its limit: what most needs the better measurement leads. */
function ratioToLimit(finding: Finding): number {
  if (finding.measured === undefined || finding.limit === undefined || finding.limit.value === 0) return 0;
  return Math.abs(finding.measured.value) / Math.abs(finding.limit.value);
}

function seamAndSize(finding: Finding): string | null {
  const subject = finding.subjects.find((s) => s.seam !== undefined);
  return subject === undefined ? null : JSON.stringify([subject.seam, subject.size]);
}

/** The same fault, or question, of the same things in several sizes is one: the base size leads, the others lie under it. */
function oneForAllSizes(judged: readonly Judged[], baseSize: string): Finding[] {
  const groups = groupedBy(
    judged.map(({ finding }) => finding),
    (finding) => [withoutSizes(finding)],
  );
  return [...groups.values()].map((group) => {
    const head = group.find((f) => sizeOf(f) === baseSize) ?? group[0]!;
    const others = group.filter((f) => f !== head);
    if (others.length === 0) return head;
    const sizes = others.map((f) => sizeOf(f) ?? '').join(', ');
    const all = under(head, others);
    return { ...all, sentence: `${head.sentence} The same in ${others.length === 1 ? 'size' : 'sizes'} ${sizes}.` };
  });
}

/** A finding about one piece alone. */
function onePieceAndSize({ subjects }: Finding): string | null {
  const [only, more] = subjects;
  return only?.piece === undefined || more !== undefined ? null : JSON.stringify([only.piece, only.size]);
}

function withoutSizes(finding: Finding): string {
  return JSON.stringify([
    finding.rule,
    Math.sign(finding.measured?.value ?? 0),
    finding.subjects.map(({ size: _, ...rest }) => rest),
  ]);
}
