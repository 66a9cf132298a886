// Small photos full of marks: every kind, size and hand of mark that traced pieces carry, drawn at random, on every paper and
// table. Sizes are common practice, no source; the program must never be tuned to one of these photos.
import type { Point } from '../../shared/base/points.ts';
import { pointInPolygon, resamplePolyline } from '../../shared/geometry/polygon.ts';
import { makeCamera, mmPerPixelAtTarget } from './camera.ts';
import { cardItem } from './cards.ts';
import { alongPolyline, densePath, pathLength } from './cubics.ts';
import { frameAll } from './framing.ts';
import { tableFromItem } from './layers.ts';
import {
  cutPiece,
  type NotchShape,
  type NotchSize,
  type PieceDart,
  type PieceDrill,
  type PieceNotch,
  type PieceSpec,
  type PieceTruth,
} from './pieces.ts';
import { type Random, seededRandom } from './random.ts';
import { type Family, randomPiece } from './randomPieces.ts';
import type { PaperLook, Scene } from './scene.ts';
import { BACKGROUNDS, lightOf, PAPERS, sensorOf } from './scenes.ts';
import { boundsOf } from './texture.ts';

interface MarkScene {
  readonly scene: Scene;
  readonly truth: PieceTruth;
  readonly spec: PieceSpec;
  readonly paper: string;
}

const NEWSPRINT: PaperLook = { colour: '#b9b6ae', pattern: 'fibres', opacity: 0.97, gloss: 0.02 };
const DARK: PaperLook = { colour: '#6d6a66', pattern: 'fibres', opacity: 1, gloss: 0.03 };
const WHITE_TABLE = { kind: 'plain', colour: '#d9d7d2' } as const;

/** Paper with tables that it can be told from. */
const LOOKS = [
  {
    paper: 'white',
    look: PAPERS.white,
    tables: [BACKGROUNDS.plain, BACKGROUNDS.wood, BACKGROUNDS.mat, BACKGROUNDS.cloth, BACKGROUNDS.checked],
  },
  {
    paper: 'cream',
    look: PAPERS.cream,
    tables: [BACKGROUNDS.plain, BACKGROUNDS.wood, BACKGROUNDS.mat, BACKGROUNDS.cloth],
  },
  {
    paper: 'dotted',
    look: PAPERS.dotted,
    tables: [BACKGROUNDS.plain, BACKGROUNDS.wood, BACKGROUNDS.mat, BACKGROUNDS.cloth],
  },
  { paper: 'tracing', look: PAPERS.tracing, tables: [BACKGROUNDS.plain, BACKGROUNDS.mat, BACKGROUNDS.cloth] },
  { paper: 'newsprint', look: NEWSPRINT, tables: [BACKGROUNDS.plain, BACKGROUNDS.mat, BACKGROUNDS.cloth] },
  { paper: 'kraft', look: PAPERS.kraft, tables: [BACKGROUNDS.mat, BACKGROUNDS.cloth, WHITE_TABLE] },
  { paper: 'dark', look: DARK, tables: [WHITE_TABLE] },
] as const;

const WORDS = ['CUT 2', 'FRONT', 'BACK', 'SIZE 40', 'MARL', 'KEEP FLAT', 'A-12', 'ON FOLD', 'LEFT', 'NO. 7'];
const LENGTHEN_WORDS = 'LENGTHEN OR SHORTEN HERE';

