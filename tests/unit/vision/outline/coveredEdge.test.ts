// Things lying over the edge of a piece, photographed by the simulated camera: the outline may be bridged or doubted, never
// wrong without saying so, and nothing that was cut may be bridged.
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { scorePhoto } from '../../../bench/scorePieces.ts';
import { silentFaults } from '../../../bench/silentlyWrong.ts';
import { straight } from '../../../photos/cubics.ts';
import type { Background, PaperItem } from '../../../photos/scene.ts';
import { BACKGROUNDS, PAPERS } from '../../../photos/scenes.ts';
import { circleRing, rectangleRing } from '../../../support/paperRaster.ts';
import { curvedPiece, solidItem, traceCrop } from '../../../support/tableCrop.ts';

const DARK: Background = { kind: 'plain', colour: '#25272b' };

/** A half bodice with a deep armhole and a bent hem. */
const BODICE = [
  { label: 'top', curve: straight([75, 52], [200, 45]) },
  {
    label: 'armhole',
    curve: [
      [200, 45],
      [195, 85],
      [225, 110],
      [285, 112],
    ] as Point[],
  },
  { label: 'side', curve: straight([285, 112], [278, 215]) },
  {
    label: 'hem',
    curve: [
      [278, 215],
      [210, 222],
      [140, 222],
      [75, 218],
    ] as Point[],
  },
  { label: 'centre', curve: straight([75, 218], [75, 52]) },
];

/** Deep cuts into straight edges: a keyhole on the hem, a square notch on the side, a tab on the top. */
const CUT_OUT: readonly Point[] = [
  [75, 50],
  [120, 50],
  [120, 32],
  [160, 32],
  [160, 50],
  [280, 50],
  [280, 120],
  [255, 120],
  [255, 150],
  [280, 150],
  [280, 215],
  [200, 215],
  ...Array.from({ length: 21 }, (_, i): Point => {
    const turn = (i / 20) * Math.PI;
    return [175 + 25 * Math.cos(turn), 215 - 25 * Math.sin(turn)];
  }),
  [150, 215],
  [75, 215],
];

function traced(edges: Parameters<typeof curvedPiece>[1], background: Background, things: readonly PaperItem[]) {
  const { item, truth } = curvedPiece('A', edges, PAPERS.white);
  const { pieces } = traceCrop({ background, items: [item, ...things], mmPerPx: 0.4 });
  const score = scorePhoto(pieces, [truth]);
  return {
    score,
    pieces,
    faults: silentFaults({ ...score, invented: score.piecesInvented, warnings: [] }),
    unsureMm: score.outlines
      .flat()
      .filter((s) => s.isUnsure)
      .reduce((sum, s) => sum + s.stepMm, 0),
  };
}

describe('a thing over the edge', () => {
  it.each([
    { what: 'dark weight, dark table', thing: solidItem('w', circleRing(170, 222, 22), '#1c1d20', 14), table: DARK },
    { what: 'light weight, dark table', thing: solidItem('w', circleRing(170, 222, 22), '#d8d8d4', 14), table: DARK },
    { what: 'light weight at a corner', thing: solidItem('w', circleRing(280, 215, 20), '#d8d8d4', 14), table: DARK },
    {
      what: 'grey weight on wood',
      thing: solidItem('w', circleRing(170, 222, 22), '#7c8086', 14),
      table: BACKGROUNDS.wood,
    },
    {
      what: 'steel ruler across',
      thing: solidItem('r', rectangleRing(180, 140, 360, 30, 80), '#9a9da0', 1),
      table: DARK,
    },
  ])('is bridged and the bridge called unsure: $what', ({ thing, table }) => {
    const { score, faults, unsureMm } = traced(BODICE, table, thing);
    expect(score.piecesFound).toBe(1);
    expect(faults).toEqual([]);
    expect(unsureMm).toBeGreaterThan(25);
    expect(unsureMm).toBeLessThan(150);
    // bridged, not only doubted: nothing is off by as much as the thing reaches
    expect(Math.max(...score.outlines[0]!.map((s) => s.offMm))).toBeLessThan(3);
    for (const { errorMm, sigmaMm } of score.lengths) expect(Math.abs(errorMm)).toBeLessThan(2 * sigmaMm + 0.2);
  });

  it.each([
    {
      what: 'a weight of the very colour of the table',
      thing: solidItem('w', circleRing(170, 222, 22), '#25272b', 14),
    },
    { what: 'a weight in a round armhole', thing: solidItem('w', circleRing(212, 98, 20), '#1c1d20', 14) },
  ])('is doubted at least, where the way on is not clear: $what', ({ thing }) => {
    const { score, faults, unsureMm } = traced(BODICE, DARK, thing);
    expect(score.piecesFound).toBe(1);
    expect(faults).toEqual([]);
    expect(unsureMm).toBeGreaterThan(25);
  });
});

describe('what was cut', () => {
  it.each([
    { what: 'wood', table: BACKGROUNDS.wood },
    { what: 'cutting mat', table: BACKGROUNDS.mat },
  ])('is neither bridged nor doubted: $what', ({ table }) => {
    const ring = CUT_OUT;
    const edges = ring.map((at, i) => ({ label: `e${i}`, curve: straight(at, ring[(i + 1) % ring.length]!) }));
    const { score, unsureMm } = traced(edges, table, []);
    expect(score.piecesFound).toBe(1);
    expect(unsureMm).toBe(0);
    const off = score.outlines[0]!.map((s) => s.offMm).sort((a, b) => a - b);
    expect(off[Math.floor(0.97 * off.length)]).toBeLessThan(0.5);
  });
});
