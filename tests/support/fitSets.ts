// Garments drafted to finished measures for the rules of fit: tops, skirts, trousers and sleeves whose widths are exactly what
// a test says, on the seamline, half of the round unless said.
import type { Point } from '../../shared/base/points.ts';
import { polylinePath } from '../../shared/geometry/cubicPath.ts';
import type { Body, Edge, PatternSet, Piece, Shape } from '../../shared/pattern/model.ts';
import { changed, straight, withCurve } from './polygonPiece.ts';
import { cutOf, e, PAIR, piece, SINGLE, seam, setOf } from './sets.ts';

export function body(measuresMm: Body['measuresMm'], more: Partial<Body> = {}): Body {
  return { name: 'Ines', measuresMm, ...more };
}

export function forBody(set: PatternSet, ...bodies: readonly Body[]): PatternSet {
  return { ...set, bodies };
}

export function inCloth(set: PatternSet, cloth: PatternSet['preset']['cloth']): PatternSet {
  return { ...set, preset: { ...set.preset, cloth } };
}

export interface TopSpec {
  /** Half width at the underarm of front and back: a quarter of the bust each. */
  readonly quarterMm: number;
  readonly waistQuarterMm?: number;
  /** Half width at the narrowest place of the armhole. */
  readonly chestMm?: number;
  /** Half of the neck, straight from the middle to the shoulder. */
  readonly neck?: readonly [outMm: number, downMm: number];
  /** From the neck at the middle of the back to the waist. */
  readonly backLengthMm?: number;
  /** The middle of the back: on the fold, or open over so many millimetres from the neck. */
  readonly back?: 'fold' | { readonly openMm: number } | 'not said';
  readonly sigma?: number;
}

const UNDERARM_MM = 220;

/** A bodice half with square waist, an armhole that runs straight in to its narrowest place, and a slanting neck. */
function bodiceHalf(id: string, kind: Piece['kind'], spec: TopSpec): Piece {
  const { quarterMm, waistQuarterMm = quarterMm, chestMm = quarterMm - 50, neck = [70, 40], sigma = 0.1 } = spec;
  const [outMm, downMm] = neck;
  const waistMm = downMm + (spec.backLengthMm ?? 400 - downMm);
  const tip: Point = [chestMm + 10, 30];
  const underarm: Point = [quarterMm, UNDERARM_MM];
  const back = kind === 'front bodice' ? 'fold' : (spec.back ?? 'fold');
  const p = straight(
    id,
    kind,
    [[0, downMm], [outMm, 0], tip, underarm, [waistQuarterMm, waistMm], [0, waistMm]],
    [
      ['neck', 'seam'],
      ['shoulder', 'seam'],
      ['armhole', 'seam'],
      ['side', 'seam'],
      ['waist', 'seam'],
      [back === 'fold' ? 'fold' : 'centre back', back === 'fold' ? 'fold' : 'seam'],
    ],
    sigma,
  );
  const shaped = withCurve(p, 'armhole', polylinePath([tip, [chestMm, 120], underarm]));
  if (typeof back === 'string') return shaped;
  return changed(shaped, () => ({
    notches: [
      {
        id: 'zip',
        edge: 'centre back',
        atMm: waistMm - downMm - back.openMm,
        count: 1,
        purpose: 'opening-stop',
        mate: { kind: 'none' },
      },
    ],
  }));
}

export function top(spec: TopSpec): PatternSet {
  return setOf(
    [bodiceHalf('front', 'front bodice', { ...spec, back: 'fold' }), bodiceHalf('back', 'back bodice', spec)],
    [seam('shoulder', 'front.shoulder', '-back.shoulder'), seam('side', 'front.side', 'back.side')],
  );
}

/** The same top with its front divided by a princess seam `panelMm` from the middle, level with the underarm. */
export function princessTop(spec: TopSpec, panelMm: number, seams: 'sewn' | 'not planned' = 'sewn'): PatternSet {
  const { quarterMm, sigma = 0.1 } = spec;
  const panel = straight(
    'front panel',
    'front bodice',
    [
      [0, 40],
      [70, 0],
      [panelMm, 40],
      [panelMm, 400],
      [0, 400],
    ],
    [
      ['neck', 'seam'],
      ['shoulder', 'seam'],
      ['princess', 'seam'],
      ['waist', 'seam'],
      ['fold', 'fold'],
    ],
    sigma,
  );
  const sideMm = quarterMm - panelMm;
  const sidePanel = straight(
    'side front',
    'side panel',
    [
      [0, 40],
      [sideMm, UNDERARM_MM],
      [sideMm, 400],
      [0, 400],
    ],
    [
      ['armhole', 'seam'],
      ['side', 'seam'],
      ['waist', 'seam'],
      ['princess', 'seam'],
    ],
    sigma,
  );
  const back = bodiceHalf('back', 'back bodice', spec);
  const princess = seam('princess', 'front panel.princess', '-side front.princess');
  return setOf(
    [panel, sidePanel, back],
    [seam('side', 'side front.side', 'back.side'), ...(seams === 'sewn' ? [princess] : [])],
  );
}

