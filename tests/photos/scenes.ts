// Random benchmark scenes by case, each with its truth. The same case and seed give the same photo; the product must never
// be tuned to one of them.
import type { Point } from '../../shared/base/points.ts';
import { CARDS_PER_PAGE, PAGE_SET_COUNT } from '../../shared/vision/cards/cardLayout.ts';
import { type CameraSpec, makeCamera, mmPerPixelAtTarget } from './camera.ts';
import { cardItem, pageItem } from './cards.ts';
import { frameAll } from './framing.ts';
import { tableFromItem } from './layers.ts';
import { type CutStyle, cutPiece, drawnSheet, moveSpec, type PieceSpec, type PieceTruth } from './pieces.ts';
import { type Random, seededRandom } from './random.ts';
import { FAMILIES, type Family, type InsideMarks, randomPiece } from './randomPieces.ts';
import type { Background, Curl, Light, PaperItem, PaperLook, Scene, Sensor, Shadow } from './scene.ts';
import { boundsOf } from './texture.ts';

export const SCENE_CASES = [
  'four-cards',
  'two-cards',
  'one-card',
  'drawn',
  'drawn-dashed',
  'several-pieces',
  'plain',
  'wood',
  'mat',
  'checked',
  'cloth',
  'hard-shadow',
  'white-on-white',
  'kraft-on-wood',
  'tracing-paper',
  'dotted-paper',
  'curled-card',
  'overhead',
  'tilted',
  // new cases come last: a case's number is part of its seed
  'on-fold',
  'crossed-marks',
  'darts',
  'whole-page',
  'glare',
  'faint-kraft',
] as const;
export type SceneCase = (typeof SCENE_CASES)[number];

export interface BenchScene {
  readonly case: SceneCase;
  readonly scene: Scene;
  readonly truths: readonly PieceTruth[];
}

export const PAPERS: Readonly<Record<'white' | 'cream' | 'kraft' | 'faintKraft' | 'tracing' | 'dotted', PaperLook>> = {
  white: { colour: '#e9e8e5', pattern: 'plain', opacity: 1, gloss: 0.06 },
  cream: { colour: '#e6dcc4', pattern: 'plain', opacity: 1, gloss: 0.05 },
  kraft: { colour: '#b48a5c', pattern: 'fibres', opacity: 1, gloss: 0.03 },
  /** Thin brown paper, nearly the tone of the wood that shows through it. */
  faintKraft: { colour: '#a98455', pattern: 'fibres', opacity: 0.9, gloss: 0.03 },
  tracing: { colour: '#e4e4e2', pattern: 'plain', opacity: 0.72, gloss: 0.12 },
  dotted: { colour: '#e7e6e2', pattern: 'dots', opacity: 1, gloss: 0.05 },
};

export const BACKGROUNDS: Readonly<Record<Background['kind'], Background>> = {
  plain: { kind: 'plain', colour: '#6b6f75' },
  wood: { kind: 'wood', turnDeg: 4 },
  mat: { kind: 'mat', colour: '#2f5d50', line: '#b9c9b4', pitchMm: 10, turnDeg: -3 },
  checked: { kind: 'checked', colour: '#9b4a46', stripe: '#d9cfc3', pitchMm: 18, turnDeg: 8 },
  cloth: { kind: 'cloth', colour: '#2c3140' },
};

const MEGAPIXELS_DEFAULT = 12;

/** Renders nothing: the scene is data for renderPhoto. */
export function benchScene(sceneCase: SceneCase, seed: number, megapixels: number = MEGAPIXELS_DEFAULT): BenchScene {
  const random = seededRandom(seed * 7919 + SCENE_CASES.indexOf(sceneCase));
  const isDrawn = sceneCase === 'drawn' || sceneCase === 'drawn-dashed';
  const background = backgroundOf(sceneCase, random);
  const pieces = isDrawn ? drawnPieces(sceneCase, random, seed) : cutPieces(sceneCase, random, seed);
  const content = pieces.items.flatMap((item) => item.outline.map(([x, y]) => tableFromItem(item, x, y)));
  const cards = layCards(sceneCase, random, content);
  const corners = cards.flatMap((card) => card.outline.map(([x, y]) => tableFromItem(card, x, y)));
  const camera = cameraOf(sceneCase, random, [...content, ...corners], megapixels);
  return {
    case: sceneCase,
    scene: {
      name: `${sceneCase}-${seed}`,
      seed,
      camera,
      background,
      items: [...pieces.items, ...cards],
      light: lightOf(sceneCase, random, boundsOf(content), pieces.truths),
      sensor: sensorOf(random, mmPerPixelAtTarget(makeCamera(camera))),
      samples: 2,
    },
    truths: pieces.truths,
  };
}

