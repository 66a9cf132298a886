// What the rules cost: all of them on a set of twelve pieces in ten sizes, ten and a hundred times that, and after one edge
// was dragged. Checked again means that the check remembers its last run.

import type { Point } from '../../shared/base/points.ts';
import { makeChecker, runChecks } from '../../shared/checks/engine.ts';
import type { PatternSet, Piece, Seam, Shape, Size } from '../../shared/pattern/model.ts';
import { idealSet } from '../photos/marl/idealSet.ts';
import { gradedSet } from '../support/mapShape.ts';
import { printTable, quantile } from './statistics.ts';

const SIZES = Array.from({ length: 10 }, (_, i) => `s${i + 1}`);
const GRADE_RATIO = 0.02;
const PIECES = 12;
/** V8 goes on compiling what is hot for about this long; before that a time says more about the compiler than about the rules. */
const WARM_UP_MS = 3000;
const ROUNDS = 31;

/** What is measured, each in a process of its own: what one leaves in memory must not slow the next. */
export const CHECKS_MEASURED = {
  first: () => oneMs(() => structuredClone(base()), runChecks),
  cold: () => medianMs(() => structuredClone(base()), runChecks),
  ten: () => medianMs(() => structuredClone(times(base(), 10)), runChecks, 3),
  hundred: () => medianMs(() => structuredClone(times(base(), 100)), runChecks, 1),
  drag: () => draggedMs([base().baseSize]),
  dragAll: () => draggedMs(SIZES),
  readAnew: () => draggedMs([base().baseSize], structuredClone),
} as const;
export type ChecksMeasured = keyof typeof CHECKS_MEASURED;

/** @param measure the median milliseconds of one of them */
export async function checksBench(measure: (what: ChecksMeasured) => Promise<number>): Promise<void> {
  const one = await measure('cold');
  const drag = await measure('drag');
  const ten = await measure('ten');
  const hundred = await measure('hundred');
  const aim = (ms: number, most: number) => (ms <= most ? 'PASS' : `SHORT BY ${(ms - most).toPrecision(2)}`);
  printTable(`All rules, median of ${ROUNDS} runs, each row in a process of its own`, [
    ['set', 'ms', 'aim', 'verdict'],
    ['12 pieces x 10 sizes, the first check of a process', (await measure('first')).toFixed(0), '', ''],
    ['the same, shapes never seen before', one.toFixed(1), '≤ 50', aim(one, 50)],
    ['ten times that set', ten.toFixed(0), '≤ 500 (linear)', aim(ten, 500)],
    ['a hundred times that', hundred.toFixed(0), '≤ 5000 (linear)', aim(hundred, 5000)],
    ['one edge dragged in one size, checked again', drag.toFixed(1), '≤ 8', aim(drag, 8)],
    ['the same edge dragged in all ten sizes', (await measure('dragAll')).toFixed(1), '', ''],
    ['in one size, read anew as the window sends it', (await measure('readAnew')).toFixed(1), '', ''],
  ]);
}

let made: PatternSet | null = null;

function base(): PatternSet {
  made ??= gradedSet(twelvePieces(idealSet('as designed')), SIZES, GRADE_RATIO);
  return made;
}

function draggedMs(sizes: readonly Size[], sent: (set: PatternSet) => PatternSet = (set) => set): number {
  const checkAgain = makeChecker();
  return medianMs(() => sent(dragged(base(), sizes)), checkAgain);
}

function medianMs(make: () => PatternSet, run: (set: PatternSet) => unknown, rounds = ROUNDS): number {
  for (const until = performance.now() + WARM_UP_MS; performance.now() < until; ) run(make());
  return quantile(
    Array.from({ length: rounds }, () => oneMs(make, run)),
    0.5,
  );
}

function oneMs(make: () => PatternSet, run: (set: PatternSet) => unknown): number {
  const set = make();
  const started = performance.now();
  run(set);
  return performance.now() - started;
}

/** The demo's nine pieces and three more that are cut like its pocket. */
function twelvePieces(set: PatternSet): PatternSet {
  const pocket = set.pieces.at(-1)!;
  const more = Array.from(
    { length: PIECES - set.pieces.length },
    (_, i): Piece => ({ ...pocket, id: `more-${i}`, name: `More ${i}` }),
  );
  return { ...set, pieces: [...set.pieces, ...more] };
}

function times(set: PatternSet, count: number): PatternSet {
  const copy = (k: number) => (id: string) => `${id}~${k}`;
  const range = Array.from({ length: count }, (_, k) => k);
  return {
    ...set,
    pieces: range.flatMap((k) =>
      set.pieces.map((piece) => ({ ...piece, id: copy(k)(piece.id), name: copy(k)(piece.name) })),
    ),
    seams: range.flatMap((k) =>
      set.seams.map((seam): Seam => {
        const side = (spans: Seam['sides'][0]) => spans.map((span) => ({ ...span, piece: copy(k)(span.piece) }));
        return { ...seam, id: copy(k)(seam.id), sides: [side(seam.sides[0]), side(seam.sides[1])] };
      }),
    ),
    expectedPieces: [],
  };
}

let nudge = 0;

/** The set with the first edge of its first piece bent a little in these sizes; everything else is the same object. */
function dragged(set: PatternSet, sizes: readonly Size[]): PatternSet {
  nudge += 0.01;
  const [first, ...rest] = set.pieces;
  const bent = (shape: Shape): Shape => ({
    ...shape,
    ring: shape.ring.map((edge, i) =>
      i === 0 ? { ...edge, curve: edge.curve.map((p, k): Point => (k === 1 ? [p[0] + nudge, p[1]] : p)) } : edge,
    ),
  });
  const shapes = Object.fromEntries(
    Object.entries(first!.shapes).map(([size, shape]) => [size, sizes.includes(size) ? bent(shape) : shape]),
  );
  return { ...set, pieces: [{ ...first!, shapes }, ...rest] };
}