/** Front, a panel under the arm, and back, all level and without a side seam: half widths. */
export function panelledTop(frontMm: number, panelMm: number, backMm: number): PatternSet {
  const half = (id: string, kind: Piece['kind'], mm: number) =>
    straight(
      id,
      kind,
      [
        [0, 40],
        [70, 0],
        [mm, 30],
        [mm, UNDERARM_MM],
        [mm, 400],
        [0, 400],
      ],
      [
        ['neck', 'seam'],
        ['shoulder', 'seam'],
        ['armhole', 'seam'],
        ['princess', 'seam'],
        ['waist', 'seam'],
        ['fold', 'fold'],
      ],
    );
  const under = straight(
    'panel',
    'side panel',
    [
      [0, UNDERARM_MM],
      [panelMm, UNDERARM_MM],
      [panelMm, 400],
      [0, 400],
    ],
    [
      ['armhole', 'seam'],
      ['princess back', 'seam'],
      ['waist', 'seam'],
      ['princess front', 'seam'],
    ],
  );
  return setOf(
    [half('front', 'front bodice', frontMm), under, half('back', 'back bodice', backMm)],
    [
      seam('front princess', 'front.princess', '-panel.princess front'),
      seam('back princess', 'back.princess', 'panel.princess back'),
    ],
  );
}

export interface SkirtSpec {
  readonly waistQuarterMm: number;
  readonly hipQuarterMm: number;
  readonly lengthMm?: number;
  /** A dart of this width at the waist of each piece, closed by sewing; it ends above the hip. */
  readonly dartMm?: number;
  readonly back?: 'fold' | { readonly openMm: number } | 'not said';
  readonly sigma?: number;
}

/** A skirt whose sides reach the full width at the hip, 178 down the side, and fall straight from there. */
export function skirt(spec: SkirtSpec): PatternSet {
  const { waistQuarterMm, hipQuarterMm, lengthMm = 600, dartMm = 0, sigma = 0.1 } = spec;
  const waistMm = waistQuarterMm + dartMm;
  const dropMm = Math.sqrt(178 ** 2 - (hipQuarterMm - waistMm) ** 2);
  const half = (id: string, kind: Piece['kind'], middle: NonNullable<SkirtSpec['back']>): Piece => {
    const p = straight(
      id,
      kind,
      [
        [0, 0],
        [waistMm, 0],
        [hipQuarterMm, lengthMm],
        [0, lengthMm],
      ],
      [
        ['waist', 'seam'],
        ['side', 'seam'],
        ['hem', 'hem'],
        [middle === 'fold' ? 'fold' : 'centre back', middle === 'fold' ? 'fold' : 'seam'],
      ],
      sigma,
    );
    const side = polylinePath([
      [waistMm, 0],
      [hipQuarterMm, dropMm],
      [hipQuarterMm, lengthMm],
    ]);
    const shaped = withCurve(p, 'side', side);
    return changed(shaped, () => ({
      darts:
        dartMm === 0
          ? []
          : [
              {
                id: 'd1',
                edge: 'waist',
                legs: [
                  [60, 0],
                  [60 + dartMm, 0],
                ],
                apex: [60 + dartMm / 2, 110],
                foldTo: null,
              },
            ],
      notches:
        typeof middle === 'string'
          ? []
          : [
              {
                id: 'zip',
                edge: 'centre back',
                atMm: lengthMm - middle.openMm,
                count: 1,
                purpose: 'opening-stop',
                mate: { kind: 'none' },
              },
            ],
    }));
  };
  return setOf(
    [half('front', 'front skirt', 'fold'), half('back', 'back skirt', spec.back ?? 'fold')],
    [seam('side', 'front.side', 'back.side')],
  );
}

/** A skirt with a waistband traced whole, joined as said. */
export function bandedSkirt(spec: SkirtSpec, bandMm: number, join: 'eased' | 'elasticated', overlapMm = 0): PatternSet {
  const set = skirt(spec);
  const band = piece('band', 'waistband', { bottom: [e('edge', bandMm)] }, { cut: SINGLE });
  return {
    ...set,
    pieces: [...set.pieces, band],
    seams: [...set.seams, seam('waist', 'front.waist + back.waist', 'band.edge', { join, overlapMm })],
  };
}

export interface TrouserSpec {
  /** From the side to the crotch point of front and back: together the thigh. */
  readonly thighMm: readonly [front: number, back: number];
  readonly hemMm: readonly [front: number, back: number];
  readonly crotchMm?: number;
  readonly inseamMm?: number;
  readonly sigma?: number;
  readonly inseamName?: string;
}