function backgroundOf(sceneCase: SceneCase, random: Random): Background {
  switch (sceneCase) {
    case 'plain':
    case 'wood':
    case 'mat':
    case 'checked':
    case 'cloth':
      return BACKGROUNDS[sceneCase];
    case 'white-on-white':
      return { kind: 'plain', colour: '#cfccc6' };
    case 'kraft-on-wood':
    case 'faint-kraft':
      return BACKGROUNDS.wood;
    case 'glare':
      return random.pick([BACKGROUNDS.plain, BACKGROUNDS.wood]);
    case 'tracing-paper':
      return random.pick([BACKGROUNDS.mat, BACKGROUNDS.cloth]);
    default:
      return random.pick(Object.values(BACKGROUNDS));
  }
}

function paperOf(sceneCase: SceneCase, random: Random): PaperLook {
  switch (sceneCase) {
    case 'white-on-white':
      return PAPERS.white;
    case 'kraft-on-wood':
      return PAPERS.kraft;
    case 'faint-kraft':
      return PAPERS.faintKraft;
    case 'tracing-paper':
      return PAPERS.tracing;
    case 'dotted-paper':
      return PAPERS.dotted;
    default:
      return random.pick([PAPERS.white, PAPERS.cream, PAPERS.dotted]);
  }
}

function draftsOf(sceneCase: SceneCase): { families: readonly Family[]; inside: InsideMarks } {
  switch (sceneCase) {
    case 'on-fold':
      return { families: ['bodice', 'skirt'], inside: 'fold' };
    case 'crossed-marks':
      return { families: ['bodice', 'skirt', 'sleeve'], inside: 'crossed' };
    case 'darts':
      return { families: ['bodice'], inside: 'grainline' };
    default:
      return { families: FAMILIES, inside: 'grainline' };
  }
}

interface Laid {
  readonly items: readonly PaperItem[];
  readonly truths: readonly PieceTruth[];
}

function cutStyle(sceneCase: SceneCase, random: Random, seed: number): CutStyle {
  const curl: Curl | null =
    random.uniform() < 0.3
      ? { sagittaMm: random.between(0.3, 1), axisDeg: random.between(0, 180), form: 'edges-up' }
      : null;
  return {
    look: paperOf(sceneCase, random),
    thicknessMm: random.between(0.06, 0.18),
    curl,
    inkColour: random.pick(['#30343c', '#2b3f7a', '#3a3a3a']),
    inkWidthMm: random.between(0.4, 0.8),
    seed,
  };
}

function cutPieces(sceneCase: SceneCase, random: Random, seed: number): Laid {
  const count = sceneCase === 'several-pieces' ? 4 : 1;
  const items: PaperItem[] = [];
  const truths: PieceTruth[] = [];
  let right = 0;
  let rowTop = 0;
  let rowHeight = 0;
  for (let i = 0; i < count; i++) {
    const { families, inside } = draftsOf(sceneCase);
    const spec = randomPiece(random.pick(families), random, `P${i + 1}`, inside);
    const turnDeg = count === 1 ? random.between(-25, 25) : random.between(-6, 6);
    const { min, max } = boundsOf(moveSpec(spec, { xMm: 0, yMm: 0, turnDeg }).edges.flatMap((edge) => edge.curve));
    if (i === 2) {
      rowTop += rowHeight + 40;
      right = 0;
      rowHeight = 0;
    }
    const placement = { xMm: right - min[0], yMm: rowTop - min[1], turnDeg };
    right += max[0] - min[0] + 40;
    rowHeight = Math.max(rowHeight, max[1] - min[1]);
    const { item, truth } = cutPiece(spec, placement, cutStyle(sceneCase, random, seed + i));
    items.push(item);
    truths.push(truth);
  }
  return { items, truths };
}

const SHEET_MARGIN_MM = 60;

