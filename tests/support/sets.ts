// A small language for pattern sets with exact lengths: rectangles whose sides are cut into named edges (so that every
// corner is square and every length is what it says), and rings of arcs where a curve matters.
import type { Point } from '../../shared/base/points.ts';
import type {
  CutEntry,
  Dart,
  Edge,
  EdgeRole,
  EdgeSpan,
  ExpectedPiece,
  Notch,
  PatternSet,
  Piece,
  PieceKind,
  Seam,
  Shape,
} from '../../shared/pattern/model.ts';

export interface NotchSpec {
  readonly at: number;
  readonly count?: 1 | 2 | 3;
  readonly purpose?: Notch['purpose'];
  readonly mate?: Notch['mate'];
}

export interface EdgeSpec {
  readonly label: string;
  readonly mm: number;
  readonly id: string;
  readonly role: EdgeRole;
  readonly allowance: number | null;
  readonly assumed: boolean;
  readonly notches: readonly NotchSpec[];
  /** Mouths on the seamline by their start and width; darts go 100 mm deep. */
  readonly pleats: readonly (readonly [fromMm: number, widthMm: number])[];
  readonly darts: readonly (readonly [fromMm: number, widthMm: number])[];
}

export function e(label: string, mm: number, more: Partial<EdgeSpec> = {}): EdgeSpec {
  const role: EdgeRole = label === 'fold' ? 'fold' : label === 'hem' ? 'hem' : 'seam';
  return { label, mm, id: label, role, allowance: null, assumed: false, notches: [], pleats: [], darts: [], ...more };
}

export interface Sides {
  readonly top?: readonly EdgeSpec[];
  readonly right?: readonly EdgeSpec[];
  /** In the order of the ring: from right to left. */
  readonly bottom?: readonly EdgeSpec[];
  /** In the order of the ring: from bottom to top. */
  readonly left?: readonly EdgeSpec[];
}

export interface ShapeOptions {
  readonly tracedLine?: Shape['tracedLine'];
  readonly allowance?: number;
  readonly pointSigma?: number;
  readonly scaleSources?: Shape['accuracy']['scaleSources'];
  readonly grain?: 'arrow' | 'none';
}

export interface PieceOptions extends ShapeOptions {
  readonly name?: string;
  readonly cut?: readonly CutEntry[];
}

export const PAIR: readonly CutEntry[] = [cutOf({ count: 2, mirrored: true })];
export const ON_FOLD: readonly CutEntry[] = [cutOf({ count: 1, onFold: true })];
export const SINGLE: readonly CutEntry[] = [cutOf({ count: 1 })];

export function cutOf(entry: Partial<CutEntry>): CutEntry {
  return { material: 'shell', count: 1, onFold: false, mirrored: false, allowanceMm: null, ...entry };
}

const DART_DEPTH_MM = 100;
const CHAIN_START: Point = [0, 0];

