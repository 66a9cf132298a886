import { describe, expect, it } from 'vitest';
import { type Point, tableMm } from '../../../shared/base/points.ts';
import { integrityProblems } from '../../../shared/formats/set/integrity.ts';
import { traceV1 } from '../../../shared/formats/trace/v1.ts';
import { pathLengthMm } from '../../../shared/geometry/arcLength.ts';
import { polylinePath } from '../../../shared/geometry/cubicPath.ts';
import type { PatternSet, PiecePlan, Shape } from '../../../shared/pattern/model.ts';
import { freeRepairId, withRepair } from '../../../shared/pattern/repairs.ts';
import type { Capture, CapturedPhoto } from '../../../shared/usecases/captured.ts';
import { combineShots } from '../../../shared/usecases/combineShots.ts';
import { emptySet, takeIn } from '../../../shared/usecases/setFromCapture.ts';
import { traceDocument } from '../../../shared/usecases/traceDocument.ts';
import type { TracedMark, TracedPiece } from '../../../shared/vision/traced.ts';

/** A traced panel of 200 x 300 with its top left corner at (40, 60) on the table; its fold is on the left. */
const CORNERS: readonly Point[] = [
  [40, 60],
  [240, 60],
  [240, 360],
  [40, 360],
];
const at = (x: number, y: number) => tableMm(x, y);

function tracedPanel(marks: readonly TracedMark[] = [], photo = 'a.jpg'): TracedPiece {
  return { ...tracedRing(CORNERS), marks, photos: [photo] };
}

function tracedRing(cornersMm: readonly Point[]): TracedPiece {
  const corners = cornersMm.map(([x, y]) => at(x, y));
  return {
    id: 'p1',
    photos: ['a.jpg'],
    line: 'paper-edge',
    outline: corners,
    edges: corners.map((from, i) => {
      const to = corners[(i + 1) % corners.length]!;
      return {
        id: `e${i + 1}`,
        curve: polylinePath([from, to]).map(([x, y]) => at(x, y)),
        lengthMm: Math.hypot(to[0] - from[0], to[1] - from[1]),
        sigmaMm: 0.2,
        localSigmaMm: 0.05,
      };
    }),
    marks: [],
    unsure: [],
    pointSigmaMm: 0.1,
    scaleSigmaRatio: 5e-4,
  };
}

const marks: readonly TracedMark[] = [
  { kind: 'notch', at: at(240, 210), count: 2, shape: 'snip', confidence: 1 },
  { kind: 'notch', at: at(100, 60), count: 1, shape: 'tick', confidence: 1 },
  { kind: 'notch', at: at(140, 60), count: 1, shape: 'tick', confidence: 1 },
  { kind: 'fold', from: at(46, 120), to: at(46, 300), confidence: 1 },
  { kind: 'grainline', from: at(150, 100), to: at(150, 320), heads: 1, confidence: 0.9 },
  { kind: 'dart', legs: [at(210, 60), at(190, 60)], apex: at(200, 130), confidence: 1 },
  { kind: 'lengthen-shorten', from: at(60, 250), to: at(220, 250), confidence: 0.8 },
  { kind: 'hole', at: at(200, 200), confidence: 1 },
];

const SEAM = {
  id: 's1',
  name: 'side',
  join: 'even',
  wantedEaseMm: null,
  wantedSectionsMm: null,
  overlapMm: 0,
  status: 'confirmed',
} as const;

const CELL_CORNERS: readonly (Point | null)[] = [[0, 0], [300, 0], null, [0, 300], [300, 300], null];

function captured(piece: TracedPiece): CapturedPhoto {
  return {
    file: piece.photos[0]!,
    // Only these facts of the plane are looked at; the rest is the solver's.
    plane: { mmPerPixel: 0.3, tiltDeg: 9, cards: [{ id: 'N01', residualPx: 0.2, page: 1 }] } as never,
    // Nothing to join with: no cards to link by, no outline that leaves the photo.
    evidence: { bodies: [], taped: [] } as never,
    quality: {
      cornerSigmaPx: 0.2,
      worstRatio: Number.POSITIVE_INFINITY,
      map: { columns: 2, rows: 1, sigmaRatios: [5.0004e-4, Number.POSITIVE_INFINITY], cornersMm: CELL_CORNERS },
      advice: [{ code: 'less-tilt', message: 'Hold the camera more directly above the piece.' }],
    },
    outlines: [],
    tapedUnseen: [],
    pieces: [piece],
    warnings: [],
    learned: null,
  };
}

