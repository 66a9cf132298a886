// A closed outline as first drawn, before it is measured on the original photo.
import type { TablePointMm } from '../../base/points.ts';

export interface CoarseOutline {
  /** Clockwise on the screen, first point not repeated. */
  readonly polygon: readonly TablePointMm[];
  /** 1 where something lay over the edge and the outline was bridged; as long as polygon. */
  readonly covered: Uint8Array;
}
