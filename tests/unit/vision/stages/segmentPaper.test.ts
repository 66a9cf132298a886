import { describe, expect, it } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { signedAreaMm2 } from '../../../../shared/geometry/polygon.ts';
import { segmentPaper } from '../../../../shared/vision/stages/segmentPaper.ts';
import {
  circleRing,
  distanceToRing,
  type Linear,
  paperRaster,
  type RasterScene,
  rectangleRing,
  softNoise,
} from '../../../support/paperRaster.ts';

const WHITE: Linear = [0.8, 0.79, 0.76];
const KRAFT: Linear = [0.47, 0.27, 0.13];
const MAT: Linear = [0.015, 0.1, 0.07];
const MAT_LINE: Linear = [0.65, 0.7, 0.5];
const CARDS = [rectangleRing(45, 40, 54, 54, 0), rectangleRing(315, 260, 54, 54, 8)];
const PIECE: Point[] = [
  [110, 60],
  [220, 75],
  [250, 170],
  [235, 240],
  [120, 235],
];

const mat = (x: number, y: number): Linear => (x % 10 < 0.5 || y % 10 < 0.5 ? MAT_LINE : MAT);
const wood = (x: number, y: number): Linear => {
  const shade = 0.75 + 0.35 * softNoise(x / 60, y / 2.5) + 0.2 * softNoise(x / 9, y / 0.9);
  return [0.24 * shade, 0.12 * shade, 0.05 * shade];
};
const plain = (): Linear => [0.2, 0.17, 0.14];

function segment(scene: Partial<RasterScene> & Pick<RasterScene, 'table' | 'papers'>) {
  const mmPerPx = 0.9;
  const cards = CARDS.map((ring) => ({ ring, colour: WHITE }));
  const rgb = paperRaster({ widthMm: 360, heightMm: 300, mmPerPx, ...scene, papers: [...scene.papers, ...cards] });
  return segmentPaper({ rgb, mmPerPx, originMm: [0, 0] }, CARDS);
}

/** Distance from the true edge that a share of the outline keeps. */
function offAt(polygon: readonly Point[], share: number): number {
  const off = polygon.map((p) => distanceToRing(PIECE, p)).sort((a, b) => a - b);
  return off[Math.floor(off.length * share)]!;
}

