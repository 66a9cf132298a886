// Sets in sizes S, M and L after the demo's table, every seam as long as it says: the armhole with its sleeve, the back of the
// waist, and edges that are graded as a test wants them.
import type { PatternSet, Piece, Shape } from '../../shared/pattern/model.ts';
import { type ArmholeSpec, armholeSet } from './scenarioSets.ts';
import { e, type NotchSpec, pieceOf, rectangle, seam, setOf } from './sets.ts';

/** The set of each size put together: pieces, edges and seams are the same, shapes differ. */
export function nestOf(sets: Readonly<Record<string, PatternSet>>, baseSize = 'M'): PatternSet {
  const sizes = Object.keys(sets);
  const base = sets[baseSize] ?? Object.values(sets)[0]!;
  const shapeIn = (id: string, size: string): Shape | undefined =>
    Object.values(sets[size]!.pieces.find((p) => p.id === id)?.shapes ?? {})[0];
  const pieces = base.pieces.map((p): Piece => {
    const shapes = sizes.flatMap((size) => {
      const shape = shapeIn(p.id, size);
      return shape === undefined ? [] : [[size, shape] as const];
    });
    return { ...p, shapes: Object.fromEntries(shapes) };
  });
  return { ...base, pieces, sizes, baseSize };
}

/** Armholes 212 / 222 and cap 224 / 238 in M, each half ± 5.5 above the notches. */
export function marlArmhole(stepsFromM: number, more: Partial<ArmholeSpec> = {}): PatternSet {
  const g = 5.5 * stepsFromM;
  return armholeSet({
    front: [80, 132 + g],
    back: [90, 132 + g],
    capFront: [80, 144 + g],
    capBack: [90, 148 + g],
    wanted: 28,
    ...more,
  });
}

/** The demo's second error where `largeCap` is that of M: 462 on 445. */
export function marlArmholes(largeCap: 'graded' | 'as M', wanted: number | null = 28): PatternSet {
  const notGraded: Partial<ArmholeSpec> = { capFront: [80, 144], capBack: [90, 148] };
  const set = nestOf({
    S: marlArmhole(-1),
    M: marlArmhole(0),
    L: marlArmhole(1, largeCap === 'as M' ? notGraded : {}),
  });
  return { ...set, seams: set.seams.map((s) => (s.id === 'armhole' ? { ...s, wantedEaseMm: wanted } : s)) };
}

/** Back bodice and back skirt at the waist, by size: [bodice, skirt] with the skirt's dart of 30 closed. */
export function backWaists(
  lengths: Readonly<Record<string, readonly [bodice: number, skirt: number]>>,
  pointSigma = 0.1,
): PatternSet {
  const options = { pointSigma };
  const shapes = (which: 0 | 1) =>
    Object.fromEntries(
      Object.entries(lengths).map(([size, pair]) => [
        size,
        which === 0
          ? rectangle({ bottom: [e('waist', pair[0])] }, options)
          : rectangle({ top: [e('waist', pair[1] + 30, { darts: [[80, 30]] })] }, options),
      ]),
    );
  return setOf(
    [pieceOf('back bodice', 'back bodice', shapes(0)), pieceOf('back skirt', 'back skirt', shapes(1))],
    [seam('waist', '-back bodice.waist', 'back skirt.waist')],
    { sizes: Object.keys(lengths) },
  );
}

/** One piece whose edge has these lengths, size by size; its depth stays the same. */
export function gradedEdge(lengths: Readonly<Record<string, number>>, pointSigma = 0.1): PatternSet {
  const shapes = Object.fromEntries(
    Object.entries(lengths).map(([size, mm]) => [
      size,
      rectangle({ bottom: [e('waist', mm)], top: [e('upper', mm)] }, { pointSigma }),
    ]),
  );
  return setOf([pieceOf('quarter', 'back bodice', shapes)], [], { sizes: Object.keys(lengths) });
}

/** Side seams with one notch each, by size. */
export function notchedSides(
  places: Readonly<
    Record<string, { readonly mm: number; readonly front: readonly number[]; readonly back: readonly number[] }>
  >,
): PatternSet {
  const notches = (at: readonly number[]): NotchSpec[] => at.map((mm) => ({ at: mm }));
  const shapes = (which: 'front' | 'back') =>
    Object.fromEntries(
      Object.entries(places).map(([size, place]) => [
        size,
        rectangle({ right: [e('side', place.mm, { notches: notches(place[which]) })] }),
      ]),
    );
  return setOf(
    [pieceOf('front', 'front bodice', shapes('front')), pieceOf('back', 'back bodice', shapes('back'))],
    [seam('side', 'front.side', 'back.side')],
    { sizes: Object.keys(places) },
  );
}
