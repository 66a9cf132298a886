// One piece as an SVG drawing: cutting line, seamline, marks, and what a finding points at. Draws only; every number that is
// written comes from the checks or from shared/pattern.
import type { Point } from '../base/points.ts';
import type { Overlay } from '../checks/finding.ts';
import { pathLengthMm, pointAtLength, subPath } from '../geometry/arcLength.ts';
import type { CubicPath } from '../geometry/cubicPath.ts';
import { segment, segmentCount } from '../geometry/cubicPath.ts';
import { flattenPath } from '../geometry/flatten.ts';
import { add, scale, sub, unit } from '../geometry/vector.ts';
import type { Piece, Shape } from '../pattern/model.ts';
import { seamlineOf } from '../pattern/seamline.ts';
import { coordinate, escapeText } from './markup.ts';

export interface DrawingOptions {
  /** Longest side of the drawing on the page, millimetres. */
  readonly longestSideMm: number;
  /** Colour of what the overlays point at. */
  readonly accent: string;
}

const COLOUR = { paper: '#fbf8f1', cut: '#26313a', seam: '#7b8790', mark: '#26313a' } as const;
/** Free room around the piece, as a share of its longest side. */
const MARGIN_RATIO = 0.07;
/** Line widths and sizes on the page, millimetres; divided by the drawing's scale so that they do not shrink with it. */
const PAGE_MM = { cut: 0.35, seam: 0.22, accent: 1.1, notch: 2.4, text: 2.7, dot: 1.2 } as const;
const CHORD_ON_PAGE_MM = 0.05;

/** A complete `<svg>` element with a title for screen readers. */
export function pieceDrawing(piece: Piece, shape: Shape, overlay: readonly Overlay[], options: DrawingOptions): string {
  const box = boundsOf(shape);
  const longestMm = Math.max(box.widthMm, box.heightMm, 1);
  const margin = longestMm * MARGIN_RATIO;
  const pageRatio = options.longestSideMm / (longestMm + 2 * margin);
  const pen = (pageMm: number) => coordinate(pageMm / pageRatio);
  const view = [box.minX - margin, box.minY - margin, box.widthMm + 2 * margin, box.heightMm + 2 * margin];
  const cut = `${shape.ring.map((edge, i) => curveData(edge.curve, i === 0 ? 'M' : 'L')).join('')}Z`;
  const parts = [
    `<path d="${cut}" fill="${COLOUR.paper}" stroke="${COLOUR.cut}" stroke-width="${pen(PAGE_MM.cut)}" stroke-linejoin="round"/>`,
    ...(shape.tracedLine === 'cutting' ? [seamlinePath(shape, pen)] : []),
    ...marksOf(shape, pen),
    ...overlay.filter((o) => o.piece === piece.id).map((o) => overlayShape(o, shape, options.accent, pen)),
  ];
  const widthMm = view[2]! * pageRatio;
  const heightMm = view[3]! * pageRatio;
  return `<svg xmlns="http://www.w3.org/2000/svg" class="piece" role="img" width="${coordinate(widthMm)}mm" height="${coordinate(heightMm)}mm" viewBox="${view.map(coordinate).join(' ')}"><title>${escapeText(piece.name)}</title>${parts.join('')}</svg>`;
}

/** SVG path data of a cubic path. */
export function curveData(path: CubicPath, start: 'M' | 'L'): string {
  let data = `${start}${pair(path[0]!)}`;
  for (let i = 0; i < segmentCount(path); i++) {
    const [, b, c, d] = segment(path, i);
    data += `C${pair(b)} ${pair(c)} ${pair(d)}`;
  }
  return data;
}

function seamlinePath(shape: Shape, pen: (mm: number) => string): string {
  const data = seamlineOf(shape)
    .edges.map((edge, i) => curveData(edge.path, i === 0 ? 'M' : 'L'))
    .join('');
  return `<path d="${data}Z" fill="none" stroke="${COLOUR.seam}" stroke-width="${pen(PAGE_MM.seam)}" stroke-dasharray="${pen(1.6)} ${pen(1)}"/>`;
}

