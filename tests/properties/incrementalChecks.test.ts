// A check that remembers says what a check from nothing says, whatever was changed in between.
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../shared/base/points.ts';
import { type CheckResult, makeChecker, runChecks } from '../../shared/checks/engine.ts';
import type { Edge, Notch, PatternSet, Piece, Seam, Shape } from '../../shared/pattern/model.ts';
import { idealSet } from '../photos/marl/idealSet.ts';
import { gradedSet, scaledShape } from '../support/mapShape.ts';

const SIZES = ['36', '38', '40'];

/** The demo's set in three sizes, each a little larger. */
function start(which: 'as designed' | 'as traced'): PatternSet {
  return { ...gradedSet(idealSet(which), SIZES, 0.02), baseSize: '38' };
}

/** One change of a set; `pick` chooses among what there is, `by` says how much. */
type Edit = (set: PatternSet, pick: number, by: number) => PatternSet;

function replaced<T>(list: readonly T[], pick: number, change: (item: T) => T): readonly T[] {
  return list.map((item, i) => (list.length > 0 && i === pick % list.length ? change(item) : item));
}

const inPiece =
  (change: (piece: Piece, pick: number, by: number) => Piece): Edit =>
  (set, pick, by) => ({ ...set, pieces: replaced(set.pieces, pick, (piece) => change(piece, pick, by)) });

const inShape = (change: (shape: Shape, pick: number, by: number) => Shape): Edit =>
  inPiece((piece, pick, by) => {
    const sizes = Object.keys(piece.shapes);
    const size = sizes[pick % sizes.length];
    if (size === undefined) return piece;
    return { ...piece, shapes: { ...piece.shapes, [size]: change(piece.shapes[size]!, pick, by) } };
  });

const inEdge = (change: (edge: Edge, by: number) => Edge): Edit =>
  inShape((shape, pick, by) => ({ ...shape, ring: replaced(shape.ring, pick, (edge) => change(edge, by)) }));

const inNotch = (change: (notch: Notch, by: number) => Notch): Edit =>
  inShape((shape, pick, by) => ({ ...shape, notches: replaced(shape.notches, pick, (notch) => change(notch, by)) }));

const inSeam =
  (change: (seam: Seam, by: number) => Seam): Edit =>
  (set, pick, by) => ({ ...set, seams: replaced(set.seams, pick, (seam) => change(seam, by)) });

function bent(edge: Edge, by: number): Edge {
  return {
    ...edge,
    curve: edge.curve.map((p, i): Point => (i === 1 || i === 2 ? [p[0] + by, p[1] + by / 2] : p)),
  };
}