/** A rectangle on the seamline; sides that are too short are filled up with unnamed openings. */
export function rectangle(sides: Sides, options: ShapeOptions = {}): Shape {
  const { allowance = 15, pointSigma = 0.1, tracedLine = 'seam', grain = 'arrow' } = options;
  const width = Math.max(sum(sides.top), sum(sides.bottom), leastMm(sides.left, sides.right));
  const height = Math.max(sum(sides.left), sum(sides.right), leastMm(sides.top, sides.bottom));
  const runs = [
    { specs: filled(sides.top, width, 'top'), direction: [1, 0] as Point },
    { specs: filled(sides.right, height, 'right'), direction: [0, 1] as Point },
    { specs: filled(sides.bottom, width, 'bottom'), direction: [-1, 0] as Point },
    { specs: filled(sides.left, height, 'left'), direction: [0, -1] as Point },
  ];
  const allowanceOf = (spec: EdgeSpec) => (spec.role === 'fold' ? 0 : (spec.allowance ?? allowance));
  // The cutting line of a rectangle is the rectangle moved outward side by side; each side needs one allowance throughout.
  const out = runs.map(({ specs }) => (tracedLine === 'cutting' ? allowanceOf(specs[0]!) : 0));
  const ring: Edge[] = [];
  const notches: Notch[] = [];
  const darts: Dart[] = [];
  const pleats: Shape['pleats'][number][] = [];
  let [x, y] = CHAIN_START;
  runs.forEach(({ specs, direction }, side) => {
    const outward: Point = [direction[1], -direction[0]];
    const push = (p: Point, mm: number): Point => [p[0] + outward[0] * mm, p[1] + outward[1] * mm];
    const along = (p: Point, mm: number): Point => [p[0] + direction[0] * mm, p[1] + direction[1] * mm];
    specs.forEach((spec, i) => {
      const seamStart: Point = [x, y];
      const seamEnd = along(seamStart, spec.mm);
      const before = i === 0 ? out[(side + 3) % 4]! : 0;
      const after = i === specs.length - 1 ? out[(side + 1) % 4]! : 0;
      ring.push({
        id: spec.id,
        label: spec.label,
        role: spec.role,
        curve: line(push(along(seamStart, -before), out[side]!), push(along(seamEnd, after), out[side]!)),
        allowanceMm: allowanceOf(spec),
        allowanceAssumed: spec.assumed,
        sigmaMm: null,
      });
      spec.notches.forEach((n, k) => {
        notches.push({
          id: `${spec.id}-n${k + 1}`,
          edge: spec.id,
          atMm: n.at,
          count: n.count ?? 1,
          purpose: n.purpose ?? 'match',
          mate: n.mate ?? { kind: 'unknown' },
        });
      });
      spec.pleats.forEach(([fromMm, widthMm], k) => {
        pleats.push({ id: `${spec.id}-p${k + 1}`, edge: spec.id, fromMm, toMm: fromMm + widthMm });
      });
      spec.darts.forEach(([fromMm, widthMm], k) => {
        const apex = push(along(seamStart, fromMm + widthMm / 2), -DART_DEPTH_MM);
        const spread = out[side]! / DART_DEPTH_MM;
        const leg = (mm: number): Point => {
          const onSeam = along(seamStart, mm);
          return [onSeam[0] + (onSeam[0] - apex[0]) * spread, onSeam[1] + (onSeam[1] - apex[1]) * spread];
        };
        darts.push({
          id: `${spec.id}-d${k + 1}`,
          edge: spec.id,
          legs: [leg(fromMm), leg(fromMm + widthMm)],
          apex,
          foldTo: null,
        });
      });
      [x, y] = seamEnd;
    });
  });
  return {
    ring,
    tracedLine,
    notches,
    darts,
    pleats,
    grainline: grain === 'none' ? null : { from: [width / 2, height * 0.8], to: [width / 2, height * 0.2], heads: 2 },
    marks: [],
    accuracy: { scaleSources: options.scaleSources ?? [{ id: 'print:1', sigmaRatio: 4e-4 }], pointSigmaMm: pointSigma },
  };
}

export function piece(id: string, kind: PieceKind, sides: Sides, options: PieceOptions = {}): Piece {
  return pieceOf(id, kind, { M: rectangle(sides, options) }, options);
}

export function pieceOf(id: string, kind: PieceKind, shapes: Piece['shapes'], options: PieceOptions = {}): Piece {
  const hasFold = Object.values(shapes).some((shape) => shape.ring.some((edge) => edge.role === 'fold'));
  return {
    id,
    name: options.name ?? id,
    kind,
    cut: options.cut ?? (hasFold ? ON_FOLD : PAIR),
    grainIntent: 'straight',
    nap: 'none',
    shapes,
    origin: { source: 'drafted', detail: 'test' },
  };
}

export interface ArcSpec {
  readonly label: string;
  /** Length of the arc on the traced line. */
  readonly mm: number;
  /** Turn of the arc, radians. */
  readonly turnRad: number;
  /** Seen from inside the piece. */
  readonly bend: 'convex' | 'concave';
  readonly allowance: number;
  readonly assumed?: boolean;
}

/**
 * A ring sector whose one arc is the edge asked for; its straight ends lie on radii and carry no allowance, so that moving
 * the arc inward by a changes its length by exactly a × turn.
 */
export function arcShape(arc: ArcSpec, options: ShapeOptions = {}): Shape {
  const radius = arc.mm / arc.turnRad;
  const depth = Math.min(60, radius / 2);
  const other = arc.bend === 'convex' ? radius - depth : radius + depth;
  const start = -Math.PI / 2 - arc.turnRad / 2;
  const end = start + arc.turnRad;
  const on = (r: number, angle: number): Point => [r * Math.cos(angle), r * Math.sin(angle)];
  const [outer, inner] = arc.bend === 'convex' ? [radius, other] : [other, radius];
  const edge = (id: string, curve: readonly Point[], more: Partial<Edge> = {}): Edge => ({
    id,
    label: '',
    role: 'opening',
    curve,
    allowanceMm: 0,
    allowanceAssumed: false,
    sigmaMm: null,
    ...more,
  });
  const named: Partial<Edge> = {
    label: arc.label,
    role: 'seam',
    allowanceMm: arc.allowance,
    allowanceAssumed: arc.assumed ?? false,
  };
  const outerId = arc.bend === 'convex' ? arc.label : 'outer';
  const innerId = arc.bend === 'convex' ? 'inner' : arc.label;
  const ring = [
    edge(outerId, arcPath(outer, start, end), arc.bend === 'convex' ? named : {}),
    edge('radius-1', line(on(outer, end), on(inner, end))),
    edge(innerId, arcPath(inner, end, start), arc.bend === 'concave' ? named : {}),
    edge('radius-2', line(on(inner, start), on(outer, start))),
  ];
  const base = rectangle({}, options);
  return { ...base, ring, tracedLine: options.tracedLine ?? 'cutting' };
}

