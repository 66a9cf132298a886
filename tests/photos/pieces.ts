// Pattern pieces for the simulated table: cut from paper or drawn on a sheet, with their notches, darts, arrows and writing,
// and the truth that a tracing is measured against. A piece's own frame is millimetres, y down; edges run clockwise.
import { type Point, type TablePointMm, tableMm } from '../../shared/base/points.ts';
import { alongPolyline, type CubicPath, densePath, pathLength, polylineLength } from './cubics.ts';
import { writing } from './handwriting.ts';
import { tableFromItem } from './layers.ts';
import { seededRandom } from './random.ts';
import type { Curl, Ink, PaperItem, PaperLook, Placement } from './scene.ts';

export type NotchShape = 'snip' | 'triangle-out' | 'triangle-in' | 'tick';

export interface PieceNotch {
  readonly edge: string;
  /** Along the edge as drawn here, from its start. */
  readonly atMm: number;
  readonly count: 1 | 2 | 3;
  readonly shape: NotchShape;
  /** Absent = the usual size of its shape. */
  readonly size?: NotchSize;
}

export interface NotchSize {
  /** Between neighbours of a group. */
  readonly spacingMm: number;
  /** Across the edge, and along it at the mouth. */
  readonly depthMm: number;
  readonly widthMm: number;
}

/** A drill hole punched through the paper, or a spot drawn instead. */
export interface PieceDrill {
  readonly at: Point;
  readonly kind: 'punched' | 'circle' | 'cross' | 'dot';
  /** Half the arm of a cross. */
  readonly radiusMm: number;
}

export interface PieceDart {
  readonly legs: readonly [Point, Point];
  readonly apex: Point;
  /** Absent = solid, straight, nothing at the apex. */
  readonly style?: {
    readonly dashMm: readonly number[];
    /** How far the middle of each leg bends outward; negative = inward. */
    readonly bulgeMm: number;
    readonly apexMark: 'none' | 'dot' | 'cross';
    readonly widthMm: number;
  };
}

export interface PieceSpec {
  readonly id: string;
  readonly edges: readonly { readonly label: string; readonly curve: CubicPath }[];
  readonly notches: readonly PieceNotch[];
  readonly grainline: {
    readonly from: Point;
    readonly to: Point;
    readonly heads: 1 | 2;
    readonly openHeads?: boolean;
  } | null;
  /** Fold bracket: a line beside the fold with its ends bent toward it. */
  readonly fold: { readonly from: Point; readonly to: Point; readonly insideBy: Point } | null;
  readonly darts: readonly PieceDart[];
  readonly holes: readonly Point[];
  readonly drills?: readonly PieceDrill[];
  /** One line, or two side by side; `apartMm` 0 = one. */
  readonly lengthens?: readonly { readonly from: Point; readonly to: Point; readonly apartMm: number }[];
  /** Pairs of points: lengthen/shorten lines, pleat lines. */
  readonly lines: readonly { readonly from: Point; readonly to: Point; readonly dashed: boolean }[];
  readonly texts: readonly {
    readonly at: Point;
    readonly turnDeg: number;
    readonly sizeMm: number;
    readonly words: string;
  }[];
}

export interface PieceTruth {
  readonly id: string;
  readonly line: 'paper-edge' | 'drawn-line';
  /** Dense closed ring without notches, table millimetres. */
  readonly outline: readonly TablePointMm[];
  readonly edges: readonly {
    readonly label: string;
    readonly from: TablePointMm;
    readonly to: TablePointMm;
    readonly lengthMm: number;
  }[];
  readonly notches: readonly { readonly at: TablePointMm; readonly count: 1 | 2 | 3; readonly shape: NotchShape }[];
  readonly grainline: { readonly from: TablePointMm; readonly to: TablePointMm; readonly heads: 1 | 2 } | null;
  readonly fold: { readonly from: TablePointMm; readonly to: TablePointMm } | null;
  readonly darts: readonly { readonly legs: readonly [TablePointMm, TablePointMm]; readonly apex: TablePointMm }[];
  readonly holes: readonly TablePointMm[];
  /** Middle lines of lengthen and shorten lines. */
  readonly lengthens: readonly { readonly from: TablePointMm; readonly to: TablePointMm }[];
}

export interface CutStyle {
  readonly look: PaperLook;
  readonly thicknessMm: number;
  readonly curl: Curl | null;
  readonly inkColour: string;
  readonly inkWidthMm: number;
  readonly seed: number;
}