function drawnPieces(sceneCase: SceneCase, random: Random, seed: number): Laid {
  const specs: PieceSpec[] = [];
  let right = SHEET_MARGIN_MM;
  let bottom = 0;
  for (let i = 0; i < 2; i++) {
    const spec = randomPiece(random.pick(['bodice', 'sleeve', 'pocket'] as const), random, `D${i + 1}`);
    const { min, max } = boundsOf(spec.edges.flatMap((edge) => edge.curve));
    specs.push(moveSpec(spec, { xMm: right - min[0], yMm: SHEET_MARGIN_MM - min[1], turnDeg: 0 }));
    right += max[0] - min[0] + SHEET_MARGIN_MM;
    bottom = Math.max(bottom, max[1] - min[1]);
  }
  const height = bottom + 2 * SHEET_MARGIN_MM;
  const sheet: PaperItem = {
    id: 'sheet',
    placement: { xMm: 0, yMm: 0, turnDeg: random.between(-5, 5) },
    outline: [
      [0, 0],
      [right, 0],
      [right, height],
      [0, height],
    ],
    cutAway: [],
    look: random.pick([PAPERS.white, PAPERS.cream, PAPERS.dotted]),
    thicknessMm: 0.1,
    baseMm: 0,
    curl: null,
    ink: [],
    printScale: [1, 1],
  };
  const style = {
    colour: random.pick(['#1f2430', '#1d3f94', '#b3282d']),
    widthMm: random.between(0.8, 1.3),
    dashMm: sceneCase === 'drawn-dashed' ? [8, 4] : [],
    wobbleMm: 0.25,
    seed,
  };
  const { item, truths } = drawnSheet(sheet, specs, style);
  return { items: [item], truths };
}

/** Cards beside the content, never on it; one or two cards lie where a hurried person puts them. */
function layCards(sceneCase: SceneCase, random: Random, content: readonly Point[]): PaperItem[] {
  const { min, max } = boundsOf(content);
  const outX = 85;
  const middleY = (min[1] + max[1]) / 2;
  const reachY = Math.max((max[1] - min[1]) / 2 - 55, 85);
  const places: Point[] = [
    [min[0] - outX, middleY - reachY],
    [max[0] + outX, middleY + reachY],
    [max[0] + outX, middleY - reachY],
    [min[0] - outX, middleY + reachY],
  ];
  if (sceneCase === 'whole-page') return [wholePage(random, min, middleY)];
  const count = sceneCase === 'one-card' ? 1 : sceneCase === 'two-cards' ? 2 : 4;
  const first = Math.floor(random.uniform() * PAGE_SET_COUNT) * CARDS_PER_PAGE;
  return places.slice(0, count).map(([x, y], i) =>
    cardItem({
      id: first + i,
      middle: {
        xMm: x + random.between(-8, 8),
        yMm: y + random.between(-8, 8),
        turnDeg: random.pick([0, 180]) + random.between(-14, 14),
      },
      printScale: [1, 1],
      thicknessMm: random.between(0.1, 0.3),
      baseMm: 0,
      curl:
        sceneCase === 'curled-card' && i === 1
          ? { sagittaMm: 2.5, axisDeg: random.between(0, 180), form: 'edges-up' }
          : null,
      gloss: 0.08,
    }),
  );
}

const PAGE_OUT_MM = 150;

/** The printed page as it comes from the printer, not yet cut, beside the piece. */
function wholePage(random: Random, min: Point, middleY: number): PaperItem {
  return pageItem({
    set: 1 + Math.floor(random.uniform() * PAGE_SET_COUNT),
    middle: {
      xMm: min[0] - PAGE_OUT_MM + random.between(-8, 8),
      yMm: middleY + random.between(-40, 40),
      turnDeg: random.pick([0, 180]) + random.between(-14, 14),
    },
    thicknessMm: 0.1,
    gloss: 0.08,
  });
}