/** An arc about the origin as cubics of at most a tenth of a radian: within 1e-9 of the radius of the circle. */
export function arcPath(radius: number, from: number, to: number): Point[] {
  const count = Math.max(1, Math.ceil(Math.abs(to - from) / 0.1));
  const step = (to - from) / count;
  const handle = (4 / 3) * Math.tan(step / 4) * radius;
  const path: Point[] = [[radius * Math.cos(from), radius * Math.sin(from)]];
  for (let i = 0; i < count; i++) {
    const a = from + i * step;
    const b = a + step;
    path.push(
      [radius * Math.cos(a) - handle * Math.sin(a), radius * Math.sin(a) + handle * Math.cos(a)],
      [radius * Math.cos(b) + handle * Math.sin(b), radius * Math.sin(b) - handle * Math.cos(b)],
      [radius * Math.cos(b), radius * Math.sin(b)],
    );
  }
  return path;
}

/** `'front.side + back.side'` is a chain. `'front.side'` walks the edge in ring order, `'-front.side'` against it; `'front.side@10-60'` only a stretch of it. */
export function span(text: string): EdgeSpan {
  const match = /^(-?)([^.]+)\.([^@]+)(?:@([\d.]+)-([\d.]+))?$/.exec(text);
  if (match === null) throw new Error(`not a span: ${text}`);
  const [, minus, pieceId, edge, from, to] = match;
  return {
    piece: pieceId!,
    edge: edge!,
    reversed: minus === '-',
    stretch: from === undefined ? null : { fromMm: Number(from), toMm: Number(to) },
  };
}

export function seam(id: string, first: string, second: string, more: Partial<Seam> = {}): Seam {
  const side = (text: string) => text.split(' + ').map(span);
  return {
    id,
    name: id,
    sides: [side(first), side(second)],
    join: 'even',
    wantedEaseMm: null,
    wantedSectionsMm: null,
    overlapMm: 0,
    status: 'confirmed',
    ...more,
  };
}

export function setOf(
  pieces: readonly Piece[],
  seams: readonly Seam[] = [],
  more: Partial<PatternSet> = {},
): PatternSet {
  const sizes = [...new Set(pieces.flatMap((p) => Object.keys(p.shapes)))];
  return {
    format: 'notchwise-set/1',
    name: 'test set',
    displayUnits: 'mm',
    preset: { tolerance: 'home', cloth: 'woven' },
    sizes: sizes.length > 0 ? sizes : ['M'],
    baseSize: 'M',
    pieces,
    seams,
    expectedPieces: [],
    bodies: [],
    shots: [],
    history: [],
    ...more,
  };
}

export function expected(name: string, kind: PieceKind): ExpectedPiece {
  return { name, kind, cut: PAIR };
}

/** Straight cubic with handles at the thirds. */
export function line(from: Point, to: Point): Point[] {
  const at = (t: number): Point => [from[0] + (to[0] - from[0]) * t, from[1] + (to[1] - from[1]) * t];
  return [from, at(1 / 3), at(2 / 3), to];
}

/** A dart needs room to end inside the piece. */
function leastMm(...beside: readonly (readonly EdgeSpec[] | undefined)[]): number {
  return beside.some((specs) => specs?.some(({ darts }) => darts.length > 0)) ? 2 * DART_DEPTH_MM : 60;
}

function sum(specs: readonly EdgeSpec[] | undefined): number {
  return (specs ?? []).reduce((total, spec) => total + spec.mm, 0);
}

function filled(specs: readonly EdgeSpec[] | undefined, length: number, side: string): readonly EdgeSpec[] {
  const missing = length - sum(specs);
  const filler = e('', missing, { id: `${side}-free`, role: 'opening' });
  return missing > 0 ? [...(specs ?? []), filler] : (specs ?? []);
}