export interface DrawnStyle {
  readonly colour: string;
  readonly widthMm: number;
  readonly dashMm: readonly number[];
  /** Standard deviation of the hand's slow wander across the line. */
  readonly wobbleMm: number;
  readonly seed: number;
}

const USUAL_SIZES: Readonly<Record<NotchShape, Pick<NotchSize, 'depthMm' | 'widthMm'>>> = {
  snip: { depthMm: 5, widthMm: 0.8 },
  'triangle-in': { depthMm: 5, widthMm: 7 },
  'triangle-out': { depthMm: 5, widthMm: 7 },
  tick: { depthMm: 6, widthMm: 0 },
};
const NOTCH_SPACING_MM = 10;

/** Places of the single notches of a group, centred on the group's place. */
function notchOffsets({ count, size }: PieceNotch): number[] {
  const spacingMm = size?.spacingMm ?? NOTCH_SPACING_MM;
  return Array.from({ length: count }, (_, i) => (i - (count - 1) / 2) * spacingMm);
}

/** Inward normal of a clockwise ring seen with y down. */
function inward(tangent: Point): Point {
  return [-tangent[1], tangent[0]];
}

function offset(at: Point, direction: Point, byMm: number): Point {
  return [at[0] + direction[0] * byMm, at[1] + direction[1] * byMm];
}

interface NotchCuts {
  readonly out: { readonly edge: string; readonly atMm: number; readonly baseMm: number; readonly heightMm: number }[];
  readonly away: Point[][];
  readonly ticks: Point[][];
}

function cutNotches(spec: PieceSpec, dense: ReadonlyMap<string, readonly Point[]>): NotchCuts {
  const result: NotchCuts = { out: [], away: [], ticks: [] };
  for (const notch of spec.notches)
    for (const shift of notchOffsets(notch)) {
      const place = alongPolyline(dense.get(notch.edge)!, notch.atMm + shift);
      const inside = inward(place.tangent);
      const { depthMm, widthMm } = notch.size ?? USUAL_SIZES[notch.shape];
      switch (notch.shape) {
        case 'snip':
          // a pair of scissors opens the slit at the edge
          result.away.push([
            offset(offset(place.at, place.tangent, -widthMm / 2), inside, -1),
            offset(offset(place.at, place.tangent, widthMm / 2), inside, -1),
            offset(place.at, inside, depthMm),
          ]);
          break;
        case 'triangle-in':
          result.away.push([
            offset(offset(place.at, place.tangent, -widthMm * 0.6), inside, -1),
            offset(offset(place.at, place.tangent, widthMm * 0.6), inside, -1),
            offset(place.at, inside, depthMm),
          ]);
          break;
        case 'triangle-out':
          result.out.push({ edge: notch.edge, atMm: notch.atMm + shift, baseMm: widthMm, heightMm: depthMm });
          break;
        case 'tick':
          result.ticks.push([offset(place.at, inside, 0.2), offset(place.at, inside, depthMm)]);
          break;
      }
    }
  return result;
}

/** The ring with outward triangles put in. */
function ringWithTriangles(
  spec: PieceSpec,
  dense: ReadonlyMap<string, readonly Point[]>,
  out: NotchCuts['out'],
): Point[] {
  const ring: Point[] = [];
  for (const edge of spec.edges) {
    const points = dense.get(edge.label)!;
    const triangles = out.filter((t) => t.edge === edge.label).toSorted((a, b) => a.atMm - b.atMm);
    let walked = 0;
    let next = 0;
    for (let i = 0; i < points.length - 1; i++) {
      const [a, b] = [points[i]!, points[i + 1]!];
      const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const covered = triangles.some((t) => walked > t.atMm - t.baseMm / 2 && walked < t.atMm + t.baseMm / 2);
      if (!covered) ring.push(a);
      while (next < triangles.length && triangles[next]!.atMm - triangles[next]!.baseMm / 2 <= walked + step) {
        const { atMm, baseMm, heightMm } = triangles[next]!;
        const tip = alongPolyline(points, atMm);
        ring.push(
          alongPolyline(points, atMm - baseMm / 2).at,
          offset(tip.at, inward(tip.tangent), -heightMm),
          alongPolyline(points, atMm + baseMm / 2).at,
        );
        next++;
      }
      walked += step;
    }
  }
  return ring;
}

const ARROW_HEAD_MM = 9;

/** The two slanted strokes of an open head. */
function openHead(tip: Point, from: Point): Point[][] {
  const length = Math.hypot(tip[0] - from[0], tip[1] - from[1]);
  const along: Point = [(tip[0] - from[0]) / length, (tip[1] - from[1]) / length];
  const back = offset(tip, along, -ARROW_HEAD_MM);
  return [0.45, -0.45].map((side) => [tip, offset(back, inward(along), ARROW_HEAD_MM * side)]);
}