export function markScene(seed: number): MarkScene {
  const random = seededRandom(seed * 104729 + 11);
  const { paper, look, tables } = random.pick(LOOKS);
  const background = random.pick<Scene['background']>(tables);
  const spec = markedPiece(random);
  const turnDeg = random.between(-20, 20);
  const penColour = paper === 'dark' ? '#151517' : random.pick(['#30343c', '#2b3f7a', '#1b1b1b', '#8a2424', '#4c4c4e']);
  const { item, truth } = cutPiece(
    spec,
    { xMm: 0, yMm: 0, turnDeg },
    {
      look,
      thicknessMm: random.between(0.06, 0.18),
      curl: null,
      inkColour: penColour,
      inkWidthMm: random.between(0.4, 0.9),
      seed,
    },
  );
  const content = item.outline.map(([x, y]) => tableFromItem(item, x, y));
  const { min, max } = boundsOf(content);
  const middleY = (min[1] + max[1]) / 2;
  const reachY = Math.max((max[1] - min[1]) / 2 - 60, 70);
  const first = 4 * Math.floor(random.uniform() * 5);
  const cards = (
    [
      [-62, -1],
      [62, 1],
      [62, -1],
      [-62, 1],
    ] as const
  ).map(([out, side], i) =>
    cardItem({
      id: first + i,
      middle: { xMm: (out < 0 ? min[0] : max[0]) + out, yMm: middleY + side * reachY, turnDeg: random.between(-9, 9) },
      printScale: [1, 1],
      thicknessMm: random.between(0.1, 0.3),
      baseMm: 0,
      curl: null,
      gloss: 0.08,
    }),
  );
  const corners = cards.flatMap((card) => card.outline.map(([x, y]) => tableFromItem(card, x, y)));
  const widthPx = random.pick([1640, 1880, 2200]);
  const azimuthDeg = random.between(-60, 60);
  const camera = frameAll(
    [...content, ...corners],
    {
      widthPx,
      heightPx: (widthPx / 4) * 3,
      focal35Mm: random.between(23.5, 28.5),
      lens: { model: 'polynomial', k1: random.between(-0.05, 0.08), k2: random.between(-0.05, 0.05) },
      principalOffsetPx: [random.normal() * 5, random.normal() * 5],
      tiltDeg: random.between(2, 20),
      azimuthDeg,
      rollDeg: -azimuthDeg + random.between(-6, 6),
    },
    0.02,
  );
  return {
    scene: {
      name: `marks-${seed}`,
      seed,
      camera,
      background,
      items: [item, ...cards],
      light: lightOf('plain', random, { min, max }, [truth]),
      sensor: sensorOf(random, mmPerPixelAtTarget(makeCamera(camera))),
      samples: 2,
    },
    truth,
    spec,
    paper,
  };
}

/** What is drawn so far, so that marks stand clear of one another as a person draws them. */
class Taken {
  private readonly places: { at: Point; reachMm: number }[] = [];

  line(from: Point, to: Point, reachMm: number): void {
    const steps = Math.max(1, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / 4));
    for (let i = 0; i <= steps; i++)
      this.places.push({
        at: [from[0] + ((to[0] - from[0]) * i) / steps, from[1] + ((to[1] - from[1]) * i) / steps],
        reachMm,
      });
  }

  free(p: Point, reachMm: number): boolean {
    return this.places.every(({ at, reachMm: own }) => Math.hypot(at[0] - p[0], at[1] - p[1]) >= own + reachMm);
  }
}

