// One long panel that no single photo takes in: several photos along it by one phone, neighbours sharing a pair of cards.
import type { Point } from '../../shared/base/points.ts';
import { CARDS_PER_PAGE, PAGE_SET_COUNT } from '../../shared/vision/cards/cardLayout.ts';
import { type CameraSpec, makeCamera, mmPerPixelAtTarget } from './camera.ts';
import { cardItem } from './cards.ts';
import { type CubicPath, straight } from './cubics.ts';
import { frameAll } from './framing.ts';
import { tableFromItem } from './layers.ts';
import { cutPiece, type PieceSpec, type PieceTruth } from './pieces.ts';
import { type Random, seededRandom } from './random.ts';
import type { PaperItem, Scene } from './scene.ts';
import { BACKGROUNDS, lightOf, PAPERS, sensorOf } from './scenes.ts';
import { boundsOf } from './texture.ts';

export interface LongPanel {
  /** One scene a photo, all of the same table. */
  readonly scenes: readonly Scene[];
  readonly truth: PieceTruth;
}

export interface LongPanelWish {
  readonly lengthMm: number;
  readonly photos: number;
  readonly megapixels: number;
}

/** The focus moves the focal length a little from photo to photo. */
const FOCUS_SIGMA = 0.003;
const CARD_BESIDE_MM = 108;

export function longPanel(seed: number, { lengthMm, photos, megapixels }: LongPanelWish): LongPanel {
  const random = seededRandom(seed * 6151 + Math.round(lengthMm) + photos);
  const spec = panelSpec(lengthMm, random);
  const turnDeg = random.between(-3, 3);
  const { item, truth } = cutPiece(spec, { xMm: 0, yMm: 0, turnDeg }, styleOf(seed, random));
  const content = item.outline.map(([x, y]) => tableFromItem(item, x, y));
  const columns = cardColumns(content, photos, random);
  const background = random.pick([BACKGROUNDS.plain, BACKGROUNDS.wood, BACKGROUNDS.mat, BACKGROUNDS.cloth]);
  const light = lightOf('four-cards', random, boundsOf(content), [truth]);
  const phone = phoneOf(random, megapixels);
  const scenes = Array.from({ length: photos }, (_, k): Scene => {
    const inFrame = [...columns[k]!, ...columns[k + 1]!];
    const corners = inFrame.flatMap((card) => card.outline.map(([x, y]) => tableFromItem(card, x, y)));
    const azimuthDeg = random.between(-60, 60);
    const camera = frameAll(
      corners,
      {
        ...phone,
        focal35Mm: phone.focal35Mm * Math.exp(FOCUS_SIGMA * random.normal()),
        tiltDeg: random.between(3, 18),
        azimuthDeg,
        rollDeg: -azimuthDeg + random.between(-4, 4),
      },
      0.02,
    );
    return {
      name: `panel-${Math.round(lengthMm)}-${photos}-${seed}-${k + 1}`,
      seed: seed * 10 + k,
      camera,
      background,
      items: [item, ...columns.flat()],
      light,
      sensor: sensorOf(random, mmPerPixelAtTarget(makeCamera(camera))),
      samples: 2,
    };
  });
  return { scenes, truth };
}

/** A narrow panel lying along x: two long bowed sides, two short ends, notches and an arrow along it. */
function panelSpec(lengthMm: number, random: Random): PieceSpec {
  const half = lengthMm / 2;
  const wide = random.between(240, 300);
  const narrow = random.between(180, 230);
  const bow = random.between(8, 22);
  const bowed = (a: Point, b: Point, outMm: number): CubicPath => [
    a,
    [a[0] + (b[0] - a[0]) / 3, a[1] + (b[1] - a[1]) / 3 + outMm],
    [a[0] + (2 * (b[0] - a[0])) / 3, a[1] + (2 * (b[1] - a[1])) / 3 + outMm],
    b,
  ];
  const corners: readonly [Point, Point, Point, Point] = [
    [-half, -wide / 2],
    [half, -narrow / 2],
    [half, narrow / 2],
    [-half, wide / 2],
  ];
  const shape = random.pick(['snip', 'triangle-in', 'triangle-out'] as const);
  return {
    id: 'L1',
    edges: [
      { label: 'side', curve: bowed(corners[0], corners[1], -bow) },
      { label: 'hem', curve: straight(corners[1], corners[2]) },
      { label: 'inseam', curve: bowed(corners[2], corners[3], bow / 2) },
      { label: 'waist', curve: straight(corners[3], corners[0]) },
    ],
    notches: [
      { edge: 'side', atMm: lengthMm * random.between(0.2, 0.3), count: 1, shape },
      { edge: 'side', atMm: lengthMm * random.between(0.46, 0.54), count: 2, shape },
      { edge: 'inseam', atMm: lengthMm * random.between(0.4, 0.6), count: 1, shape },
    ],
    grainline: { from: [-lengthMm * 0.3, 20], to: [lengthMm * 0.3, 20], heads: 2 },
    fold: null,
    darts: [],
    holes: [],
    lines: [],
    texts: [],
  };
}

function styleOf(seed: number, random: Random) {
  return {
    look: random.pick([PAPERS.white, PAPERS.cream]),
    thicknessMm: random.between(0.06, 0.18),
    curl: null,
    inkColour: '#30343c',
    inkWidthMm: random.between(0.5, 0.8),
    seed,
  };
}

/** Pairs of cards across the panel, at its ends and where photos meet. */
function cardColumns(content: readonly Point[], photos: number, random: Random): PaperItem[][] {
  const { min, max } = boundsOf(content);
  const first = Math.floor(random.uniform() * (PAGE_SET_COUNT - 2)) * CARDS_PER_PAGE;
  return Array.from({ length: photos + 1 }, (_, column) =>
    [0, 1].map((row) =>
      cardItem({
        id: first + 2 * column + row,
        middle: {
          xMm: min[0] - 20 + ((max[0] - min[0] + 40) * column) / photos + random.between(-12, 12),
          yMm: (row === 0 ? min[1] - CARD_BESIDE_MM : max[1] + CARD_BESIDE_MM) + random.between(-6, 6),
          turnDeg: random.pick([0, 180]) + random.between(-14, 14),
        },
        printScale: [1, 1],
        thicknessMm: random.between(0.1, 0.2),
        baseMm: 0,
        curl: null,
        gloss: 0.08,
      }),
    ),
  );
}

type Phone = Pick<CameraSpec, 'widthPx' | 'heightPx' | 'focal35Mm' | 'lens' | 'principalOffsetPx'>;

function phoneOf(random: Random, megapixels: number): Phone {
  const heightPx = Math.round(Math.sqrt((megapixels * 1e6) / 12)) * 3;
  const widthPx = (heightPx / 3) * 4;
  const k1 = random.between(-0.06, 0.1);
  const shift = widthPx / 500;
  return {
    widthPx,
    heightPx,
    focal35Mm: random.between(24, 28),
    lens: { model: 'polynomial', k1, k2: -k1 * random.between(0.2, 1.4) },
    principalOffsetPx: [random.normal() * shift, random.normal() * shift],
  };
}
