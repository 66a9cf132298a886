// One pen draws one outline. Construction lines are thinner or fainter as a rule: a ring that borrows a stretch of one of
// them is told by its odd stretch.
import type { RimRun } from './followRim.ts';
import type { InkLine } from './inkLines.ts';

export interface Pen {
  readonly widthMm: number;
  readonly contrastRatio: number;
}

const PEN = {
  /** Widths and contrasts of one pen differ by less than this share of the greater: hand pressure, shade. */
  alikeRatio: 0.62,
  /** Points of odd ink in a ring that are worth a second look. */
  leastOddPoints: 8,
} as const;

/** The pen that drew most of a ring; null when no width could be measured. */
export function penOf(runs: readonly RimRun[], lines: readonly InkLine[]): Pen | null {
  const parts = runs.flatMap((run) => {
    const line = lines[run.line]!;
    const widthMm = usualWidth(line);
    if (widthMm === 0) return [];
    return [{ widthMm, contrastRatio: line.contrastRatio, points: pointsOf(run) }];
  });
  if (parts.length === 0) return null;
  const most = (value: (pen: Pen) => number): number => {
    const sorted = parts.toSorted((a, b) => value(a) - value(b));
    const half = sorted.reduce((sum, part) => sum + part.points, 0) / 2;
    let passed = 0;
    for (const part of sorted) {
      passed += part.points;
      if (passed >= half) return value(part);
    }
    return value(sorted[sorted.length - 1]!);
  };
  return { widthMm: most((pen) => pen.widthMm), contrastRatio: most((pen) => pen.contrastRatio) };
}

/** Whether a line may have been drawn with a pen; one whose width could not be measured may. */
export function drawnWith(pen: Pen, line: InkLine): boolean {
  const widthMm = usualWidth(line);
  return (widthMm === 0 || alike(widthMm, pen.widthMm)) && alike(line.contrastRatio, pen.contrastRatio);
}

/** Whether a ring runs along ink of another pen for more than a speck. */
export function hasOddStretch(runs: readonly RimRun[], lines: readonly InkLine[], pen: Pen): boolean {
  return runs.some((run) => pointsOf(run) >= PEN.leastOddPoints && !drawnWith(pen, lines[run.line]!));
}

function alike(a: number, b: number): boolean {
  return Math.min(a, b) >= PEN.alikeRatio * Math.max(a, b);
}

function pointsOf(run: RimRun): number {
  return Math.abs(run.toIndex - run.fromIndex) + 1;
}

function usualWidth(line: InkLine): number {
  const known = line.widthMm.filter((width) => width > 0).sort((a, b) => a - b);
  return known[known.length >> 1] ?? 0;
}
