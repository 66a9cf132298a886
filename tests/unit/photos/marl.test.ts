// The demo's dress: as long as its table says, true at its corners, recognised by its plan, and with exactly the planted
// errors in it. Lengths are measured by bezier-js (npm, its Legendre-Gauss length), not by the product or the drafter.
import { readFileSync } from 'node:fs';
import { Bezier } from 'bezier-js';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { runChecks } from '../../../shared/checks/engine.ts';
import { readSetJson } from '../../../shared/formats/set/read.ts';
import { fitCubicPath } from '../../../shared/geometry/fitCubics.ts';
import { sewnLength } from '../../../shared/pattern/measure.ts';
import type { PatternSet, Shape } from '../../../shared/pattern/model.ts';
import { assignPlans, type TracedRing } from '../../../shared/usecases/matchPlan.ts';
import { type CubicPath, pathLength, segmentsOf } from '../../photos/cubics.ts';
import { cuttingLine } from '../../photos/marl/cutLine.ts';
import { type MarlPiece, marlAfterFitting, marlPieces } from '../../photos/marl/draft.ts';
import { idealSet, idealSetAfterFitting } from '../../photos/marl/idealSet.ts';
import { edgeId, planText } from '../../photos/marl/plan.ts';

const DESIGNED_TO_MM = 0.05;

function oracleLength(path: CubicPath): number {
  return segmentsOf(path).reduce((sum, points) => sum + new Bezier(points.map(([x, y]) => ({ x, y }))).length(), 0);
}

function edge(pieces: readonly MarlPiece[], piece: string, label: string): CubicPath {
  return pieces.find(({ id }) => id === piece)!.ring.find((candidate) => candidate.label === label)!.seam;
}

describe('the drafted pieces', () => {
  it.each([
    ['front-bodice', 'shoulder', 76],
    ['back-bodice', 'shoulder', 80],
    ['front-neckband', 'shoulder', 42],
    ['back-neckband', 'shoulder', 42],
    ['front-bodice', 'neck', 186],
    ['front-neckband', 'outer', 186],
    ['back-bodice', 'neck', 124],
    ['back-neckband', 'outer', 124],
    ['front-bodice', 'side', 205 + 26],
    ['back-bodice', 'side', 205],
    ['front-bodice', 'armhole', 80 + 132],
    ['back-bodice', 'armhole', 90 + 132],
    ['sleeve', 'cap', 80 + 144 + 90 + 148],
    ['sleeve', 'underarm front', 95],
    ['sleeve', 'underarm back', 95],
    ['sleeve', 'hem', 336],
    ['sleeve-band', 'top', 304],
    ['front-bodice', 'waist', 208],
    ['back-bodice', 'waist', 192],
    ['front-skirt', 'waist', 208 + 96],
    ['back-skirt', 'waist', 192 + 30 + 10],
    ['front-skirt', 'side', 590],
    ['back-skirt', 'side', 590],
    ['pocket-bag', 'opening', 160],
  ])('%s, %s is %f mm on the seamline', (piece, label, lengthMm) => {
    expect(Math.abs(oracleLength(edge(marlPieces('as traced'), piece, label)) - lengthMm)).toBeLessThan(DESIGNED_TO_MM);
  });

  it.each([
    ['front-bodice', 'armhole', 223],
    ['back-bodice', 'armhole', 233],
    ['front-bodice', 'side', 192 + 26],
    ['back-bodice', 'side', 192],
  ])('%s, %s is %f mm after the fitting', (piece, label, lengthMm) => {
    expect(Math.abs(oracleLength(edge(marlAfterFitting(), piece, label)) - lengthMm)).toBeLessThan(DESIGNED_TO_MM);
  });

  it('meet at 180 degrees where two edges are joined, and squarely at folds and centres', () => {
    const pieces = marlPieces('as designed');
    const corner = (piece: string, before: string, after: string): number => {
      const a = edge(pieces, piece, before);
      const b = edge(pieces, piece, after);
      return angle(sub(a.at(-2)!, a.at(-1)!), sub(b[1]!, b[0]!));
    };
    expect(corner('front-bodice', 'neck', 'shoulder') + corner('back-bodice', 'shoulder', 'neck')).toBeCloseTo(180, 6);
    expect(corner('front-bodice', 'shoulder', 'armhole') + corner('back-bodice', 'armhole', 'shoulder')).toBeCloseTo(
      180,
      6,
    );
    expect(corner('front-bodice', 'armhole', 'side') + corner('back-bodice', 'side', 'armhole')).toBeCloseTo(180, 6);
    expect(corner('front-bodice', 'side', 'waist') + corner('back-bodice', 'waist', 'side')).toBeCloseTo(180, 6);
    expect(corner('sleeve', 'cap', 'underarm front') + corner('sleeve', 'underarm back', 'cap')).toBeCloseTo(180, 6);
    expect(corner('front-skirt', 'waist', 'side') + corner('back-skirt', 'side', 'waist')).toBeCloseTo(180, 6);
    expect(corner('front-bodice', 'waist', 'centre front')).toBeCloseTo(90, 6);
    expect(corner('front-bodice', 'centre front', 'neck')).toBeCloseTo(90, 6);
    expect(corner('back-bodice', 'neck', 'centre back')).toBeCloseTo(90, 6);
    expect(corner('front-skirt', 'centre front', 'waist')).toBeCloseTo(90, 6);
  });

  it('keep their designed lengths when the product takes the allowances off the cutting line', () => {
    for (const piece of [...marlPieces('as traced'), ...marlAfterFitting()]) {
      const shape = cutShape(piece);
      for (const { label, seam } of piece.ring) {
        const measured = sewnLength(shape, edgeId(label), null, { assumedAllowanceSigmaMm: 0 }).valueMm;
        expect(Math.abs(measured - oracleLength(seam)), `${piece.id} ${label}`).toBeLessThan(DESIGNED_TO_MM);
      }
    }
  });
});