function markedPiece(random: Random): PieceSpec {
  const family = random.pick<Family>(['bodice', 'skirt', 'sleeve', 'pocket', 'bodice', 'skirt']);
  const base = shrunk(randomPiece(family, random, 'M'));
  const ring = base.edges.flatMap((edge) => resamplePolyline(densePath(edge.curve), 2).slice(0, -1));
  const { min, max } = boundsOf(ring);
  const [width, height] = [max[0] - min[0], max[1] - min[1]];
  const inside = (p: Point, clearMm: number): boolean =>
    pointInPolygon(p, ring) && ring.every((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) >= clearMm);
  const taken = new Taken();
  for (const q of ring) taken.line(q, q, 0);

  const darts = dartsOf(base, family, random);
  for (const { legs, apex } of darts) for (const leg of legs) taken.line(leg, apex, 6);

  const grainX = random.between(-0.12, 0.12) * width;
  const reach = random.between(0.18, 0.32) * height;
  const hasGrain = random.uniform() < 0.85;
  const grainline = hasGrain
    ? {
        from: [grainX, reach] as Point,
        to: [grainX + random.between(-4, 4), -reach] as Point,
        heads: random.pick([1, 2] as const),
        openHeads: random.uniform() < 0.5,
      }
    : null;
  if (grainline !== null) taken.line(grainline.from, grainline.to, 8);

  const lengthens: NonNullable<PieceSpec['lengthens']>[number][] = [];
  const texts: PieceSpec['texts'][number][] = [];
  if (random.uniform() < 0.5) {
    const y = random.between(-0.1, 0.2) * height;
    const row = spanAt(ring, y);
    // without a grain only a line from edge to edge can be told
    const whole = random.uniform() < 0.5 || !hasGrain;
    const [left, right] = whole ? row : [row[0] + 0.12 * width, row[1] - 0.12 * width];
    const slant = random.between(-1.5, 1.5);
    const apartMm = random.uniform() < 0.5 ? 0 : random.between(5, 12);
    const from: Point = [left, y - slant];
    const to: Point = [right, y + slant];
    lengthens.push({ from, to, apartMm });
    taken.line(from, to, apartMm / 2 + 5);
    if (random.uniform() < 0.6) {
      texts.push({ at: [left + 10, y - apartMm / 2 - 3], turnDeg: 0, sizeMm: 5, words: LENGTHEN_WORDS });
      taken.line([left + 8, y - apartMm / 2 - 6], [left + 10 + LENGTHEN_WORDS.length * 4.7, y - apartMm / 2 - 6], 6);
    }
  }
  if (grainline !== null && random.uniform() < 0.4) {
    const y = random.between(-0.5, 0.5) * reach;
    const words = random.pick(WORDS);
    if (lengthens.every((line) => Math.abs(line.from[1] - y) > 22)) {
      texts.push({ at: [grainX - 20, y + 4], turnDeg: 0, sizeMm: 8, words });
      taken.line([grainX - 20, y], [grainX - 20 + words.length * 7.5, y], 7);
    }
  }
  for (let k = 0; k < 2; k++) {
    const words = random.pick(WORDS);
    const sizeMm = random.between(4, 11);
    const turned = random.uniform() < 0.25;
    const long = words.length * sizeMm * 0.93;
    place(random, min, max, (at) => {
      const end: Point = turned ? [at[0], at[1] + long] : [at[0] + long, at[1]];
      const stops = [0, 0.25, 0.5, 0.75, 1].map(
        (t): Point => [at[0] + (end[0] - at[0]) * t, at[1] + (end[1] - at[1]) * t],
      );
      if (!stops.every((p) => inside(p, sizeMm + 6) && taken.free(p, sizeMm / 2 + 2))) return false;
      texts.push(
        turned
          ? { at: [at[0] - sizeMm / 2, at[1]], turnDeg: 90, sizeMm, words }
          : { at: [at[0], at[1] + sizeMm / 2], turnDeg: 0, sizeMm, words },
      );
      taken.line(at, end, sizeMm / 2 + 2);
      return true;
    });
  }

  const drills: PieceDrill[] = [];
  const drillKind = random.pick(['punched', 'punched', 'circle', 'cross', 'dot'] as const);
  const drillCount = random.pick([1, 2, 2, 3]);
  for (let k = 0; k < drillCount; k++)
    place(random, min, max, (at) => {
      if (!inside(at, 13) || !taken.free(at, 9)) return false;
      const radiusMm =
        drillKind === 'punched'
          ? random.between(1, 3)
          : drillKind === 'circle'
            ? random.between(1.4, 3)
            : drillKind === 'cross'
              ? random.between(1.5, 2.8)
              : random.between(0.8, 1.6);
      drills.push({ at, kind: drillKind, radiusMm });
      taken.line(at, at, 6);
      return true;
    });

  return {
    ...base,
    notches: notchesOf(base, darts, lengthens, random),
    grainline,
    darts,
    lengthens,
    texts,
    drills,
    lines: [],
    holes: [],
  };
}

/** Marks keep their size; a smaller piece makes a smaller photo. */
const SHRINK = 0.66;

function shrunk(piece: PieceSpec): PieceSpec {
  return {
    ...piece,
    edges: piece.edges.map((edge) => ({
      ...edge,
      curve: edge.curve.map(([x, y]): Point => [SHRINK * x, SHRINK * y]),
    })),
  };
}

function place(random: Random, min: Point, max: Point, offer: (at: Point) => boolean): void {
  for (let tries = 0; tries < 60; tries++)
    if (offer([random.between(min[0], max[0]), random.between(min[1], max[1])])) return;
}

