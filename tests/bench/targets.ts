// What the capture is measured by, and how a miss is said. Limits are our own aims for a phone photo (DEVELOPERS.md).

import type { MarkScore, PhotoScore } from './scorePieces.ts';
import { type SilentFault, silentFaults } from './silentlyWrong.ts';
import { quantile, share } from './statistics.ts';

export interface Judged {
  readonly what: string;
  readonly value: number;
  /** null = only shown. */
  readonly target: number | null;
  /** `most`: the value may not exceed the target; `least`: it may not stay below. */
  readonly bound: 'most' | 'least';
  readonly unit: string;
}

export function verdictOf({ value, target, bound }: Judged): string {
  if (Number.isNaN(value)) return 'nothing measured';
  if (target === null) return '';
  const short = bound === 'most' ? value - target : target - value;
  return short <= 0 ? 'PASS' : `SHORT BY ${short.toPrecision(2)}`;
}

/** The rows of the table as it is printed. */
export function judgedRows(judged: readonly Judged[]): string[][] {
  return [
    ['what', 'measured', 'aim', 'verdict'],
    ...judged.map((j) => [
      j.what,
      `${j.value.toPrecision(3)} ${j.unit}`.trim(),
      j.target === null ? '' : `${j.bound === 'most' ? '≤' : '≥'} ${j.target}`,
      verdictOf(j),
    ]),
  ];
}

export function lengthTargets(case_: string, scores: readonly PhotoScore[], p95Mm: number, relative = false): Judged[] {
  const lengths = scores.flatMap((s) => s.lengths);
  const errors = lengths.map((l) => Math.abs(l.errorMm) / (relative ? l.trueMm : 1));
  const twoSigma = lengths.map((l) => (2 * l.sigmaMm) / (relative ? l.trueMm : 1));
  const within = share(lengths.map((l) => Math.abs(l.errorMm) <= 2 * l.sigmaMm));
  const unit = relative ? 'of length' : 'mm';
  return [
    {
      what: `${case_}: seam length p95 (${lengths.length} lengths, p50 ${quantile(errors, 0.5).toPrecision(2)})`,
      value: quantile(errors, 0.95),
      target: p95Mm,
      bound: 'most',
      unit,
    },
    { what: `${case_}: within 2σ`, value: within, target: 0.93, bound: 'least', unit: '' },
    { what: `${case_}: median 2σ`, value: quantile(twoSigma, 0.5), target: 2 * p95Mm, bound: 'most', unit },
  ];
}

/** `p95Mm` null: no aim is set for this case. */
export function outlineTargets(case_: string, scores: readonly PhotoScore[], p95Mm: number | null): Judged[] {
  const biases = scores.flatMap((s) => s.outlineBiasMm);
  return [
    {
      what: `${case_}: outline p95`,
      value: quantile(
        scores.flatMap((s) => s.outlineMm),
        0.95,
      ),
      target: p95Mm,
      bound: 'most',
      unit: 'mm',
    },
    {
      what: `${case_}: |mean outline offset|`,
      value: Math.abs(biases.reduce((a, b) => a + b, 0) / Math.max(1, biases.length)),
      target: p95Mm === null ? null : 0.1,
      bound: 'most',
      unit: 'mm',
    },
  ];
}

/** Over every photo: neither too sure nor, by being too unsure, of no use. */
export function coverageTargets(scores: readonly PhotoScore[]): Judged[] {
  const lengths = scores.flatMap((s) => s.lengths);
  const within = share(lengths.map((l) => Math.abs(l.errorMm) <= 2 * l.sigmaMm));
  const what = `σ everywhere: within 2σ (${lengths.length} lengths)`;
  return [
    { what, value: within, target: 0.93, bound: 'least', unit: '' },
    { what: `${what}, not more`, value: within, target: 0.99, bound: 'most', unit: '' },
  ];
}

