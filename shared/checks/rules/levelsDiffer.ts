// What is meant to meet across a seam or an opening lies at one level: a bodice dart over its skirt dart, a button under its
// buttonhole.
import type { Point } from '../../base/points.ts';
import { distance, lerp } from '../../geometry/vector.ts';
import { LEVELS } from '../../limits/setLimits.ts';
import { closuresOn } from '../../pattern/darts.ts';
import type { OtherMark, Piece, Shape, Size } from '../../pattern/model.ts';
import { pointSigmaAt } from '../../pattern/pointSigma.ts';
import { alongSide, type WalkedSide } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import type { Overlay } from '../finding.ts';
import { placeOverlay } from '../parts/placeOverlay.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inSet, inWalks, type Subjects } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';

interface Data {
  readonly seam: string;
  readonly first: string;
  readonly second: string;
  readonly apartMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
  readonly counts: readonly [number, number];
}

type Levels =
  | { readonly kind: 'darts'; readonly walk: SeamWalk }
  | { readonly kind: 'buttons'; readonly size: Size; readonly button: Row; readonly hole: Row };

/** Marks of one sort on one piece, in order from one end of their row. */
interface Row {
  readonly piece: Piece;
  readonly places: readonly Point[];
  readonly pointSigmaMm: number;
}

interface Mouth {
  readonly walked: WalkedSide['spans'][number];
  /** The middle of the closed mouth along the side. */
  readonly atMm: number;
  readonly openAtMm: number;
}

/** Waist seams with darts on both sides. */
const DARTED_WAISTS: Subjects<Levels> = inWalks((walk) =>
  walk.sorted.sort === 'waist' && walk.sides.every((side) => mouthsOf(side).length > 0)
    ? [{ kind: 'darts', walk }]
    : [],
);

export const levelsDiffer = defineRule<Levels, Data>({
  id: 'levels-differ',
  title: 'What should meet lies at different levels',
  why: 'A waist dart of the bodice that runs on into the dart of the skirt makes one line; a thumb beside it makes two mistakes. Buttons that are spaced otherwise than their holes pull the front into waves.',
  source: LEVELS.source,
  messages: {
    meet: (d, say) => `${d.seam}: the darts of ${d.first} and ${d.second} meet within ${say.length(d.apartMm)}.`,
    miss: (d, say) =>
      `${d.seam}: a dart of ${d.first} and one of ${d.second} miss each other by ${say.uncertain(d.apartMm, d.sigmaMm)}; if they are meant to meet, ${say.length(d.limitMm)} is usual at most.`,
    tooCoarse: (d, say) =>
      `${d.seam}: ${d.first} and ${d.second} seem to miss each other by ${say.uncertain(d.apartMm, d.sigmaMm)}, too coarse to judge ${say.length(d.limitMm)}. Measure the pieces again, nearer and with more cards.`,
    apart: (d) => `${d.seam}: the darts of ${d.first} and ${d.second} are placed independently of each other.`,
    spaced: (d) => `The ${d.counts[0]} buttons of ${d.first} are spaced as the buttonholes of ${d.second}.`,
    spacing: (d, say) =>
      `The buttons of ${d.first} and the buttonholes of ${d.second} drift apart by ${say.uncertain(d.apartMm, d.sigmaMm)}; ${say.length(d.limitMm)} is allowed.`,
    counts: (d) => `${d.first} has ${d.counts[0]} buttons and ${d.second} ${d.counts[1]} buttonholes.`,
  },
  subjects: [...DARTED_WAISTS, ...inSet(buttonRows)],
  judge: (subject, context) => [subject.kind === 'darts' ? judgeDarts(subject.walk) : judgeButtons(subject, context)],
});

function mouthsOf(side: WalkedSide): Mouth[] {
  return side.spans.flatMap((walked) =>
    closuresOn(walked.shape, walked.span.edge)
      .filter((c) => c.kind === 'dart' && c.fromMm >= walked.fromMm && c.toMm <= walked.toMm)
      .map((c) => ({ walked, atMm: alongSide(walked, c.fromMm), openAtMm: (c.fromMm + c.toMm) / 2 })),
  );
}

