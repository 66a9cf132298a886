// Invented pieces for benchmark photos: five families that cover straight and curved edges, sharp and blunt corners, long and
// short stretches. Sizes are drawn at random; nothing is taken from a published pattern.
import type { Point } from '../../shared/base/points.ts';
import { type CubicPath, densePath, pathLength, straight } from './cubics.ts';
import type { PieceNotch, PieceSpec } from './pieces.ts';
import type { Random } from './random.ts';
import { boundsOf } from './texture.ts';

export type Family = 'bodice' | 'skirt' | 'sleeve' | 'band' | 'pocket';
export const FAMILIES: readonly Family[] = ['bodice', 'skirt', 'sleeve', 'band', 'pocket'];

interface Drafted {
  readonly edges: PieceSpec['edges'];
  readonly darts: PieceSpec['darts'];
}

/** A path from a to b whose tangents at the ends are given as offsets of the handles. */
function curve(a: Point, handleA: Point, handleB: Point, b: Point): CubicPath {
  return [a, [a[0] + handleA[0], a[1] + handleA[1]], [b[0] + handleB[0], b[1] + handleB[1]], b];
}

function bodice(r: Random): Drafted {
  const width = r.between(220, 270);
  const height = r.between(360, 440);
  const neckWidth = r.between(65, 85);
  const neckDepth = r.between(50, 95);
  const shoulderX = r.between(170, 195);
  const shoulderDrop = r.between(30, 48);
  const armholeY = r.between(195, 225);
  const waistX = width - r.between(0, 25);
  const dartWidth = r.between(20, 32);
  const waistY = height - r.between(0, 12);
  const dartX = r.between(0.4, 0.5) * waistX;
  return {
    edges: [
      { label: 'neck', curve: curve([0, neckDepth], [neckWidth * 0.6, 0], [0, neckDepth * 0.55], [neckWidth, 0]) },
      { label: 'shoulder', curve: straight([neckWidth, 0], [shoulderX, shoulderDrop]) },
      { label: 'armhole', curve: curve([shoulderX, shoulderDrop], [-16, 70], [-62, 0], [width, armholeY]) },
      { label: 'side', curve: straight([width, armholeY], [waistX, waistY]) },
      { label: 'waist', curve: straight([waistX, waistY], [0, height]) },
      { label: 'centre', curve: straight([0, height], [0, neckDepth]) },
    ],
    darts: [
      {
        legs: [along(waistX, waistY, height, dartX + dartWidth), along(waistX, waistY, height, dartX)],
        apex: [dartX + dartWidth / 2, height * 0.62],
      },
    ],
  };
}

/** Point of the slanted waist at an x. */
function along(waistX: number, waistY: number, height: number, x: number): Point {
  return [x, height + ((waistY - height) * x) / waistX];
}

function skirt(r: Random): Drafted {
  const top = r.between(190, 260);
  const bottom = top + r.between(40, 110);
  const height = r.between(420, 560);
  const rise = r.between(5, 16);
  return {
    edges: [
      { label: 'waist', curve: curve([0, rise], [top * 0.4, 0], [-top * 0.3, rise * 0.6], [top, 0]) },
      { label: 'side', curve: curve([top, 0], [18, height * 0.2], [-4, -height * 0.4], [bottom, height - 14]) },
      { label: 'hem', curve: curve([bottom, height - 14], [-bottom * 0.3, 12], [bottom * 0.3, 0], [0, height]) },
      { label: 'centre', curve: straight([0, height], [0, rise]) },
    ],
    darts: [],
  };
}

function sleeve(r: Random): Drafted {
  const half = r.between(155, 185);
  const cap = r.between(110, 140);
  const length = cap + r.between(85, 220);
  const hem = half - r.between(8, 30);
  const hemRise = r.between(0, 5);
  return {
    edges: [
      {
        label: 'cap',
        curve: [...curve([-half, cap], [60, 0], [-70, 0], [0, 0]), [75, 0], [half - 52, cap], [half, cap]],
      },
      { label: 'underarm front', curve: straight([half, cap], [hem, length]) },
      { label: 'hem', curve: curve([hem, length], [-hem * 0.6, -hemRise], [hem * 0.6, hemRise], [-hem, length]) },
      { label: 'underarm back', curve: straight([-hem, length], [-half, cap]) },
    ],
    darts: [],
  };
}

function band(r: Random): Drafted {
  const length = r.between(240, 460);
  const width = r.between(50, 90);
  return {
    edges: [
      { label: 'top', curve: straight([0, 0], [length, 0]) },
      { label: 'right end', curve: straight([length, 0], [length, width]) },
      { label: 'bottom', curve: straight([length, width], [0, width]) },
      { label: 'left end', curve: straight([0, width], [0, 0]) },
    ],
    darts: [],
  };
}