const EDITS: readonly Edit[] = [
  inEdge(bent),
  // One edge in every size at once.
  inPiece((piece, pick, by) => ({
    ...piece,
    shapes: Object.fromEntries(
      Object.entries(piece.shapes).map(([size, shape]) => [
        size,
        { ...shape, ring: replaced(shape.ring, pick, (edge) => bent(edge, by)) },
      ]),
    ),
  })),
  inEdge((edge, by) => ({ ...edge, allowanceMm: Math.abs(by), allowanceAssumed: by < 0 })),
  inEdge((edge, by) => ({ ...edge, label: by > 0 ? 'side' : 'waist' })),
  inEdge((edge, by) => ({ ...edge, role: by > 0 ? 'hem' : 'opening' })),
  inEdge((edge, by) => ({ ...edge, role: by > 0 ? 'fold' : 'seam' })),
  inNotch((notch, by) => ({ ...notch, atMm: notch.atMm + by })),
  inNotch((notch, by) => ({ ...notch, count: by > 0 ? 2 : 3 })),
  inShape((shape) => ({ ...shape, notches: shape.notches.slice(1) })),
  inShape((shape, pick, by) => ({
    ...shape,
    notches: [
      ...shape.notches,
      {
        id: `added-${shape.notches.length}`,
        edge: shape.ring[pick % shape.ring.length]!.id,
        atMm: 40 + by,
        count: 1,
        purpose: 'match',
        mate: { kind: 'unknown' },
      },
    ],
  })),
  inShape((shape, _, by) => ({
    ...shape,
    marks: [0, 90, 180].map((y, i) =>
      by > 0
        ? { kind: 'button', id: `b${i}`, at: [0, y + by] }
        : { kind: 'buttonhole', id: `h${i}`, from: [0, y], to: [18, y] },
    ),
  })),
  inShape((shape) => ({ ...shape, darts: shape.darts.slice(1), pleats: [] })),
  inShape((shape, _, by) => ({ ...shape, tracedLine: by > 0 ? 'seam' : 'cutting' })),
  inShape((shape, _, by) => ({ ...shape, accuracy: { ...shape.accuracy, pointSigmaMm: Math.abs(by) / 10 } })),
  inShape((shape, _, by) => ({
    ...shape,
    grainline: by > 0 ? null : shape.grainline && { ...shape.grainline, heads: 2 },
  })),
  inPiece((piece, _, by) => ({ ...piece, name: by > 0 ? 'Night gown, age 3' : 'Renamed' })),
  inPiece((piece, _, by) => ({ ...piece, kind: by > 0 ? 'facing' : 'sleeve' })),
  inPiece((piece, _, by) => ({
    ...piece,
    cut: piece.cut.map((cut) => ({ ...cut, count: by > 0 ? 1 : 2, mirrored: by < 0 })),
  })),
  inPiece((piece, _, by) => ({ ...piece, nap: by > 0 ? 'one-way' : 'none' })),
  inPiece((piece, pick) => {
    const gone = SIZES[pick % SIZES.length];
    return { ...piece, shapes: Object.fromEntries(Object.entries(piece.shapes).filter(([size]) => size !== gone)) };
  }),
  // Altered by hand: what it was stays known.
  inPiece((piece, _, by) => ({
    ...piece,
    before: piece.before ?? piece.shapes,
    shapes: Object.fromEntries(
      Object.entries(piece.shapes).map(([size, shape]) => [size, scaledShape(shape, 1 + by / 500)]),
    ),
  })),
  inSeam((seam, by) => ({ ...seam, join: by > 0 ? 'eased' : 'gathered' })),
  inSeam((seam, by) => ({ ...seam, wantedEaseMm: by > 0 ? by : null })),
  inSeam((seam) => ({ ...seam, sides: [seam.sides[1], seam.sides[0]] })),
  inSeam((seam) => ({ ...seam, sides: [seam.sides[0].map((s) => ({ ...s, reversed: !s.reversed })), seam.sides[1]] })),
  inSeam((seam, by) => ({ ...seam, sides: [seam.sides[0], by > 0 ? [] : seam.sides[1].slice(0, 1)] })),
  (set, pick) => ({ ...set, seams: set.seams.filter((_, i) => i !== pick % set.seams.length) }),
  (set, pick) => ({ ...set, seams: set.seams.toSpliced(pick % (set.seams.length + 1), 0, ...set.seams.slice(0, 1)) }),
  (set, pick) => ({ ...set, pieces: set.pieces.filter((_, i) => i !== pick % set.pieces.length) }),
  (set, pick) => {
    const piece = set.pieces[pick % set.pieces.length];
    return piece === undefined
      ? set
      : { ...set, pieces: [{ ...piece, id: `copy-${pick}`, name: 'Copy' }, ...set.pieces] };
  },
  (set, pick) => ({
    ...set,
    pieces: set.pieces.toSorted((a, b) => ((a.name.length * pick) % 7) - ((b.name.length * pick) % 7)),
  }),
  (set, _, by) => ({ ...set, preset: { tolerance: by > 0 ? 'studio' : 'home', cloth: by > 2 ? 'knit' : 'tailored' } }),
  (set, _, by) => ({ ...set, displayUnits: by > 0 ? 'in' : 'cm' }),
  (set, pick) => ({ ...set, baseSize: SIZES[pick % SIZES.length]! }),
  (set) => ({ ...set, sizes: set.sizes.toReversed() }),
  (set) => ({ ...set, sizes: set.sizes.slice(1) }),
  (set) => ({ ...set, name: 'For a child', bodies: [{ name: 'B', measuresMm: { bust: 600, waist: 550 } }] }),
  (set, _, by) => ({
    ...set,
    bodies: [
      {
        name: 'whole',
        size: set.baseSize,
        measuresMm: {
          bust: 900 + by,
          waist: 740,
          hip: 960,
          biceps: 280,
          'across back': 350,
          'back length': 410,
          head: 560,
        },
      },
    ],
  }),
  (set, _, by) => ({ ...set, fabric: { widthMm: 900 + 100 * by } }),
  // Two edges that nobody had planned to sew to each other.
  (set, pick) => {
    const span = (k: number) => {
      const piece = set.pieces[(pick + k) % set.pieces.length]!;
      const ring = Object.values(piece.shapes)[0]?.ring ?? [];
      return ring.slice(0, 1).map((edge) => ({ piece: piece.id, edge: edge.id, reversed: k > 0, stretch: null }));
    };
    if (set.pieces.length === 0) return set;
    const seam: Seam = {
      id: `added-${set.seams.length}`,
      name: 'Added',
      sides: [span(0), span(1)],
      join: 'even',
      wantedEaseMm: null,
      wantedSectionsMm: null,
      overlapMm: 0,
      status: 'proposed',
    };
    return { ...set, seams: [...set.seams, seam] };
  },
  (set) => ({ ...set, expectedPieces: [{ name: 'Collar', kind: 'collar', cut: [] }] }),
  // Read anew: the same content in other objects.
  (set) => structuredClone(set),
  (set) => set,
];

