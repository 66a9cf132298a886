// The demo's photos: the "Marl" pieces as a class of nine would lay them on the tables of Pewit Yard. Rendered, not taken;
// the README says so. `npx tsx tests/photos/render.ts demo` writes them to assets/demo/photos.
//
// How a traced piece finds its name: the plan (assets/demo/marl-plan.json, written from plan.ts) lists the edges of every
// piece in order, clockwise, with their rough lengths on the cutting line, and roughly where the notches sit. The traced ring
// is laid on it in every turn; see shared/usecases/matchPlan.ts.
import type { Point } from '../../../shared/base/points.ts';
import { cardItem } from '../cards.ts';
import { densePath } from '../cubics.ts';
import { frameAll } from '../framing.ts';
import { tableFromItem } from '../layers.ts';
import type { Lens } from '../lens.ts';
import { type CutStyle, cutPiece, drawnSheet, moveSpec, type NotchShape, type PieceTruth } from '../pieces.ts';
import type { Background, Light, PaperItem, PaperLook, Placement, Scene, Shadow } from '../scene.ts';
import { BACKGROUNDS, PAPERS } from '../scenes.ts';
import { boundsOf } from '../texture.ts';
import { type MarlPiece, marlAfterFitting, marlPieces } from './draft.ts';
import { pieceOnTable } from './onTable.ts';

export interface DemoPhoto {
  /** Under assets/demo/photos. */
  readonly file: string;
  readonly scene: Scene;
  readonly truths: readonly PieceTruth[];
}

interface Laid {
  readonly piece: string;
  /** Where the middle of the piece's box goes. */
  readonly at: Placement;
}

interface Plan {
  readonly file: string;
  readonly seed: number;
  readonly pieces: readonly MarlPiece[];
  readonly laid: readonly Laid[];
  readonly background: Background;
  readonly paper: PaperLook;
  readonly notchShape: NotchShape;
  /** null = cut out; otherwise drawn on a sheet of this size. */
  readonly sheet: {
    readonly widthMm: number;
    readonly heightMm: number;
    readonly colour: string;
    readonly cardsOnSheet: 'on it' | 'beside it';
  } | null;
  readonly view: { readonly tiltDeg: number; readonly azimuthDeg: number; readonly rollDeg: number };
  readonly lampDeg: number;
  readonly shadow: 'none' | 'soft' | 'across';
}

/** One phone took all of them. */
const LENS: Lens = { model: 'polynomial', k1: 0.06, k2: -0.05 };
const PHONE = { widthPx: 3264, heightPx: 2448, focal35Mm: 26, lens: LENS, principalOffsetPx: [5, -4] as Point };
const CARD_THICKNESS_MM = 0.12;