const capture = (piece: TracedPiece): Capture => combineShots([captured(piece)]);

const panelPlan: PiecePlan = {
  tracedLine: 'cutting',
  edges: [
    { id: 'side', label: 'side', role: 'seam', allowanceMm: 15, aboutMm: 300 },
    { id: 'hem', label: 'hem', role: 'hem', allowanceMm: 0, aboutMm: 200 },
    { id: 'fold', label: 'fold', role: 'fold', allowanceMm: 0, aboutMm: 300 },
    { id: 'top', label: 'waist', role: 'seam', allowanceMm: 10, aboutMm: 200 },
  ],
  notches: [
    {
      id: 'balance',
      edge: 'side',
      aboutRatio: 0.5,
      purpose: 'match',
      mate: { kind: 'notch', piece: 'back', notch: 'b' },
    },
    { id: 'pleat-a', edge: 'top', aboutRatio: 0.3, purpose: 'pleat', mate: { kind: 'none' } },
    { id: 'pleat-b', edge: 'top', aboutRatio: 0.5, purpose: 'pleat', mate: { kind: 'none' } },
  ],
};

const planned: PatternSet = {
  ...emptySet('Skirt'),
  sizes: ['S', 'M'],
  baseSize: 'M',
  pieces: [
    {
      id: 'front',
      name: 'Front',
      kind: 'front skirt',
      cut: [],
      grainIntent: 'straight',
      nap: 'none',
      shapes: {},
      origin: { source: 'plan', detail: '' },
      plan: panelPlan,
    },
  ],
};

const take = (piece: TracedPiece, into: PatternSet, printScale: { x: number; y: number } | null = { x: 1, y: 1 }) =>
  takeIn(capture(piece), { into, size: into.baseSize, pictures: new Map(), printScale });

