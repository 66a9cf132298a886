// A piece group that svg/write made: its data attributes say everything that a bare drawing does not.
import * as z from 'zod';
import type { Point } from '../../base/points.ts';
import { type CubicPath, endOf, transformPath } from '../../geometry/cubicPath.ts';
import { type Affine, compose, rigid } from '../../geometry/transform.ts';
import {
  type Dart,
  type Edge,
  type Grainline,
  type Notch,
  type OtherMark,
  PIECE_KINDS,
  type Piece,
  type Pleat,
  type Shape,
} from '../../pattern/model.ts';
import { outlinesOf, transformOf } from './outlines.ts';
import type { SvgElement } from './tree.ts';

export type PieceFacts = Omit<Piece, 'shapes' | 'origin'>;

export function isOwnPiece(element: SvgElement): boolean {
  return element.attributes['data-piece'] !== undefined;
}

/** The piece and its shape; null when the attributes were damaged, so that the drawing is read as any other. */
export function readOwnPiece(
  group: SvgElement,
  mmFromParent: Affine,
): { readonly facts: PieceFacts; readonly shape: Shape } | null {
  const head = pieceData.safeParse(group.attributes);
  if (!head.success) return null;
  const data = head.data;
  const [x, y] = data['data-offset'];
  const pieceFromSheet = rigid(0, [-x, -y]);
  const mmFromGroup = compose(pieceFromSheet, compose(mmFromParent, transformOf(group)));
  const lines = group.children.map((element) => ({ element, attributes: element.attributes, map: mmFromGroup }));
  const ring = readAll(lines, 'data-edge', edgeOf);
  const notches = readAll(lines, 'data-notch', notchOf);
  const darts = readAll(lines, 'data-dart', dartOf);
  const pleats = readAll(lines, 'data-pleat', pleatOf);
  const grainlines = readAll(lines, 'data-grain-heads', grainlineOf);
  const marks = readAll(lines, 'data-mark', markOf);
  if (!ring || !notches || !darts || !pleats || !grainlines || !marks || !isClosed(ring)) return null;
  return {
    facts: {
      id: data['data-piece'],
      name: data['data-name'],
      kind: data['data-kind'],
      cut: data['data-cut'],
      grainIntent: data['data-grain-intent'],
      nap: data['data-nap'],
    },
    shape: {
      ring,
      tracedLine: data['data-traced-line'],
      notches,
      darts,
      pleats,
      grainline: grainlines[0] ?? null,
      marks,
      accuracy: data['data-accuracy'],
    },
  };
}

interface Line {
  readonly element: SvgElement;
  readonly attributes: Readonly<Record<string, string>>;
  readonly map: Affine;
}

/** Every child that carries the attribute, read; null when one of them cannot be. */
function readAll<T>(lines: readonly Line[], attribute: string, read: (line: Line) => T | null): T[] | null {
  const found: T[] = [];
  for (const line of lines) {
    if (line.attributes[attribute] === undefined) continue;
    const value = read(line);
    if (value === null) return null;
    found.push(value);
  }
  return found;
}

/** Rounding to a nanometre leaves less than this between the end of one edge and the start of the next. */
const RING_GAP_MM = 0.01;

function isClosed(ring: readonly Edge[]): boolean {
  return (
    ring.length > 0 &&
    ring.every((edge, i) => {
      const [x, y] = endOf(ring[(i + ring.length - 1) % ring.length]!.curve);
      return Math.hypot(edge.curve[0]![0] - x, edge.curve[0]![1] - y) <= RING_GAP_MM;
    })
  );
}

function onlyPath(line: Line): CubicPath | null {
  return outlinesOf(line.element, line.map)?.[0]?.path ?? null;
}

function joints(line: Line): Point[] {
  return (onlyPath(line) ?? []).filter((_, i) => i % 3 === 0);
}

const number = z.coerce.number();
const json = <T>(schema: z.ZodType<T>) =>
  z.string().transform((text, context): T => {
    try {
      return schema.parse(JSON.parse(text));
    } catch {
      context.addIssue({ code: 'custom', message: 'not readable' });
      return z.NEVER;
    }
  });

