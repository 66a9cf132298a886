// A place along an edge, drawn on its piece.
import { pointAtLength } from '../../geometry/arcLength.ts';
import type { SeamEdge } from '../../pattern/seamline.ts';
import type { Overlay } from '../finding.ts';

/** @param atMm along the seamline; places beyond its ends are drawn at the end */
export function placeOverlay(piece: string, { path, lengthMm }: SeamEdge, atMm: number, label: string): Overlay[] {
  const { point } = pointAtLength(path, Math.min(lengthMm, Math.max(0, atMm)));
  return [{ kind: 'point', piece, at: point, label }];
}
