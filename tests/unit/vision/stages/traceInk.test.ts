// Drawn outlines on small synthetic tables of known truth (tests/support/inkedTable.ts).
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { type DrawnOutline, TRACE_INK_DEFAULTS, traceInk } from '../../../../shared/vision/stages/traceInk.ts';
import { type InkedTable, type PenLine, photographInk } from '../../../support/inkedTable.ts';
import { testStageContext } from '../../../support/openCv.ts';

const BLANK: InkedTable = {
  widthPx: 900,
  heightPx: 700,
  mmPerPx: 0.4,
  tilt: 0.15,
  tableLevel: 60,
  paperLevel: 215,
  papers: [],
  lines: [],
  noise: 2.5,
  seed: 7,
};

const box = (x0: number, y0: number, x1: number, y1: number): Point[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const circle = (radius: number): Point[] =>
  Array.from({ length: 180 }, (_, i) => [
    radius * Math.cos((2 * Math.PI * i) / 180),
    radius * Math.sin((2 * Math.PI * i) / 180),
  ]);

function trace(lines: readonly PenLine[], options = TRACE_INK_DEFAULTS, table: InkedTable = BLANK): DrawnOutline[] {
  const { photo, plane } = photographInk({ ...table, lines });
  const traced = traceInk(photo, plane, options, testStageContext());
  return traced.ok ? [...traced.value.outlines] : [];
}

/** Signed distances from a convex ring given clockwise, inside negative. */
function outsideOf(ring: readonly Point[], p: Point): number {
  return Math.max(
    ...ring.map((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      return ((p[0] - a[0]) * (b[1] - a[1]) - (p[1] - a[1]) * (b[0] - a[0])) / length;
    }),
  );
}

function errors(outline: DrawnOutline, ring: readonly Point[]): { meanMm: number; p95Mm: number; mostMm: number } {
  const signed = outline.points.map((p) => outsideOf(ring, p));
  const sizes = signed.map(Math.abs).sort((a, b) => a - b);
  return {
    meanMm: signed.reduce((sum, d) => sum + d, 0) / signed.length,
    p95Mm: sizes[Math.floor(sizes.length * 0.95)]!,
    mostMm: sizes[sizes.length - 1]!,
  };
}

const nearest = (outline: DrawnOutline, p: Point): number =>
  Math.min(...outline.points.map((q) => Math.hypot(q[0] - p[0], q[1] - p[1])));

describe('traceInk', () => {
  const rectangle = box(-110, -80, 100, 70);

  it('measures the centre of a drawn rectangle without bias and its corners sharp', () => {
    const [outline, ...others] = trace([{ points: rectangle, closed: true, widthMm: 1 }]);
    expect(others).toEqual([]);
    const { meanMm, p95Mm } = errors(outline!, rectangle);
    expect(Math.abs(meanMm)).toBeLessThan(0.03);
    expect(p95Mm).toBeLessThan(0.1);
    expect(outline!.corners).toHaveLength(4);
    for (const corner of rectangle) expect(nearest(outline!, corner)).toBeLessThan(0.15);
    expect(outline!.areaMm2).toBeCloseTo(210 * 150, -2);
    expect(outline!.cutOff).toBe(false);
  });

  it('goes round clockwise as seen on the screen', () => {
    for (const points of [rectangle, rectangle.toReversed()])
      expect(trace([{ points, closed: true, widthMm: 1 }])[0]!.areaMm2).toBeGreaterThan(0);
  });

  it('follows the inner or the outer edge of the ink when asked', () => {
    const line = { points: rectangle, closed: true, widthMm: 1.2 };
    const inner = errors(trace([line], { ...TRACE_INK_DEFAULTS, line: 'inner' })[0]!, rectangle);
    const outer = errors(trace([line], { ...TRACE_INK_DEFAULTS, line: 'outer' })[0]!, rectangle);
    expect(inner.meanMm).toBeCloseTo(-0.6, 1);
    expect(outer.meanMm).toBeCloseTo(0.6, 1);
  });

  it('states the width of the line', () => {
    const widths = [...trace([{ points: circle(70), closed: true, widthMm: 1.2 }])[0]!.widthMm].sort((a, b) => a - b);
    expect(widths[widths.length >> 1]).toBeCloseTo(1.2, 0);
  });

  it('links dashes round a circle', () => {
    const [outline] = trace([{ points: circle(75), closed: true, widthMm: 0.9, dashMm: [6, 4] }]);
    const radii = outline!.points.map((p) => Math.hypot(p[0], p[1]));
    expect(Math.min(...radii)).toBeGreaterThan(74.6);
    expect(Math.max(...radii)).toBeLessThan(75.4);
    expect(outline!.corners).toEqual([]);
  });

  it('carries lines on to the corner when the pen stopped 4 mm short', () => {
    const sides = rectangle.map((a, i): PenLine => {
      const b = rectangle[(i + 1) % 4]!;
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const at = (mm: number): Point => [a[0] + ((b[0] - a[0]) * mm) / length, a[1] + ((b[1] - a[1]) * mm) / length];
      return { points: [at(4), at(length - 2)], widthMm: 1 };
    });
    const [outline] = trace(sides);
    for (const corner of rectangle) expect(nearest(outline!, corner)).toBeLessThan(0.25);
  });

  it('keeps to its own pen where a pencil line runs close beside it and past the corner', () => {
    const pencil: PenLine = {
      points: [
        [96, -130],
        [107, 120],
      ],
      widthMm: 0.4,
    };
    const [outline] = trace([{ points: rectangle, closed: true, widthMm: 1 }, pencil]);
    for (const corner of rectangle) expect(nearest(outline!, corner)).toBeLessThan(0.25);
    expect(errors(outline!, rectangle).mostMm).toBeLessThan(0.5);
  });

  it('cuts lines at the corner when the pen overshot by 6 mm', () => {
    const sides = rectangle.map((a, i): PenLine => {
      const b = rectangle[(i + 1) % 4]!;
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const at = (mm: number): Point => [a[0] + ((b[0] - a[0]) * mm) / length, a[1] + ((b[1] - a[1]) * mm) / length];
      return { points: [at(-6), at(length + 6)], widthMm: 1 };
    });
    const [outline] = trace(sides);
    expect(errors(outline!, rectangle).mostMm).toBeLessThan(0.3);
    for (const corner of rectangle) expect(nearest(outline!, corner)).toBeLessThan(0.2);
  });

  it('is followed through construction lines, a grainline and ticks', () => {
    const [outline, ...others] = trace([
      { points: rectangle, closed: true, widthMm: 1 },
      {
        points: [
          [-130, 10],
          [120, -20],
        ],
        widthMm: 0.7,
      },
      {
        points: [
          [-20, -100],
          [-20, 95],
        ],
        widthMm: 0.7,
      },
      {
        points: [
          [40, -80],
          [40, -74],
        ],
        widthMm: 0.8,
      },
      {
        points: [
          [60, 64],
          [60, 76],
        ],
        widthMm: 0.8,
      },
    ]);
    expect(others).toEqual([]);
    const { p95Mm, mostMm } = errors(outline!, rectangle);
    expect(p95Mm).toBeLessThan(0.12);
    expect(mostMm).toBeLessThan(0.45);
  });

  it('takes the outer of two parallel lines', () => {
    const inner = box(-100, -70, 90, 60);
    const outlines = trace([
      { points: rectangle, closed: true, widthMm: 1 },
      { points: inner, closed: true, widthMm: 0.8 },
    ]);
    expect(outlines).toHaveLength(1);
    expect(outlines[0]!.areaMm2).toBeGreaterThan(31_000);
  });

  it('finds two pieces on one sheet', () => {
    const outlines = trace([
      { points: box(-140, -70, -20, 70), closed: true, widthMm: 1 },
      { points: box(15, -60, 130, 60), closed: true, widthMm: 1 },
    ]);
    expect(outlines.map((o) => Math.round(o.areaMm2 / 100))).toEqual([168, 138]);
  });

  it('does not take the edge of the paper for ink', () => {
    expect(trace([], TRACE_INK_DEFAULTS, { ...BLANK, papers: [rectangle] })).toEqual([]);
  });

  it('leaves out what lies on a card', () => {
    const line = { points: rectangle, closed: true, widthMm: 1 };
    expect(trace([line], { ...TRACE_INK_DEFAULTS, without: [box(-115, -85, 105, 75)] })).toEqual([]);
  });

  it('finds nothing on plain noisy paper', () => {
    expect(trace([], TRACE_INK_DEFAULTS, { ...BLANK, noise: 6 })).toEqual([]);
  });

  it('says when a line of the outline runs out of the photo', () => {
    const [outline] = trace([
      { points: box(-110, -80, 250, 70), closed: true, widthMm: 1 },
      {
        points: [
          [40, -80],
          [40, 70],
        ],
        widthMm: 1,
      },
    ]);
    expect(outline!.cutOff).toBe(true);
  });

  it('is true at any turn of the sheet', () => {
    for (const degrees of [11, 33, 45, 71]) {
      const turn = (degrees * Math.PI) / 180;
      const ring = box(-80, -60, 80, 60).map(
        ([x, y]): Point => [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)],
      );
      const { meanMm, p95Mm } = errors(trace([{ points: ring, closed: true, widthMm: 0.8 }])[0]!, ring);
      expect(Math.abs(meanMm)).toBeLessThan(0.03);
      expect(p95Mm).toBeLessThan(0.12);
    }
  });
});