describe('a piece that the plan describes', () => {
  const { set, warnings } = take(tracedPanel(marks), planned);
  const [piece] = set.pieces;
  const shape = piece!.shapes.M!;

  it('keeps its name and id, and says where it was measured', () => {
    expect(piece).toMatchObject({ id: 'front', name: 'Front', origin: { source: 'photo', detail: 'a.jpg' } });
    expect(warnings).toEqual([]);
  });

  it('has the plan’s edges with the plan’s allowances, measured by the photo', () => {
    expect(
      shape.ring.map((edge) => [
        edge.id,
        edge.allowanceMm,
        edge.allowanceAssumed,
        Math.round(pathLengthMm(edge.curve)),
      ]),
    ).toEqual([
      ['side', 15, false, 300],
      ['hem', 0, false, 200],
      ['fold', 0, false, 300],
      ['top', 10, false, 200],
    ]);
    expect(shape.tracedLine).toBe('cutting');
  });

  it('lies in its own frame, and its placement leads back to the table', () => {
    expect(shape.ring[0]?.curve[0]).toEqual([200, 0]);
    expect(shape.placement).toEqual({ shot: 'shot-1', originMm: [40, 60], turnDeg: 0 });
  });

  it('has its notches on the seamline with the plan’s purposes and mates', () => {
    // The seamline of the side starts 10 below the top and 15 in; the notch at half height lies 140 along it.
    const [balance] = shape.notches.filter((notch) => notch.edge === 'side');
    expect(balance).toMatchObject({ id: 'balance', count: 2, mate: { kind: 'notch', piece: 'back', notch: 'b' } });
    expect(balance?.atMm).toBeCloseTo(140, 6);
  });

  it('makes a pleat of two planned pleat notches only when both were read', () => {
    expect(shape.pleats).toEqual([
      { id: 'pleat-1', edge: 'top', fromMm: expect.closeTo(60, 6), toMm: expect.closeTo(100, 6) },
    ]);
    const one = take(tracedPanel(marks.filter((_, i) => i !== 2)), planned);
    expect(one.set.pieces[0]?.shapes.M?.pleats).toEqual([]);
  });

  it('has its dart’s legs in the order of the edge, its grainline and its hole', () => {
    expect(shape.darts).toEqual([
      {
        id: 'd1',
        edge: 'top',
        legs: [
          [150, 0],
          [170, 0],
        ],
        apex: [160, 70],
        foldTo: null,
      },
    ]);
    expect(shape.grainline).toEqual({ from: [110, 40], to: [110, 260], heads: 1 });
    expect(shape.marks).toEqual([
      { kind: 'lengthen-shorten', id: 'm1', from: [20, 190], to: [180, 190] },
      { kind: 'hole', id: 'm2', at: [160, 140] },
    ]);
  });

  it('splits its scale error into the print’s part, shared by all shots, and the shot’s own', () => {
    const [print, shot] = shape.accuracy.scaleSources;
    expect(print).toEqual({ id: 'print:1', sigmaRatio: 4e-4 });
    expect(shot?.id).toBe('shot:shot-1');
    expect(Math.hypot(print!.sigmaRatio, shot!.sigmaRatio)).toBeCloseTo(5e-4, 12);
    const unchecked = take(tracedPanel(), planned, null).set.pieces[0]?.shapes.M?.accuracy.scaleSources;
    expect(unchecked?.map((source) => source.sigmaRatio)).toEqual([5e-4, 0]);
  });

  it('is replaced when it is traced again, and the rest of the set stays', () => {
    const again = take(tracedPanel([], 'b.jpg'), set);
    expect(again.set.pieces).toHaveLength(1);
    expect(again.set.pieces[0]?.origin.detail).toBe('b.jpg');
    expect(again.set.shots.map((one) => [one.id, one.file])).toEqual([
      ['shot-1', 'a.jpg'],
      ['shot-2', 'b.jpg'],
    ]);
  });

  it('remembers its first shape when another photo replaces it, and not when the same photo is read again', () => {
    const first = set.pieces[0]!.shapes.M;
    const other = take(tracedPanel([], 'b.jpg'), set).set;
    expect(other.pieces[0]?.before?.M).toBe(first);
    expect(take(tracedPanel([], 'c.jpg'), other).set.pieces[0]?.before?.M).toBe(first);
    expect(take(tracedPanel(marks), set).set.pieces[0]?.before).toBeUndefined();
  });

  it('face down is turned over, so that the set shows it face up', () => {
    // Wider at the hem: 200 above, 260 below, its fold (on the left face up) now on the right.
    const outline = tracedRing([
      [60, 0],
      [260, 0],
      [260, 300],
      [0, 300],
    ]);
    const faceDown: TracedPiece = {
      ...outline,
      marks: [{ kind: 'fold', from: at(250, 60), to: at(250, 240), confidence: 1 }],
    };
    const wide = panelPlan.edges.map((edge) => (edge.id === 'hem' ? { ...edge, aboutMm: 260 } : edge));
    const into = { ...planned, pieces: [{ ...planned.pieces[0]!, plan: { ...panelPlan, edges: wide } }] };
    const shape = take(faceDown, into).set.pieces[0]?.shapes.M;
    expect(shape?.ring.map((edge) => [edge.id, edge.curve[0]])).toEqual([
      ['side', [200, 0]],
      ['hem', [260, 300]],
      ['fold', [0, 300]],
      ['top', [0, 0]],
    ]);
  });
});