function arrowHead(tip: Point, from: Point, colour: string): Ink {
  const length = Math.hypot(tip[0] - from[0], tip[1] - from[1]);
  const along: Point = [(tip[0] - from[0]) / length, (tip[1] - from[1]) / length];
  const back = offset(tip, along, -ARROW_HEAD_MM);
  return {
    kind: 'fill',
    rings: [
      [tip, offset(back, inward(along), ARROW_HEAD_MM * 0.35), offset(back, inward(along), -ARROW_HEAD_MM * 0.35)],
    ],
    colour,
  };
}

/** Everything inside the outline, drawn with a pen. */
function insideInk(spec: PieceSpec, colour: string, widthMm: number, seed: number): Ink[] {
  const ink: Ink[] = [];
  const pen = (line: readonly Point[], dashMm: readonly number[] = [], wideMm = widthMm): void => {
    ink.push({ kind: 'stroke', line, closed: false, widthMm: wideMm, colour, dashMm });
  };
  if (spec.grainline) {
    const { from, to, heads, openHeads } = spec.grainline;
    pen([from, to]);
    const ends: [Point, Point][] =
      heads === 2
        ? [
            [to, from],
            [from, to],
          ]
        : [[to, from]];
    for (const [tip, tail] of ends) {
      if (openHeads) for (const stroke of openHead(tip, tail)) pen(stroke);
      else ink.push(arrowHead(tip, tail, colour));
    }
  }
  if (spec.fold) {
    const { from, to, insideBy } = spec.fold;
    const inFrom: Point = [from[0] + insideBy[0], from[1] + insideBy[1]];
    const inTo: Point = [to[0] + insideBy[0], to[1] + insideBy[1]];
    pen([inFrom, inTo]);
    pen([inFrom, from]);
    pen([inTo, to]);
    ink.push(arrowHead(from, inFrom, colour), arrowHead(to, inTo, colour));
  }
  for (const dart of spec.darts) drawDart(dart, pen, ink, colour);
  for (const { from, to, apartMm } of spec.lengthens ?? []) {
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const across: Point = [-(to[1] - from[1]) / length, (to[0] - from[0]) / length];
    for (const by of apartMm === 0 ? [0] : [-apartMm / 2, apartMm / 2])
      pen([offset(from, across, by), offset(to, across, by)]);
  }
  for (const drill of spec.drills ?? []) drawDrill(drill, pen, ink, colour);
  for (const line of spec.lines) pen([line.from, line.to], line.dashed ? [6, 4] : []);
  for (const text of spec.texts) ink.push(...writing(text.words, text.at, text.sizeMm, text.turnDeg, colour, seed));
  return ink;
}

type Pen = (line: readonly Point[], dashMm?: readonly number[], wideMm?: number) => void;

const APEX_MARK_MM = 1.2;

function drawDart({ legs, apex, style }: PieceDart, pen: Pen, ink: Ink[], colour: string): void {
  if (style === undefined) {
    pen([legs[0], apex, legs[1]]);
    return;
  }
  const middle: Point = [(legs[0][0] + legs[1][0]) / 2, (legs[0][1] + legs[1][1]) / 2];
  for (const foot of legs) {
    const aside = Math.hypot(foot[0] - middle[0], foot[1] - middle[1]);
    const out: Point = [(foot[0] - middle[0]) / aside, (foot[1] - middle[1]) / aside];
    const line = Array.from({ length: LEG_POINTS + 1 }, (_, i): Point => {
      const t = i / LEG_POINTS;
      const at: Point = [foot[0] + (apex[0] - foot[0]) * t, foot[1] + (apex[1] - foot[1]) * t];
      return offset(at, out, 4 * t * (1 - t) * style.bulgeMm);
    });
    pen(line, style.dashMm, style.widthMm);
  }
  if (style.apexMark === 'dot') ink.push({ kind: 'fill', rings: [circle(apex, APEX_MARK_MM)], colour });
  if (style.apexMark === 'cross') drawCross(apex, 2 * APEX_MARK_MM, pen);
}

const LEG_POINTS = 40;

function drawCross([x, y]: Point, armMm: number, pen: Pen): void {
  pen([
    [x - armMm, y - armMm],
    [x + armMm, y + armMm],
  ]);
  pen([
    [x - armMm, y + armMm],
    [x + armMm, y - armMm],
  ]);
}