/** Photos in which something was wrong and nothing said so. */
export function silentTargets(
  case_: string,
  photos: readonly { readonly score: PhotoScore; readonly warnings: readonly string[] }[],
): Judged[] {
  const faults = photos.map(({ score, warnings }): SilentFault[] =>
    silentFaults({ outlines: score.outlines, lengths: score.lengths, invented: score.piecesInvented, warnings }),
  );
  const value = faults.filter((list) => list.length > 0).length;
  return [{ what: `${case_}: photos silently wrong (of ${photos.length})`, value, target: 0, bound: 'most', unit: '' }];
}

export function pieceTargets(scores: readonly PhotoScore[]): Judged[] {
  const wanted = scores.reduce((sum, s) => sum + s.piecesWanted, 0);
  const found = scores.reduce((sum, s) => sum + s.piecesFound, 0);
  const invented = scores.reduce((sum, s) => sum + s.piecesInvented, 0);
  const edges = scores.reduce((sum, s) => sum + s.edgesWanted, 0);
  const measured = scores.reduce((sum, s) => sum + s.lengths.length, 0);
  return [
    { what: `pieces found (${wanted})`, value: found / wanted, target: 0.98, bound: 'least', unit: '' },
    { what: 'false pieces', value: invented / Math.max(1, found + invented), target: 0.01, bound: 'most', unit: '' },
    {
      what: `edges between corners measured (${edges})`,
      value: measured / edges,
      target: 0.98,
      bound: 'least',
      unit: '',
    },
  ];
}

export function markTargets(scores: readonly PhotoScore[]): Judged[] {
  const notches = total(scores.map((s) => s.notches));
  const darts = total(scores.map((s) => s.darts));
  const grainlines = total(scores.map((s) => s.grainlines));
  const folds = total(scores.map((s) => s.folds));
  const holes = total(scores.map((s) => s.holes));
  const lengthens = total(scores.map((s) => s.lengthens));
  return [
    {
      what: `notch recall (${notches.wanted})`,
      value: notches.found / notches.wanted,
      target: 0.97,
      bound: 'least',
      unit: '',
    },
    {
      what: 'notch precision',
      value: notches.found / (notches.found + notches.invented),
      target: 0.97,
      bound: 'least',
      unit: '',
    },
    { what: 'notch position p95', value: quantile(notches.errors, 0.95), target: 0.5, bound: 'most', unit: 'mm' },
    {
      what: 'notch single or double right',
      value: notches.countRight / notches.found,
      target: 0.95,
      bound: 'least',
      unit: '',
    },
    {
      what: `dart recall (${darts.wanted})`,
      value: darts.found / darts.wanted,
      target: 0.95,
      bound: 'least',
      unit: '',
    },
    { what: 'dart apex p95', value: quantile(darts.errors, 0.95), target: 1, bound: 'most', unit: 'mm' },
    {
      what: `grainline recall (${grainlines.wanted})`,
      value: grainlines.found / grainlines.wanted,
      target: 0.98,
      bound: 'least',
      unit: '',
    },
    { what: 'grainline angle p95', value: quantile(grainlines.errors, 0.95), target: 0.3, bound: 'most', unit: '°' },
    {
      what: `fold recall (${folds.wanted})`,
      value: folds.found / folds.wanted,
      target: 0.98,
      bound: 'least',
      unit: '',
    },
    { what: 'fold angle p95', value: quantile(folds.errors, 0.95), target: 0.3, bound: 'most', unit: '°' },
    ...foundTargets('drill hole', holes),
    ...foundTargets('lengthen line', lengthens),
  ];
}

function foundTargets(what: string, { wanted, found, invented }: MarkScore): Judged[] {
  return [
    { what: `${what} recall (${wanted})`, value: found / wanted, target: 0.95, bound: 'least', unit: '' },
    { what: `${what} precision`, value: found / (found + invented), target: 0.95, bound: 'least', unit: '' },
  ];
}

function total(scores: readonly MarkScore[]): MarkScore {
  return {
    wanted: scores.reduce((n, s) => n + s.wanted, 0),
    found: scores.reduce((n, s) => n + s.found, 0),
    invented: scores.reduce((n, s) => n + s.invented, 0),
    countRight: scores.reduce((n, s) => n + s.countRight, 0),
    errors: scores.flatMap((s) => s.errors),
  };
}