describe('a piece that no plan describes', () => {
  it('comes beside the others under a name of its own, its allowance marked as assumed', () => {
    const { set, warnings } = take(tracedPanel(marks), emptySet('Found'));
    expect(warnings).toEqual([]);
    expect(set.pieces[0]).toMatchObject({ id: 'p1', kind: 'other' });
    const ring = set.pieces[0]?.shapes.one?.ring;
    expect(ring?.map((edge) => [edge.role, edge.allowanceMm, edge.allowanceAssumed])).toEqual([
      ['seam', 15, true],
      ['seam', 15, true],
      ['seam', 15, true],
      ['fold', 0, true],
    ]);
    expect(integrityProblems(set)).toEqual([]);
  });

  it('is said when there was a plan', () => {
    const small: TracedPiece = {
      ...tracedPanel(),
      edges: tracedPanel().edges.map((edge) => ({ ...edge, lengthMm: edge.lengthMm / 5 })),
    };
    const { set, warnings } = take(small, planned);
    expect(set.pieces.map((piece) => piece.id)).toEqual(['front', 'p1']);
    expect(warnings).toMatchObject([{ code: 'piece-unplanned' }]);
  });
});

describe('a piece that is photographed again', () => {
  /** Wider at the hem on one side, so that only one way round fits. */
  const uneven: readonly Point[] = [
    [40, 60],
    [240, 60],
    [300, 360],
    [40, 360],
  ];

  /** Named, sewn and corrected by hand after its first photo. */
  function worked(): PatternSet {
    const { set } = take({ ...tracedRing(uneven), marks }, emptySet('Found'));
    const piece = set.pieces[0]!;
    const shape = piece.shapes.one!;
    const named = {
      ...shape,
      ring: shape.ring.map((edge) =>
        edge.id === 'e2' ? { ...edge, label: 'side', allowanceMm: 10, allowanceAssumed: false } : edge,
      ),
    };
    const repairs = [
      { kind: 'edge-split', at: [220, 100] },
      { kind: 'mark-removed', mark: 'hole', at: [160, 140] },
    ] as const;
    const after = repairs.reduce<Shape>((before, deed) => {
      const made = withRepair(before, freeRepairId(before), deed);
      if (!made.ok) throw new Error(made.error.sentence);
      return made.value;
    }, named);
    const span = (edge: string) => [{ piece: 'p1', edge, reversed: false, stretch: null }];
    return {
      ...set,
      pieces: [{ ...piece, name: 'Panel', kind: 'side panel', shapes: { one: after } }],
      seams: [{ ...SEAM, sides: [span('e2-2'), span('e4')] }],
    };
  }

  /** Half a turn, elsewhere on the table, its edges numbered from another corner. */
  function turnedPanel(): TracedPiece {
    const turned = ([x, y]: Point): Point => [740 - x, 560 - y];
    const ring = [...uneven.slice(2), ...uneven.slice(0, 2)].map(turned);
    const hole = turned([200, 200]);
    return { ...tracedRing(ring), photos: ['b.jpg'], marks: [{ kind: 'hole', at: at(...hole), confidence: 1 }] };
  }

  it('keeps names, allowances, seams and corrections when the person says which piece it is', () => {
    const again = takeIn(capture(turnedPanel()), {
      into: worked(),
      size: 'one',
      pictures: new Map(),
      printScale: null,
      again: 'p1',
    });
    expect(again.warnings).toEqual([]);
    expect(again.set.pieces).toHaveLength(1);
    const piece = again.set.pieces[0]!;
    expect(piece).toMatchObject({ name: 'Panel', kind: 'side panel', origin: { detail: 'b.jpg' } });
    expect(new Set(piece.shapes.one!.ring.map(({ id }) => id))).toEqual(new Set(['e1', 'e2', 'e2-2', 'e3', 'e4']));
    expect(piece.shapes.one!.ring.find(({ id }) => id === 'e2')).toMatchObject({ label: 'side', allowanceMm: 10 });
    expect(piece.shapes.one!.marks).toEqual([]);
    expect(piece.shapes.one!.repairs?.map(({ setAside }) => setAside)).toEqual([false, false]);
    expect(again.set.seams).toHaveLength(1);
    expect(integrityProblems(again.set)).toEqual([]);
  });

  it('stays as it was when the photos show no such outline, and that is said', () => {
    const other = tracedRing([
      [0, 0],
      [90, 0],
      [90, 400],
      [0, 400],
    ]);
    const into = worked();
    const again = takeIn(capture(other), { into, size: 'one', pictures: new Map(), printScale: null, again: 'p1' });
    expect(again.set.pieces[0]).toBe(into.pieces[0]);
    expect(again.set.pieces).toHaveLength(2);
    expect(again.warnings).toMatchObject([{ code: 'piece-not-again' }]);
  });

  it('takes the place of its shot when the same photo is read once more', () => {
    const once = take(tracedPanel(marks), emptySet('Found')).set;
    const twice = take(tracedPanel(marks), once).set;
    expect(twice.shots.map(({ id, file }) => [id, file])).toEqual([['shot-2', 'a.jpg']]);
    expect(twice.pieces).toHaveLength(1);
    expect(twice.pieces[0]!.shapes.one!.placement?.shot).toBe('shot-2');
  });
});

