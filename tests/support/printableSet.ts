// A small set with every kind of mark, for the formats that draw pieces.

import { polylinePath } from '../../shared/geometry/cubicPath.ts';
import type { PatternSet, Piece, Shape } from '../../shared/pattern/model.ts';

const line = (from: readonly [number, number], to: readonly [number, number]) => polylinePath([from, to]);

const BODICE: Shape = {
  ring: [
    {
      id: 'neck',
      label: 'neckline',
      role: 'seam',
      curve: [
        [0, 60],
        [35, 60],
        [60, 40],
        [65, 0],
      ],
      allowanceMm: 10,
      allowanceAssumed: false,
      sigmaMm: 0.1,
    },
    {
      id: 'shoulder',
      label: 'shoulder & yoke',
      role: 'seam',
      curve: line([65, 0], [190, 30]),
      allowanceMm: 15,
      allowanceAssumed: false,
      sigmaMm: null,
    },
    {
      id: 'armhole',
      label: 'armhole "front"',
      role: 'seam',
      curve: [
        [190, 30],
        [160, 100],
        [170, 190],
        [240, 210],
      ],
      allowanceMm: 15,
      allowanceAssumed: true,
      sigmaMm: null,
    },
    {
      id: 'side',
      label: 'side',
      role: 'seam',
      curve: line([240, 210], [225, 420]),
      allowanceMm: 15,
      allowanceAssumed: false,
      sigmaMm: null,
    },
    {
      id: 'waist',
      label: 'waist',
      role: 'hem',
      curve: line([225, 420], [0, 420]),
      allowanceMm: 20,
      allowanceAssumed: false,
      sigmaMm: null,
    },
    {
      id: 'centre',
      label: 'centre <front>',
      role: 'fold',
      curve: line([0, 420], [0, 60]),
      allowanceMm: 0,
      allowanceAssumed: false,
      sigmaMm: null,
    },
  ],
  tracedLine: 'cutting',
  notches: [
    {
      id: 'n1',
      edge: 'armhole',
      atMm: 88.25,
      count: 1,
      purpose: 'match',
      mate: { kind: 'notch', piece: 'sleeve', notch: 'n4' },
    },
    { id: 'n2', edge: 'side', atMm: 60, count: 2, purpose: 'match', mate: { kind: 'unknown' } },
  ],
  darts: [
    {
      id: 'd1',
      edge: 'waist',
      legs: [
        [130, 420],
        [105, 420],
      ],
      apex: [118, 290],
      foldTo: 'end',
    },
  ],
  pleats: [{ id: 'p1', edge: 'waist', fromMm: 150, toMm: 170 }],
  grainline: { from: [60, 140], to: [60, 380], heads: 2 },
  marks: [
    { kind: 'hole', id: 'h1', at: [118, 300] },
    { kind: 'buttonhole', id: 'b1', from: [10, 100], to: [28, 100] },
  ],
  accuracy: { scaleSources: [{ id: 'print-1', sigmaRatio: 4e-4 }], pointSigmaMm: 0.1 },
};

const BELT: Shape = {
  ring: [
    {
      id: 'top',
      label: 'top',
      role: 'seam',
      curve: line([0, 0], [360, 0]),
      allowanceMm: 10,
      allowanceAssumed: false,
      sigmaMm: null,
    },
    {
      id: 'right',
      label: 'right',
      role: 'seam',
      curve: line([360, 0], [360, 60]),
      allowanceMm: 10,
      allowanceAssumed: false,
      sigmaMm: null,
    },
    {
      id: 'bottom',
      label: 'bottom',
      role: 'seam',
      curve: line([360, 60], [0, 60]),
      allowanceMm: 10,
      allowanceAssumed: false,
      sigmaMm: null,
    },
    {
      id: 'left',
      label: 'left',
      role: 'seam',
      curve: line([0, 60], [0, 0]),
      allowanceMm: 10,
      allowanceAssumed: false,
      sigmaMm: null,
    },
  ],
  tracedLine: 'seam',
  notches: [],
  darts: [],
  pleats: [],
  grainline: { from: [30, 30], to: [300, 30], heads: 1 },
  marks: [],
  accuracy: { scaleSources: [], pointSigmaMm: 0 },
};

function piece(id: string, name: string, kind: Piece['kind'], shape: Shape): Piece {
  return {
    id,
    name,
    kind,
    cut: [{ material: 'shell', count: 1, onFold: kind === 'front bodice', mirrored: false, allowanceMm: null }],
    grainIntent: 'straight',
    nap: 'none',
    shapes: { M: shape },
    origin: { source: 'drafted', detail: 'test' },
  };
}

export const PRINTABLE_SET: PatternSet = {
  format: 'notchwise-set/1',
  name: 'Blouse & belt',
  displayUnits: 'mm',
  preset: { tolerance: 'home', cloth: 'woven' },
  sizes: ['M'],
  baseSize: 'M',
  pieces: [piece('front', 'Front <1>', 'front bodice', BODICE), piece('belt', 'Belt 帯', 'waistband', BELT)],
  seams: [],
  expectedPieces: [],
  bodies: [],
  shots: [],
  history: [],
};