function cameraOf(sceneCase: SceneCase, random: Random, points: readonly Point[], megapixels: number): CameraSpec {
  const heightPx = Math.round(Math.sqrt((megapixels * 1e6) / 12)) * 3;
  const widthPx = (heightPx / 3) * 4;
  const tiltDeg =
    sceneCase === 'overhead'
      ? random.between(1, 7)
      : sceneCase === 'tilted'
        ? random.between(26, 33)
        : random.between(4, 22);
  const k1 = random.between(-0.08, 0.12);
  const azimuthDeg = random.between(-60, 60);
  const lens =
    random.uniform() < 0.5
      ? { model: 'polynomial' as const, k1, k2: -k1 * random.between(0.2, 1.4) }
      : { model: 'division' as const, lambda: random.between(-0.08, 0.08) };
  const shift = widthPx / 400;
  return frameAll(
    points,
    {
      widthPx,
      heightPx,
      focal35Mm: random.between(23.5, 28.5),
      lens,
      principalOffsetPx: [random.normal() * shift, random.normal() * shift],
      tiltDeg,
      azimuthDeg,
      rollDeg: -azimuthDeg + random.between(-8, 8),
    },
    0.02,
  );
}

export function lightOf(
  sceneCase: SceneCase,
  random: Random,
  content: { min: Point; max: Point },
  truths: readonly PieceTruth[],
): Light {
  const shadows: Shadow[] = [];
  const edge = truths[0]?.edges.toSorted((a, b) => b.lengthMm - a.lengthMm)[0];
  if (sceneCase === 'hard-shadow' && edge) {
    // one hard shadow whose rim runs 6 mm outside a paper's edge and along it, one across the piece
    const length = Math.hypot(edge.to[0] - edge.from[0], edge.to[1] - edge.from[1]);
    const along: Point = [(edge.to[0] - edge.from[0]) / length, (edge.to[1] - edge.from[1]) / length];
    const out: Point = [along[1], -along[0]];
    const corner = (t: number, o: number): Point => [
      edge.from[0] + along[0] * t + out[0] * o,
      edge.from[1] + along[1] * t + out[1] * o,
    ];
    shadows.push({
      polygon: [corner(-400, 6), corner(length + 400, 6), corner(length + 400, 400), corner(-400, 400)],
      penumbraMm: 0.6,
      depth: 0.55,
    });
    const x = content.min[0] + 0.6 * (content.max[0] - content.min[0]);
    shadows.push({
      polygon: [
        [x, content.min[1] - 200],
        [x + 120, content.min[1] - 200],
        [x + 200, content.max[1] + 200],
        [x + 60, content.max[1] + 200],
      ],
      penumbraMm: 1.2,
      depth: 0.4,
    });
  } else if (random.uniform() < 0.6) {
    const x = random.between(content.min[0], content.max[0]);
    shadows.push({
      polygon: [
        [x, content.min[1] - 500],
        [x + 600, content.min[1] - 500],
        [x + 500, content.min[1] + 140],
        [x + 40, content.min[1] + 90],
      ],
      penumbraMm: random.between(8, 25),
      depth: random.between(0.2, 0.5),
    });
  }
  const warm = random.between(0.86, 1);
  return {
    key: [0.78, 0.78 * (0.5 + warm / 2), 0.78 * warm],
    ambient: [0.2, 0.21, 0.23],
    gradientPerM: [random.between(-0.45, 0.45), random.between(-0.45, 0.45)],
    azimuthDeg: random.between(0, 360),
    elevationDeg: random.between(30, 60),
    shadows,
    glare:
      sceneCase === 'glare'
        ? glareBeside(random, content)
        : random.uniform() < 0.3
          ? {
              at: [random.between(content.min[0], content.max[0]), random.between(content.min[1], content.max[1])],
              radiusMm: 90,
              strength: 3,
            }
          : null,
  };
}

/** The lamp mirrored in a varnished table, its middle near a corner of the piece, bright enough to pass for paper. */
function glareBeside(random: Random, { min, max }: { min: Point; max: Point }): Light['glare'] {
  return {
    at: [random.pick([min[0] - 30, max[0] + 30]), random.between(min[1], max[1])],
    radiusMm: random.between(60, 110),
    strength: 3,
    tableGloss: random.between(0.15, 0.3),
  };
}

export function sensorOf(random: Random, mmPerPixel: number): Sensor {
  return {
    exposure: random.between(0.75, 0.98),
    vignetting: random.between(0.15, 0.4),
    blurPx: random.between(0.6, 1.0) * Math.max(0.7, Math.min(1, 0.25 / mmPerPixel)),
    fullWell: random.between(3000, 9000),
    readNoise: random.between(4, 10),
    mosaic: random.uniform() < 0.7 ? 'bayer' : 'none',
    sharpen: random.between(0, 0.6),
    jpegQuality: Math.round(random.between(82, 94)),
  };
}
