// Marks on small synthetic pieces of known truth (tests/support/inkedTable.ts).
import { describe, expect, it } from 'vitest';
import { type Point, tableMm } from '../../../../shared/base/points.ts';
import type { Excursion } from '../../../../shared/vision/outline/findExcursions.ts';
import { readMarks } from '../../../../shared/vision/stages/readMarks.ts';
import { findInkLines } from '../../../../shared/vision/stages/traceInk.ts';
import type { TracedMark } from '../../../../shared/vision/traced.ts';
import { type InkedTable, type PenLine, photographInk } from '../../../support/inkedTable.ts';

const OUTLINE: readonly Point[] = [
  [-140, -110],
  [130, -110],
  [140, 115],
  [-140, 115],
];

const PIECE: InkedTable = {
  widthPx: 1000,
  heightPx: 800,
  mmPerPx: 0.38,
  tilt: 0.12,
  tableLevel: 60,
  paperLevel: 210,
  papers: [OUTLINE],
  lines: [],
  noise: 2,
  seed: 3,
};

type Marks = { readonly [K in TracedMark['kind']]: Extract<TracedMark, { kind: K }>[] };

function read(
  change: Partial<InkedTable>,
  line: 'paper-edge' | 'drawn-line' = 'paper-edge',
  excursions: readonly Excursion[] = [],
): Marks {
  const { photo, plane } = photographInk({ ...PIECE, ...change });
  const lines = findInkLines(photo, plane, { within: [], without: [] });
  const outline = OUTLINE.map(([x, y]) => tableMm(x, y));
  const marks = readMarks(photo, plane, lines, { outline, line, excursions });
  const of = <K extends TracedMark['kind']>(kind: K) =>
    marks.filter((mark): mark is Extract<TracedMark, { kind: K }> => mark.kind === kind);
  return {
    notch: of('notch'),
    grainline: of('grainline'),
    dart: of('dart'),
    fold: of('fold'),
    'lengthen-shorten': of('lengthen-shorten'),
    hole: of('hole'),
  };
}