function pocket(r: Random): Drafted {
  const height = r.between(230, 290);
  const width = r.between(140, 180);
  const opening = r.between(170, 190);
  return {
    edges: [
      { label: 'opening', curve: straight([0, opening], [0, 0]) },
      { label: 'top', curve: straight([0, 0], [width * 0.45, 0]) },
      {
        label: 'round',
        curve: [
          ...curve([width * 0.45, 0], [width * 0.4, 0], [0, -height * 0.25], [width, height * 0.55]),
          [width, height * 0.85],
          [width * 0.6, height],
          [width * 0.4, height],
        ],
      },
      { label: 'bottom', curve: curve([width * 0.4, height], [-width * 0.25, 0], [6, 30], [0, opening]) },
    ],
    darts: [],
  };
}

const DRAFTS: Readonly<Record<Family, (r: Random) => Drafted>> = { bodice, skirt, sleeve, band, pocket };

/**
 * What is drawn inside: a grainline beside the piece's name, a fold bracket instead of it (families with a straight centre),
 * or a grainline across which writing and a pair of lengthen and shorten lines run.
 */
export type InsideMarks = 'grainline' | 'fold' | 'crossed';

const BRACKET_INSET_MM = 15;
const LENGTHEN_APART_MM = 7;

/** A piece of a family, moved so that the middle of its box is the origin. */
export function randomPiece(family: Family, random: Random, id: string, inside: InsideMarks = 'grainline'): PieceSpec {
  const draft = DRAFTS[family](random);
  const { min, max } = boundsOf(draft.edges.flatMap((edge) => densePath(edge.curve)));
  const middle: Point = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2];
  const centred = (p: Point): Point => [p[0] - middle[0], p[1] - middle[1]];
  const edges = draft.edges.map((edge) => ({ label: edge.label, curve: edge.curve.map(centred) }));
  const [width, height] = [max[0] - min[0], max[1] - min[1]];
  const wide = width > height;
  const reach = Math.min(wide ? width : height, 400) * 0.3;
  const notches: PieceNotch[] = [];
  const shape = random.pick(['snip', 'triangle-out', 'triangle-in', 'tick'] as const);
  const ordered = edges.toSorted((a, b) => pathLength(b.curve) - pathLength(a.curve));
  for (const [i, edge] of ordered.slice(0, 3).entries()) {
    const atMm = pathLength(edge.curve) * random.between(0.25, 0.4);
    if (draft.darts.length > 0 && edge.label === 'waist') continue;
    notches.push({ edge: edge.label, atMm, count: i === 1 ? 2 : 1, shape });
  }
  const grainX = -20;
  const crossing: PieceSpec['lines'] = [0, LENGTHEN_APART_MM].map((down) => ({
    from: [-0.32 * width, 0.1 * reach + down],
    to: [0.3 * width, 0.1 * reach + down + 2],
    dashed: false,
  }));
  return {
    id,
    edges,
    notches,
    grainline:
      inside === 'fold'
        ? null
        : wide && family === 'band'
          ? { from: [-reach, 0], to: [reach, 0], heads: 2 }
          : { from: [grainX, reach * 0.9], to: [grainX, -reach * 0.9], heads: random.uniform() < 0.5 ? 2 : 1 },
    fold: inside === 'fold' ? bracketOn(edges) : null,
    darts: draft.darts.map((dart) => ({
      legs: [centred(dart.legs[0]), centred(dart.legs[1])] as const,
      apex: centred(dart.apex),
    })),
    holes: [],
    lines: inside === 'crossed' ? crossing : [],
    texts: textsOf(family, inside, id, grainX),
  };
}

function textsOf(family: Family, inside: InsideMarks, id: string, grainX: number): PieceSpec['texts'] {
  if (inside === 'crossed') return [{ at: [grainX - 22, -12], turnDeg: 0, sizeMm: 9, words: `${id} CUT 2` }];
  return family === 'band' ? [] : [{ at: [-5, -10], turnDeg: 0, sizeMm: 9, words: id }];
}

/** A bracket over the middle half of the centre, which runs up along the left side. */
function bracketOn(edges: PieceSpec['edges']): PieceSpec['fold'] {
  const centre = edges.find((edge) => edge.label === 'centre');
  if (centre === undefined) throw new Error('Only a piece with a centre can lie on the fold.');
  const [a, b] = [centre.curve[0]!, centre.curve.at(-1)!];
  const at = (t: number): Point => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  return { from: at(0.25), to: at(0.75), insideBy: [BRACKET_INSET_MM, 0] };
}