const PLANS: readonly Plan[] = [
  {
    file: 'marl-m/1-front-and-back-bodice.jpg',
    seed: 11,
    pieces: marlPieces('as traced'),
    laid: [
      { piece: 'back-bodice', at: { xMm: -160, yMm: 0, turnDeg: -3 } },
      { piece: 'front-bodice', at: { xMm: 165, yMm: 5, turnDeg: 2 } },
    ],
    background: BACKGROUNDS.wood,
    paper: PAPERS.white,
    notchShape: 'triangle-out',
    sheet: null,
    view: { tiltDeg: 9, azimuthDeg: 12, rollDeg: -10 },
    lampDeg: 215,
    shadow: 'soft',
  },
  {
    file: 'marl-m/2-sleeve-and-band.jpg',
    seed: 12,
    pieces: marlPieces('as traced'),
    laid: [
      { piece: 'sleeve', at: { xMm: 0, yMm: -60, turnDeg: 4 } },
      { piece: 'sleeve-band', at: { xMm: 10, yMm: 140, turnDeg: -2 } },
    ],
    background: BACKGROUNDS.mat,
    paper: PAPERS.cream,
    notchShape: 'triangle-out',
    sheet: null,
    view: { tiltDeg: 13, azimuthDeg: -20, rollDeg: 23 },
    lampDeg: 160,
    shadow: 'soft',
  },
  {
    file: 'marl-m/3-front-skirt.jpg',
    seed: 13,
    pieces: marlPieces('as traced'),
    laid: [{ piece: 'front-skirt', at: { xMm: 0, yMm: 0, turnDeg: 88 } }],
    background: BACKGROUNDS.cloth,
    paper: PAPERS.white,
    notchShape: 'triangle-out',
    sheet: null,
    view: { tiltDeg: 7, azimuthDeg: 35, rollDeg: -33 },
    lampDeg: 40,
    shadow: 'none',
  },
  {
    file: 'marl-m/4-back-skirt.jpg',
    seed: 14,
    pieces: marlPieces('as traced'),
    laid: [{ piece: 'back-skirt', at: { xMm: 0, yMm: 0, turnDeg: -92 } }],
    background: { kind: 'wood', turnDeg: 88 },
    paper: PAPERS.cream,
    notchShape: 'triangle-out',
    sheet: null,
    view: { tiltDeg: 15, azimuthDeg: -8, rollDeg: 6 },
    lampDeg: 300,
    shadow: 'across',
  },
  {
    file: 'marl-m/5-neckbands-drawn.jpg',
    seed: 15,
    pieces: marlPieces('as traced'),
    laid: [
      { piece: 'front-neckband', at: { xMm: -75, yMm: -5, turnDeg: 5 } },
      { piece: 'back-neckband', at: { xMm: 90, yMm: 10, turnDeg: -8 } },
    ],
    background: BACKGROUNDS.plain,
    paper: PAPERS.white,
    notchShape: 'tick',
    sheet: { widthMm: 420, heightMm: 297, colour: '#1d3f94', cardsOnSheet: 'beside it' },
    view: { tiltDeg: 11, azimuthDeg: 18, rollDeg: -15 },
    lampDeg: 120,
    shadow: 'soft',
  },
  {
    file: 'marl-m/6-pocket-drawn.jpg',
    seed: 16,
    pieces: marlPieces('as traced'),
    laid: [{ piece: 'pocket-bag', at: { xMm: 0, yMm: 0, turnDeg: 12 } }],
    background: BACKGROUNDS.plain,
    paper: PAPERS.cream,
    notchShape: 'tick',
    sheet: { widthMm: 1100, heightMm: 820, colour: '#22252e', cardsOnSheet: 'on it' },
    view: { tiltDeg: 14, azimuthDeg: -25, rollDeg: 22 },
    lampDeg: 250,
    shadow: 'none',
  },
  {
    file: 'marl-m-after-fitting/1-front-bodice.jpg',
    seed: 17,
    pieces: marlAfterFitting(),
    laid: [{ piece: 'front-bodice', at: { xMm: 0, yMm: 0, turnDeg: 85 } }],
    background: BACKGROUNDS.mat,
    paper: PAPERS.white,
    notchShape: 'triangle-out',
    sheet: null,
    view: { tiltDeg: 10, azimuthDeg: 15, rollDeg: -12 },
    lampDeg: 200,
    shadow: 'soft',
  },
  {
    file: 'marl-m-after-fitting/2-back-bodice.jpg',
    seed: 18,
    pieces: marlAfterFitting(),
    laid: [{ piece: 'back-bodice', at: { xMm: 0, yMm: 0, turnDeg: -86 } }],
    background: BACKGROUNDS.plain,
    paper: PAPERS.cream,
    notchShape: 'triangle-out',
    sheet: null,
    view: { tiltDeg: 12, azimuthDeg: -10, rollDeg: 8 },
    lampDeg: 330,
    shadow: 'soft',
  },
];

export function demoPhotos(): readonly DemoPhoto[] {
  return PLANS.map(demoPhoto);
}

function demoPhoto(plan: Plan): DemoPhoto {
  const { items, truths } = plan.sheet === null ? cutOut(plan) : drawn(plan, plan.sheet);
  const content =
    plan.sheet?.cardsOnSheet === 'on it'
      ? truths.flatMap((truth) => [...truth.outline])
      : items.flatMap((item) => item.outline.map(([x, y]) => tableFromItem(item, x, y)));
  const cards = cardsAround(plan, content);
  const seen = [...content, ...cards.flatMap((card) => card.outline.map(([x, y]) => tableFromItem(card, x, y)))];
  return {
    file: plan.file,
    scene: {
      name: plan.file,
      seed: plan.seed,
      camera: frameAll(seen, { ...PHONE, ...plan.view }, 0.025),
      background: plan.background,
      items: [...items, ...cards],
      light: lightOf(plan, boundsOf(content)),
      sensor: {
        exposure: 0.86,
        vignetting: 0.25,
        blurPx: 0.75,
        fullWell: 9000,
        readNoise: 5,
        mosaic: 'bayer',
        sharpen: 0.35,
        jpegQuality: 84,
      },
      samples: 3,
    },
    truths,
  };
}