it('a shot keeps where lengths can be trusted, with what is not seen as nothing', () => {
  const { quality } = take(tracedPanel(), emptySet('Found')).set.shots[0]!;
  expect(quality).toMatchObject({ columns: 2, rows: 1, sigmaRatios: [5e-4, null], cornersMm: CELL_CORNERS });
  expect(quality?.advice).toMatchObject([{ code: 'less-tilt' }]);
});

it('a bridged stretch of the outline stays with the shape, by its places', () => {
  const bridged: TracedPiece = { ...tracedPanel(), unsure: [{ fromIndex: 3, toIndex: 0, reason: 'covered' }] };
  const shape = take(bridged, emptySet('Found')).set.pieces[0]!.shapes.one!;
  expect(shape.unsure).toEqual([
    {
      reason: 'covered',
      points: [
        [0, 300],
        [0, 0],
      ],
    },
  ]);
});

describe('the trace document', () => {
  it('says what was read in the words of its format', () => {
    const document = traceV1.parse(traceDocument(capture(tracedPanel(marks))));
    expect(document.photos).toEqual([
      {
        file: 'a.jpg',
        mmPerPixel: 0.3,
        tiltDeg: 9,
        cards: [{ id: 'N01', residualPx: 0.2 }],
        quality: {
          cornerSigmaPx: 0.2,
          worstRatio: null,
          map: { columns: 2, rows: 1, sigmaRatios: [5e-4, null] },
          advice: [{ code: 'less-tilt', message: 'Hold the camera more directly above the piece.' }],
        },
      },
    ]);
    const [piece] = document.pieces;
    expect(piece?.edges[0]).toEqual({ id: 'e1', fromMm: [40, 60], toMm: [240, 60], lengthMm: 200, sigmaMm: 0.2 });
    expect(piece?.marks).toEqual([
      { kind: 'notch', atMm: [240, 210], count: 2, confidence: 1 },
      { kind: 'notch', atMm: [100, 60], count: 1, confidence: 1 },
      { kind: 'notch', atMm: [140, 60], count: 1, confidence: 1 },
      { kind: 'fold', fromMm: [46, 120], toMm: [46, 300], confidence: 1 },
      { kind: 'grainline', fromMm: [150, 100], toMm: [150, 320], confidence: 0.9 },
      {
        kind: 'dart',
        legsMm: [
          [210, 60],
          [190, 60],
        ],
        apexMm: [200, 130],
        confidence: 1,
      },
      { kind: 'lengthen-shorten', fromMm: [60, 250], toMm: [220, 250], confidence: 0.8 },
      { kind: 'hole', atMm: [200, 200], confidence: 1 },
    ]);
  });

  it('gives pieces of several photos ids of their own, and says which photo a warning speaks of', () => {
    const first = { ...captured(tracedPanel()), warnings: [{ code: 'c', message: 'Too dark.' }] };
    const both = combineShots([first, captured(tracedPanel([], 'b.jpg'))]);
    expect(both.pieces.map((piece) => [piece.id, piece.photos])).toEqual([
      ['p1', ['a.jpg']],
      ['p2', ['b.jpg']],
    ]);
    expect(both.warnings).toEqual([{ code: 'c', message: 'a.jpg: Too dark.' }]);
  });
});