function drawDrill({ at, kind, radiusMm }: PieceDrill, pen: Pen, ink: Ink[], colour: string): void {
  if (kind === 'circle') {
    const ring = circle(at, radiusMm);
    pen([...ring, ring[0]!]);
  }
  if (kind === 'cross') drawCross(at, radiusMm, pen);
  if (kind === 'dot') ink.push({ kind: 'fill', rings: [circle(at, radiusMm)], colour });
}

const HOLE_RADIUS_MM = 2;

function circle(centre: Point, radiusMm: number): Point[] {
  return Array.from({ length: 48 }, (_, i) => [
    centre[0] + radiusMm * Math.cos((2 * Math.PI * i) / 48),
    centre[1] + radiusMm * Math.sin((2 * Math.PI * i) / 48),
  ]);
}

function truthOf(spec: PieceSpec, line: PieceTruth['line'], carrier: PaperItem): PieceTruth {
  const put = (p: Point): TablePointMm => tableMm(...tableFromItem(carrier, p[0], p[1]));
  const dense = new Map(spec.edges.map((edge) => [edge.label, densePath(edge.curve)]));
  return {
    id: spec.id,
    line,
    outline: spec.edges.flatMap((edge) => dense.get(edge.label)!.slice(0, -1).map(put)),
    edges: spec.edges.map((edge) => ({
      label: edge.label,
      from: put(edge.curve[0]!),
      to: put(edge.curve.at(-1)!),
      lengthMm: pathLength(edge.curve),
    })),
    notches: spec.notches.map((notch) => ({
      at: put(alongPolyline(dense.get(notch.edge)!, notch.atMm).at),
      count: notch.count,
      shape: notch.shape,
    })),
    grainline: spec.grainline && {
      from: put(spec.grainline.from),
      to: put(spec.grainline.to),
      heads: spec.grainline.heads,
    },
    fold: spec.fold && { from: put(spec.fold.from), to: put(spec.fold.to) },
    darts: spec.darts.map((dart) => ({ legs: [put(dart.legs[0]), put(dart.legs[1])] as const, apex: put(dart.apex) })),
    holes: [...spec.holes, ...(spec.drills ?? []).map(({ at }) => at)].map(put),
    lengthens: (spec.lengthens ?? []).map(({ from, to }) => ({ from: put(from), to: put(to) })),
  };
}

/** A piece cut out of paper. */
export function cutPiece(
  spec: PieceSpec,
  placement: Placement,
  style: CutStyle,
): { item: PaperItem; truth: PieceTruth } {
  const dense = new Map(spec.edges.map((edge) => [edge.label, densePath(edge.curve)]));
  const cuts = cutNotches(spec, dense);
  const item: PaperItem = {
    id: spec.id,
    placement,
    outline: ringWithTriangles(spec, dense, cuts.out),
    cutAway: [
      ...cuts.away,
      ...spec.holes.map((hole) => circle(hole, HOLE_RADIUS_MM)),
      ...(spec.drills ?? []).flatMap(({ at, kind, radiusMm }) => (kind === 'punched' ? [circle(at, radiusMm)] : [])),
    ],
    look: style.look,
    thicknessMm: style.thicknessMm,
    baseMm: 0,
    curl: style.curl,
    ink: [
      ...cuts.ticks.map(
        (line): Ink => ({
          kind: 'stroke',
          line,
          closed: false,
          widthMm: style.inkWidthMm,
          colour: style.inkColour,
          dashMm: [],
        }),
      ),
      ...insideInk(spec, style.inkColour, style.inkWidthMm, style.seed),
    ],
    printScale: [1, 1],
  };
  return { item, truth: truthOf(spec, 'paper-edge', item) };
}

/** Slow wander across the line: a few waves per edge, fading at the corners so that they stay where they are. */
function wander(points: readonly Point[], wobbleMm: number, seed: number): Point[] {
  if (wobbleMm === 0) return [...points];
  const random = seededRandom(seed);
  const waves = Array.from({ length: 4 }, () => ({
    perMm: random.between(1 / 220, 1 / 60),
    phase: random.between(0, 6.3),
    size: random.normal() * wobbleMm,
  }));
  let walked = 0;
  const total = polylineLength(points);
  return points.map((p, i) => {
    if (i > 0) walked += Math.hypot(p[0] - points[i - 1]![0], p[1] - points[i - 1]![1]);
    const [a, b] = [points[Math.max(0, i - 1)]!, points[Math.min(points.length - 1, i + 1)]!];
    const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const fade = Math.min(1, walked / 15, (total - walked) / 15);
    const by =
      waves.reduce((sum, wave) => sum + wave.size * Math.sin(2 * Math.PI * wave.perMm * walked + wave.phase), 0) / 2;
    return offset(p, [-(b[1] - a[1]) / step, (b[0] - a[0]) / step], by * fade);
  });
}

