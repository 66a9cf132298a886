// A girth measured along named edges (waist, neck, hem), darts and pleats closed, and what is sewn onto them: a band that
// holds them in, and the slit beside them through which the garment is put on.
import { isCentreName } from '../pattern/kinds.ts';
import { addLength, type Length, makeLength, NO_LENGTH, sewnLength } from '../pattern/measure.ts';
import type { Notch, Piece, Seam } from '../pattern/model.ts';
import { neighbours, type SeamEdge } from '../pattern/seamline.ts';
import type { SeamWalk } from '../pattern/walk.ts';
import type { MeasuredLine, Opening } from './finishedMeasure.ts';
import { buttonExtension, type Traced } from './frame.ts';
import type { Garment } from './garment.ts';

export interface GirthEdge extends Traced {
  readonly seam: SeamEdge;
  /** How often the edge goes round. */
  readonly times: 1 | 2;
}

export function girthOf(edges: readonly GirthEdge[], { measuring }: Garment): Length {
  return edges.reduce((sum, { shape, seam, times }) => {
    const extension = buttonExtension(shape);
    const { before, after } = neighbours(shape, seam.index);
    const isBeside = extension !== null && [before.edge.id, after.edge.id].includes(extension.edge);
    const beyond = makeLength(isBeside ? extension.mm : 0, new Map(), 0);
    const own = addLength(sewnLength(shape, seam.edge.id, null, measuring), beyond, -1);
    return addLength(sum, own, times);
  }, NO_LENGTH);
}

export function edgeLines(edges: readonly GirthEdge[]): readonly MeasuredLine[] {
  return edges.map(({ piece, seam }) => ({ kind: 'edge', piece: piece.id, edge: seam.edge.id }));
}

export interface BandOnEdge {
  readonly walk: SeamWalk;
  readonly side: 0 | 1;
  /** The girth of the band where it is sewn on, without what laps over. */
  readonly length: Length;
  readonly join: Seam['join'];
  readonly lapMm: number;
}

/** The band sewn onto these edges; null when none is, or when half and whole cannot be told. */
export function bandOn(
  edges: readonly GirthEdge[],
  { walks }: Garment,
  isBand: (piece: Piece) => boolean,
): BandOnEdge | null {
  for (const walk of walks) {
    for (const side of [0, 1] as const) {
      const { spans } = walk.sides[side];
      const sewnTo = walk.sides[side === 0 ? 1 : 0].spans;
      if (spans.length === 0 || !spans.every(({ piece }) => isBand(piece))) continue;
      const onEdges = sewnTo.every(({ piece, span }) =>
        edges.some((e) => e.piece.id === piece.id && e.seam.edge.id === span.edge),
      );
      if (!onEdges) continue;
      const times = timesCompared(walk, edges);
      const lapMm = side === walk.lap.side ? walk.lap.lengthMm : -walk.lap.lengthMm;
      const lap = makeLength(lapMm, new Map(), 0);
      const length = addLength(NO_LENGTH, addLength(walk.compared[side], lap, -1), times);
      return { walk, side, length, join: walk.seam.join, lapMm };
    }
  }
  return null;
}

/** How often what a walk compared goes round. */
function timesCompared({ basis, sides }: SeamWalk, edges: readonly GirthEdge[]): 1 | 2 {
  if (basis === 'round') return 1;
  if (basis === 'half') return 2;
  const walked = sides.flatMap(({ spans }) => spans.map(({ piece }) => piece.id));
  return edges.filter(({ piece }) => walked.includes(piece.id)).every(({ times }) => times === 2) ? 2 : 1;
}

/** What the garment passes over at these edges: the largest slit beside any of them counts. */
export function openingAt(edges: readonly GirthEdge[], closed: Length, stretchesTo: Length, garment: Garment): Opening {
  const beside = edges.flatMap((entry) => {
    const { before, after } = neighbours(entry.shape, entry.seam.index);
    return [besideEdge(entry, before, 'end', garment), besideEdge(entry, after, 'start', garment)];
  });
  const slits = beside.flatMap(({ slitMm }) => slitMm ?? []);
  const slitMm = slits.length === 0 ? null : Math.max(...slits);
  const girth = stretchesTo.valueMm > closed.valueMm ? stretchesTo : closed;
  return {
    slitMm,
    passes: slitMm === null ? girth : addLength(girth, makeLength(slitMm, new Map(), 0), 2),
    isSaid: beside.every(({ isSaid }) => isSaid),
  };
}

interface Beside {
  readonly slitMm: number | null;
  readonly isSaid: boolean;
}

/** The edge that runs on from a corner of the girth: `end` when it reaches the corner with its end. */
function besideEdge({ piece, shape }: Traced, next: SeamEdge, at: 'start' | 'end', { spansOf }: Garment): Beside {
  const fromCorner = (atMm: number) => (at === 'start' ? atMm : next.lengthMm - atMm);
  const isStop = (notch: Notch) => notch.edge === next.edge.id && notch.purpose === 'opening-stop';
  const stops = shape.notches.filter(isStop).map(({ atMm }) => fromCorner(atMm));
  if (stops.length > 0) return { slitMm: Math.max(...stops), isSaid: true };
  if (next.edge.role === 'fold') return { slitMm: null, isSaid: true };
  const spans = (spansOf.get(piece.id) ?? []).filter(({ edge }) => edge === next.edge.id);
  const isNamed = next.edge.label !== '';
  if (next.edge.role === 'opening' && isNamed) {
    const sewn = spans.flatMap(({ stretch }) =>
      stretch === null ? [] : [Math.min(fromCorner(stretch.fromMm), fromCorner(stretch.toMm))],
    );
    return { slitMm: Math.min(next.lengthMm, ...sewn), isSaid: true };
  }
  return { slitMm: null, isSaid: spans.length > 0 && !(next.edge.role === 'opening' && isCentreName(next.edge.label)) };
}