/** Straight legs: the side hangs down, the rise slants from the waist to the crotch, the inseam falls straight. */
export function trousers({
  thighMm,
  hemMm,
  crotchMm = 280,
  inseamMm = 760,
  sigma = 0.1,
  inseamName = 'inseam',
}: TrouserSpec): PatternSet {
  const leg = (id: string, kind: Piece['kind'], index: 0 | 1): Piece => {
    const at = thighMm[index];
    const lean = at - hemMm[index];
    const drop = Math.sqrt(inseamMm ** 2 - lean ** 2);
    return straight(
      id,
      kind,
      [
        [0, 0],
        [at - 60, 0],
        [at, crotchMm],
        [hemMm[index], crotchMm + drop],
        [0, crotchMm + drop],
      ],
      [
        ['waist', 'seam'],
        ['rise', 'seam'],
        [inseamName, 'seam'],
        ['hem', 'hem'],
        ['side', 'seam'],
      ],
      sigma,
    );
  };
  const pieces = [leg('front leg', 'trouser front', 0), leg('back leg', 'trouser back', 1)];
  return setOf(
    pieces.map((p) => upright({ ...p, cut: PAIR })),
    [
      seam('side', 'front leg.side', 'back leg.side'),
      seam('inseam', `front leg.${inseamName}`, `back leg.${inseamName}`),
    ],
  );
}

export interface SleeveSpec {
  readonly bicepsMm: number;
  readonly hemMm: number;
  readonly lengthMm?: number;
  readonly sigma?: number;
  readonly capName?: string;
  /** A cuff sewn onto the hem, with what laps over. */
  readonly cuff?: { readonly mm: number; readonly overlapMm: number; readonly join?: 'even' | 'elasticated' };
  readonly underarm?: 'sewn' | 'free';
}

const CAP_MM = 140;

/** A sleeve with a cap of straight lines, its top on the middle. */
export function sleeve({
  bicepsMm,
  hemMm,
  lengthMm = 600,
  sigma = 0.1,
  capName = 'cap',
  cuff,
  underarm = 'sewn',
}: SleeveSpec): PatternSet {
  const [b, h] = [bicepsMm / 2, hemMm / 2];
  const p = straight(
    'sleeve',
    'sleeve',
    [
      [-b, CAP_MM],
      [b, CAP_MM],
      [h, lengthMm],
      [-h, lengthMm],
    ],
    [
      [capName, 'seam'],
      ['underarm front', 'seam'],
      ['hem', 'hem'],
      ['underarm back', 'seam'],
    ],
    sigma,
  );
  const capped = withCurve(
    p,
    capName,
    polylinePath([
      [-b, CAP_MM],
      [0, 0],
      [b, CAP_MM],
    ]),
  );
  const shaped = upright({ ...capped, cut: PAIR });
  const band = piece('cuff', 'cuff', { top: [e('edge', cuff?.mm ?? 1)] }, { cut: [cutOf({ count: 2 })] });
  const under = seam('underarm', 'sleeve.underarm front', '-sleeve.underarm back');
  return setOf(cuff === undefined ? [shaped] : [shaped, band], [
    ...(underarm === 'sewn' ? [under] : []),
    ...(cuff === undefined
      ? []
      : [seam('cuff', '-sleeve.hem', 'cuff.edge', { overlapMm: cuff.overlapMm, join: cuff.join ?? 'even' })]),
  ]);
}

/** The arrow straight down. */
function upright(p: Piece): Piece {
  return changed(p, () => ({ grainline: { from: [20, 160], to: [20, 260], heads: 2 } }));
}

/** Without a grainline. */
export function withoutGrain(set: PatternSet): PatternSet {
  return withShapes(set, (shape) => ({ ...shape, grainline: null }));
}

/** The same set traced in further sizes, each as its own set has it. */
function withShapes(set: PatternSet, change: (shape: Shape) => Shape): PatternSet {
  return {
    ...set,
    pieces: set.pieces.map((p) => ({
      ...p,
      shapes: Object.fromEntries(Object.entries(p.shapes).map(([size, shape]) => [size, change(shape)])),
    })),
  };
}

export function withEdges(set: PatternSet, id: string, change: Partial<Edge>): PatternSet {
  return withShapes(set, (shape) => ({
    ...shape,
    ring: shape.ring.map((edge) => (edge.id === id ? { ...edge, ...change } : edge)),
  }));
}

/** A panel cut on the fold, or once with an arrow, `widthMm` wide without allowances of 15. */
export function panel(
  widthMm: number,
  how: 'fold' | 'single' | 'cross' | 'no grain',
  fabricMm: number | null,
  sigma = 0.1,
): PatternSet {
  const left = how === 'fold' ? e('fold', 600) : e('left', 600);
  const p = piece(
    'panel',
    'front skirt',
    { top: [e('waist', widthMm)], right: [e('side', 600)], bottom: [e('hem', widthMm)], left: [left] },
    { pointSigma: sigma, cut: how === 'fold' ? [cutOf({ onFold: true })] : SINGLE },
  );
  const shape = p.shapes.M!;
  const grainline =
    how === 'no grain' || how === 'fold'
      ? null
      : how === 'cross'
        ? { from: [50, 300] as const, to: [150, 300] as const, heads: 2 as const }
        : shape.grainline;
  const shaped = { ...p, shapes: { M: { ...shape, grainline } } };
  return setOf([shaped], [], fabricMm === null ? {} : { fabric: { widthMm: fabricMm } });
}