function marksOf(shape: Shape, pen: (mm: number) => string): string[] {
  const line = (from: Point, to: Point, extra = '') =>
    `<path d="M${pair(from)}L${pair(to)}" fill="none" stroke="${COLOUR.mark}" stroke-width="${pen(PAGE_MM.cut)}"${extra}/>`;
  const parts: string[] = [];
  for (const dart of shape.darts) {
    for (const leg of dart.legs) parts.push(line(leg, dart.apex, ` stroke-dasharray="${pen(1.4)} ${pen(0.9)}"`));
  }
  for (const edge of seamlineOf(shape).edges) {
    for (const notch of shape.notches.filter((n) => n.edge === edge.edge.id)) {
      for (let k = 0; k < notch.count; k++) {
        const shift = (k - (notch.count - 1) / 2) * Number(pen(1.5));
        const atMm = Math.min(Math.max(notch.atMm + shift, 0), edge.lengthMm);
        const { point, tangent } = pointAtLength(edge.path, atMm);
        const inward: Point = [-tangent[1], tangent[0]]; // the ring runs clockwise on the screen
        parts.push(line(point, add(point, scale(inward, Number(pen(PAGE_MM.notch))))));
      }
    }
  }
  if (shape.grainline !== null)
    parts.push(arrow(shape.grainline.from, shape.grainline.to, shape.grainline.heads, pen, line));
  for (const edge of shape.ring.filter((e) => e.role === 'fold')) {
    const lengthMm = pathLengthMm(edge.curve);
    parts.push(
      line(
        pointAtLength(edge.curve, lengthMm * 0.06).point,
        pointAtLength(edge.curve, lengthMm * 0.94).point,
        ` stroke-dasharray="${pen(4)} ${pen(1)} ${pen(0.8)} ${pen(1)}"`,
      ),
    );
  }
  for (const mark of shape.marks) {
    if ('at' in mark)
      parts.push(
        `<circle cx="${coordinate(mark.at[0])}" cy="${coordinate(mark.at[1])}" r="${pen(PAGE_MM.dot)}" fill="none" stroke="${COLOUR.mark}" stroke-width="${pen(PAGE_MM.seam)}"/>`,
      );
    else parts.push(line(mark.from, mark.to));
  }
  return parts;
}

function arrow(
  from: Point,
  to: Point,
  heads: 0 | 1 | 2,
  pen: (mm: number) => string,
  line: (a: Point, b: Point) => string,
): string {
  const along = unit(sub(to, from));
  const size = Number(pen(PAGE_MM.notch));
  const head = (tip: Point, direction: Point) => {
    const back = add(tip, scale(direction, -size));
    const side: Point = scale([-direction[1], direction[0]], size * 0.4);
    return `<path d="M${pair(tip)}L${pair(add(back, side))}L${pair(sub(back, side))}Z" fill="${COLOUR.mark}"/>`;
  };
  const first = heads >= 1 ? head(to, along) : '';
  const second = heads === 2 ? head(from, scale(along, -1)) : '';
  return line(from, to) + first + second;
}

function overlayShape(overlay: Overlay, shape: Shape, accent: string, pen: (mm: number) => string): string {
  const stroke = `fill="none" stroke="${accent}" stroke-width="${pen(PAGE_MM.accent)}" stroke-linecap="round"`;
  switch (overlay.kind) {
    case 'edge': {
      const seam = seamlineOf(shape).byId.get(overlay.edge);
      if (seam === undefined) return '';
      const path = subPath(seam.path, overlay.fromMm ?? 0, overlay.toMm ?? seam.lengthMm);
      return `<path d="${curveData(path, 'M')}" ${stroke} opacity="0.75"/>`;
    }
    case 'point':
      return `<circle cx="${coordinate(overlay.at[0])}" cy="${coordinate(overlay.at[1])}" r="${pen(2.2)}" ${stroke}/>${label(overlay.at, overlay.label, accent, pen)}`;
    case 'segment':
      return `<path d="M${pair(overlay.from)}L${pair(overlay.to)}" ${stroke}/>${label(overlay.to, overlay.label, accent, pen)}`;
  }
}

function label(at: Point, text: string | undefined, colour: string, pen: (mm: number) => string): string {
  if (text === undefined || text === '') return '';
  const shift = Number(pen(2.8));
  return `<text x="${coordinate(at[0] + shift)}" y="${coordinate(at[1] - shift)}" font-size="${pen(PAGE_MM.text)}" fill="${colour}" stroke="#fff" stroke-width="${pen(0.6)}" paint-order="stroke">${escapeText(text)}</text>`;
}

function boundsOf(shape: Shape) {
  const points = shape.ring.flatMap((edge) => flattenPath(edge.curve, CHORD_ON_PAGE_MM * 10));
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const minX = Math.min(...xs);
  const minY = Math.min(...ys);
  return { minX, minY, widthMm: Math.max(...xs) - minX, heightMm: Math.max(...ys) - minY };
}

function pair(point: Point): string {
  return `${coordinate(point[0])} ${coordinate(point[1])}`;
}
