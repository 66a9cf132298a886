// Ticks: short drawn lines at or across the outline, roughly square to it, whose other end stands free.
import type { Point } from '../../base/points.ts';
import { distance } from '../../geometry/vector.ts';
import { footOf } from './foot.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export interface Tick {
  /** Running length along the outline. */
  readonly atMm: number;
  readonly lengthMm: number;
  readonly contrastRatio: number;
}

/** @param lines mark lines that nothing else has claimed */
export function findTicks(lines: readonly MarkLine[], all: readonly MarkLine[], outline: OutlineIndex): Tick[] {
  const { tick } = MARK_LIMITS;
  const halves: Tick[] = [];
  const penRatio = usualContrast(all);
  for (const line of lines) {
    if (line.lengthMm < tick.leastMm || line.lengthMm > 2 * tick.mostMm) continue;
    if (line.straight.rms > tick.bentMm || line.contrastRatio < tick.faintRatio * penRatio) continue;
    const foot = [false, true]
      .map((last) => footOf(line, last, outline, tick.touchMm))
      .find((f) => f !== null && f.slantDeg <= tick.slantDeg);
    if (foot === undefined || foot === null) continue;
    const inner = Math.max(...line.endsInsideMm);
    const outer = Math.min(...line.endsInsideMm);
    if (inner > tick.mostMm || outer < -tick.mostMm) continue;
    if (Math.max(inner, -outer) < tick.leastReachMm) continue;
    const across = inner > 0 && outer < 0;
    const first = line.points[0]!;
    const last = line.points[line.points.length - 1]!;
    const free = across ? [first, last] : [foot.last ? first : last];
    if (free.some((end) => touchesOther(end, line, all))) continue;
    halves.push({ atMm: foot.place.atMm, lengthMm: line.lengthMm, contrastRatio: line.contrastRatio });
  }
  return joinedHalves(halves, outline);
}

/** Contrast of the pen on this piece: median over lines by length. */
function usualContrast(lines: readonly MarkLine[]): number {
  const sorted = lines.toSorted((a, b) => a.contrastRatio - b.contrastRatio);
  const half = sorted.reduce((sum, line) => sum + line.lengthMm, 0) / 2;
  let passed = 0;
  for (const line of sorted) {
    passed += line.lengthMm;
    if (passed >= half) return line.contrastRatio;
  }
  return 0;
}

function touchesOther(free: Point, line: MarkLine, all: readonly MarkLine[]): boolean {
  return all.some(
    (other) =>
      other.points[0] !== line.points[0] && other.points.some((p) => distance(p, free) < MARK_LIMITS.tick.clearMm),
  );
}

/** The part inside and the part outside of a tick across the outline are one. */
function joinedHalves(halves: readonly Tick[], outline: OutlineIndex): Tick[] {
  const ticks: Tick[] = [];
  for (const half of halves.toSorted((a, b) => b.lengthMm - a.lengthMm)) {
    const same = ticks.find((tick) => outline.apartMm(tick.atMm, half.atMm) < MARK_LIMITS.tick.sameMm);
    if (same === undefined) ticks.push(half);
  }
  return ticks;
}