function sub(a: Point, b: Point): Point {
  return [a[0] - b[0], a[1] - b[1]];
}

function angle(a: Point, b: Point): number {
  return (Math.acos((a[0] * b[0] + a[1] * b[1]) / (Math.hypot(...a) * Math.hypot(...b))) * 180) / Math.PI;
}

/** The piece as it lies on the table: its cutting line in few cubics, as a tracing has it. */
function cutShape(piece: MarlPiece): Shape {
  const curves = cuttingLine(piece.ring);
  return {
    ring: piece.ring.map((edgeOf, i) => ({
      id: edgeId(edgeOf.label),
      label: edgeOf.label,
      role: edgeOf.role,
      curve: fitCubicPath(
        curves[i]!.filter((_, k) => k % 3 === 0),
        { toleranceMm: 0.02 },
      ),
      allowanceMm: edgeOf.allowanceMm,
      allowanceAssumed: false,
      sigmaMm: null,
    })),
    tracedLine: 'cutting',
    notches: [],
    darts: [],
    pleats: [],
    grainline: null,
    marks: [],
    accuracy: { scaleSources: [], pointSigmaMm: 0 },
  };
}

describe('the demo plan', () => {
  it('is the file that the demo ships, and the set format reads it without a warning', () => {
    const text = readFileSync('assets/demo/marl-plan.json', 'utf8');
    expect(text).toBe(planText());
    const read = readSetJson('marl-plan.json', text);
    expect(read.ok && read.value.warnings).toEqual([]);
  });

  it('recognises all pieces, wherever the tracing starts, with the planted errors in them', () => {
    const traced = [...marlPieces('as traced').filter(({ id }) => !id.endsWith('bodice')), ...marlAfterFitting()];
    traced.forEach((piece, turn) => {
      expect(recognised([ringOf(piece, turn, 'face up')])).toEqual([{ piece: piece.id, faceDown: false }]);
    });
    const together = recognised(traced.map((piece, turn) => ringOf(piece, turn + 1, 'face up')));
    expect(together.map(({ piece }) => piece)).toEqual(traced.map(({ id }) => id));
  });

  it('notices the pieces that lie face down', () => {
    const uneven = marlPieces('as traced').filter(({ id }) => ['front-bodice', 'back-bodice'].includes(id));
    for (const piece of uneven)
      expect(recognised([ringOf(piece, 2, 'face down')])).toEqual([{ piece: piece.id, faceDown: true }]);
  });
});

function ringOf(piece: MarlPiece, turn: number, side: 'face up' | 'face down'): TracedRing {
  const lengths = cuttingLine(piece.ring).map(pathLength);
  const start = turn % lengths.length;
  const order = lengths.map((_, i) => (i + start) % lengths.length);
  const walked = side === 'face up' ? order : order.toReversed();
  return {
    lengthsMm: walked.map((i) => lengths[i]!),
    notchCounts: walked.map((i) => piece.notches.filter(({ edge: on }) => on === piece.ring[i]!.label).length),
    folds: walked.map((i) => piece.ring[i]!.role === 'fold'),
  };
}

function recognised(rings: readonly TracedRing[]): { piece: string; faceDown: boolean }[] {
  const planned = idealSet('as designed').pieces;
  const found = assignPlans(
    planned.map(({ plan }) => plan!),
    rings,
  );
  return rings.map((_, i) => ({
    piece: planned[found.get(i)?.plan ?? -1]?.id ?? 'none',
    faceDown: found.get(i)?.match.faceDown ?? false,
  }));
}

describe('what the checks say about the demo as a faultless camera would trace it', () => {
  it('is nothing for the dress as designed', () => {
    expect(faultsIn(idealSet('as designed'))).toEqual([]);
  });

  it('is the three planted errors for the dress as traced, and nothing else', () => {
    expect(faultsIn(idealSet('as traced'))).toEqual([
      { rule: 'length-differs', gravity: 'mend', seam: 'back-waist' },
      { rule: 'notch-count', gravity: 'mend', seam: 'sleeve-cap' },
      { rule: 'trim-differs', gravity: 'stop', seam: 'sleeve-band' },
    ]);
  });
});

/** Faults and undecided findings at the top, in a fixed order. */
function faultsIn(set: PatternSet): { rule: string; gravity: string; seam: string | undefined }[] {
  return runChecks(set)
    .findings.filter(({ verdict }) => verdict === 'fault' || verdict === 'unsure')
    .map(({ rule, gravity, subjects }) => ({
      rule,
      gravity,
      seam: subjects.find(({ seam }) => seam !== undefined)?.seam,
    }))
    .toSorted((a, b) => `${a.rule} ${a.seam}`.localeCompare(`${b.rule} ${b.seam}`));
}

describe('the copy after the fitting', () => {
  it('has lost 22 of its 28 mm of cap ease, with both underarm sections 11 out, and keeps its sides', () => {
    const { findings } = runChecks(idealSetAfterFitting());
    const cap = findings.find(({ rule, verdict }) => rule === 'cap-ease' && verdict === 'fault');
    expect(cap?.gravity).toBe('stop');
    expect(cap?.measured?.value).toBeCloseTo(6, 1);
    expect(cap?.consequences.map(({ rule }) => rule)).toContain('cap-ease-spread');
    const sides = findings.filter(
      ({ rule, subjects }) => rule === 'length-differs' && subjects.some(({ seam }) => seam === 'side'),
    );
    expect(sides.map(({ verdict }) => verdict)).toEqual(['clear']);
  });
});