const pieceData = z.object({
  'data-piece': z.string(),
  'data-name': z.string(),
  'data-kind': z.enum(PIECE_KINDS),
  'data-cut': json(
    z.array(
      z.object({
        material: z.enum(['shell', 'lining', 'facing', 'interfacing']),
        count: z.number().int().min(1),
        onFold: z.boolean(),
        mirrored: z.boolean(),
        allowanceMm: z.number().min(0).nullable(),
      }),
    ),
  ),
  'data-grain-intent': z.enum(['straight', 'cross', 'bias']),
  'data-nap': z.enum(['none', 'one-way']),
  'data-traced-line': z.enum(['cutting', 'seam']),
  'data-accuracy': json(
    z.object({
      scaleSources: z.array(z.object({ id: z.string(), sigmaRatio: z.number().min(0) })),
      pointSigmaMm: z.number().min(0),
    }),
  ),
  'data-offset': z
    .string()
    .transform((text) => text.split(' ').map(Number))
    .pipe(z.tuple([z.number(), z.number()])),
});

const edgeData = z.object({
  'data-edge': z.string(),
  'data-label': z.string(),
  'data-role': z.enum(['seam', 'fold', 'hem', 'opening']),
  'data-allowance-mm': number.pipe(z.number().min(0)),
  'data-allowance-assumed': z.enum(['true', 'false']),
  'data-sigma-mm': number.pipe(z.number().min(0)).optional(),
});

function edgeOf(line: Line): Edge | null {
  const read = edgeData.safeParse(line.attributes);
  const curve = onlyPath(line);
  if (!read.success || curve === null) return null;
  const data = read.data;
  return {
    id: data['data-edge'],
    label: data['data-label'],
    role: data['data-role'],
    curve,
    allowanceMm: data['data-allowance-mm'],
    allowanceAssumed: data['data-allowance-assumed'] === 'true',
    sigmaMm: data['data-sigma-mm'] ?? null,
  };
}

const notchData = z.object({
  'data-notch': z.string(),
  'data-on': z.string(),
  'data-at-mm': number,
  'data-count': z.enum(['1', '2', '3']),
  'data-purpose': z.enum(['match', 'dart', 'pleat', 'hem-turn', 'opening-stop', 'allowance']),
  'data-mate': z.enum(['notch', 'seam-end', 'dart-leg', 'centre-or-fold', 'none', 'unknown']),
  'data-mate-piece': z.string().optional(),
  'data-mate-notch': z.string().optional(),
});

function notchOf(line: Line): Notch | null {
  const read = notchData.safeParse(line.attributes);
  if (!read.success) return null;
  const data = read.data;
  const kind = data['data-mate'];
  const [piece, notch] = [data['data-mate-piece'], data['data-mate-notch']];
  if (kind === 'notch' && (piece === undefined || notch === undefined)) return null;
  return {
    id: data['data-notch'],
    edge: data['data-on'],
    atMm: data['data-at-mm'],
    count: COUNTS[data['data-count']],
    purpose: data['data-purpose'],
    mate: kind === 'notch' ? { kind, piece: piece ?? '', notch: notch ?? '' } : { kind },
  };
}
const COUNTS = { '1': 1, '2': 2, '3': 3 } as const;

function dartOf(line: Line): Dart | null {
  const { 'data-dart': id, 'data-on': edge, 'data-fold-to': foldTo } = line.attributes;
  const [first, apex, second] = joints(line);
  if (id === undefined || edge === undefined || !first || !apex || !second) return null;
  return { id, edge, legs: [first, second], apex, foldTo: foldTo === 'start' || foldTo === 'end' ? foldTo : null };
}

function pleatOf({ attributes }: Line): Pleat | null {
  const { 'data-pleat': id, 'data-on': edge } = attributes;
  const [fromMm, toMm] = [Number(attributes['data-from-mm']), Number(attributes['data-to-mm'])];
  if (id === undefined || edge === undefined || !(fromMm < toMm)) return null;
  return { id, edge, fromMm, toMm };
}

function grainlineOf(line: Line): Grainline | null {
  const [from, to] = joints(line);
  const heads = Number(line.attributes['data-grain-heads']);
  if (!from || !to || (heads !== 0 && heads !== 1 && heads !== 2)) return null;
  return { from, to, heads };
}

const markKind = z.enum(['hole', 'button', 'buttonhole', 'lengthen-shorten', 'placement']);

function markOf(line: Line): OtherMark | null {
  const kind = markKind.safeParse(line.attributes['data-mark']);
  const id = line.attributes['data-id'];
  if (!kind.success || id === undefined) return null;
  if (kind.data === 'hole' || kind.data === 'button') {
    const [x, y] = [Number(line.attributes.cx), Number(line.attributes.cy)];
    const at = transformPath(compose(line.map, transformOf(line.element)), [[x, y]])[0]!;
    return at.every(Number.isFinite) ? { kind: kind.data, id, at } : null;
  }
  const [from, to] = joints(line);
  return from && to ? { kind: kind.data, id, from, to } : null;
}