const edits = fc.array(
  fc.record({
    which: fc.nat(EDITS.length - 1),
    pick: fc.nat(500),
    by: fc.integer({ min: -60, max: 60 }).map((tenths) => tenths / 10),
    /** Taken back before the next change, one time in four: the objects of an earlier set come back. */
    undone: fc.nat(3).map((n) => n === 0),
  }),
  { minLength: 1, maxLength: 8 },
);

/** The quick comparison decides; the slow one is for its message. */
function expectSame(remembered: CheckResult, afresh: CheckResult): void {
  if (!isDeepStrictEqual(remembered, afresh)) expect(remembered).toStrictEqual(afresh);
}

describe('a check that remembers', () => {
  it('says after any changes, taken back or not, what a check from nothing says', () => {
    const check = makeChecker();
    const first = { designed: start('as designed'), traced: start('as traced') };
    fc.assert(
      fc.property(fc.constantFrom('designed', 'traced'), edits, (which, steps) => {
        let set: PatternSet = first[which];
        expectSame(check(set), runChecks(structuredClone(set)));
        for (const { which: edit, pick, by, undone } of steps) {
          const before = set;
          set = EDITS[edit]!(set, pick, by);
          expectSame(check(set), runChecks(structuredClone(set)));
          if (!undone) continue;
          set = before;
          expectSame(check(set), runChecks(structuredClone(set)));
        }
      }),
      { numRuns: 10, seed: 4, endOnFailure: true },
    );
  });

  it('has every kind of change among those tried', () => {
    const set = start('as traced');
    const same = EDITS.map((edit) => [1, 2, 3, 5, 8].every((pick) => edit(set, pick, 4) === set));
    expect(same.filter(Boolean)).toHaveLength(1);
  });
});

describe('what is judged again', () => {
  it('is only what a change touches', () => {
    const set = start('as designed');
    const check = makeChecker();
    const before = new Set(check(set).findings);
    const moved = EDITS[0]!(set, 0, 0.01);
    const after = check(moved).findings;
    const anew = after.filter((finding) => !before.has(finding));
    const subjects = anew.flatMap(({ subjects: all }) => all.map(({ size }) => size));
    expect(anew.length).toBeGreaterThan(0);
    expect(anew.length).toBeLessThan(after.length / 5);
    expect(subjects).toContain(SIZES[0]);
  });
});