const pen = (points: readonly Point[], more: Partial<PenLine> = {}): PenLine => ({ points, widthMm: 0.8, ...more });
const away = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const angleDeg = (a: Point, b: Point): number => (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;

const square = (x: number, y: number, half: number): Point[] => [
  [x - half, y - half],
  [x + half, y - half],
  [x + half, y + half],
  [x - half, y + half],
];

/** A slit 0.5 mm wide at the edge, `depth` deep, cut into the top edge at x. */
const snip = (x: number, depth: number): Point[] => [
  [x - 0.3, -111],
  [x + 0.3, -111],
  [x, -110 + depth],
];

/** Letters of a few strokes, as a hand writes them. */
function writing(x: number, y: number): PenLine[] {
  const strokes: Point[][] = [
    [
      [0, 0],
      [0, 9],
    ],
    [
      [0, 0],
      [5, 0],
    ],
    [
      [0, 4],
      [4, 4],
    ],
    [
      [9, 9],
      [9, 0],
      [14, 1],
      [14, 4],
      [9, 5],
      [14, 9],
    ],
    [
      [18, 1],
      [22, 0],
      [24, 4],
      [22, 9],
      [18, 8],
      [17, 4],
      [18, 1],
    ],
    [
      [28, 9],
      [28, 0],
      [34, 9],
      [34, 0],
    ],
    [
      [37, 0],
      [43, 0],
    ],
    [
      [40, 0],
      [40, 9],
    ],
  ];
  return strokes.map((points) =>
    pen(
      points.map(([px, py]): Point => [x + px, y + py]),
      { widthMm: 0.6 },
    ),
  );
}

const openHead = (tip: Point, back: Point): PenLine[] => {
  const length = away(tip, back);
  const u: Point = [(back[0] - tip[0]) / length, (back[1] - tip[1]) / length];
  return [1, -1].map((side) => pen([tip, [tip[0] + 7 * u[0] - side * 3 * u[1], tip[1] + 7 * u[1] + side * 3 * u[0]]]));
};

const filledHead = (tip: Point, back: Point): Point[] => {
  const length = away(tip, back);
  const u: Point = [(back[0] - tip[0]) / length, (back[1] - tip[1]) / length];
  return [
    tip,
    [tip[0] + 8 * u[0] - 3 * u[1], tip[1] + 8 * u[1] + 3 * u[0]],
    [tip[0] + 8 * u[0] + 3 * u[1], tip[1] + 8 * u[1] - 3 * u[0]],
  ];
};

describe('notches', () => {
  it('reads single, double and triple ticks at their middles', () => {
    const tick = (x: number): PenLine =>
      pen([
        [x, -110],
        [x + 0.4, -104],
      ]);
    const { notch } = read({ lines: [tick(-90), tick(-20), tick(-12), tick(60), tick(67), tick(74)] });
    const found = notch.toSorted((a, b) => a.at[0] - b.at[0]);
    expect(found.map((n) => n.count)).toEqual([1, 2, 3]);
    for (const [i, x] of [-90, -16, 67].entries()) expect(away(found[i]!.at, [x, -110])).toBeLessThan(0.35);
  });

  it('reads snips cut from the edge, single and double, deep and short', () => {
    const { notch } = read({ cutAway: [snip(-70, 5), snip(20, 5), snip(28, 5), snip(90, 3.5)] });
    const found = notch.toSorted((a, b) => a.at[0] - b.at[0]);
    expect(found.map((n) => n.count)).toEqual([1, 2, 1]);
    for (const [i, x] of [-70, 24, 90].entries()) expect(away(found[i]!.at, [x, -110])).toBeLessThan(0.3);
  });

  it('reads snips in dark paper on a light table, which are lighter than the paper', () => {
    const cutAway = [snip(-70, 5), snip(20, 5), snip(28, 5), snip(90, 4)];
    const { notch } = read({ tableLevel: 200, paperLevel: 125, cutAway });
    const found = notch.toSorted((a, b) => a.at[0] - b.at[0]);
    expect(found.map((n) => n.count)).toEqual([1, 2, 1]);
    for (const [i, x] of [-70, 24, 90].entries()) expect(away(found[i]!.at, [x, -110])).toBeLessThan(0.3);
  });

  describe('from bumps and dents of the outline', () => {
    const bump = (shape: 'triangle-out' | 'triangle-in', depthMm: number, widthMm: number): Excursion => ({
      from: tableMm(16, -110),
      to: tableMm(24, -110),
      tips: [
        {
          at: tableMm(20, -110),
          tip: tableMm(20, -110 + (shape === 'triangle-in' ? depthMm : -depthMm)),
          depthMm,
          widthMm,
          shape,
        },
      ],
    });
    const triangle = (tipY: number): Point[] => [
      [16, -110],
      [24, -110],
      [20, tipY],
    ];
    const stripe: Point[] = [
      [19.5, -130],
      [20.5, -130],
      [20.5, -110],
      [19.5, -110],
    ];

    it('a triangle of paper is a notch, a light line on the table that ends at the edge is none', () => {
      const paper = read({ papers: [OUTLINE, triangle(-115)] }, 'paper-edge', [bump('triangle-out', 5, 4)]);
      expect(paper.notch.map((n) => n.shape)).toEqual(['triangle-out']);
      const line = read({ papers: [OUTLINE, stripe] }, 'paper-edge', [bump('triangle-out', 2.5, 3)]);
      expect(line.notch).toEqual([]);
    });

    it('a bump is no notch where the table shows spots of the paper’s colour, a triangle cut away still is one', () => {
      const spots: Point[][] = [];
      for (let x = -168; x <= 168; x += 14)
        for (let y = -138; y <= 138; y += 14) if (Math.abs(x) > 148 || Math.abs(y) > 120) spots.push(square(x, y, 2.5));
      const out = bump('triangle-out', 5, 4);
      expect(read({ papers: [OUTLINE, triangle(-115), ...spots] }, 'paper-edge', [out]).notch).toEqual([]);
      const few = spots.slice(0, 4);
      expect(read({ papers: [OUTLINE, triangle(-115), ...few] }, 'paper-edge', [out]).notch).toHaveLength(1);
      const cut = { papers: [OUTLINE, ...spots], cutAway: [triangle(-105)] };
      expect(read(cut, 'paper-edge', [bump('triangle-in', 4, 4)]).notch).toHaveLength(1);
    });

    it('a triangle cut away is a notch, a dent of the outline over whole paper is none', () => {
      const dent = bump('triangle-in', 4, 4);
      const cut = read({ cutAway: [triangle(-105)] }, 'paper-edge', [dent]);
      expect(cut.notch.map((n) => n.shape)).toEqual(['triangle-in']);
      expect(read({}, 'paper-edge', [dent]).notch).toEqual([]);
    });

    it('a wide triangle cut away is one notch: its sides are no slits', () => {
      const wide: Excursion = { ...bump('triangle-in', 5, 4.2), from: tableMm(15.8, -110), to: tableMm(24.2, -110) };
      const sides = [snip(16.6, 4), snip(23.4, 4)];
      const middle: Point[] = [
        [18.5, -110],
        [21.5, -110],
        [20, -105],
      ];
      const { notch } = read({ cutAway: [middle, ...sides] }, 'paper-edge', [wide]);
      expect(notch.map((n) => [n.shape, n.count])).toEqual([['triangle-in', 1]]);
    });
  });

  it('reads ticks drawn across a drawn outline once', () => {
    const { notch } = read(
      {
        papers: [],
        lines: [
          pen(OUTLINE, { closed: true, widthMm: 1 }),
          pen([
            [10, -114],
            [10, -105],
          ]),
          pen([
            [-135, 40],
            [-145, 40],
          ]),
        ],
      },
      'drawn-line',
    );
    expect(notch.map((n) => n.count)).toEqual([1, 1]);
    expect(notch.some((n) => away(n.at, [10, -110]) < 0.3)).toBe(true);
    expect(notch.some((n) => away(n.at, [-140, 40]) < 0.3)).toBe(true);
  });

  it('reads triangles drawn inside and outside of a drawn outline', () => {
    const outer: Point[] = [
      [-30, -110],
      [-25, -117],
      [-20, -110],
    ];
    const inner: Point[] = [
      [40, 115],
      [45, 108],
      [50, 115],
    ];
    const { notch } = read(
      { papers: [], lines: [pen(OUTLINE, { closed: true, widthMm: 1 }), pen(outer), pen(inner)] },
      'drawn-line',
    );
    const found = notch.toSorted((a, b) => a.at[0] - b.at[0]);
    expect(found.map((n) => n.shape)).toEqual(['triangle-out', 'triangle-in']);
    expect(away(found[0]!.at, [-25, -110])).toBeLessThan(0.5);
    expect(away(found[1]!.at, [45, 114.9])).toBeLessThan(0.5);
  });

  it('takes print all over the paper for no ticks, though it meets the edge; ticks without print are read', () => {
    const bar = (x: number, y: number): PenLine =>
      pen([
        [x, y],
        [x, y + 5],
      ]);
    const columns = Array.from({ length: 11 }, (_, i) => -125 + 23 * i);
    const atEdge = columns.map((x) => bar(x, -110));
    const print = Array.from({ length: 19 }, (_, row) => -98 + 11 * row).flatMap((y) => columns.map((x) => bar(x, y)));
    expect(read({ lines: atEdge }).notch).toHaveLength(columns.length);
    expect(read({ lines: [...atEdge, ...print] }).notch).toEqual([]);
  });

  it('does not take writing, a seamline, printed dots or lines to the edge for notches', () => {
    const dots: Point[][] = [];
    for (let x = -130; x < 130; x += 10)
      for (let y = -108.3; y < 110; y += 10)
        dots.push(
          Array.from({ length: 8 }, (_, k) => [x + 0.35 * Math.cos(k * 0.785), y + 0.35 * Math.sin(k * 0.785)]),
        );
    const { notch } = read({
      fills: dots,
      lines: [
        ...writing(-60, -107),
        ...writing(20, 60),
        pen(
          [
            [-130, -100],
            [120, -100],
            [129.5, 105],
            [-130, 105],
          ],
          { closed: true, widthMm: 0.6 },
        ),
        pen(
          [
            [-140, 30],
            [136, 30],
          ],
          { widthMm: 0.6 },
        ),
        pen(
          [
            [-140, 36],
            [136, 36],
          ],
          { widthMm: 0.6 },
        ),
        pen(
          [
            [-80, -110],
            [-80, 115],
          ],
          { widthMm: 0.6, dashMm: [6, 4] },
        ),
      ],
    });
    expect(notch).toEqual([]);
  });
});

describe('darts', () => {
  const apex: Point = [30, 20];
  const straight = [pen([[20, 115], apex]), pen([[42, 115], apex])];

  function expectDart(marks: Marks, legs: readonly [Point, Point], at: Point): void {
    expect(marks.dart).toHaveLength(1);
    const dart = marks.dart[0]!;
    expect(away(dart.apex, at)).toBeLessThan(0.8);
    for (const leg of legs) expect(Math.min(...dart.legs.map((p) => away(p, leg)))).toBeLessThan(0.6);
    expect(marks.notch).toEqual([]);
  }

  it('reads two straight legs', () => {
    expectDart(
      read({ lines: straight }),
      [
        [20, 115],
        [42, 115],
      ],
      apex,
    );
  });

  it('reads dashed legs crossed by lengthen and shorten lines', () => {
    const lines = [
      ...straight.map((leg) => ({ ...leg, dashMm: [6, 3] as const })),
      pen([
        [-140, 70],
        [138, 70],
      ]),
      pen([
        [-140, 76],
        [138, 76],
      ]),
    ];
    expectDart(
      read({ lines }),
      [
        [20, 115],
        [42, 115],
      ],
      apex,
    );
  });

  it('reads slightly curved legs', () => {
    const curve = (foot: number, bow: number): PenLine =>
      pen(
        Array.from({ length: 31 }, (_, i): Point => {
          const t = i / 30;
          return [foot + (apex[0] - foot) * t + bow * 4 * t * (1 - t), 115 + (apex[1] - 115) * t];
        }),
      );
    expectDart(
      read({ lines: [curve(20, 1.5), curve(42, -1.5)] }),
      [
        [20, 115],
        [42, 115],
      ],
      apex,
    );
  });

  it('reads narrow darts, whose legs run together before the apex', () => {
    const lines = [
      pen([
        [25, 115],
        [31, 0],
      ]),
      pen([
        [37, 115],
        [31, 0],
      ]),
    ];
    expectDart(
      read({ lines }),
      [
        [25, 115],
        [37, 115],
      ],
      [31, 0],
    );
  });

  it('reads legs that bend inward until they nearly run together, and a cross at the point', () => {
    const apex: Point = [20, 20];
    const leg = (foot: Point, bulgeMm: number): PenLine =>
      pen(
        Array.from({ length: 41 }, (_, i): Point => {
          const t = i / 40;
          const x = foot[0] + (apex[0] - foot[0]) * t + Math.sign(foot[0] - 20) * 4 * t * (1 - t) * bulgeMm;
          return [x, foot[1] + (apex[1] - foot[1]) * t];
        }),
      );
    for (const bulgeMm of [-2, 1.5]) {
      const { dart } = read({ lines: [leg([10, 115], bulgeMm), leg([30, 115], bulgeMm)] });
      expect(dart).toHaveLength(1);
      expect(away(dart[0]!.apex, apex), `bulge ${bulgeMm}`).toBeLessThan(1);
    }
    const cross = [1, -1].map((side) =>
      pen([
        [17, 20 - 3 * side],
        [23, 20 + 3 * side],
      ]),
    );
    const marked = read({ lines: [leg([8, 115], 0), leg([32, 115], 0), ...cross] });
    expect(marked.dart).toHaveLength(1);
    expect(away(marked.dart[0]!.apex, apex)).toBeLessThan(0.8);
    expect(marked.hole).toEqual([]);
  });

  it('does not pair lines that do not meet', () => {
    expect(
      read({
        lines: [
          pen([
            [-50, 115],
            [-60, 20],
          ]),
          pen([
            [50, 115],
            [60, 20],
          ]),
        ],
      }).dart,
    ).toEqual([]);
  });
});

describe('grainline', () => {
  const from: Point = [-60, 90];
  const to: Point = [-40, -80];

  function expectGrain(marks: Marks, heads: number): void {
    expect(marks.grainline).toHaveLength(1);
    const { grainline } = marks;
    const turn = angleDeg(grainline[0]!.from, grainline[0]!.to) - angleDeg(from, to);
    expect(Math.min(Math.abs(turn), Math.abs(Math.abs(turn) - 180))).toBeLessThan(0.2);
    expect(grainline[0]!.heads).toBe(heads);
  }

  it('reads a line with two open heads through writing and lengthen lines', () => {
    const lines = [
      pen([from, to]),
      ...openHead(to, from),
      ...openHead(from, to),
      ...writing(-70, -10),
      pen([
        [-140, 40],
        [136, 40],
      ]),
      pen([
        [-140, 47],
        [136, 47],
      ]),
    ];
    const marks = read({ lines });
    expectGrain(marks, 2);
    expect(marks.notch).toEqual([]);
    expect(marks.dart).toEqual([]);
  });

  it('reads one filled head and points to it', () => {
    const marks = read({ lines: [pen([from, to])], fills: [filledHead(to, from)] });
    expectGrain(marks, 1);
    expect(away(marks.grainline[0]!.to, to)).toBeLessThan(1.5);
  });

  it('is told from a dart leg that its head touches', () => {
    // the leg and the line go on in nearly one direction
    const [foot, apex, end]: Point[] = [
      [20, 115],
      [30, 20],
      [36, -95],
    ];
    const lines = [pen([foot!, apex!]), pen([[42, 115], apex!]), pen([[30.4, 14], end!])];
    const marks = read({ lines, fills: [filledHead([30.1, 17.5], end!), filledHead(end!, apex!)] });
    expect(marks.dart).toHaveLength(1);
    expect(away(marks.dart[0]!.apex, apex!)).toBeLessThan(0.8);
    expect(marks.grainline).toHaveLength(1);
    expect(Math.abs(Math.abs(angleDeg(marks.grainline[0]!.from, marks.grainline[0]!.to)) - 87.1)).toBeLessThan(0.4);
  });

  it('takes a lone free line without heads, less surely', () => {
    const marks = read({ lines: [pen([from, to])] });
    expectGrain(marks, 0);
    expect(marks.grainline[0]!.confidence).toBeLessThan(0.5);
  });

  it('is read beside an edge too, when it has heads', () => {
    const [a, b]: [Point, Point] = [
      [-118, 95],
      [-118, -90],
    ];
    const marks = read({ lines: [pen([a, b])], fills: [filledHead(a, b), filledHead(b, a)] });
    expect(marks.grainline.map((g) => g.heads)).toEqual([2]);
    expect(marks.fold).toEqual([]);
  });

  it('is read though it is short, when its heads are clear', () => {
    const [a, b]: [Point, Point] = [
      [-60, 20],
      [-58, -20],
    ];
    const marks = read({ lines: [pen([a, b]), ...openHead(a, b), ...openHead(b, a)] });
    expect(marks.grainline.map((g) => g.heads)).toEqual([2]);
    expect(marks.hole).toEqual([]);
    expect(read({ lines: [pen([a, b])] }).grainline, 'a short line without heads').toEqual([]);
  });

  it('has heads that are no holes', () => {
    expect(read({ lines: [pen([from, to])], fills: [filledHead(to, from), filledHead(from, to)] }).hole).toEqual([]);
  });

  it('is not a seamline nor a pair of lengthen lines', () => {
    const lines = [
      pen(
        [
          [-130, -100],
          [120, -100],
          [129.5, 105],
          [-130, 105],
        ],
        { closed: true },
      ),
      pen([
        [-140, 40],
        [136, 40],
      ]),
      pen([
        [-140, 47],
        [136, 47],
      ]),
    ];
    expect(read({ lines }).grainline).toEqual([]);
  });
});

describe('lengthen and shorten lines', () => {
  const grain = [
    pen([
      [-60, 90],
      [-60, -80],
    ]),
    ...openHead([-60, -80], [-60, 90]),
  ];
  const across = (y: number): PenLine =>
    pen([
      [-120, y],
      [100, y + 4],
    ]);

  it('are one mark in the middle of the two, through writing and the grainline', () => {
    const marks = read({ lines: [...grain, across(20), across(27), ...writing(20, 18)] })['lengthen-shorten'];
    expect(marks).toHaveLength(1);
    const ends = [marks[0]!.from, marks[0]!.to].toSorted((a, b) => a[0] - b[0]);
    expect(away(ends[0]!, [-120, 23.5])).toBeLessThan(1.5);
    expect(away(ends[1]!, [100, 27.5])).toBeLessThan(1.5);
  });

  it('are neither stripes nor a pair along the grain', () => {
    expect(read({ lines: [...grain, across(20), across(27), across(34)] })['lengthen-shorten']).toEqual([]);
    const tuck = [40, 48].map((x) =>
      pen([
        [x, -60],
        [x, 60],
      ]),
    );
    expect(read({ lines: [...grain, ...tuck] })['lengthen-shorten']).toEqual([]);
  });

  const fromEdgeToEdge = (x: number): PenLine =>
    pen([
      [x, -109],
      [x + 3, 114],
    ]);

  it('may be a single line, which is less sure, but not one of several construction lines', () => {
    const [mark, ...others] = read({ lines: [...grain, across(20), ...writing(20, 15)] })['lengthen-shorten'];
    expect(others).toEqual([]);
    const ends = [mark!.from, mark!.to].toSorted((a, b) => a[0] - b[0]);
    expect(away(ends[0]!, [-120, 20])).toBeLessThan(1.5);
    expect(away(ends[1]!, [100, 24])).toBeLessThan(1.5);
    expect(mark!.confidence).toBeLessThan(0.6);
    expect(read({ lines: [...grain, across(20), across(70)] })['lengthen-shorten']).toEqual([]);
  });

  it('are read without a grainline where they cross the piece the short way', () => {
    const pair = read({ lines: [fromEdgeToEdge(0), fromEdgeToEdge(8)] });
    expect(pair['lengthen-shorten']).toHaveLength(1);
    expect(pair.grainline).toEqual([]);
    expect(read({ lines: [fromEdgeToEdge(20)] })['lengthen-shorten']).toHaveLength(1);
    expect(read({ lines: [across(20)] })['lengthen-shorten']).toEqual([]);
  });
});

describe('fold bracket', () => {
  it('reads a bracket with filled heads beside its edge, and no notches at its ends', () => {
    const marks = read({
      lines: [
        pen([
          [-140, 80],
          [-120, 80],
          [-120, -70],
          [-140, -70],
        ]),
      ],
      fills: [filledHead([-140, 80], [-120, 80]), filledHead([-140, -70], [-120, -70])],
    });
    expect(marks.fold).toHaveLength(1);
    const ends = [marks.fold[0]!.from, marks.fold[0]!.to].toSorted((a, b) => a[1] - b[1]);
    expect(away(ends[0]!, [-120, -70])).toBeLessThan(1.5);
    expect(away(ends[1]!, [-120, 80])).toBeLessThan(1.5);
    expect(Math.abs(Math.abs(angleDeg(ends[0]!, ends[1]!)) - 90)).toBeLessThan(0.2);
    expect(marks.notch).toEqual([]);
    expect(marks.grainline).toEqual([]);
  });

  it('is no grainline where its arms were drawn by themselves', () => {
    const marks = read({
      lines: [
        pen([
          [-116, 80],
          [-116, -70],
        ]),
        pen([
          [-139, 80],
          [-116, 80],
        ]),
        pen([
          [-139, -70],
          [-116, -70],
        ]),
      ],
      fills: [filledHead([-139, 80], [-116, 80]), filledHead([-139, -70], [-116, -70])],
    });
    expect(marks.fold).toHaveLength(1);
    expect(marks.grainline).toEqual([]);
  });

  it('has heads that are no notches, though they dent the outline', () => {
    const dent: Excursion = {
      from: tableMm(-140, 84),
      to: tableMm(-140, 76),
      tips: [{ at: tableMm(-140, 80), tip: tableMm(-137, 80), depthMm: 3, widthMm: 4, shape: 'triangle-in' }],
    };
    const lines = [
      pen([
        [-140, 80],
        [-120, 80],
        [-120, -70],
        [-140, -70],
      ]),
    ];
    const fills = [filledHead([-140, 80], [-120, 80]), filledHead([-140, -70], [-120, -70])];
    const marks = read({ lines, fills }, 'paper-edge', [dent]);
    expect(marks.fold).toHaveLength(1);
    expect(marks.notch).toEqual([]);
  });

  it('is not read from a plain line beside an edge', () => {
    expect(
      read({
        lines: [
          pen([
            [-120, 80],
            [-120, -70],
          ]),
        ],
      }).fold,
    ).toEqual([]);
  });
});

describe('holes', () => {
  const ring = (x: number, y: number, radius: number): Point[] =>
    Array.from({ length: 24 }, (_, k) => [
      x + radius * Math.cos((k * Math.PI) / 12),
      y + radius * Math.sin((k * Math.PI) / 12),
    ]);

  it('reads punched holes, drawn circles and crosses', () => {
    const { hole } = read({
      cutAway: [ring(-60, 0, 2)],
      lines: [
        pen(ring(0, 10, 2), { closed: true, widthMm: 0.6 }),
        pen(
          [
            [57, 20],
            [63, 20],
          ],
          { widthMm: 0.6 },
        ),
        pen(
          [
            [60, 17],
            [60, 23],
          ],
          { widthMm: 0.6 },
        ),
      ],
    });
    const found = hole.toSorted((a, b) => a.at[0] - b.at[0]);
    expect(found).toHaveLength(3);
    for (const [i, at] of (
      [
        [-60, 0],
        [0, 10],
        [60, 20],
      ] as const
    ).entries())
      expect(away(found[i]!.at, at)).toBeLessThan(0.4);
  });

  it('reads punched holes through which a lighter table shows, and small dots drawn instead', () => {
    const { hole } = read({ tableLevel: 205, paperLevel: 130, cutAway: [ring(-60, 0, 1), ring(30, -20, 3)] });
    const found = hole.toSorted((a, b) => a.at[0] - b.at[0]);
    expect(found).toHaveLength(2);
    expect(away(found[0]!.at, [-60, 0])).toBeLessThan(0.3);
    expect(away(found[1]!.at, [30, -20])).toBeLessThan(0.3);
    expect(read({ fills: [ring(5, 5, 1)] }).hole).toHaveLength(1);
  });

  it('does not read printed dots as holes, but the hole among them', () => {
    const dots = Array.from({ length: 10 }, (_, i) =>
      Array.from({ length: 8 }, (__, j) => ring(-120 + 25 * i, -95 + 25 * j, 1)),
    ).flat();
    const { hole } = read({ fills: dots, cutAway: [ring(-33, 17, 2.5)] });
    expect(hole).toHaveLength(1);
    expect(away(hole[0]!.at, [-33, 17])).toBeLessThan(0.3);
  });

  it('reads no hole at the point of a dart that a dot marks', () => {
    const lines = [
      pen([
        [20, 115],
        [30, 40],
      ]),
      pen([
        [42, 115],
        [32, 40],
      ]),
    ];
    expect(read({ lines, fills: [ring(31, 34, 1.2)] }).hole).toEqual([]);
  });

  it('does not read letters as holes', () => {
    expect(read({ lines: [...writing(-60, -40), ...writing(-20, 30)] }).hole).toEqual([]);
  });
});