/** A straight edge as many points, so that it can wander. */
function refine(points: readonly Point[]): Point[] {
  return points.flatMap((p, i) => {
    const next = points[i + 1];
    if (next === undefined) return [p];
    const parts = Math.max(1, Math.ceil(Math.hypot(next[0] - p[0], next[1] - p[1]) / 2));
    return Array.from(
      { length: parts },
      (_, k): Point => [p[0] + ((next[0] - p[0]) * k) / parts, p[1] + ((next[1] - p[1]) * k) / parts],
    );
  });
}

/** Moves a piece within the frame of the sheet it is drawn on. */
export function moveSpec(spec: PieceSpec, placement: Placement): PieceSpec {
  const turn = (placement.turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const put = (p: Point): Point => [placement.xMm + c * p[0] - s * p[1], placement.yMm + s * p[0] + c * p[1]];
  const swing = (v: Point): Point => [c * v[0] - s * v[1], s * v[0] + c * v[1]];
  return {
    ...spec,
    edges: spec.edges.map((edge) => ({ ...edge, curve: edge.curve.map(put) })),
    grainline: spec.grainline && { ...spec.grainline, from: put(spec.grainline.from), to: put(spec.grainline.to) },
    fold: spec.fold && { from: put(spec.fold.from), to: put(spec.fold.to), insideBy: swing(spec.fold.insideBy) },
    darts: spec.darts.map((dart) => ({ legs: [put(dart.legs[0]), put(dart.legs[1])] as const, apex: put(dart.apex) })),
    holes: spec.holes.map(put),
    lines: spec.lines.map((line) => ({ ...line, from: put(line.from), to: put(line.to) })),
    texts: spec.texts.map((text) => ({ ...text, at: put(text.at), turnDeg: text.turnDeg + placement.turnDeg })),
  };
}

/**
 * Pieces drawn with a marker on a big sheet; the specs lie in the sheet's frame. The truth is the line as drawn, wobble
 * included, because that is what the photo shows. Snips and triangles cannot be cut here and are drawn as ticks.
 */
export function drawnSheet(
  sheet: PaperItem,
  specs: readonly PieceSpec[],
  style: DrawnStyle,
): { item: PaperItem; truths: PieceTruth[] } {
  const ink: Ink[] = [];
  const truths: PieceTruth[] = [];
  specs.forEach((given, index) => {
    const spec: PieceSpec = { ...given, notches: given.notches.map((notch) => ({ ...notch, shape: 'tick' })) };
    const drawn = new Map(
      spec.edges.map((edge, i) => [
        edge.label,
        wander(refine(densePath(edge.curve)), style.wobbleMm, style.seed + 31 * i + 1009 * index),
      ]),
    );
    const outline = spec.edges.flatMap((edge) => drawn.get(edge.label)!.slice(0, -1));
    ink.push({
      kind: 'stroke',
      line: outline,
      closed: true,
      widthMm: style.widthMm,
      colour: style.colour,
      dashMm: style.dashMm,
    });
    for (const line of cutNotches(spec, drawn).ticks)
      ink.push({ kind: 'stroke', line, closed: false, widthMm: style.widthMm, colour: style.colour, dashMm: [] });
    for (const hole of spec.holes)
      ink.push({
        kind: 'stroke',
        line: circle(hole, HOLE_RADIUS_MM),
        closed: true,
        widthMm: 0.6,
        colour: style.colour,
        dashMm: [],
      });
    ink.push(...insideInk(spec, style.colour, Math.min(style.widthMm, 0.8), style.seed + index));
    const put = (p: Point): TablePointMm => tableMm(...tableFromItem(sheet, p[0], p[1]));
    const truth = truthOf(spec, 'drawn-line', sheet);
    truths.push({
      ...truth,
      outline: outline.map(put),
      edges: truth.edges.map((edge) => ({ ...edge, lengthMm: polylineLength(drawn.get(edge.label)!) })),
      notches: spec.notches.map((notch) => ({
        at: put(alongPolyline(drawn.get(notch.edge)!, notch.atMm).at),
        count: notch.count,
        shape: notch.shape,
      })),
    });
  });
  return { item: { ...sheet, ink: [...sheet.ink, ...ink] }, truths };
}