describe('segmentPaper', () => {
  it.each([
    { what: 'white on a cutting mat with printed grid', table: mat, paper: WHITE },
    { what: 'white on wood', table: wood, paper: WHITE },
    { what: 'kraft on a cutting mat', table: mat, paper: KRAFT },
    { what: 'white on a pale table', table: (): Linear => [0.6, 0.58, 0.53], paper: WHITE },
  ])('finds one piece, near its true edge: $what', ({ table, paper }) => {
    const { value, warnings } = segment({ table, papers: [{ ring: PIECE, colour: paper }] });
    expect(value.regions).toHaveLength(1);
    const region = value.regions[0]!;
    expect(signedAreaMm2(region.coarse.polygon)).toBeGreaterThan(0);
    const off = region.coarse.polygon.map((p) => distanceToRing(PIECE, p)).sort((a, b) => a - b);
    expect(off[Math.floor(off.length * 0.95)]).toBeLessThan(0.8);
    for (const corner of PIECE) expect(distanceToRing(region.coarse.polygon, corner)).toBeLessThan(2);
    expect(region.cutOff).toBe(false);
    expect(warnings).toEqual([]);
  });

  it('finds a piece of black paper on a pale table, and takes no black tool for one', () => {
    const pale = (): Linear => [0.45, 0.36, 0.25];
    const BLACK: Linear = [0.04, 0.038, 0.042];
    const { value } = segment({ table: pale, papers: [{ ring: rectangleRing(170, 150, 150, 170, 4), colour: BLACK }] });
    expect(value.regions).toHaveLength(1);
    expect(Math.abs(value.regions[0]!.areaMm2 / (150 * 170) - 1)).toBeLessThan(0.015);
    const telephone = { ring: rectangleRing(170, 150, 75, 150, 4), colour: BLACK };
    expect(segment({ table: pale, papers: [telephone] }).value.regions).toEqual([]);
  });

  it('keeps two pieces apart that lie a finger apart', () => {
    const papers = [rectangleRing(130, 150, 70, 120, 3), rectangleRing(215, 150, 70, 120, 3)];
    const { value } = segment({ table: plain, papers: papers.map((ring) => ({ ring, colour: WHITE })) });
    expect(value.regions).toHaveLength(2);
  });

  it('says when a piece runs out of the picture', () => {
    const ring: Point[] = [
      [120, -20],
      [230, -20],
      [230, 150],
      [120, 150],
    ];
    const { value, warnings } = segment({ table: wood, papers: [{ ring, colour: WHITE }] });
    expect(value.regions.map((region) => region.cutOff)).toEqual([true]);
    expect(warnings.map((warning) => warning.code)).toEqual(['piece-cut-off']);
  });

  it('does not take a reflection on the table for paper', () => {
    const glare = (x: number, y: number): number => 0.9 * Math.exp(-(((x - 190) / 38) ** 2 + ((y - 150) / 38) ** 2));
    expect(segment({ table: mat, papers: [], glare }).value.regions.length).toBe(0);
  });

  it('does not take a hard shadow for paper', () => {
    const light = (x: number, y: number): number => (x + 0.3 * y > 140 && x + 0.3 * y < 230 ? 0.45 : 1);
    expect(segment({ table: wood, papers: [], light }).value.regions.length).toBe(0);
  });

  it('sees through a hard shadow that crosses a piece', () => {
    const light = (x: number, y: number): number => (x + 0.4 * y > 240 ? 1 : 0.4);
    const { value } = segment({ table: wood, papers: [{ ring: PIECE, colour: WHITE }], light });
    expect(value.regions).toHaveLength(1);
    const off = value.regions[0]!.coarse.polygon.map((p) => distanceToRing(PIECE, p)).sort((a, b) => a - b);
    expect(off[Math.floor(off.length * 0.95)]).toBeLessThan(1);
  });

  it('is right about kraft paper on wood, or says that it is unsure', () => {
    const { value, warnings } = segment({
      table: (x, y) => wood(x, y).map((c) => 1.6 * c) as unknown as Linear,
      papers: [{ ring: PIECE, colour: KRAFT }],
    });
    const off = value.regions
      .flatMap((region) => region.coarse.polygon.map((p) => distanceToRing(PIECE, p)))
      .sort((a, b) => a - b);
    const right = value.regions.length === 1 && off[Math.floor(off.length * 0.95)]! < 2;
    expect(right || warnings.some((warning) => warning.code === 'piece-faint')).toBe(true);
  });

  it('bridges a round weight that lies over the edge and says where', () => {
    const weight = { ring: circleRing(238, 120, 22), colour: [0.02, 0.02, 0.25] as Linear };
    const { value } = segment({ table: plain, papers: [{ ring: PIECE, colour: WHITE }, weight] });
    expect(value.regions).toHaveLength(1);
    const { polygon, state } = value.regions[0]!.coarse;
    expect(state.some((s) => s === 1)).toBe(true);
    for (const p of polygon) expect(distanceToRing(PIECE, p)).toBeLessThan(2.5);
  });

  it('finds a white piece beside which a card lies as near as a finger', () => {
    const ring: Point[] = [
      [85, 20],
      [250, 20],
      [250, 200],
      [85, 200],
    ];
    const { value } = segment({ table: wood, papers: [{ ring, colour: WHITE }] });
    expect(value.regions).toHaveLength(1);
    const off = value.regions[0]!.coarse.polygon.map((p) => distanceToRing(ring, p)).sort((a, b) => a - b);
    expect(off[Math.floor(off.length * 0.95)]).toBeLessThan(0.8);
  });

  it('finds the piece beside cards that still hang together as one page, and takes that page for no piece', () => {
    const mmPerPx = 0.9;
    const page = rectangleRing(90, 150, 140, 200, 0);
    const cards = [50, 130].flatMap((x) => [100, 200].map((y) => rectangleRing(x, y, 64, 84, 0)));
    const ring = rectangleRing(265, 150, 130, 180, 5);
    const papers = [
      { ring: page, colour: WHITE },
      ...cards.map((card) => ({ ring: card, colour: [0.4, 0.4, 0.4] as Linear })),
      { ring, colour: WHITE },
    ];
    const rgb = paperRaster({ widthMm: 360, heightMm: 300, mmPerPx, table: wood, papers });
    const { value } = segmentPaper({ rgb, mmPerPx, originMm: [0, 0] }, cards);
    expect(value.regions).toHaveLength(1);
    const off = value.regions[0]!.coarse.polygon.map((p) => distanceToRing(ring, p)).sort((a, b) => a - b);
    expect(off[Math.floor(off.length * 0.95)]).toBeLessThan(0.8);
  });

  it('takes a yellow ruler for no piece', () => {
    const ruler = { ring: rectangleRing(190, 150, 150, 40, 10), colour: [0.65, 0.5, 0.08] as Linear };
    expect(segment({ table: plain, papers: [ruler] }).value.regions).toEqual([]);
  });

  it('does not add the pale checks of a cloth to the piece that lies on it', () => {
    const red: Linear = [0.33, 0.07, 0.06];
    const pale: Linear = [0.69, 0.62, 0.52];
    const half = red.map((c, i) => (c + pale[i]!) / 2) as unknown as Linear; // three channels in, three out
    const checks = (x: number, y: number): Linear => {
      const stripes = (Math.floor(x / 18) % 2) + (Math.floor((y + 0.2 * x) / 18) % 2);
      return stripes === 0 ? red : stripes === 1 ? half : pale;
    };
    const { value } = segment({ table: checks, papers: [{ ring: PIECE, colour: WHITE }] });
    expect(value.regions).toHaveLength(1);
    const off = value.regions[0]!.coarse.polygon.map((p) => distanceToRing(PIECE, p)).sort((a, b) => a - b);
    expect(off[Math.floor(off.length * 0.95)]).toBeLessThan(2.5);
  });

  it('does not add a reflection that touches the piece', () => {
    const glare = (x: number, y: number): number => 0.7 * Math.exp(-(((x - 256) / 26) ** 2 + ((y - 190) / 26) ** 2));
    const { value } = segment({ table: plain, papers: [{ ring: PIECE, colour: WHITE }], glare });
    expect(value.regions).toHaveLength(1);
    expect(offAt(value.regions[0]!.coarse.polygon, 0.95)).toBeLessThan(1.5);
  });

  it.each([
    { what: 'grey table, as bright in the sun as the paper is in the shade', table: (): Linear => [0.25, 0.25, 0.25] },
    { what: 'cutting mat', table: mat },
  ])('keeps a piece whole that a sunbeam of five times the light crosses: $what', ({ table }) => {
    const light = (x: number, y: number): number => (Math.abs(x - 0.5 * y - 90) < 40 ? 1 : 0.2);
    const { value } = segment({ table, papers: [{ ring: PIECE, colour: WHITE }], light });
    const whole = value.regions.filter((region) => !region.cutOff);
    expect(whole).toHaveLength(1);
    expect(Math.abs(whole[0]!.areaMm2 / signedAreaMm2(PIECE) - 1)).toBeLessThan(0.05);
  });

  it('finds grey paper on a white table', () => {
    const papers = [{ ring: PIECE, colour: [0.5, 0.5, 0.49] as Linear }];
    const { value } = segment({ table: () => [0.78, 0.77, 0.75], papers });
    expect(value.regions).toHaveLength(1);
    expect(offAt(value.regions[0]!.coarse.polygon, 0.95)).toBeLessThan(1.5);
  });

  it('finds white paper on cloth with dots of its own colour', () => {
    const dots = (x: number, y: number): Linear => {
      const dx = x - 22 * Math.round(x / 22);
      const dy = y - 22 * Math.round(y / 22);
      return Math.hypot(dx, dy) < 5 ? WHITE : [0.45, 0.04, 0.06];
    };
    const { value } = segment({ table: dots, papers: [{ ring: PIECE, colour: WHITE }] });
    expect(value.regions).toHaveLength(1);
    expect(offAt(value.regions[0]!.coarse.polygon, 0.8)).toBeLessThan(1.5);
  });

  it('knows a sheet that fills the picture from a table', () => {
    expect(segment({ table: () => WHITE, papers: [] }).value).toMatchObject({ regions: [], tableIsPaper: true });
    expect(segment({ table: wood, papers: [] }).value).toMatchObject({ regions: [], tableIsPaper: false });
  });
});