/** Where a level line enters and leaves a ring. */
function spanAt(ring: readonly Point[], y: number): [number, number] {
  const xs = ring.flatMap((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    return a[1] > y !== b[1] > y ? [a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1])] : [];
  });
  return [Math.min(...xs), Math.max(...xs)];
}

function dartsOf(base: PieceSpec, family: Family, random: Random): PieceDart[] {
  if (family !== 'bodice' && family !== 'skirt') return [];
  const waist = base.edges.find((edge) => edge.label === 'waist')!;
  const points = densePath(waist.curve);
  const length = pathLength(waist.curve);
  const count = random.pick([1, 1, 2]);
  const sense = family === 'bodice' ? -1 : 1;
  return Array.from({ length: count }, (_, k): PieceDart => {
    const middle = length * (count === 1 ? random.between(0.4, 0.6) : random.between(0.28, 0.32) + 0.4 * k);
    const wide = random.between(12, 28);
    const [a, b] = [alongPolyline(points, middle - wide / 2).at, alongPolyline(points, middle + wide / 2).at];
    const deep = random.between(55, 95);
    return {
      legs: [a, b],
      apex: [(a[0] + b[0]) / 2 + random.between(-4, 4), (a[1] + b[1]) / 2 + sense * deep],
      style: {
        dashMm: random.uniform() < 0.45 ? [random.between(4, 8), random.between(2, 4)] : [],
        bulgeMm: random.uniform() < 0.35 ? random.between(-2.5, 2.5) : 0,
        apexMark: random.pick(['none', 'dot', 'cross'] as const),
        widthMm: random.uniform() < 0.2 ? random.between(1.4, 2) : random.between(0.4, 0.9),
      },
    };
  });
}

const CLEAR_MM = 26;
const NEAR_CORNER_MM = [12, 20] as const;

function notchesOf(
  base: PieceSpec,
  darts: readonly PieceDart[],
  lengthens: PieceSpec['lengthens'],
  random: Random,
): PieceNotch[] {
  const usual = random.pick<NotchShape>(['snip', 'triangle-out', 'triangle-in', 'tick']);
  const notches: PieceNotch[] = [];
  const spots: Point[] = [
    ...darts.flatMap(({ legs }) => legs),
    ...(lengthens ?? []).flatMap(({ from, to }) => [from, to]),
  ];
  for (const edge of base.edges) {
    const length = pathLength(edge.curve);
    const points = densePath(edge.curve);
    const tries = length > 180 ? 3 : length > 60 ? 2 : 0;
    for (let k = 0; k < tries; k++) {
      const shape =
        random.uniform() < 0.8 ? usual : random.pick<NotchShape>(['snip', 'triangle-out', 'triangle-in', 'tick']);
      const count = random.pick([1, 1, 2, 2, 3] as const);
      const size = sizeOf(shape, random);
      const half = ((count - 1) * size.spacingMm) / 2 + size.widthMm / 2;
      const byCorner = random.uniform() < 0.25;
      const near = random.between(...NEAR_CORNER_MM) + half;
      const atMm = byCorner ? random.pick([near, length - near]) : random.between(near + 10, length - near - 10);
      if (atMm < near - 0.01 || atMm > length - near + 0.01) continue;
      const { at } = alongPolyline(points, atMm);
      if (spots.some((p) => Math.hypot(p[0] - at[0], p[1] - at[1]) < CLEAR_MM + half)) continue;
      spots.push(at);
      notches.push({ edge: edge.label, atMm, count, shape, size });
    }
  }
  return notches;
}

function sizeOf(shape: NotchShape, random: Random): NotchSize {
  switch (shape) {
    case 'snip':
      return { depthMm: random.between(3, 6), widthMm: random.between(0.3, 1), spacingMm: random.between(4, 12) };
    case 'triangle-in':
    case 'triangle-out': {
      const widthMm = random.between(5, 8);
      return { depthMm: random.between(3.5, 6), widthMm, spacingMm: random.between(widthMm + 1, 12) };
    }
    case 'tick':
      return { depthMm: random.between(4, 8), widthMm: 0, spacingMm: random.between(3, 12) };
  }
}
