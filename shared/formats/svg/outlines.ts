// The lines of one SVG element as cubic paths in millimetres: paths, rectangles, circles, ellipses, polygons, lines.
import svgpath from 'svgpath';
import type { Point } from '../../base/points.ts';
import { type CubicPath, endOf, startOf } from '../../geometry/cubicPath.ts';
import { type Affine, compose, identity } from '../../geometry/transform.ts';
import { distance, lerp } from '../../geometry/vector.ts';
import type { SvgElement } from './tree.ts';

export interface Outline {
  readonly path: CubicPath;
  readonly closed: boolean;
}

/** A gap this small between end and start is a closed line that was not marked so: well under a pencil line. */
const CLOSED_GAP_MM = 0.05;

/** The map of an element's own transform attribute; the identity when there is none or it cannot be read. */
export function transformOf(element: SvgElement): Affine {
  const text = element.attributes.transform;
  if (text === undefined) return identity;
  const corners: Point[] = [];
  svgpath('M0 0L1 0L0 1')
    .transform(text)
    .iterate((segment) => {
      if (segment[0] === 'M' || segment[0] === 'L') corners.push([segment[1], segment[2]]);
    });
  const [o, x, y] = corners;
  if (o === undefined || x === undefined || y === undefined) return identity;
  return [x[0] - o[0], x[1] - o[1], y[0] - o[0], y[1] - o[1], o[0], o[1]];
}

/**
 * The lines of an element, without its children.
 * @param mmFromParent the map of the element's surroundings; its own transform is applied here
 * @returns null when its geometry cannot be read
 */
export function outlinesOf(element: SvgElement, mmFromParent: Affine): Outline[] | null {
  const data = pathData(element);
  if (data === undefined) return [];
  if (data === null) return null;
  const parsed = svgpath(data);
  if ('err' in parsed && parsed.err) return null;
  const builder = new SubpathBuilder();
  parsed
    .abs()
    .unshort()
    .unarc()
    .matrix([...compose(mmFromParent, transformOf(element))])
    .abs()
    .iterate((segment, _, x, y) => {
      const here: Point = [x, y];
      switch (segment[0]) {
        case 'M':
          builder.moveTo([segment[1], segment[2]]);
          break;
        case 'L':
          builder.lineTo(here, [segment[1], segment[2]]);
          break;
        case 'H':
          builder.lineTo(here, [segment[1], y]);
          break;
        case 'V':
          builder.lineTo(here, [x, segment[1]]);
          break;
        case 'C':
          builder.curveTo([segment[1], segment[2]], [segment[3], segment[4]], [segment[5], segment[6]]);
          break;
        case 'Q': {
          const handle: Point = [segment[1], segment[2]];
          const to: Point = [segment[3], segment[4]];
          builder.curveTo(lerp(here, handle, 2 / 3), lerp(to, handle, 2 / 3), to);
          break;
        }
        case 'Z':
        case 'z':
          builder.close();
          break;
        default:
          // abs, unshort and unarc leave no other command.
          throw new Error(`unexpected path command ${segment[0]}`);
      }
    });
  return builder.finish().filter(({ path }) => path.every((point) => point.every(Number.isFinite)));
}

/** Collects the subpaths of one element; a lifetime of one parse. */
class SubpathBuilder {
  private readonly done: Outline[] = [];
  private points: Point[] = [];

  moveTo(to: Point): void {
    this.end('open');
    this.points = [to];
  }

  lineTo(from: Point, to: Point): void {
    this.curveTo(lerp(from, to, 1 / 3), lerp(from, to, 2 / 3), to);
  }

  /** A cubic of no length is left out: it has no direction. */
  curveTo(handle1: Point, handle2: Point, to: Point): void {
    const from = this.points[this.points.length - 1]!;
    if ([handle1, handle2, to].every((point) => distance(point, from) === 0)) return;
    this.points.push(handle1, handle2, to);
  }

  close(): void {
    const start = this.points[0];
    if (start === undefined) return;
    this.end('closed');
    this.points = [start];
  }

  finish(): Outline[] {
    this.end('open');
    return this.done;
  }

  private end(kind: 'open' | 'closed'): void {
    if (this.points.length >= 4) {
      const start = startOf(this.points);
      const gapMm = distance(start, endOf(this.points));
      const closed = kind === 'closed' || (gapMm <= CLOSED_GAP_MM && this.points.length > 4);
      if (closed && gapMm > CLOSED_GAP_MM) this.lineTo(endOf(this.points), start);
      // A rounded last point is moved onto the first, so that the ring is closed exactly.
      const path = closed ? [...this.points.slice(0, -1), start] : this.points;
      this.done.push({ path, closed });
    }
    this.points = [];
  }
}

/** Path data of the element; undefined when it draws no line, null when its attributes cannot be read. */
function pathData(element: SvgElement): string | null | undefined {
  const number = (name: string): number => Number(element.attributes[name] ?? 0);
  switch (element.name) {
    case 'path':
      return element.attributes.d ?? '';
    case 'line':
      return checked`M${number('x1')} ${number('y1')}L${number('x2')} ${number('y2')}`;
    case 'rect': {
      const [x, y, width, height] = [number('x'), number('y'), number('width'), number('height')];
      return checked`M${x} ${y}H${x + width}V${y + height}H${x}Z`;
    }
    case 'circle':
      return ellipseData(number('cx'), number('cy'), number('r'), number('r'));
    case 'ellipse':
      return ellipseData(number('cx'), number('cy'), number('rx'), number('ry'));
    case 'polygon':
      return polyData(element, 'Z');
    case 'polyline':
      return polyData(element, '');
    default:
      return undefined;
  }
}

function ellipseData(x: number, y: number, rx: number, ry: number): string | null {
  return checked`M${x + rx} ${y}A${rx} ${ry} 0 0 1 ${x} ${y + ry}A${rx} ${ry} 0 0 1 ${x - rx} ${y}A${rx} ${ry} 0 0 1 ${x} ${y - ry}A${rx} ${ry} 0 0 1 ${x + rx} ${y}Z`;
}

function polyData(element: SvgElement, end: 'Z' | ''): string | null {
  const numbers = (element.attributes.points ?? '')
    .trim()
    .split(/[\s,]+/)
    .filter((text) => text !== '');
  if (numbers.length < 4 || numbers.length % 2 !== 0) return null;
  return `M${numbers.join(' ')}${end}`;
}

/** The text with its numbers filled in, or null when one of them is not a number (a percentage, a unit). */
function checked(parts: TemplateStringsArray, ...numbers: readonly number[]): string | null {
  if (!numbers.every(Number.isFinite)) return null;
  return parts.reduce((text, part, i) => `${text}${numbers[i - 1]}${part}`);
}