function placed(plan: Plan, laid: Laid) {
  const piece = plan.pieces.find((candidate) => candidate.id === laid.piece);
  if (piece === undefined) throw new Error(`no piece ${laid.piece} in ${plan.file}`);
  const spec = pieceOnTable(piece, plan.notchShape);
  const { min, max } = boundsOf(spec.edges.flatMap((edge) => densePath(edge.curve)));
  const centred = moveSpec(spec, { xMm: -(min[0] + max[0]) / 2, yMm: -(min[1] + max[1]) / 2, turnDeg: 0 });
  return centred;
}

function cutOut(plan: Plan): { items: readonly PaperItem[]; truths: readonly PieceTruth[] } {
  const style: CutStyle = {
    look: plan.paper,
    thicknessMm: 0.11,
    curl: { sagittaMm: 0.25, axisDeg: 30, form: 'edges-up' },
    inkColour: '#2f3440',
    inkWidthMm: 0.6,
    seed: plan.seed,
  };
  const cut = plan.laid.map((laid) => cutPiece(placed(plan, laid), laid.at, style));
  return { items: cut.map((c) => c.item), truths: cut.map((c) => c.truth) };
}

function drawn(
  plan: Plan,
  sheet: NonNullable<Plan['sheet']>,
): { items: readonly PaperItem[]; truths: readonly PieceTruth[] } {
  const [w, h] = [sheet.widthMm / 2, sheet.heightMm / 2];
  const paper: PaperItem = {
    id: 'sheet',
    placement: { xMm: 0, yMm: 0, turnDeg: 2 },
    outline: [
      [-w, -h],
      [w, -h],
      [w, h],
      [-w, h],
    ],
    cutAway: [],
    look: plan.paper,
    thicknessMm: 0.1,
    baseMm: 0,
    curl: null,
    ink: [],
    printScale: [1, 1],
  };
  const specs = plan.laid.map((laid) => moveSpec(placed(plan, laid), laid.at));
  const style = { colour: sheet.colour, widthMm: 1, dashMm: [], wobbleMm: 0.12, seed: plan.seed };
  const { item, truths } = drawnSheet(paper, specs, style);
  return { items: [item], truths };
}

const CARD_GAP_MM = 26;

/** Four cards of one page at the corners of what is to be seen, none of them quite straight. */
function cardsAround(plan: Plan, content: readonly Point[]): PaperItem[] {
  const { min, max } = boundsOf(content);
  const outX = 46 + CARD_GAP_MM;
  const middleY = (min[1] + max[1]) / 2;
  const reachY = Math.max((max[1] - min[1]) / 2 - 60, 80);
  const turns = [-6, 184, 9, 175];
  return [
    [min[0] - outX, middleY - reachY],
    [max[0] + outX, middleY - reachY],
    [min[0] - outX, middleY + reachY],
    [max[0] + outX, middleY + reachY],
  ].map(([x, y], id) =>
    cardItem({
      id,
      middle: { xMm: x!, yMm: y!, turnDeg: turns[id]! + (plan.seed % 5) - 2 },
      printScale: [1, 1],
      thicknessMm: CARD_THICKNESS_MM,
      baseMm: plan.sheet?.cardsOnSheet === 'on it' ? 0.1 : 0,
      curl: null,
      gloss: 0.05,
    }),
  );
}

function lightOf(plan: Plan, content: { min: Point; max: Point }): Light {
  const shadows: Shadow[] = [];
  const [x, y] = [content.max[0], content.min[1]];
  if (plan.shadow === 'soft') {
    // the person who takes the photo, from one side
    shadows.push({
      polygon: [
        [x - 90, y - 500],
        [x + 500, y - 500],
        [x + 420, y + 60],
        [x + 60, y + 90],
        [x - 40, y - 40],
      ],
      penumbraMm: 22,
      depth: 0.35,
    });
  } else if (plan.shadow === 'across') {
    // a window bar
    shadows.push({
      polygon: [
        [x - 380, y - 300],
        [x - 320, y - 300],
        [x - 60, content.max[1] + 300],
        [x - 120, content.max[1] + 300],
      ],
      penumbraMm: 9,
      depth: 0.3,
    });
  }
  return {
    key: [0.78, 0.76, 0.71],
    ambient: [0.2, 0.21, 0.23],
    gradientPerM: [0.22, -0.18],
    azimuthDeg: plan.lampDeg,
    elevationDeg: 42,
    shadows,
    glare: null,
  };
}