function judgeDarts(walk: SeamWalk): Outcome<Data> {
  const [first, second] = [mouthsOf(walk.sides[0]), mouthsOf(walk.sides[1])];
  const pairs = first
    .map((a) => ({ a, b: second.toSorted((p, q) => Math.abs(p.atMm - a.atMm) - Math.abs(q.atMm - a.atMm))[0]! }))
    .map(({ a, b }) => ({ a, b, apartMm: Math.abs(b.atMm - a.atMm) }));
  const related = pairs.filter(({ apartMm }) => apartMm < LEVELS.unrelatedMm);
  const { a, b, apartMm } = (related.length > 0 ? related : pairs).toSorted((p, q) => q.apartMm - p.apartMm)[0]!;
  const sigmasMm = [a, b].map(({ walked, openAtMm }) => pointSigmaAt(walked.shape, walked.span.edge, openAtMm));
  const sigmaMm = Math.SQRT2 * Math.hypot(...sigmasMm);
  const rest = {
    data: {
      seam: walk.seam.name,
      first: a.walked.piece.name,
      second: b.walked.piece.name,
      apartMm,
      sigmaMm,
      limitMm: LEVELS.valueMm,
      counts: [first.length, second.length],
    } satisfies Data,
    subjects: [
      { seam: walk.seam.id, size: walk.size },
      ...[a, b].map(({ walked }) => ({ piece: walked.piece.id, edge: walked.span.edge, size: walk.size })),
    ],
    measured: { value: apartMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: LEVELS.valueMm, unit: 'mm', source: LEVELS.source },
  } as const;
  if (related.length === 0) return { verdict: 'not-applicable', key: 'apart', ...rest };
  const decision = judgeDifference(apartMm, sigmaMm, LEVELS.valueMm);
  if (decision === 'clear') return { verdict: 'clear', key: 'meet', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return {
    verdict: 'fault',
    gravity: 'look',
    key: 'miss',
    ...rest,
    overlay: [a, b].flatMap(({ walked, openAtMm }) => placeOverlay(walked.piece.id, walked.seam, openAtMm, 'dart')),
    remedies: [
      { grade: 'choice', sentence: `Move the dart of ${b.walked.piece.name} along the waist until both meet.` },
    ],
  };
}

/** Buttons on one piece and buttonholes on another; two fronts that carry both are one piece cut as a pair. */
function buttonRows(context: CheckContext): Levels[] {
  const buttoned = context.shapes().filter(({ shape }) => shape.marks.some(({ kind }) => BUTTONS.includes(kind)));
  return context.sizes.flatMap((size) => {
    const here = buttoned.filter((entry) => entry.size === size);
    const rows = (kind: 'button' | 'buttonhole') =>
      here.flatMap(({ piece, shape }) => {
        const places = placesOf(shape, kind);
        return places.length === 0 ? [] : [{ piece, places, pointSigmaMm: shape.accuracy.pointSigmaMm }];
      });
    const [button, moreButtons] = rows('button');
    const [hole, moreHoles] = rows('buttonhole');
    if (button === undefined || hole === undefined || moreButtons !== undefined || moreHoles !== undefined) return [];
    return button.piece.id === hole.piece.id ? [] : [{ kind: 'buttons', size, button, hole } as const];
  });
}

const BUTTONS: readonly OtherMark['kind'][] = ['button', 'buttonhole'];

function placesOf(shape: Shape, kind: 'button' | 'buttonhole'): Point[] {
  const places = shape.marks.flatMap((mark) => (mark.kind === kind ? [middleOf(mark)] : []));
  // In a row the two farthest apart are its ends.
  const ends = places.flatMap((a) => places.map((b) => ({ a, apart: distance(a, b) })));
  const from = ends.toSorted((p, q) => q.apart - p.apart)[0]?.a;
  return from === undefined ? [] : places.toSorted((p, q) => distance(from, p) - distance(from, q));
}

function middleOf(mark: OtherMark): Point {
  return 'at' in mark ? mark.at : lerp(mark.from, mark.to, 1 / 2);
}

function judgeButtons(
  { size, button, hole }: Extract<Levels, { kind: 'buttons' }>,
  context: CheckContext,
): Outcome<Data> {
  const { valueMm: limitMm, source } = context.limits.seam;
  const sigmaMm = Math.SQRT2 * Math.hypot(button.pointSigmaMm, hole.pointSigmaMm);
  const apartMm = Math.min(drift(button.places, hole.places), drift(button.places, hole.places.toReversed()));
  const rest = {
    data: {
      seam: 'Closing',
      first: button.piece.name,
      second: hole.piece.name,
      apartMm,
      sigmaMm,
      limitMm,
      counts: [button.places.length, hole.places.length],
    } satisfies Data,
    subjects: [button, hole].map(({ piece }) => ({ piece: piece.id, size })),
    overlay: [button, hole].flatMap(({ piece, places }) =>
      places.map((at): Overlay => ({ kind: 'point', piece: piece.id, at })),
    ),
  } as const;
  const mend = { verdict: 'fault', gravity: 'mend', ...rest } as const;
  const trace = {
    grade: 'choice',
    sentence: `Lay ${hole.piece.name} on ${button.piece.name}, centre on centre, and mark each button under its hole.`,
  } as const;
  if (button.places.length !== hole.places.length) {
    const measured = { value: hole.places.length - button.places.length, sigma: 0, unit: 'count' } as const;
    return { ...mend, key: 'counts', measured, remedies: [trace] };
  }
  const judged = {
    measured: { value: apartMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source },
  } as const;
  const decision = judgeDifference(apartMm, sigmaMm, limitMm);
  if (decision === 'fault') return { ...mend, key: 'spacing', ...judged, remedies: [trace] };
  const { overlay: _, ...quiet } = rest;
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...quiet, ...judged };
  return { verdict: 'clear', key: 'spaced', ...quiet, ...judged };
}

/** How far two rows part at most when their first places are laid on each other; only rows of equal count are compared. */
function drift(a: readonly Point[], b: readonly Point[]): number {
  return a.reduce((worst, place, i) => {
    const other = b[i] ?? b.at(-1)!;
    return Math.max(worst, Math.abs(distance(a[0]!, place) - distance(b[0]!, other)));
  }, 0);
}
